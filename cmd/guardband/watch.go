package main

import (
	"bytes"
	"context"
	"crypto/rand"
	"fmt"
	"maps"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"strconv"
	"time"

	"github.com/spf13/cobra"

	"guardband/eval"
	"guardband/eval/record"
	"guardband/notebook"
	"guardband/report/html"
)

func (a *app) watchCommand() *cobra.Command {
	var port int
	c := &cobra.Command{
		Use:   "watch [PATH...]",
		Short: "Recompile on save and serve the record on a loopback address",
		Long: `watch compiles notebooks, serves their records at an address that only this
machine reaches, and does both again whenever a notebook, list or document of
a design is saved. The page refreshes itself: it keeps its place and what is
opened on it, and marks what changed. Several designs have a page each, and
one that lists them. Stop it with Ctrl-C.`,
		Example: `  guardband watch examples/weirkeeper
  guardband watch board.md --port 8123`,
		RunE: func(_ *cobra.Command, args []string) error {
			paths, err := a.designs(args)
			if err != nil {
				return err
			}
			return a.watch(a.ctx, paths, port)
		},
	}
	c.Flags().IntVar(&port, "port", 0, "port to serve on (default: any free one)")
	return c
}

// Files are asked for their time and size this often. Asking, unlike being
// told, survives folders that are moved away and back, and works on every kind
// of disk.
const watchEvery = 60 * time.Millisecond

// watched is one design that is watched.
type watched struct {
	path       string
	page       *live
	row        html.IndexRow
	done, last state // of the files read and their folders: when compiled, and when last looked
}

func (a *app) watch(ctx context.Context, paths []string, port int) error {
	pages := map[string]*live{"": {}}
	var designs []*watched
	for i, p := range paths {
		d := &watched{path: p, page: pages[""], row: html.IndexRow{Path: strconv.Itoa(i+1) + "/", Title: p}}
		if len(paths) > 1 {
			d.page = &live{}
			pages[strconv.Itoa(i+1)] = d.page
		}
		if err := a.refresh(d); err != nil {
			if len(paths) == 1 {
				return err
			}
			fmt.Fprintf(a.errOut, "guardband: %s\n", notebook.Clean(err.Error()))
		}
		designs = append(designs, d)
	}
	list := func() {
		if len(designs) == 1 {
			return
		}
		var rows []html.IndexRow
		for _, d := range designs {
			rows = append(rows, d.row)
		}
		pages[""].set(html.Index(rows, "events"), "")
	}
	list()
	ln, err := net.Listen("tcp", fmt.Sprintf("127.0.0.1:%d", port))
	if err != nil {
		return fmt.Errorf("cannot serve on port %d: %w", port, err)
	}
	token := rand.Text()
	srv := &http.Server{
		Handler: handler(pages, ln.Addr().String(), token), ReadHeaderTimeout: 5 * time.Second, MaxHeaderBytes: 16 << 10,
		IdleTimeout: time.Minute,
		BaseContext: func(net.Listener) context.Context { return ctx },
	}
	go srv.Serve(ln)
	defer srv.Close()
	fmt.Fprintf(a.out, "record at http://%s/%s/ (Ctrl-C stops)\n", ln.Addr(), token)
	every := time.NewTicker(watchEvery)
	defer every.Stop()
	for {
		select {
		case <-ctx.Done():
			return nil
		case <-every.C:
		}
		changed := false
		for _, d := range designs {
			now := d.done.again()
			quiet := maps.Equal(now, d.last) // editors save in several steps
			d.last = now
			if quiet && !maps.Equal(now, d.done) {
				if err := a.refresh(d); err != nil {
					fmt.Fprintf(a.errOut, "guardband: %s\n", notebook.Clean(err.Error()))
				}
				changed = true
			}
		}
		if changed {
			list()
		}
	}
}

// state tells files and folders as they are from as they were, by path.
type state map[string]string

func stateOf(path string) string {
	info, err := os.Stat(path)
	if err != nil {
		return "gone"
	}
	return fmt.Sprintln(info.Size(), info.ModTime().UnixNano())
}

// again is the state of the same files now.
func (s state) again() state {
	out := state{}
	for path := range s {
		out[path] = stateOf(path)
	}
	return out
}

// refresh compiles a design and keeps its page. A file counts as it was before
// the work, one first met in it as it is unless it was saved meanwhile: no save
// is lost. Where the design cannot be read, what was known of its files stays.
func (a *app) refresh(d *watched) error {
	began := time.Now().Add(-time.Second) // clocks of disks are coarse
	if d.done == nil {
		d.done = state{d.path: "", filepath.Dir(d.path): ""}
	}
	before := d.done.again()
	d.done, d.last = before, before
	d.page.late(time.Second)
	r, err := a.compile(d.path, eval.Options{Typeset: true, Pictures: "cited"})
	var b bytes.Buffer
	if err == nil {
		a.nameCommit(d.path, r)
		err = html.Write(&b, r, html.Options{Events: "events"})
	}
	if err != nil {
		d.page.set(nil, "it cannot be read: "+err.Error())
		d.row.Verdict = "cannot be read"
		return err
	}
	s := r.Summary
	d.row.Title, d.row.Revision = r.Design.Title, r.Design.Revision
	d.row.Verdict = fmt.Sprintf("%d passed, %d failed, %d open, %d waived, %d errors", s.Passed, s.Failed, s.Open, s.Waived, s.Errors)
	if d.page.set(b.Bytes(), "") {
		fmt.Fprintf(a.out, "%s  %s  %s\n", time.Now().Format(time.TimeOnly), d.row.Verdict, notebook.Clean(d.row.Title))
	}
	d.done = state{}
	for _, path := range reads(d.path, r) {
		known, ok := before[path]
		if info, err := os.Stat(path); !ok && err == nil && info.ModTime().Before(began) {
			known = stateOf(path)
		}
		d.done[path] = known
	}
	return nil
}

// reads lists the files that a design reads or would read, and their folders.
func reads(path string, r *record.Record) []string {
	files := []string{path, filepath.Dir(path)}
	for _, f := range r.Files {
		files = append(files, f.Abs, filepath.Dir(f.Abs))
	}
	for _, s := range r.Sources { // a document that is not there may come
		if s.File != "" && s.Position != nil {
			files = append(files, filepath.Join(filepath.Dir(s.Position.File), s.File))
		}
	}
	return files
}
