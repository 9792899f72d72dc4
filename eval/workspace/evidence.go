package workspace

import (
	"context"
	"encoding/json"
	"os"
	"sync"
	"time"

	"guardband/eval"
	"guardband/notebook/sheet"
)

// evidence remembers the pictures of documents: a design that is compiled again,
// or another that cites the same lines, does not draw them twice.
type evidence struct {
	eval.Evidence

	mu    sync.Mutex
	crops map[string]cropped
	bytes int // of the crops
}

type cropped struct {
	png  []byte
	w, h int
}

// mostCrops is how many bytes of pictures are remembered.
const mostCrops = 128 << 20

// Evidence answers for documents as inner does, and remembers its pictures for as
// long as the workspace lives.
func (w *Workspace) Evidence(inner eval.Evidence) eval.Evidence {
	w.mu.Lock()
	defer w.mu.Unlock()
	if w.evidence == nil || w.evidence.Evidence != inner {
		w.evidence = &evidence{Evidence: inner, crops: map[string]cropped{}}
	}
	return w.evidence
}

// key tells a picture of a file as it is; "" where that cannot be read, or changed
// so lately that its time may not tell the next change.
func key(path string, asked ...any) string {
	info, err := os.Stat(path)
	if err != nil || time.Since(info.ModTime()) < 2*time.Second {
		return ""
	}
	b, err := json.Marshal(append(asked, path, info.Size(), info.ModTime().UnixNano()))
	if err != nil {
		return ""
	}
	return string(b)
}

func (e *evidence) Crop(ctx context.Context, path string, page int, boxes, marks []sheet.Box, dpi int) ([]byte, int, int, error) {
	k := key(path, page, boxes, marks, dpi)
	e.mu.Lock()
	x, ok := e.crops[k]
	e.mu.Unlock()
	if ok {
		return x.png, x.w, x.h, nil
	}
	png, w, h, err := e.Evidence.Crop(ctx, path, page, boxes, marks, dpi)
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
