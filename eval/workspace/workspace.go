// Package workspace finds the designs of folders and compiles them: each note
// is read once however many designs share it, several designs are worked out
// at a time, and their records are handed over in order. It has no flags and
// prints nothing.
package workspace

import (
	"context"
	"fmt"
	"iter"
	"sync"
	"time"

	"guardband/eval/record"
	"guardband/notebook"
	"guardband/notebook/sheet"
)

// Workspace is what the designs of one run, or of one watch, share. It can be
// asked from several goroutines.
type Workspace struct {
	Read notebook.Options // where notebooks may lie
	kept notebook.Kept

	mu       sync.Mutex
	evidence *evidence
}

// Fault is a fault of the program that lost one design.
type Fault struct{ path, text string }

func (e *Fault) Error() string { return e.path + ": " + e.text }

// Load reads one design, "-" from stdin. Each change is NAME=VALUE, a what-if.
func (w *Workspace) Load(path string, stdin []byte, changes []string) (*notebook.Book, error) {
	opt := w.Read
	opt.Stdin, opt.Kept = stdin, &w.kept
	book, err := notebook.Load(path, opt)
	if err != nil || len(changes) == 0 {
		return book, err
	}
	for _, s := range changes {
		change, err := book.Change(s)
		if err != nil {
			return nil, fmt.Errorf("--set: %w", err)
		}
		opt.Changes = append(opt.Changes, change)
	}
	return notebook.Load(path, opt)
}

// Result is the record of one design, or why there is none: an error of the
// machine, or a *Fault.
type Result struct {
	Path   string
	Record *record.Record
	Err    error
	Took   time.Duration // on the clock
}

// Each works designs out with a function, as many at a time as workers, and
// yields them in order. No more than a few wait to be taken. A panic in one
// of them is its *Fault.
func Each(ctx context.Context, paths []string, workers int, work func(path string) (*record.Record, error)) iter.Seq[Result] {
	return func(yield func(Result) bool) {
		ctx, stop := context.WithCancel(ctx)
		defer stop()
		slots := make(chan struct{}, 2*max(1, workers)) // being worked out or waiting
		todo, done := make(chan int), make([]chan Result, len(paths))
		for i := range done {
			done[i] = make(chan Result, 1)
		}
		var wg sync.WaitGroup
		defer wg.Wait()
		defer stop()
		for range min(max(1, workers), len(paths)) {
			wg.Go(func() {
				for i := range todo {
					done[i] <- one(paths[i], work)
				}
			})
		}
		wg.Go(func() {
			defer close(todo)
			for i := range paths {
				select {
				case slots <- struct{}{}:
					todo <- i
				case <-ctx.Done():
					return
				}
			}
		})
		for i := range paths {
			select {
			case r := <-done[i]:
				<-slots
				if !yield(r) {
					return
				}
			case <-ctx.Done():
				yield(Result{Path: paths[i], Err: ctx.Err()})
				return
			}
		}
	}
}

func one(path string, work func(path string) (*record.Record, error)) (r Result) {
	r.Path = path
	began := time.Now()
	defer func() {
		r.Took = time.Since(began)
		if x := recover(); x != nil {
			r.Record, r.Err = nil, &Fault{path, sheet.FaultText(x)}
		}
	}()
	r.Record, r.Err = work(path)
	return r
}
