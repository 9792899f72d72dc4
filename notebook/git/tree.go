package git

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"strings"
)

// Limits of what Write puts on the disk.
const (
	maxWritten = 1 << 30 // bytes in all
	maxEntries = 200_000 // files and folders
	maxDepth   = 64      // folders in one another
)

// TreeEntry is a row of a folder in a commit.
type TreeEntry struct {
	Name string
	Mode string // octal digits: 100644, 100755, 120000 a link, 40000 a folder, 160000 a submodule
	ID   ID
}

func (e TreeEntry) folder() bool { return e.Mode == "40000" }
func (e TreeEntry) file() bool   { return strings.HasPrefix(e.Mode, "100") }

// tree reads the rows of a folder.
func (r *Repository) tree(id ID) ([]TreeEntry, error) {
	if rows, ok := r.trees[id]; ok {
		return rows, nil
	}
	kind, data, err := r.object(id, maxSmall)
	if err != nil {
		return nil, err
	}
	bad := fmt.Errorf("%w: object %s is not a sound tree", ErrNotRead, id)
	if kind != "tree" {
		return nil, bad
	}
	var out []TreeEntry
	for len(data) > 0 {
		space, end := bytes.IndexByte(data, ' '), bytes.IndexByte(data, 0)
		if space < 0 || end < space || len(data) < end+1+r.size {
			return nil, bad
		}
		e := TreeEntry{Mode: string(data[:space]), Name: string(data[space+1 : end]), ID: ID(data[end+1 : end+1+r.size])}
		if e.Name == "" || e.Name == "." || e.Name == ".." || strings.ContainsAny(e.Name, "/\\") {
			return nil, bad
		}
		out = append(out, e)
		data = data[end+1+r.size:]
	}
	if r.trees == nil || r.held+len(out) > maxHeld {
		r.trees, r.held = map[ID][]TreeEntry{}, 0
	}
	r.trees[id] = out
	r.held += len(out)
	return out, nil
}

// rootTree is the top folder of a commit.
func (r *Repository) rootTree(commit ID) (ID, error) {
	_, data, err := r.commit(commit)
	if err != nil {
		return "", err
	}
	id, ok := header(data, "tree")
	if !ok {
		return "", fmt.Errorf("%w: commit %s names no tree", ErrNotRead, commit)
	}
	return id, nil
}

// Find is the row of a file or folder in a commit, by its path in the
// repository; ErrMissing where it is not there. Links are not followed.
func (r *Repository) Find(commit ID, name string) (TreeEntry, error) {
	id, err := r.rootTree(commit)
	at := TreeEntry{Mode: "40000", ID: id}
	if err != nil || name == "" {
		return at, err
	}
	for part := range strings.SplitSeq(name, "/") {
		if !at.folder() {
			return TreeEntry{}, fmt.Errorf("%w: %s", ErrMissing, name)
		}
		rows, err := r.tree(at.ID)
		if err != nil {
			return TreeEntry{}, err
		}
		found := false
		for _, e := range rows {
			if e.Name == part {
				at, found = e, true
				break
			}
		}
		if !found {
			return TreeEntry{}, fmt.Errorf("%w: %s", ErrMissing, name)
		}
	}
	return at, nil
}

// File is the content of a file in a commit as it was committed, no filter
// applied but a large file taken from the store beside the objects; ErrMissing
// where there is no file of that name.
func (r *Repository) File(commit ID, name string) ([]byte, error) {
	e, err := r.Find(commit, name)
	if err != nil {
		return nil, err
	}
	if !e.file() {
		return nil, fmt.Errorf("%w: %s", ErrMissing, name)
	}
	return r.content(e.ID)
}

var pointer = regexp.MustCompile(`^version https://git-lfs\.github\.com/spec/v1\n(?:.*\n)*?oid sha256:([0-9a-f]{64})\n`)

// content is a file's bytes. Where a large file was committed as a pointer to
// a store beside the objects (Git LFS specification, version 1), they are those
// in the store, if they are there and have the digest that the pointer states.
func (r *Repository) content(id ID) ([]byte, error) {
	data, err := r.Blob(id)
	if err != nil || len(data) > 1024 {
		return data, err
	}
	m := pointer.FindSubmatch(data)
	if m == nil {
		return data, nil
	}
	oid := string(m[1])
	large, err := read(r.common, path.Join("lfs/objects", oid[:2], oid[2:4], oid), MaxObject)
	if sum := sha256.Sum256(large); err != nil || hex.EncodeToString(sum[:]) != oid {
		return data, nil
	}
	return large, nil
}

// Write puts a folder of a commit ("" for all of it) into dir, which must be
// there: each file as File gives it, and the symbolic links that do not lead
// out of dir. Submodules are left out.
func (r *Repository) Write(commit ID, name, dir string) error {
	e, err := r.Find(commit, name)
	if err != nil {
		return err
	}
	if !e.folder() {
		return fmt.Errorf("%w: %s is a file", ErrMissing, name)
	}
	root, err := os.OpenRoot(dir)
	if err != nil {
		return err
	}
	defer root.Close()
	w := &writer{r: r, root: root}
	return w.folder(e.ID, "", 0)
}

// WriteStaged puts the staged files below a folder ("" for all) into dir as
// Write does those of a commit. A merge that is not settled is refused.
func (r *Repository) WriteStaged(name, dir string) error {
	rows, err := r.Index()
	if err != nil {
		return err
	}
	root, err := os.OpenRoot(dir)
	if err != nil {
		return err
	}
	defer root.Close()
	w := &writer{r: r, root: root}
	for _, e := range rows {
		at := e.Path
		if name != "" {
			var below bool
			if at, below = strings.CutPrefix(e.Path, name+"/"); !below {
				continue
			}
		}
		if e.Intent {
			continue
		}
		if e.Stage != 0 {
			return fmt.Errorf("%w: the merge of %s is not settled", ErrNotRead, e.Path)
		}
		if w.entries++; w.entries > maxEntries {
			return fmt.Errorf("%w: more than %d files", ErrNotRead, maxEntries)
		}
		if folder := path.Dir(at); folder != "." {
			if err := root.MkdirAll(folder, 0o755); err != nil {
				return err
			}
		}
		switch e.Mode &^ 0o777 {
		case 0o100000:
			err = w.file(e.ID, at)
		case 0o120000:
			err = w.link(e.ID, at)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

type writer struct {
	r       *Repository
	root    *os.Root // keeps every name inside, links or not
	bytes   int64
	entries int
}

func (w *writer) folder(id ID, at string, depth int) error {
	rows, err := w.r.tree(id)
	if err != nil {
		return err
	}
	if depth > maxDepth {
		return fmt.Errorf("%w: folders more than %d deep", ErrNotRead, maxDepth)
	}
	for _, e := range rows {
		if w.entries++; w.entries > maxEntries {
			return fmt.Errorf("%w: more than %d files", ErrNotRead, maxEntries)
		}
		name := path.Join(at, e.Name)
		switch {
		case e.folder():
			if err = w.root.Mkdir(name, 0o755); err == nil {
				err = w.folder(e.ID, name, depth+1)
			}
		case e.file():
			err = w.file(e.ID, name)
		case e.Mode == "120000":
			err = w.link(e.ID, name)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

func (w *writer) file(id ID, name string) error {
	data, err := w.r.content(id)
	if err != nil {
		return err
	}
	if w.bytes += int64(len(data)); w.bytes > maxWritten {
		return fmt.Errorf("%w: more than %d bytes in files", ErrNotRead, int64(maxWritten))
	}
	f, err := w.root.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	return errors.Join(err, f.Close())
}

func (w *writer) link(id ID, name string) error {
	kind, to, err := w.r.object(id, maxRef)
	if err != nil || kind != "blob" {
		return err
	}
	target := filepath.FromSlash(string(to))
	if filepath.IsAbs(target) || !filepath.IsLocal(filepath.Join(filepath.FromSlash(path.Dir(name)), target)) {
		return nil
	}
	return w.root.Symlink(target, name)
}
