package main

import (
	"bytes"
	"context"
	"crypto/rand"
	"crypto/subtle"
	"fmt"
	stdhtml "html"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"time"

	"github.com/spf13/cobra"

	"guardband/eval"
	"guardband/notebook"
	"guardband/report/html"
)

func (a *app) watchCommand() *cobra.Command {
	var port int
	c := &cobra.Command{
		Use:   "watch PATH",
		Short: "Recompile on save and serve the record on a loopback address",
		Long: `watch compiles a notebook, serves its record at an address that only this
machine reaches, and does both again whenever a notebook or document of the
design is saved. The page refreshes itself. Stop it with Ctrl-C.`,
		Example: `  guardband watch examples/weirkeeper
  guardband watch board.md --port 8123`,
		Args: cobra.ExactArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			paths, err := a.designs(args)
			if err != nil {
				return err
			}
			if len(paths) > 1 {
				return fmt.Errorf("%s holds several designs; name one: %s", args[0], strings.Join(paths, ", "))
			}
			return a.watch(a.ctx, paths[0], port)
		},
	}
	c.Flags().IntVar(&port, "port", 0, "port to serve on (default: any free one)")
	return c
}

// live is the newest record as a page, and who waits for the next one.
type live struct {
	mu      sync.Mutex
	turn    int // how often the page was set
	page    []byte
	notice  string        // why the page is not of the files as they are; "" where it is
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

// get is the page as served: a notice comes before all else on it.
func (l *live) get() ([]byte, chan struct{}) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.notice == "" {
		return l.page, l.changed
	}
	said := `<p role="alert"><strong>Not of the files as they are: ` + stdhtml.EscapeString(l.notice) + `</strong></p>`
	if i := bytes.Index(l.page, []byte("<body")); i >= 0 {
		if k := bytes.IndexByte(l.page[i:], '>'); k >= 0 {
			i += k + 1
			return slices.Concat(l.page[:i], []byte(said), l.page[i:]), l.changed
		}
	}
	return append([]byte("<!DOCTYPE html><title>guardband</title>"), said...), l.changed
}

// Files are asked for their time and size this often. Asking, unlike being
// told, survives folders that are moved away and back, and works on every kind
// of disk.
const (
	watchEvery = 250 * time.Millisecond
	maxStreams = 16 // pages open at a time
)

func (a *app) watch(ctx context.Context, path string, port int) error {
	l := &live{}
	files := []string{path, filepath.Dir(path)}
	done := stateOf(files)
	files, err := a.refresh(l, path, files)
	if err != nil {
		return err
	}
	ln, err := net.Listen("tcp", fmt.Sprintf("127.0.0.1:%d", port))
	if err != nil {
		return fmt.Errorf("cannot serve on port %d: %w", port, err)
	}
	token := rand.Text()
	srv := &http.Server{
		Handler: l.handler(ln.Addr().String(), token), ReadHeaderTimeout: 5 * time.Second, MaxHeaderBytes: 16 << 10,
		IdleTimeout: time.Minute,
		BaseContext: func(net.Listener) context.Context { return ctx },
	}
	go srv.Serve(ln)
	defer srv.Close()
	fmt.Fprintf(a.out, "record at http://%s/%s/ (Ctrl-C stops)\n", ln.Addr(), token)
	every := time.NewTicker(watchEvery)
	defer every.Stop()
	for last := done; ; {
		select {
		case <-ctx.Done():
			return nil
		case <-every.C:
		}
		now := stateOf(files)
		quiet := now == last // editors save in several steps
		last = now
		if quiet && now != done {
			done = now // before reading: what is saved meanwhile, and a file that is new in the list, is read again
			if files, err = a.refresh(l, path, files); err != nil {
				fmt.Fprintf(a.errOut, "guardband: %s\n", notebook.Clean(err.Error()))
			}
		}
	}
}

// stateOf tells files and folders as they are from as they were.
func stateOf(paths []string) string {
	var b strings.Builder
	for _, p := range paths {
		if info, err := os.Stat(p); err == nil {
			fmt.Fprintln(&b, info.Size(), info.ModTime().UnixNano())
		} else {
			fmt.Fprintln(&b, "gone")
		}
	}
	return b.String()
}

// refresh compiles and keeps the page. It returns the files that the design
// reads and their folders, or those known before where it cannot be read.
func (a *app) refresh(l *live, path string, known []string) ([]string, error) {
	l.late(time.Second)
	r, err := a.compile(path, eval.Options{Typeset: true, Pictures: "cited"})
	var b bytes.Buffer
	if err == nil {
		a.nameCommit(path, r)
		err = html.Write(&b, r, html.Options{Events: "events"})
	}
	if err != nil {
		l.set(nil, "it cannot be read: "+err.Error())
		return known, err
	}
	if s := r.Summary; l.set(b.Bytes(), "") {
		fmt.Fprintf(a.out, "%s  %d passed, %d failed, %d open, %d waived, %d errors\n",
			time.Now().Format(time.TimeOnly), s.Passed, s.Failed, s.Open, s.Waived, s.Errors)
	}
	files := []string{path, filepath.Dir(path)}
	for _, f := range r.Files {
		files = append(files, f.Abs, filepath.Dir(f.Abs))
	}
	for _, s := range r.Sources { // a document that is not there may come
		if s.File != "" && s.Position != nil {
			files = append(files, filepath.Join(filepath.Dir(s.Position.File), s.File))
		}
	}
	slices.Sort(files)
	return slices.Compact(files), nil
}

// handler serves the page and the stream that tells it to refresh, below a
// token that only the terminal has shown. A request that names another host is
// refused too, so that no page elsewhere can read it.
func (l *live) handler(addr, token string) http.Handler {
	streams := make(chan struct{}, maxStreams)
	mux := http.NewServeMux()
	mux.HandleFunc("GET /{token}/{$}", func(w http.ResponseWriter, _ *http.Request) {
		page, _ := l.get()
		w.Header().Set("Content-Type", "text/html; charset=utf-8")
		w.Write(page)
	})
	mux.HandleFunc("GET /{token}/events", func(w http.ResponseWriter, r *http.Request) {
		select {
		case streams <- struct{}{}:
			defer func() { <-streams }()
		default:
			http.Error(w, "too many pages are open", http.StatusServiceUnavailable)
			return
		}
		flush, ok := w.(http.Flusher)
		if !ok {
			http.Error(w, "no stream", http.StatusNotImplemented)
			return
		}
		w.Header().Set("Content-Type", "text/event-stream")
		_, changed := l.get()
		fmt.Fprint(w, ": open\n\n")
		flush.Flush()
		select {
		case <-r.Context().Done():
		case <-changed:
			fmt.Fprint(w, "data: changed\n\n")
			flush.Flush()
		}
	})
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
