package workspace

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"guardband/notebook"
)

// Designs resolves paths to designs: a notebook stands for itself, "-" for
// standard input, a folder for every notebook in it with a design block, or
// below it where it has none itself; a folder of part notes for each of them.
func (w *Workspace) Designs(paths []string) ([]string, error) {
	if len(paths) == 0 {
		paths = []string{"."}
	}
	var out []string
	for _, p := range paths {
		if p == "-" {
			out = append(out, p)
			continue
		}
		st, err := os.Stat(p)
		if err != nil {
			return nil, unread(p, err)
		}
		if !st.IsDir() {
			out = append(out, p)
			continue
		}
		found, err := notebook.Designs(p, w.Read.Root)
		if err != nil {
			return nil, unread(p, err)
		}
		if len(found) == 0 {
			if found, err = w.below(p); err != nil {
				return nil, err
			}
		}
		if len(found) == 0 { // a library of part notes is checked note by note
			if found, err = w.notes(p); err != nil {
				return nil, err
			}
		}
		out = append(out, found...)
	}
	return out, nil
}

// below lists the designs of all folders below one.
func (w *Workspace) below(dir string) ([]string, error) {
	all, err := w.Notebooks([]string{dir})
	if err != nil {
		return nil, err
	}
	var dirs, out []string
	for _, f := range all {
		dirs = append(dirs, filepath.Dir(f))
	}
	slices.Sort(dirs)
	for _, d := range slices.Compact(dirs) {
		found, err := notebook.Designs(d, w.Read.Root)
		if err != nil {
			return nil, unread(d, err)
		}
		for _, f := range found {
			if slices.Contains(all, f) { // not one that .gitignore leaves out
				out = append(out, f)
			}
		}
	}
	return out, nil
}

// notes lists all notebooks of a folder that hold blocks of ours, links out of
// it left out.
func (w *Workspace) notes(dir string) ([]string, error) {
	all, _ := filepath.Glob(filepath.Join(dir, "*.md"))
	var out []string
	leadOut := true
	for _, f := range all {
		if _, _, err := notebook.Within(f, w.Read.Root); err != nil {
			leadOut = leadOut && errors.Is(err, notebook.ErrOutside)
			continue
		}
		leadOut = false
		if data, err := notebook.ReadFile(f); err != nil || notebook.HasBlocks(f, data) {
			out = append(out, f)
		}
	}
	switch {
	case len(out) > 0:
		return out, nil
	case len(all) > 0 && leadOut:
		return nil, fmt.Errorf("the notebooks in %s are links that lead out of it; "+
			"name a folder that holds both with --root", dir)
	}
	return nil, fmt.Errorf("no notebook in %s or below has a design block; `guardband new DIR` makes one", dir)
}

// Notebooks lists the Markdown files of paths: files as named, folders with
// all below them but what a .gitignore there leaves out, and symbolic links,
// which are met where they lead if that is below too.
func (w *Workspace) Notebooks(paths []string) ([]string, error) {
	if len(paths) == 0 {
		paths = []string{"."}
	}
	var out []string
	for _, p := range paths {
		st, err := os.Stat(p)
		if err != nil {
			return nil, unread(p, err)
		}
		if !st.IsDir() {
			if _, err := w.Within(p); err != nil {
				return nil, err
			}
			out = append(out, p)
			continue
		}
		var left ignored
		err = filepath.WalkDir(p, func(f string, d fs.DirEntry, err error) error {
			switch {
			case err != nil:
				return err
			case d.IsDir() && f != p && (d.Name()[0] == '.' || left.out(f, true)):
				return filepath.SkipDir
			case d.IsDir():
				left.read(f)
			case d.Type().IsRegular() && filepath.Ext(f) == ".md" && !left.out(f, false):
				out = append(out, f)
			}
			return nil
		})
		if err != nil {
			return nil, unread(p, err)
		}
	}
	slices.Sort(out)
	return out, nil
}

// Within is the real path of a named file; a link out of its folder, or of the
// workspace's root, is refused.
func (w *Workspace) Within(path string) (string, error) {
	real, folder, err := notebook.Within(path, w.Read.Root)
	if errors.Is(err, notebook.ErrOutside) {
		return "", fmt.Errorf("%s is outside the folder %s that it must stay in; name the file itself, or a folder "+
			"that holds both with --root", path, folder)
	}
	if err != nil {
		return "", unread(path, err)
	}
	return real, nil
}

// unread tells a path once, which errors of the file system tell again.
func unread(path string, err error) error {
	var pe *fs.PathError
	if errors.As(err, &pe) {
		err = pe.Err
	}
	return fmt.Errorf("cannot read %s: %w", path, err)
}
