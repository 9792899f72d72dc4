// Package git reads what a git repository has committed and staged, with
// nothing but the files of the repository: no program is started, no
// configuration, hook, filter or attribute is looked at, nothing is fetched and
// nothing is written. So a stranger's folder can be asked for its commit.
//
// Packs, loose objects and the index are decoded by go-git's low packages, which
// get single open files and no path. Which files those are, what may lead out of
// the repository and what reading may cost is decided here.
//
// Formats: gitrepository-layout(5) and gitrevisions(7) of the git documentation.
//
// Read are HEAD, branches and tags (loose and packed), commits, trees, blobs
// and annotated tags (loose and in packs, deltas too), the index in versions 2
// to 4, linked worktrees and submodules. Not read, and told as such: objects
// named by SHA-256, reftable, split and sparse indexes, objects borrowed from
// another repository, objects that a partial clone would fetch, and a .git that
// is a symbolic link or leads to a repository that does not name this work tree.
package git

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// Errors that callers tell apart. What else goes wrong says what it is.
var (
	ErrNone    = errors.New("no git repository holds this folder")
	ErrNoHead  = errors.New("the repository has no commit yet")
	ErrNotRead = errors.New("the repository is not read")
	ErrMissing = errors.New("there is no such file in the commit")
)

// Limits of what is read into memory, bytes.
const (
	MaxObject = 256 << 20 // one object, index or index of a pack
	maxRef    = 4 << 10   // a loose reference, a .git file
	maxPacked = 64 << 20  // packed-refs
	maxSteps  = 200_000   // commits before a revision
	maxSpent  = 8 << 30   // all objects of an open repository, those that deltas rest on too
	maxHeld   = 200_000   // rows of folders that are kept
)

// Repository is an open repository. It is for one goroutine at a time.
type Repository struct {
	top    string   // folder of the work tree
	own    *os.Root // of this work tree: HEAD, index
	common *os.Root // of all work trees: references, objects
	spent  int64    // bytes of objects read so far
	trees  map[ID][]entry
	held   int // rows in trees
	packs  []pack
	opened bool // packs are listed
}

// Open finds the repository whose work tree holds a folder, upwards from it.
// The folder is taken as given, symbolic links in its own path followed.
func Open(folder string) (*Repository, error) {
	abs, err := filepath.Abs(folder)
	if err != nil {
		return nil, err
	}
	if abs, err = filepath.EvalSymlinks(abs); err != nil {
		return nil, err
	}
	for top := abs; ; top = filepath.Dir(top) {
		info, err := os.Lstat(filepath.Join(top, ".git"))
		if err == nil {
			r, err := open(top, info)
			if !errors.Is(err, ErrNone) {
				return r, err
			}
		}
		if top == filepath.Dir(top) {
			return nil, ErrNone
		}
	}
}

func open(top string, info fs.FileInfo) (*Repository, error) {
	dir := filepath.Join(top, ".git")
	common := dir
	switch {
	case info.IsDir():
	case info.Mode().IsRegular():
		var err error
		if dir, common, err = linked(top, dir); err != nil {
			return nil, err
		}
	default:
		return nil, fmt.Errorf("%w: .git in %s is not a folder", ErrNotRead, top)
	}
	r := &Repository{top: top}
	var err error
	if r.own, err = os.OpenRoot(dir); err != nil {
		return nil, err
	}
	if r.common, err = os.OpenRoot(common); err != nil {
		r.own.Close()
		return nil, err
	}
	if err := r.check(dir == common); err != nil {
		r.Close()
		return nil, err
	}
	return r, nil
}

// linked follows a .git file to the folders of a linked worktree or a
// submodule. Such a file may name any repository of the machine, whose commits
// would then be told as those of this folder; so a worktree's repository must
// name it in return, and a submodule's must lie in that of a folder above.
func linked(top, file string) (own, common string, err error) {
	refuse := fmt.Errorf("%w: .git in %s leads to a repository that does not name this folder", ErrNotRead, top)
	line, err := readSmall(file)
	if err != nil {
		return "", "", err
	}
	to, ok := strings.CutPrefix(line, "gitdir: ")
	if !ok {
		return "", "", ErrNone
	}
	if own, err = filepath.EvalSymlinks(from(top, to)); err != nil {
		return "", "", refuse
	}
	parent := filepath.Dir(own)
	if filepath.Base(parent) == "worktrees" {
		back, err := readSmall(filepath.Join(own, "gitdir"))
		if err != nil {
			return "", "", refuse
		}
		if back, err = filepath.EvalSymlinks(from(own, back)); err != nil || back != file {
			return "", "", refuse
		}
		return own, filepath.Dir(parent), nil
	}
	for up := filepath.Dir(top); ; up = filepath.Dir(up) {
		modules := filepath.Join(up, ".git", "modules") + string(filepath.Separator)
		if strings.HasPrefix(own, modules) {
			return own, own, nil
		}
		if up == filepath.Dir(up) {
			return "", "", refuse
		}
	}
}

// from is a path as it is read in a folder.
func from(dir, path string) string {
	path = filepath.FromSlash(path)
	if filepath.IsAbs(path) {
		return filepath.Clean(path)
	}
	return filepath.Join(dir, path)
}

// readSmall is the first line of a small regular file.
func readSmall(path string) (string, error) {
	root, err := os.OpenRoot(filepath.Dir(path))
	if err != nil {
		return "", err
	}
	defer root.Close()
	data, err := read(root, filepath.Base(path), maxRef)
	line, _, _ := strings.Cut(string(data), "\n")
	return strings.TrimRight(line, "\r"), err
}

// check says whether this is a repository that can be read.
func (r *Repository) check(ordinary bool) error {
	for _, name := range []string{"objects", "refs"} {
		if info, err := r.common.Stat(name); err != nil || !info.IsDir() {
			return ErrNone
		}
	}
	head, err := read(r.own, "HEAD", maxRef)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return ErrNone
	case err != nil:
		return fmt.Errorf("%w: HEAD: %v", ErrNotRead, err)
	case strings.TrimSpace(string(head)) == "ref: refs/heads/.invalid":
		return fmt.Errorf("%w: its references are kept as reftable", ErrNotRead)
	}
	if ordinary {
		if _, err := r.own.Lstat("commondir"); err == nil {
			return fmt.Errorf("%w: .git in %s borrows another repository", ErrNotRead, r.top)
		}
	}
	return nil
}

// Close gives the files of the repository back.
func (r *Repository) Close() {
	for _, p := range r.packs {
		p.data.Close()
	}
	if r.own != nil {
		r.own.Close()
	}
	if r.common != nil {
		r.common.Close()
	}
}

// Path is a file's or folder's name in the repository, "/" between folders and
// "" for the whole work tree; false where it lies outside.
func (r *Repository) Path(abs string) (string, bool) {
	rel, err := filepath.Rel(r.top, abs)
	if err != nil || !filepath.IsLocal(rel) {
		return "", false
	}
	if rel == "." {
		return "", true
	}
	return filepath.ToSlash(rel), true
}

// openFile opens a regular file below root; a link or a pipe is refused before
// it is opened.
func openFile(root *os.Root, name string, most int64) (*os.File, error) {
	info, err := root.Lstat(name)
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() {
		return nil, fmt.Errorf("%w: %s is not a regular file", ErrNotRead, name)
	}
	if info.Size() > most {
		return nil, fmt.Errorf("%w: %s has %d bytes, at most %d are read", ErrNotRead, name, info.Size(), most)
	}
	return root.Open(name)
}

func read(root *os.Root, name string, most int64) ([]byte, error) {
	f, err := openFile(root, name, most)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, most))
}
