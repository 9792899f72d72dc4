package notebook

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
)

// Within gives the absolute path of a file that a command was given, symbolic
// links followed, and the folder that it and all it names must stay in: root,
// or the folder of the path as given where root is "". A file that is a link
// out of that folder gives ErrOutside: who sent the folder chose where it leads.
func Within(path, root string) (abs, folder string, err error) {
	if path, err = filepath.Abs(path); err != nil {
		return "", "", err
	}
	if root == "" {
		root = filepath.Dir(path)
	}
	if folder, err = filepath.EvalSymlinks(root); err != nil {
		return "", "", err
	}
	if folder, err = filepath.Abs(folder); err != nil {
		return "", "", err
	}
	if abs, err = filepath.EvalSymlinks(path); err == nil && !inside(folder, abs) {
		return "", folder, ErrOutside
	}
	return abs, folder, err
}

func leadsOut(path, folder string) Diagnostic {
	return Diagnostic{Code: "path-outside", Severity: Err, Pos: Pos{File: path, Line: 1, Col: 1},
		Message: fmt.Sprintf("the notebook is outside the folder %s that it must stay in", folder),
		Hint:    "where it is a symbolic link, name the file itself; or name a folder that holds both with --root"}
}

// Resolve gives the absolute path of a file or folder named in a notebook,
// relative to the notebook's folder, with symbolic links followed. A path
// that leaves the Book's Root gives ErrOutside, one that is not there
// os.ErrNotExist.
func (b *Book) Resolve(from *Source, rel string) (string, error) {
	p := local(rel)
	if !filepath.IsAbs(p) {
		p = filepath.Join(b.folderOf(from), p)
	}
	return b.confine(p)
}

// Document resolves the file of a source: where the notebooks are an image of
// what is staged, a document that is not in git lies in the folder itself.
func (b *Book) Document(from *Source, rel string) (string, error) {
	abs, err := b.Resolve(from, rel)
	if b.twin == "" || !errors.Is(err, os.ErrNotExist) {
		return abs, err
	}
	to := func(p string) string {
		if rel, err := filepath.Rel(b.image, p); err == nil {
			return filepath.Join(b.twin, rel)
		}
		return p
	}
	beside := Book{Root: to(b.Root)}
	abs, err = beside.confine(filepath.Join(to(b.folderOf(from)), local(rel)))
	return abs, err
}

func (b *Book) folderOf(from *Source) string {
	if from == nil || from.Abs == "" {
		return b.Root
	}
	return filepath.Dir(from.Abs)
}

// confine follows symbolic links and refuses what lies outside Root. Of a
// path that does not exist the part that does is judged, so that a missing
// file outside is refused as outside.
func (b *Book) confine(p string) (string, error) {
	p = filepath.Clean(p)
	real, err := filepath.EvalSymlinks(p)
	if err == nil {
		if !inside(b.Root, real) {
			return "", ErrOutside
		}
		return real, nil
	}
	if !errors.Is(err, os.ErrNotExist) {
		if !inside(b.Root, p) {
			return "", ErrOutside
		}
		return "", err
	}
	for dir := p; ; {
		parent := filepath.Dir(dir)
		real, e := filepath.EvalSymlinks(parent)
		if e == nil {
			if !inside(b.Root, real) {
				return "", ErrOutside
			}
			return "", err
		}
		if parent == dir {
			return "", err
		}
		dir = parent
	}
}

// inside says that p is root or stands below it; both absolute and resolved.
func inside(root, p string) bool {
	rel, err := filepath.Rel(root, p)
	return err == nil && rel != ".." && !strings.HasPrefix(rel, ".."+string(filepath.Separator))
}

// local is a path of a notebook on this system. One with backslashes, as some
// systems write it, leads to the same file on all.
func local(rel string) string { return filepath.FromSlash(strings.ReplaceAll(rel, `\`, "/")) }

// nearPath is the name beside a missing path that was probably meant.
func (b *Book) nearPath(from *Source, rel string) string {
	p := local(rel)
	full := filepath.Join(b.folderOf(from), p)
	dir, err := b.confine(filepath.Dir(full))
	if err != nil {
		return ""
	}
	entries, err := os.ReadDir(dir)
	if err != nil {
		return ""
	}
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
	}
	near := Nearest(filepath.Base(p), names)
	if near == "" {
		near = Nearest(filepath.Base(p)+".md", names)
	}
	if near == "" {
		return ""
	}
	return filepath.ToSlash(filepath.Join(filepath.Dir(p), near))
}

// Designs lists the notebooks in a folder (not in folders inside it) that
// have a design block, by name, as paths joined to dir. Links that lead out of
// root ("" for dir) are passed over.
func Designs(dir, root string) ([]string, error) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil, err
	}
	var out []string
	for _, e := range entries {
		path := filepath.Join(dir, e.Name())
		if e.IsDir() || !isNotebookName(e.Name()) {
			continue
		}
		if info, err := os.Stat(path); err != nil || !info.Mode().IsRegular() {
			continue
		}
		if _, _, err := Within(path, root); errors.Is(err, ErrOutside) {
			continue
		}
		data, err := ReadFile(path)
		if err != nil {
			var large *largeError
			if !errors.As(err, &large) {
				return nil, err
			}
			if !speaksOfDesign(path) {
				continue
			}
			out = append(out, path) // told when it is loaded
			continue
		}
		if hasDesign(path, data) {
			out = append(out, path)
		}
	}
	return out, nil
}

// speaksOfDesign says whether a file that is too large to be read may hold a
// design block: passed over, it would not be missed.
func speaksOfDesign(path string) bool {
	f, err := os.Open(path)
	if err != nil {
		return true
	}
	defer f.Close()
	buf := make([]byte, 1<<20)
	for kept := 0; ; {
		n, err := f.Read(buf[kept:])
		if designFence().Match(buf[:kept+n]) {
			return true
		}
		if err != nil {
			return err != io.EOF
		}
		kept = copy(buf, buf[max(0, kept+n-32):kept+n])
	}
}

var designFence = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile("(`{3}|~{3})[`~]*[ \t]*design\\b") })

// hasDesign says that a file has a design block, or is refused and looks as if
// it had one; most files are told from their bytes without being parsed.
func hasDesign(path string, data []byte) bool {
	if !bytes.Contains(data, []byte("design")) {
		return false
	}
	n, diags := Read(NewSource(path, path, data))
	return slices.ContainsFunc(n.Blocks, func(b *Block) bool { return b.Kind == "design" }) ||
		diags.Errors() > 0 && designFence().Match(data)
}

// HasBlocks says that a file holds blocks of ours: other Markdown is left
// alone.
func HasBlocks(path string, data []byte) bool {
	if !bytes.Contains(data, []byte("```")) && !bytes.Contains(data, []byte("~~~")) {
		return false
	}
	n, _ := Read(NewSource(path, path, data))
	return len(n.Blocks) > 0
}

// checkIDs complains of IDs of one kind given twice in a Book, and of two
// design blocks in one notebook.
func checkIDs(b *Book) {
	type key struct{ kind, id string }
	first := map[key]*Block{}
	for _, n := range b.Notebooks {
		var design *Block
		for _, x := range n.Blocks {
			if x.Kind == "design" {
				if design != nil {
					t := x.IDText
					b.Diags.At(Err, "design-twice", t, 0, len(t.S), "a notebook has one design block",
						"move its lines into the first", Related{Pos: design.Pos, Message: "first here"})
				}
				design = x
			}
			if x.ID == "" {
				continue
			}
			k := key{x.Kind, x.ID}
			if f := first[k]; f != nil {
				t := x.IDText
				b.Diags.At(Err, "id-twice", t, 0, len(t.S), "the "+x.Kind+" "+quote(x.ID)+" is there twice",
					"give one of them another ID", Related{Pos: f.IDText.Pos(0), Message: "first here"})
				continue
			}
			first[k] = x
		}
	}
}
