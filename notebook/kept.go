package notebook

import "sync"

// Kept holds notebooks as read, so that designs which share notes read each
// once. A notebook is read again when its bytes are others. Nobody writes to a
// notebook that was read; Kept can be asked from several goroutines.
type Kept struct {
	mu    sync.Mutex
	notes map[[2]string]keptNote // by path shown and absolute path
}

type keptNote struct {
	n     *Notebook
	diags *Diagnostics
}

// read reads a notebook whose file has a digest, or finds it as it was read
// before. Kept may be nil.
func (k *Kept) read(src *Source, digest string) (*Notebook, *Diagnostics) {
	src.SHA256 = digest
	if k == nil || src.Abs == "" {
		return Read(src)
	}
	key := [2]string{src.Path, src.Abs}
	k.mu.Lock()
	x := k.notes[key]
	k.mu.Unlock()
	if x.n == nil || x.n.Src.SHA256 != digest {
		x.n, x.diags = Read(src)
		k.mu.Lock()
		defer k.mu.Unlock()
		if k.notes == nil {
			k.notes = map[[2]string]keptNote{}
		}
		k.notes[key] = x
	}
	return x.n, x.diags
}
