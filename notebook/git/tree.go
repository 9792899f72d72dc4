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
	"slices"
	"strings"

	"github.com/go-git/go-git/v5/plumbing"
	"github.com/go-git/go-git/v5/plumbing/filemode"
)

// Limits of what Write puts on the disk.
const (
	maxWritten = 1 << 30 // bytes in all
	maxEntries = 200_000 // files and folders
	maxDepth   = 64      // folders in one another
)

// fileMode marks a file of any permissions, those that git no longer writes too.
const fileMode filemode.FileMode = 0o100000

// entry is a row of a folder in a commit.
type entry struct {
	name string
	mode filemode.FileMode
	id   ID
}

// tree reads the rows of a folder.
func (r *Repository) tree(id ID) ([]entry, error) {
	if rows, ok := r.trees[id]; ok {
		return rows, nil
	}
	kind, data, err := r.object(id, maxSmall)
	if err != nil {
		return nil, err
	}
	var out []entry
	for len(data) > 0 {
		head, rest, _ := bytes.Cut(data, []byte{0})
		mode, name, _ := strings.Cut(string(head), " ")
		e := entry{name: name}
		if e.mode, err = filemode.New(mode); err != nil || len(rest) < len(e.id) ||
			name == "" || name == "." || name == ".." || strings.ContainsAny(name, "/\\") {
			kind = plumbing.InvalidObject
			break
		}
		data = rest[copy(e.id[:], rest):]
		out = append(out, e)
	}
	if kind != plumbing.TreeObject {
		return nil, fmt.Errorf("%w: object %s is not a sound tree", ErrNotRead, id)
	}
	if r.trees == nil || r.held+len(out) > maxHeld {
		r.trees, r.held = map[ID][]entry{}, 0
	}
	r.trees[id] = out
	r.held += len(out)
	return out, nil
}

// find is the row of a file or folder in a commit, by its path in the
// repository; ErrMissing where it is not there. Links are not followed.
func (r *Repository) find(commit ID, name string) (entry, error) {
	_, data, err := r.commit(commit)
	if err != nil {
		return entry{}, err
	}
	id, ok := header(data, "tree")
	if !ok {
		return entry{}, fmt.Errorf("%w: commit %s names no tree", ErrNotRead, commit)
	}
	at := entry{mode: filemode.Dir, id: id}
	if name == "" {
		return at, nil
	}
	for part := range strings.SplitSeq(name, "/") {
		var rows []entry
		if at.mode == filemode.Dir {
			if rows, err = r.tree(at.id); err != nil {
				return entry{}, err
			}
		}
		i := slices.IndexFunc(rows, func(e entry) bool { return e.name == part })
		if i < 0 {
			return entry{}, fmt.Errorf("%w: %s", ErrMissing, name)
		}
		at = rows[i]
	}
	return at, nil
}

// File is the content of a file in a commit as it was committed, no filter
// applied but a large file taken from the store beside the objects; ErrMissing
// where there is no file of that name.
func (r *Repository) File(commit ID, name string) ([]byte, error) {
	e, err := r.find(commit, name)
	if err == nil && e.mode&^0o777 != fileMode {
		err = fmt.Errorf("%w: %s", ErrMissing, name)
	}
	if err != nil {
		return nil, err
	}
	return r.content(e.id)
}

var pointer = regexp.MustCompile(`^version https://git-lfs\.github\.com/spec/v1\n(?:.*\n)*?oid sha256:([0-9a-f]{64})\n`)

// content is a file's bytes. Where a large file was committed as a pointer to
// a store beside the objects (Git LFS specification, version 1), they are those
// in the store, if they are there and have the digest that the pointer states.
func (r *Repository) content(id ID) ([]byte, error) {
	data, err := r.blob(id)
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
	e, err := r.find(commit, name)
	if err != nil {
		return err
	}
	if e.mode != filemode.Dir {
		return fmt.Errorf("%w: %s is a file", ErrMissing, name)
	}
	w, err := r.writer(dir)
	if err != nil {
		return err
	}
	defer w.root.Close()
	return w.folder(e.id, "", 0)
}

// WriteStaged puts the staged files below a folder ("" for all) into dir as
// Write does those of a commit. A merge that is not settled is refused.
func (r *Repository) WriteStaged(name, dir string) error {
	rows, err := r.Index()
	if err != nil {
		return err
	}
	w, err := r.writer(dir)
	if err != nil {
		return err
	}
	defer w.root.Close()
	for _, e := range rows {
		at, below := e.Name, true
		if name != "" {
			at, below = strings.CutPrefix(e.Name, name+"/")
		}
		switch {
		case !below || e.IntentToAdd: // only announced: it has no content yet
			continue
		case e.Stage != 0: // a version of a file in a merge
			return fmt.Errorf("%w: the merge of %s is not settled", ErrNotRead, e.Name)
		}
		if err := w.root.MkdirAll(path.Dir(at), 0o755); err != nil {
			return err
		}
		if err := w.entry(e.Mode, e.Hash, at); err != nil {
			return err
		}
	}
	return nil
}

type writer struct {
	*Repository
	root    *os.Root // keeps every name inside, links or not
	bytes   int64
	entries int
}

func (r *Repository) writer(dir string) (*writer, error) {
	root, err := os.OpenRoot(dir)
	return &writer{Repository: r, root: root}, err
}

func (w *writer) folder(id ID, at string, depth int) error {
	rows, err := w.tree(id)
	if err != nil {
		return err
	}
	if depth > maxDepth {
		return fmt.Errorf("%w: folders more than %d deep", ErrNotRead, maxDepth)
	}
	for _, e := range rows {
		name := path.Join(at, e.name)
		if err := w.entry(e.mode, e.id, name); err != nil {
			return err
		}
		if e.mode != filemode.Dir {
			continue
		}
		if err := w.root.Mkdir(name, 0o755); err != nil {
			return err
		}
		if err := w.folder(e.id, name, depth+1); err != nil {
			return err
		}
	}
	return nil
}

// entry writes a file or a link.
func (w *writer) entry(mode filemode.FileMode, id ID, name string) error {
	if w.entries++; w.entries > maxEntries {
		return fmt.Errorf("%w: more than %d files", ErrNotRead, maxEntries)
	}
	switch mode &^ 0o777 {
	default:
		return nil
	case filemode.Symlink:
		to, err := w.blob(id)
		target := filepath.FromSlash(string(to))
		if err != nil || len(to) > maxRef || filepath.IsAbs(target) ||
			!filepath.IsLocal(filepath.Join(filepath.FromSlash(path.Dir(name)), target)) {
			return err
		}
		return w.root.Symlink(target, name)
	case fileMode:
	}
	data, err := w.content(id)
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
