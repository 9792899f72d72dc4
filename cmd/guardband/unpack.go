package main

import (
	"archive/tar"
	"errors"
	"io"
	"os"
	"path/filepath"
)

// unpack writes the regular files of a tar archive below a folder. Names that
// would leave it are refused.
func unpack(archive, dir string) error {
	f, err := os.Open(archive)
	if err != nil {
		return err
	}
	defer f.Close()
	r := tar.NewReader(f)
	for {
		h, err := r.Next()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return err
		}
		if h.Typeflag != tar.TypeReg || !filepath.IsLocal(h.Name) {
			continue
		}
		to := filepath.Join(dir, h.Name)
		if err := os.MkdirAll(filepath.Dir(to), 0o755); err != nil {
			return err
		}
		if err := writeFile(to, func(w *os.File) error { _, err := io.Copy(w, r); return err }); err != nil {
			return err
		}
	}
}
