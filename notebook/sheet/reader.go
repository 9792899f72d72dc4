package sheet

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"os"
	"sync"
)

// Reader opens documents. It starts no PDF engine until something is asked
// that neither memory nor the cache folder holds. It is safe for concurrent use.
type Reader struct {
	eng   *engine
	store store
	slots chan struct{} // one per document that may be open at a time
	busy  sync.WaitGroup

	mu     sync.Mutex
	idle   []*session
	docs   map[string]*content
	closed bool

	memo pageMemo
}

// session is a document left open for the next question.
type session struct {
	sha string
	doc *document
}

// content is what is known of a document, by its digest.
type content struct {
	mu     sync.Mutex // held while the document is read
	head   *header
	failed error         // the document cannot be opened
	bad    map[int]error // pages that cannot be read
	index  *wordIndex
	whole  bool // the light engine does not do; held by Reader.mu
}

// file is a document as it is on disk now.
type file struct {
	path, sha string
}

// Open gives a library that keeps what it reads in cacheDir, which it makes on
// need; with "" it keeps nothing beyond its own life. The folder must belong to
// the user alone: it also holds compiled code.
func Open(cacheDir string) *Reader {
	return &Reader{
		eng:   newEngine(cacheDir),
		store: newStore(cacheDir),
		slots: make(chan struct{}, maxInstances),
		docs:  map[string]*content{},
		memo:  newPageMemo(memoPages),
	}
}

// Fresh makes the reader read every page anew, whatever earlier runs have kept
// of it. The compiled engine is used as it is.
func (l *Reader) Fresh() { l.store.fresh = true }

// Close ends the engine and waits for calls under way.
func (l *Reader) Close() error {
	l.mu.Lock()
	if l.closed {
		l.mu.Unlock()
		return nil
	}
	l.closed = true
	idle := l.idle
	l.idle = nil
	l.mu.Unlock()
	for _, s := range idle {
		s.doc.close()
	}
	l.busy.Wait()
	return l.eng.close()
}

// identify takes the digest of a file. Only regular files are read.
func (l *Reader) identify(path string) (file, error) {
	st, err := os.Stat(path) // before opening, which would wait on a pipe
	if err != nil {
		return file{}, err
	}
	if !st.Mode().IsRegular() {
		return file{}, fmt.Errorf("%w: not a regular file", ErrNotPDF)
	}
	if st.Size() > maxFileSize {
		return file{}, fmt.Errorf("%w: %d MiB, at most %d are read", ErrTooLarge, st.Size()>>20, maxFileSize>>20)
	}
	f, err := os.Open(path)
	if err != nil {
		return file{}, err
	}
	defer f.Close()
	head := make([]byte, 1024)
	n, err := io.ReadFull(f, head)
	if err != nil && err != io.EOF && err != io.ErrUnexpectedEOF {
		return file{}, err
	}
	if err := looksLikePDF(head[:n]); err != nil {
		return file{}, err
	}
	sum := sha256.New()
	sum.Write(head[:n])
	if _, err := io.Copy(sum, io.LimitReader(f, maxFileSize)); err != nil {
		return file{}, err
	}
	return file{path: path, sha: hex.EncodeToString(sum.Sum(nil))}, nil
}

// content gives the shared knowledge of a document.
func (l *Reader) content(sha string) *content {
	l.mu.Lock()
	defer l.mu.Unlock()
	c := l.docs[sha]
	if c == nil {
		c = &content{bad: map[int]error{}}
		l.docs[sha] = c
	}
	return c
}

// use runs fn with the document open. The document is opened if it is not, and
// kept for the next use unless something went wrong with it. Where the light
// engine does not do, fn runs again in the whole one.
func (l *Reader) use(ctx context.Context, f file, fn func(*document) error) error {
	err := l.useOnce(ctx, f, fn)
	if errors.Is(err, errBlanked) {
		l.needWhole(f.sha)
		err = l.useOnce(ctx, f, fn)
	}
	return err
}

func (l *Reader) useOnce(ctx context.Context, f file, fn func(*document) error) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	select {
	case l.slots <- struct{}{}:
	case <-ctx.Done():
		return ctx.Err()
	}
	defer func() { <-l.slots }()
	s, err := l.take(ctx, f)
	if err != nil {
		return err
	}
	defer l.busy.Done()
	err = fn(s.doc)
	l.giveBack(s)
	return err
}

// take finds an idle session of the document or opens one. On success the
// library counts as busy.
func (l *Reader) take(ctx context.Context, f file) (*session, error) {
	l.mu.Lock()
	if l.closed {
		l.mu.Unlock()
		return nil, errClosed
	}
	l.busy.Add(1)
	for i, s := range l.idle {
		if s.sha == f.sha {
			l.idle = append(l.idle[:i], l.idle[i+1:]...)
			l.mu.Unlock()
			return s, nil
		}
	}
	var old *session
	if len(l.idle) >= maxInstances-1 { // room for the new one
		old, l.idle = l.idle[0], append([]*session(nil), l.idle[1:]...)
	}
	l.mu.Unlock()
	if old != nil {
		old.doc.close()
	}
	doc, err := l.load(ctx, f)
	if err != nil {
		l.busy.Done()
		return nil, err
	}
	return &session{sha: f.sha, doc: doc}, nil
}

// load reads the bytes again and makes sure that they are still those whose
// digest was taken.
func (l *Reader) load(ctx context.Context, f file) (*document, error) {
	data, err := os.ReadFile(f.path)
	if err != nil {
		return nil, err
	}
	sum := sha256.Sum256(data)
	want, err := hex.DecodeString(f.sha)
	if err != nil || !bytes.Equal(sum[:], want) {
		return nil, fmt.Errorf("%w: it changed while it was read", ErrDamaged)
	}
	eng := l.eng
	if l.needsWhole(f.sha) {
		eng = eng.whole()
	}
	return openDocument(ctx, eng, data)
}

// needWhole remembers that the light engine does not do for a document.
func (l *Reader) needWhole(sha string) {
	l.store.saveWhole(sha)
	c := l.content(sha)
	l.mu.Lock()
	defer l.mu.Unlock()
	c.whole = true
}

func (l *Reader) needsWhole(sha string) bool {
	c := l.content(sha)
	l.mu.Lock()
	defer l.mu.Unlock()
	c.whole = c.whole || l.store.loadWhole(sha)
	return c.whole
}

func (l *Reader) giveBack(s *session) {
	l.mu.Lock()
	keep := !s.doc.broken && !l.closed
	if keep {
		l.idle = append(l.idle, s)
	}
	l.mu.Unlock()
	if !keep {
		s.doc.close()
	}
}
