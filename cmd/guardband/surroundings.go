package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"time"
)

// day is the day waivers are judged against.
func (a *app) day() (string, error) {
	if a.on == "" {
		return time.Now().Format(time.DateOnly), nil
	}
	if _, err := time.Parse(time.DateOnly, a.on); err != nil {
		return "", fmt.Errorf("--on %s is no day; write it as 2026-11-24", a.on)
	}
	return a.on, nil
}

func asPathError(err error, at **fs.PathError) bool { return errors.As(err, at) }

// writeFile writes a file whole or not at all: to a temporary name beside it,
// then renamed.
func writeFile(path string, write func(f *os.File) error) (err error) {
	f, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path)+".*")
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			f.Close()
			os.Remove(f.Name())
		}
	}()
	if err = write(f); err != nil {
		return err
	}
	if err = f.Chmod(0o644); err != nil {
		return err
	}
	if err = f.Close(); err != nil {
		return err
	}
	return os.Rename(f.Name(), path)
}
