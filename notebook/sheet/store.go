package sheet

import (
	"fmt"
	"io"
	"os"
	"path/filepath"

	"guardband/notebook/files"
)

// storeVersion changes whenever stored text would come out otherwise.
const storeVersion = "text-11"

// store keeps what was read of documents on disk, by digest of the document
// and page. It never fails: what cannot be read is a miss, what cannot be
// written is lost.
type store struct {
	dir   string
	fresh bool // what is kept is not used, only renewed
}

func newStore(cacheDir string) store {
	if cacheDir == "" {
		return store{}
	}
	return store{dir: filepath.Join(cacheDir, storeVersion)}
}

func (s store) path(sha, name string) string {
	return filepath.Join(s.dir, sha[:2], sha, name)
}

func (s store) load(sha, name string) (*decoder, bool) {
	if s.dir == "" || s.fresh {
		return nil, false
	}
	data, err := os.ReadFile(s.path(sha, name))
	if err != nil {
		return nil, false
	}
	d, err := unseal(storeVersion+sha+name, data)
	return d, err == nil
}

// save writes an entry to a file beside its place and renames it, so that a
// reader sees the old entry or the new one, never half of one.
func (s store) save(sha, name string, e *encoder) {
	if s.dir == "" {
		return
	}
	path := s.path(sha, name)
	if os.MkdirAll(filepath.Dir(path), 0o700) != nil {
		return
	}
	data := e.seal(storeVersion + sha + name)
	_ = files.Cache(path, func(w io.Writer) error { _, err := w.Write(data); return err })
}

func pageEntry(n int) string { return fmt.Sprintf("page-%06d", n) }

func (s store) loadPage(sha string, n int) (Page, bool) {
	d, ok := s.load(sha, pageEntry(n))
	if !ok {
		return Page{}, false
	}
	p, err := decodePage(d)
	return p, err == nil && p.Number == n
}

func (s store) savePage(sha string, p Page) { s.save(sha, pageEntry(p.Number), encodePage(p)) }

func (s store) loadHeader(sha string) (header, bool) {
	d, ok := s.load(sha, "head")
	if !ok {
		return header{}, false
	}
	h, err := decodeHeader(d)
	return h, err == nil && h.Pages > 0
}

func (s store) saveHeader(sha string, h header) { s.save(sha, "head", encodeHeader(h)) }

// loadWhole says whether a document is known to need the whole engine.
func (s store) loadWhole(sha string) bool {
	d, ok := s.load(sha, "whole")
	return ok && d.done() == nil
}

func (s store) saveWhole(sha string) { s.save(sha, "whole", &encoder{}) }

func sightsEntry(n int) string { return fmt.Sprintf("seen-%06d", n) }

// loadSights gives which words of a page are seen, as far as it was asked.
func (s store) loadSights(sha string, n int) map[place]sight {
	out := map[place]sight{}
	d, ok := s.load(sha, sightsEntry(n))
	if !ok {
		return out
	}
	for range d.count() {
		at := place{d.int(), d.int()}
		out[at] = sight(d.uint())
	}
	if d.done() != nil {
		return map[place]sight{}
	}
	return out
}

func (s store) saveSights(sha string, n int, sights map[place]sight) {
	e := &encoder{}
	e.uint(uint64(len(sights)))
	for at, s := range sights {
		e.int(at.line)
		e.int(at.word)
		e.uint(uint64(s))
	}
	s.save(sha, sightsEntry(n), e)
}
