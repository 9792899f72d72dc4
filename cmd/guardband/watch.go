package main

import (
	"bytes"
	"context"
	"fmt"
	"net"
	"net/http"
	"path/filepath"
	"strings"
	"sync"
	"time"

	"github.com/fsnotify/fsnotify"
	"github.com/spf13/cobra"

	"guardband/eval"
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
	page    []byte
	changed chan struct{} // closed when a newer page is there
}

func (l *live) set(page []byte) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.page = page
	if l.changed != nil {
		close(l.changed)
	}
	l.changed = make(chan struct{})
}

func (l *live) get() ([]byte, chan struct{}) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.page, l.changed
}

func (a *app) watch(ctx context.Context, path string, port int) error {
	w, err := fsnotify.NewWatcher()
	if err != nil {
		return fmt.Errorf("cannot watch files: %w", err)
	}
	defer w.Close()
	l := &live{}
	if err := a.refresh(l, w, path); err != nil {
		return err
	}
	ln, err := net.Listen("tcp", fmt.Sprintf("127.0.0.1:%d", port))
	if err != nil {
		return fmt.Errorf("cannot serve on port %d: %w", port, err)
	}
	srv := &http.Server{Handler: l.handler(ln.Addr().String()), ReadHeaderTimeout: 5 * time.Second, BaseContext: func(net.Listener) context.Context { return ctx }}
	go srv.Serve(ln)
	defer srv.Close()
	fmt.Fprintf(a.out, "record at http://%s/ (Ctrl-C stops)\n", ln.Addr())
	// Editors save in several steps: wait until files have been quiet a moment.
	quiet := time.NewTimer(time.Hour)
	quiet.Stop()
	for {
		select {
		case <-ctx.Done():
			return nil
		case e, ok := <-w.Events:
			if !ok {
				return nil
			}
			if ext := strings.ToLower(filepath.Ext(e.Name)); ext == ".md" || ext == ".pdf" {
				quiet.Reset(150 * time.Millisecond)
			}
		case err := <-w.Errors:
			if err != nil {
				fmt.Fprintf(a.errOut, "guardband: watching files: %v\n", err)
			}
		case <-quiet.C:
			if err := a.refresh(l, w, path); err != nil {
				fmt.Fprintf(a.errOut, "guardband: %v\n", err)
			}
		}
	}
}

// refresh compiles and keeps the page, and watches every folder the design
// reads from.
func (a *app) refresh(l *live, w *fsnotify.Watcher, path string) error {
	r, err := a.record(path, eval.Options{Typeset: true, Pictures: "cited"})
	if err != nil {
		return err
	}
	var b bytes.Buffer
	if err := html.Write(&b, r, html.Options{Events: "/events"}); err != nil {
		return err
	}
	l.set(b.Bytes())
	dirs := map[string]bool{filepath.Dir(path): true}
	for _, n := range r.Design.Notebooks {
		dirs[filepath.Dir(n.Path)] = true
	}
	for _, s := range r.Sources {
		if s.File != "" && s.Position != nil {
			dirs[filepath.Dir(filepath.Join(filepath.Dir(s.Position.File), s.File))] = true
		}
	}
	for d := range dirs {
		if err := w.Add(d); err != nil {
			fmt.Fprintf(a.errOut, "guardband: cannot watch %s: %v\n", d, err)
		}
	}
	s := r.Summary
	fmt.Fprintf(a.out, "%s  %d passed, %d failed, %d open, %d waived, %d errors\n", time.Now().Format(time.TimeOnly), s.Passed, s.Failed, s.Open, s.Waived, s.Errors)
	return nil
}

// handler serves the page and the stream that tells it to refresh. A request
// that names another host is refused, so that no page elsewhere can read it.
func (l *live) handler(addr string) http.Handler {
	mux := http.NewServeMux()
	mux.HandleFunc("GET /{$}", func(w http.ResponseWriter, _ *http.Request) {
		page, _ := l.get()
		w.Header().Set("Content-Type", "text/html; charset=utf-8")
		w.Header().Set("Cache-Control", "no-store")
		w.Write(page)
	})
	mux.HandleFunc("GET /events", func(w http.ResponseWriter, r *http.Request) {
		flush, ok := w.(http.Flusher)
		if !ok {
			http.Error(w, "no stream", http.StatusNotImplemented)
			return
		}
		w.Header().Set("Content-Type", "text/event-stream")
		w.Header().Set("Cache-Control", "no-store")
		fmt.Fprint(w, ": open\n\n")
		flush.Flush()
		_, changed := l.get()
		select {
		case <-r.Context().Done():
		case <-changed:
			fmt.Fprint(w, "data: changed\n\n")
			flush.Flush()
		}
	})
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		host, port, err := net.SplitHostPort(r.Host)
		_, own, _ := net.SplitHostPort(addr)
		if err != nil || port != own || host != "127.0.0.1" && host != "localhost" {
			http.Error(w, "this server answers only its own address", http.StatusForbidden)
			return
		}
		mux.ServeHTTP(w, r)
	})
}
