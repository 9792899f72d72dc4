package workspace

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"io"
	"os"
	"slices"
	"strings"
	"sync"
	"time"

	"guardband/eval"
	"guardband/notebook/sheet"
)

// evidence remembers what documents answered, by their bytes: a design that is
// compiled again, or another that cites the same pages, does not ask twice. A
// page that could not be read is asked again.
type evidence struct {
	inner eval.Evidence

	mu      sync.Mutex
	digests map[string]identity
	checks  map[string]checked
	crops   map[string]cropped
	bytes   int // of the crops
}

type checked struct {
	info  sheet.Info
	found []sheet.Finding
}

type cropped struct {
	png  []byte
	w, h int
}

// identity is the digest of a file that had a size and a time of change.
type identity struct {
	size   int64
	time   time.Time
	digest string
}

// The most that is remembered: answers, and bytes of pictures.
const (
	mostChecks = 4096
	mostCrops  = 128 << 20
)

// Evidence answers for documents as inner does, and remembers it for as long
// as the workspace lives.
func (w *Workspace) Evidence(inner eval.Evidence) eval.Evidence {
	w.mu.Lock()
	defer w.mu.Unlock()
	if w.evidence == nil || w.evidence.inner != inner {
		w.evidence = &evidence{inner: inner, digests: map[string]identity{}, checks: map[string]checked{}, crops: map[string]cropped{}}
	}
	return w.evidence
}

// digest is that of a file; "" where it cannot be read, or changed so lately
// that its time may not tell the next change.
func (e *evidence) digest(path string) string {
	info, err := os.Stat(path)
	if err != nil || !info.Mode().IsRegular() {
		return ""
	}
	e.mu.Lock()
	known := e.digests[path]
	e.mu.Unlock()
	if known.digest != "" && known.size == info.Size() && known.time.Equal(info.ModTime()) {
		return known.digest
	}
	f, err := os.Open(path)
	if err != nil {
		return ""
	}
	defer f.Close()
	sum := sha256.New()
	if _, err := io.Copy(sum, f); err != nil {
		return ""
	}
	known = identity{info.Size(), info.ModTime(), hex.EncodeToString(sum.Sum(nil))}
	after, err := f.Stat()
	if err != nil || after.Size() != known.size || !after.ModTime().Equal(known.time) || time.Since(known.time) < 2*time.Second {
		return ""
	}
	e.mu.Lock()
	defer e.mu.Unlock()
	e.digests[path] = known
	return known.digest
}

func key(digest string, asked ...any) string {
	b, err := json.Marshal(asked)
	if err != nil || digest == "" {
		return ""
	}
	return digest + string(b)
}

func (e *evidence) Check(ctx context.Context, path string, qs []sheet.Query) (sheet.Info, []sheet.Finding, error) {
	k := key(e.digest(path), qs)
	e.mu.Lock()
	x, ok := e.checks[k]
	e.mu.Unlock()
	if ok {
		return x.info, slices.Clone(x.found), nil
	}
	info, found, err := e.inner.Check(ctx, path, qs)
	unread := slices.ContainsFunc(found, func(f sheet.Finding) bool { return f.Unread })
	if err == nil && k != "" && !unread && strings.HasPrefix(k, info.SHA256) {
		e.mu.Lock()
		if len(e.checks) >= mostChecks {
			clear(e.checks)
		}
		e.checks[k] = checked{info, slices.Clone(found)}
		e.mu.Unlock()
	}
	return info, found, err
}

func (e *evidence) Crop(ctx context.Context, path string, page int, boxes, marks []sheet.Box, dpi int) ([]byte, int, int, error) {
	k := key(e.digest(path), page, boxes, marks, dpi)
	e.mu.Lock()
	x, ok := e.crops[k]
	e.mu.Unlock()
	if ok {
		return x.png, x.w, x.h, nil
	}
	png, w, h, err := e.inner.Crop(ctx, path, page, boxes, marks, dpi)
	if err == nil && k != "" {
		e.mu.Lock()
		if e.bytes += len(png); e.bytes > mostCrops {
			clear(e.crops)
			e.bytes = len(png)
		}
		e.crops[k] = cropped{png, w, h}
		e.mu.Unlock()
	}
	return png, w, h, err
}
