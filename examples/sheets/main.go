// Sheets draws the invented data sheets of the examples. The parts, makers,
// codes and figures in them exist nowhere else.
//
//	go run ./examples/sheets             writes every PDF under examples
//	go run ./examples/sheets digests     prints the SHA-256 of every PDF
package main

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
)

func main() {
	if err := run(os.Args[1:], os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "sheets:", err)
		os.Exit(1)
	}
}

func run(args []string, out io.Writer) error {
	digests := len(args) == 1 && args[0] == "digests"
	if len(args) > 0 && !digests {
		return fmt.Errorf("unknown argument %q; the only one is: digests", args[0])
	}
	root, err := examplesFolder()
	if err != nil {
		return err
	}
	for _, s := range All() {
		data, err := Render(s)
		if err != nil {
			return err
		}
		if digests {
			fmt.Fprint(out, digestLine(s.File, data))
			continue
		}
		path := filepath.Join(root, filepath.FromSlash(s.File))
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			return err
		}
		if err := os.WriteFile(path, data, 0o644); err != nil {
			return err
		}
	}
	return nil
}

// digestLine is the form of the sha256sum program.
func digestLine(file string, data []byte) string {
	return fmt.Sprintf("%x  %s\n", sha256.Sum256(data), file)
}

// examplesFolder finds the folder the sheets belong in, from the project's
// root folder or from examples itself.
func examplesFolder() (string, error) {
	for _, dir := range []string{"examples", ".", ".."} {
		if _, err := os.Stat(filepath.Join(dir, "sheets", "pen.go")); err == nil {
			return dir, nil
		}
	}
	return "", errors.New("run this from the project's root folder")
}
