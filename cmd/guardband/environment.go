package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"time"

	"guardband/notebook"
	"guardband/notebook/files"
)

// day is the day waivers are judged against.
func (a *app) day() (string, error) {
	if a.on == "" {
		return time.Now().Format(time.DateOnly), nil
	}
	if _, err := time.Parse(time.DateOnly, a.on); err != nil {
		return "", fmt.Errorf("--on %s is not a date; write it as 2026-11-24", a.on)
	}
	return a.on, nil
}

// writeFile writes a file whole or not at all.
func writeFile(path string, data []byte) error {
	err := files.Write(path, func(w io.Writer) error { _, err := w.Write(data); return err })
	if err != nil {
		return fmt.Errorf("cannot write %s: %w", path, reason(err))
	}
	return nil
}

// makeFolder makes a folder to write into. Links in its path that lead out of
// the working folder (out of its own parent, where it is not below that) are
// refused: they may have come with the notebooks.
func makeFolder(dir string) error {
	abs, err := filepath.Abs(dir)
	if err != nil {
		return err
	}
	base := filepath.Dir(abs)
	if wd, err := os.Getwd(); err == nil {
		if rel, err := filepath.Rel(wd, abs); err == nil && filepath.IsLocal(rel) {
			base = wd
		}
	}
	at := abs
	for at != base {
		if _, err := os.Lstat(at); err == nil {
			break
		}
		at = filepath.Dir(at)
	}
	if at != base {
		if _, _, err := notebook.Within(at, base); errors.Is(err, notebook.ErrOutside) {
			return fmt.Errorf("a symbolic link in %s leads out of %s; name the folder itself", dir, base)
		}
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return fmt.Errorf("cannot make the folder %s: %w", dir, reason(err))
	}
	return nil
}
