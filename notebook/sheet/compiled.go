package sheet

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"

	"guardband/notebook/files"
)

// Compiled code kept on disk is run as it is. Beside each file lies its SHA-256
// and what does not match goes, to be compiled anew. It tells damage, and not
// somebody who may write both files.

const sumEnding = ".sum"

// dropAltered removes compiled code that is not as it was kept. Error: one of
// the operating system, when something altered remains.
func dropAltered(dir string) error {
	return eachCompiled(dir, func(path, sum string) error {
		if kept, err := os.ReadFile(path + sumEnding); err == nil && string(kept) == sum {
			return nil
		}
		return os.Remove(path)
	})
}

// keepSums writes the digests of compiled code that has none. What cannot be
// written is compiled again next time.
func keepSums(dir string) {
	_ = eachCompiled(dir, func(path, sum string) error {
		if kept, err := os.ReadFile(path + sumEnding); err == nil && string(kept) == sum {
			return nil
		}
		return files.Cache(path+sumEnding, func(w io.Writer) error {
			_, err := io.WriteString(w, sum)
			return err
		})
	})
}

func eachCompiled(dir string, do func(path, sum string) error) error {
	return filepath.WalkDir(dir, func(path string, entry os.DirEntry, err error) error {
		if errors.Is(err, os.ErrNotExist) {
			return nil
		}
		if err != nil || entry.IsDir() || strings.Contains(entry.Name(), ".") { // a digest, or a file being written
			return err
		}
		f, err := os.Open(path)
		if err != nil {
			return err
		}
		defer f.Close()
		sum := sha256.New()
		if _, err := io.Copy(sum, f); err != nil {
			return err
		}
		return do(path, hex.EncodeToString(sum.Sum(nil)))
	})
}
