package main

import (
	"bytes"
	"context"
	"crypto/subtle"
	"fmt"
	stdhtml "html"
	"net"
	"net/http"
	"slices"
	"strings"
	"sync"
	"time"

	"guardband/report/html"
)

// live is one page as it is now, and who waits for the next one.
type live struct {
	mu      sync.Mutex
	turn    int // how often the page was set
	page    []byte
	notice  string        // why the page is not of the files as they are; "" where it is
	version int           // grows with every change of page or notice
	changed chan struct{} // closed when a newer page is there
}

// set shows a new page, or with a notice the last one again. It says whether
// that differs from what was shown.
func (l *live) set(page []byte, notice string) bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.turn++
	return l.show(page, notice)
}

func (l *live) show(page []byte, notice string) bool {
	if (page == nil || bytes.Equal(page, l.page)) && notice == l.notice {
		return false
	}
	if page != nil {
		l.page = page
	}
	l.notice = notice
	l.version++
	if l.changed != nil {
		close(l.changed)
	}
	l.changed = make(chan struct{})
	return true
}

// late puts a notice on the page unless it is set again within a time.
func (l *live) late(after time.Duration) {
	l.mu.Lock()
	defer l.mu.Unlock()
	turn := l.turn
	time.AfterFunc(after, func() {
		l.mu.Lock()
		defer l.mu.Unlock()
		if l.turn == turn {
			l.show(nil, "they are being worked out again")
		}
	})
}

// get is the page as served: of its version, and a notice before all else.
func (l *live) get() (page []byte, version int, changed chan struct{}) {
	l.mu.Lock()
	defer l.mu.Unlock()
	page = html.OfVersion(l.page, l.version)
	if l.notice == "" {
		return page, l.version, l.changed
	}
	said := `<p role="alert"><strong>Not of the files as they are: ` + stdhtml.EscapeString(l.notice) + `</strong></p>`
	if i := bytes.Index(page, []byte("<body")); i >= 0 {
		if k := bytes.IndexByte(page[i:], '>'); k >= 0 {
			i += k + 1
			return slices.Concat(page[:i], []byte(said), page[i:]), l.version, l.changed
		}
	}
	return append([]byte("<!DOCTYPE html><title>guardband</title>"), said...), l.version, l.changed
}

// events tells the version of the page at once and again with each change, so
// that no change is lost between a page and its asking.
func (l *live) events(ctx context.Context, w http.ResponseWriter) {
	w.Header().Set("Content-Type", "text/event-stream")
	flush := http.NewResponseController(w)
	for {
		_, version, changed := l.get()
		fmt.Fprintf(w, "data: %d\n\n", version)
		if flush.Flush() != nil {
			return
		}
		select {
		case <-ctx.Done():
			return
		case <-changed:
		}
	}
}

const maxStreams = 16 // pages open at a time

// handler serves pages and the streams that tell them to refresh, below a token
// that only the terminal has shown. A request that names another host is
// refused too, so that no page elsewhere can read it. The page "" is at the
// token's own folder, others in one of their name below it.
func handler(pages map[string]*live, addr, token string) http.Handler {
	streams := make(chan struct{}, maxStreams)
	mux := http.NewServeMux()
	for name, l := range pages {
		at := "/" + token + "/"
		if name != "" {
			at += name + "/"
		}
		mux.HandleFunc("GET "+at+"{$}", func(w http.ResponseWriter, _ *http.Request) {
			page, _, _ := l.get()
			w.Header().Set("Content-Type", "text/html; charset=utf-8")
			w.Write(page)
		})
		mux.HandleFunc("GET "+at+"events", func(w http.ResponseWriter, r *http.Request) {
			select {
			case streams <- struct{}{}:
				defer func() { <-streams }()
				l.events(r.Context(), w)
			default:
				http.Error(w, "too many pages are open", http.StatusServiceUnavailable)
			}
		})
	}
	_, own, _ := net.SplitHostPort(addr)
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		for name, value := range map[string]string{
			"Cache-Control": "no-store", "X-Content-Type-Options": "nosniff", "X-Frame-Options": "DENY",
			"Referrer-Policy": "no-referrer", "Cross-Origin-Resource-Policy": "same-origin",
			"Content-Security-Policy": "frame-ancestors 'none'",
		} {
			w.Header().Set(name, value)
		}
		given, _, _ := strings.Cut(strings.TrimPrefix(r.URL.Path, "/"), "/")
		host, port, err := net.SplitHostPort(r.Host)
		switch {
		case err != nil || port != own || host != "127.0.0.1" && host != "localhost":
			http.Error(w, "this server answers only its own address", http.StatusForbidden)
		case subtle.ConstantTimeCompare([]byte(given), []byte(token)) != 1:
			http.Error(w, "open the address that guardband printed", http.StatusForbidden)
		default:
			mux.ServeHTTP(w, r)
		}
	})
}
