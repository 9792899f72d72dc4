package sheet

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"sync"
	"time"

	"github.com/klippa-app/go-pdfium"
	"github.com/klippa-app/go-pdfium/webassembly"
	"github.com/tetratelabs/wazero"
	"github.com/tetratelabs/wazero/api"
	"github.com/tetratelabs/wazero/experimental"
)

// Bounds on what a document may cost. They keep a hostile file from taking the
// machine; no honest data sheet comes near them.
const (
	memoryPages  = 2048      // 64 KiB each: 128 MiB of sandbox memory per instance
	maxFileSize  = 100 << 20 // bytes
	maxPageCount = 100_000   // pages of one document
	maxPageChars = 400_000   // characters of one page
	maxInstances = 2         // documents open in the engine at a time
)

// engine is PDFium compiled to WebAssembly. It starts on first use. A call that
// overruns its time is abandoned, since interruptible code costs four times as
// much; from then on the engine is replaced by an interruptible one, so that at
// most maxInstances calls can ever run away.
//
// The light engine lacks what reading text hardly ever enters; a document that
// does goes to the whole one behind it.
type engine struct {
	cacheDir  string        // "" for none
	openLimit time.Duration // to open a document and read its outline, processor time
	pageLimit time.Duration // to read or draw one page, processor time

	parent context.Context // of the runtime

	mu       sync.Mutex
	light    bool // functions are left out
	behind   *engine
	pool     pdfium.Pool
	made     *sandbox // of the instance made last
	guarded  bool     // pool can interrupt a call
	starts   int      // how often a runtime was started, for tests
	runaways int
}

func newEngine(cacheDir string) *engine {
	return &engine{
		cacheDir: cacheDir, openLimit: 10 * time.Second, pageLimit: 2 * time.Second,
		parent: context.Background(), light: true,
	}
}

// whole gives the engine behind a light one.
func (e *engine) whole() *engine {
	e.mu.Lock()
	defer e.mu.Unlock()
	if e.behind == nil {
		e.behind = newEngine(e.cacheDir)
		e.behind.light, e.behind.openLimit, e.behind.pageLimit = false, e.openLimit, e.pageLimit
	}
	return e.behind
}

// instance gives a fresh instance, its memory, and whether its calls can be
// interrupted.
func (e *engine) instance(ctx context.Context) (pdfium.Pdfium, *sandbox, bool, error) {
	e.mu.Lock()
	defer e.mu.Unlock()
	if e.pool == nil {
		pool, err := e.start()
		if err != nil {
			return nil, nil, false, fmt.Errorf("PDF engine does not start: %w", err)
		}
		e.pool = pool
	}
	inst, err := e.pool.GetInstanceWithContext(ctx)
	if err != nil {
		return nil, nil, false, fmt.Errorf("PDF engine: %w", err)
	}
	return inst, e.made, e.guarded, nil
}

// start compiles the module, from the disk cache where one is kept. A cache
// that does not load is thrown away and built again.
func (e *engine) start() (pdfium.Pool, error) {
	e.starts++
	module := trimmed(e.light)
	if module == nil {
		e.light, module = false, pdfiumModule
	}
	dir := filepath.Join(e.cacheDir, "engine")
	if e.light {
		dir += "-light"
	}
	for try := 0; try < 2 && e.cacheDir != "" && dropAltered(dir) == nil; try++ {
		cache, err := wazero.NewCompilationCacheWithDir(dir)
		if err != nil {
			break // no disk cache to be had: do without
		}
		pool, err := e.startWith(module, cache)
		if err == nil {
			keepSums(dir)
			return pool, nil
		}
		_ = cache.Close(context.Background())
		if os.RemoveAll(dir) != nil {
			break
		}
	}
	return e.startWith(module, nil)
}

func (e *engine) startWith(module []byte, cache wazero.CompilationCache) (pdfium.Pool, error) {
	cfg := wazero.NewRuntimeConfig().
		WithCoreFeatures(api.CoreFeaturesV2 | experimental.CoreFeaturesExceptionHandling).
		WithMemoryLimitPages(memoryPages).
		WithCloseOnContextDone(e.guarded)
	if cache != nil {
		cfg = cfg.WithCompilationCache(cache)
	}
	ctx := experimental.WithMemoryAllocator(e.parent, e)
	return webassembly.InitWithWASM(webassembly.Config{
		Context:       experimental.WithCompilationWorkers(ctx, runtime.NumCPU()),
		WASM:          module,
		MaxTotal:      2 * maxInstances,
		FSConfig:      wazero.NewFSConfig(), // nothing mounted: the sandbox sees no file
		RuntimeConfig: cfg,
		Stdout:        io.Discard,
		Stderr:        io.Discard,
	})
}

// abandon gives up an instance whose call overran its time.
func (e *engine) abandon(inst pdfium.Pdfium, guarded bool) {
	if guarded {
		_ = inst.Kill()
		return
	}
	e.mu.Lock()
	defer e.mu.Unlock()
	e.runaways++
	if !e.guarded {
		// Closing the old runtime would unmap code that still runs: drop it.
		e.guarded, e.pool = true, nil
	}
}

// close ends the engine. Every instance must have been given back.
func (e *engine) close() error {
	e.mu.Lock()
	defer e.mu.Unlock()
	var err error
	if e.behind != nil {
		err = e.behind.close()
	}
	if e.pool == nil {
		return err
	}
	pool := e.pool
	e.pool = nil
	return errors.Join(err, pool.Close())
}

// patience is how many times its limit a call may take where the machine has
// little time for it.
const patience = 10

// watched runs f with a limit on the time that passes and that this process
// has of the processor: a busy machine makes no page heavy. ok is false when f
// has not returned: the caller must then leave alone all that f uses. A panic
// in f becomes an error.
func watched(limit time.Duration, f func() error) (err error, ok bool) {
	done := make(chan error, 1)
	go func() {
		defer func() {
			if r := recover(); r != nil {
				done <- fmt.Errorf("PDF engine: %v", r)
			}
		}()
		done <- f()
	}()
	before := processorTime()
	timer := time.NewTimer(limit)
	defer timer.Stop()
	for range patience {
		select {
		case err := <-done:
			return err, true
		case <-timer.C:
		}
		used := processorTime() - before
		if used >= limit {
			return ErrTimeout, false
		}
		timer.Reset(limit - used)
	}
	return ErrTimeout, false
}

var errClosed = errors.New("the library is closed")
