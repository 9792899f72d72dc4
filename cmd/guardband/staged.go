package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"guardband/notebook/files"
	"guardband/notebook/git"
)

// stagedDesigns makes the app see what the next commit will hold: the staged
// files stand in a folder of their own, until the app is closed, under the
// names they have in the work tree. Only documents that are not in git are read
// where they lie.
func (a *app) stagedDesigns(args []string) ([]string, error) {
	if len(args) > 1 {
		return nil, errors.New("--staged takes one notebook or folder")
	}
	path := "."
	if len(args) == 1 {
		path = args[0]
	}
	root, err := real(a.rootOf(path))
	if err != nil {
		return nil, err
	}
	cwd, err := real(".")
	if err != nil {
		return nil, err
	}
	r, err := git.Open(root)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", root, err)
	}
	defer r.Close()
	dir, done, err := files.Folder()
	if err != nil {
		return nil, err
	}
	a.done = done
	base := common(cwd, root)
	a.dir, a.twin, a.image = filepath.Join(dir, wayFrom(base, cwd)), root, filepath.Join(dir, wayFrom(base, root))
	name, _ := r.Path(root)
	if err = os.MkdirAll(a.image, 0o755); err == nil {
		err = r.WriteStaged(name, a.image)
	}
	if err != nil {
		return nil, fmt.Errorf("what is staged: %w", err)
	}
	if a.root != "" {
		a.root = a.image
	}
	a.shared = nil // what it read lies elsewhere
	at := filepath.Join(a.image, wayFrom(root, path))
	if _, err := os.Stat(at); err != nil {
		return nil, fmt.Errorf("%s is not staged; `git add` it", path)
	}
	paths, err := a.designs([]string{at})
	if err != nil {
		err = fmt.Errorf("what is staged: %s", strings.ReplaceAll(err.Error(), a.image, root))
	}
	return paths, err
}

// rootOf is --root, or the folder of a notebook, or the folder itself.
func (a *app) rootOf(path string) string {
	if a.root != "" {
		return a.root
	}
	if st, err := os.Stat(path); err != nil || !st.IsDir() {
		return filepath.Dir(path)
	}
	return path
}

// real is an absolute path with symbolic links followed.
func real(path string) (string, error) {
	abs, err := filepath.Abs(path)
	if err == nil {
		abs, err = filepath.EvalSymlinks(abs)
	}
	if err != nil {
		return "", fmt.Errorf("cannot read %s: %w", path, reason(err))
	}
	return abs, nil
}

// common is the innermost folder that holds both.
func common(a, b string) string {
	for {
		if rel, err := filepath.Rel(a, b); err == nil && (rel == "." || filepath.IsLocal(rel)) || a == filepath.Dir(a) {
			return a
		}
		a = filepath.Dir(a)
	}
}
