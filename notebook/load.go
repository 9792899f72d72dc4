package notebook

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
)

// Options say where a notebook may look and how its paths are shown.
type Options struct {
	Root  string // folder that includes and files must stay in; "" = folder of the root notebook
	Dir   string // working folder for shown paths; "" = the process's
	Stdin []byte // the notebook "-"

	Changes []Change // what-ifs
	Kept    *Kept    // where not nil: notebooks read before, shared with other designs

	// Image and Twin: the notebooks lie in Image, which stands for the folder
	// Twin; a document that is not in Image is read in Twin.
	Image, Twin string
}

// ErrOutside is returned for a path that leaves the root folder.
var ErrOutside = errors.New("the path leads out of the design's folder")

// loader carries the state of reading a notebook and its includes.
type loader struct {
	book  *Book
	dir   string
	lines int                  // of the notebooks read so far
	seen  map[string]*Notebook // by absolute path, symbolic links resolved
	chain []string             // absolute paths of the notebooks being read, the root first

	changes []Change
	kept    *Kept
}

// Load reads the notebook at path ("-" for opt.Stdin) and all that it
// includes. The error is for what the machine fails at on that path; whatever
// the user can mend is in the Book's Diags, and the Book holds all that could
// be read.
func Load(path string, opt Options) (*Book, error) {
	l, root, err := newLoader(path, opt)
	if errors.Is(err, ErrOutside) {
		name := filepath.ToSlash(path)
		l.book.Diags.Add(leadsOut(name, l.shown(l.book.Root)))
		l.book.Notebooks = []*Notebook{{Src: NewSource(name, "", nil)}}
		return l.book, nil
	}
	if err != nil {
		return nil, err
	}
	var data []byte
	var large *largeError
	if path == "-" {
		data = opt.Stdin
	} else if data, err = ReadFile(root); errors.As(err, &large) {
		l.book.Diags.Add(tooLarge(l.shown(root), large.size))
		l.book.Notebooks = []*Notebook{{Src: NewSource(l.shown(root), root, nil)}}
		return l.book, nil
	} else if err != nil {
		return nil, err
	}
	l.read(root, data)
	l.book.readGeneric()
	checkIDs(l.book)
	return l.book, nil
}

func newLoader(path string, opt Options) (*loader, string, error) {
	dir := opt.Dir
	if dir == "" {
		d, err := os.Getwd()
		if err != nil {
			return nil, "", err
		}
		dir = d
	}
	root, abs := opt.Root, ""
	if root != "" && !filepath.IsAbs(root) {
		root = filepath.Join(dir, root)
	}
	var err error
	if path == "-" {
		if root == "" {
			root = dir
		}
		root, err = filepath.EvalSymlinks(root)
	} else {
		if !filepath.IsAbs(path) {
			path = filepath.Join(dir, path)
		}
		abs, root, err = Within(path, root)
	}
	if err != nil && !errors.Is(err, ErrOutside) {
		return nil, "", err
	}
	if realDir, err := filepath.EvalSymlinks(dir); err == nil {
		dir = realDir
	}
	l := &loader{book: &Book{Root: root, Diags: &Diagnostics{}, image: opt.Image, twin: opt.Twin}, dir: dir,
		seen: map[string]*Notebook{}, changes: opt.Changes, kept: opt.Kept}
	return l, abs, err
}

// shown is the path as printed: relative to the working folder where that is
// shorter.
func (l *loader) shown(abs string) string {
	if abs == "" {
		return "-"
	}
	rel, err := filepath.Rel(l.dir, abs)
	if err != nil || len(rel) > len(abs) {
		rel = abs
	}
	return Clean(filepath.ToSlash(rel)) // it goes into everything printed
}

// read reads one notebook and then what it includes.
func (l *loader) read(abs string, data []byte) {
	sum := sha256.Sum256(data) // of the file, before changes
	data = apply(l.changes, abs, data)
	src := NewSource(l.shown(abs), abs, data)
	if l.lines += src.Lines(); l.lines > MaxLines && src.Lines() <= MaxLines { // else the reader says so
		l.book.Diags.Add(tooLong(src.Path, l.lines))
		data = nil
		src = NewSource(src.Path, abs, nil)
	}
	kept := l.kept
	if len(l.changes) > 0 || len(data) == 0 { // not the text of the file
		kept = nil
	}
	n, diags := kept.read(src, hex.EncodeToString(sum[:]))
	src = n.Src
	l.book.Diags.list = append(l.book.Diags.list, diags.list...)
	l.book.Notebooks = append(l.book.Notebooks, n)
	if abs != "" {
		l.seen[abs] = n
	}
	l.chain = append(l.chain, abs)
	var includes []*Entry
	for _, b := range n.Blocks {
		for _, e := range b.Entries {
			if e.Label == "include" {
				includes = append(includes, e)
			}
		}
	}
	for _, e := range includes {
		l.include(src, e)
	}
	l.chain = l.chain[:len(l.chain)-1]
}

// Paths are the paths of an include entry, each with its place.
func (e *Entry) Paths() []Text {
	var out []Text
	for _, row := range append([]*Entry{e}, e.Rows...) {
		t, from := row.Value, 0
		for _, j := range t.more {
			out = append(out, t.Slice(from, j.at).List()...)
			from = j.at
		}
		out = append(out, t.Slice(from, len(t.S)).List()...)
	}
	return out
}

func (l *loader) include(src *Source, e *Entry) {
	for _, t := range e.Paths() {
		path := unquote(t.S)
		abs, err := l.book.Resolve(src, path)
		if err != nil {
			l.pathError(src, t, path, err)
			continue
		}
		info, err := os.Stat(abs)
		switch {
		case err != nil:
			l.pathError(src, t, path, err)
		case info.IsDir():
			l.folder(src, t, abs)
		case !info.Mode().IsRegular():
			l.complain(t, "include-kind", fmt.Sprintf("%q is not an ordinary file", path), "")
		default:
			l.file(t, abs, false)
		}
	}
}

// folder includes the notebooks that stand in a folder itself, by name.
func (l *loader) folder(src *Source, t Text, abs string) {
	entries, err := os.ReadDir(abs)
	if err != nil {
		l.complain(t, "include-read", "the folder cannot be read: "+reason(err), "")
		return
	}
	found := false
	for _, d := range entries {
		if d.IsDir() || !isNotebookName(d.Name()) {
			continue
		}
		real, err := l.book.confine(filepath.Join(abs, d.Name()))
		if err != nil {
			l.pathError(src, t, filepath.Join(t.S, d.Name()), err)
			continue
		}
		if info, err := os.Stat(real); err != nil || !info.Mode().IsRegular() {
			continue
		}
		found = true
		l.file(t, real, true)
	}
	if !found {
		l.book.Diags.At(Warn, "include-empty", t, 0, len(t.S), fmt.Sprintf("no notebook (*.md) in the folder %q", t.S),
			"folders inside it are not searched; name them")
	}
}

func isNotebookName(name string) bool {
	return strings.EqualFold(filepath.Ext(name), ".md") && !strings.HasPrefix(name, ".")
}

// file includes one notebook. A notebook met again is not read again; one
// that is being read and named itself is a cycle.
func (l *loader) file(t Text, abs string, viaFolder bool) {
	for k, c := range l.chain {
		if c != abs {
			continue
		}
		if !viaFolder {
			var names []string
			for _, p := range append(l.chain[k:len(l.chain):len(l.chain)], abs) {
				names = append(names, l.shown(p))
			}
			l.complain(t, "include-cycle", "circular include: "+strings.Join(names, " → "), "take out one include:")
		}
		return
	}
	if l.seen[abs] != nil {
		return
	}
	if len(l.book.Notebooks) >= MaxFiles {
		l.complain(t, "include-many", fmt.Sprintf("a design of more than %d notebooks", MaxFiles), "")
		return
	}
	data, err := ReadFile(abs)
	if large, ok := err.(*largeError); ok {
		l.seen[abs] = &Notebook{}
		d := tooLarge(l.shown(abs), large.size)
		d.Related = []Related{{Pos: t.Pos(0), Message: "included here"}}
		l.book.Diags.Add(d)
		return
	}
	if err != nil {
		l.complain(t, "include-read", fmt.Sprintf("%q cannot be read: %s", l.shown(abs), reason(err)), "")
		return
	}
	l.read(abs, data)
}

func (l *loader) complain(t Text, code, message, hint string) {
	l.book.Diags.At(Err, code, t, 0, len(t.S), message, hint)
}

// pathError complains of a path that cannot be followed.
func (l *loader) pathError(src *Source, t Text, path string, err error) {
	switch {
	case errors.Is(err, ErrOutside):
		l.complain(t, "path-outside", fmt.Sprintf("%q leads out of the design's folder %s", path, l.shown(l.book.Root)),
			"keep it inside, or name a wider folder with --root")
	case errors.Is(err, os.ErrNotExist):
		hint := ""
		if near := l.book.nearPath(src, path); near != "" {
			hint = "did you mean " + quote(near) + "?"
		}
		l.complain(t, "include-missing", fmt.Sprintf("there is no file or folder %q", path), hint)
	default:
		l.complain(t, "include-read", fmt.Sprintf("%q cannot be read: %s", path, reason(err)), "")
	}
}

// reason is a system error without the path and the call.
func reason(err error) string {
	var pe *os.PathError
	if errors.As(err, &pe) {
		return pe.Err.Error()
	}
	return err.Error()
}

type largeError struct{ size int64 }

func (e *largeError) Error() string { return fmt.Sprintf("%d bytes are too many", e.size) }

// ReadFile reads a notebook: an ordinary file of at most MaxBytes and a
// byte-order mark.
func ReadFile(path string) ([]byte, error) {
	info, err := os.Stat(path) // before opening, which would wait on a pipe
	if err != nil {
		return nil, err
	}
	if info.IsDir() {
		return nil, &os.PathError{Op: "read", Path: path, Err: errors.New("it is a folder")}
	}
	if !info.Mode().IsRegular() {
		return nil, &os.PathError{Op: "read", Path: path, Err: errors.New("it is not an ordinary file")}
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	if info.Size() > MaxBytes+3 {
		return nil, &largeError{info.Size()}
	}
	buf := bytes.NewBuffer(make([]byte, 0, info.Size()+bytes.MinRead)) // the size may be wrong
	_, err = buf.ReadFrom(io.LimitReader(f, MaxBytes+4))
	data := buf.Bytes()
	if err == nil && len(data) > MaxBytes+3 {
		return nil, &largeError{int64(len(data))}
	}
	return data, err
}
