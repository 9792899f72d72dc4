package main

import (
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"guardband/eval/record"
	"guardband/notebook/files"
)

// writeDepfile writes what was read as a rule of make, so that make, ninja and
// others run a check again only where one of its files changed. The target is
// the name of the file without its ".d".
func writeDepfile(name string, read []record.File) error {
	var names []string
	for _, f := range read {
		n := f.Abs
		if rel := wayFrom(".", f.Abs); rel != "" && filepath.IsLocal(rel) {
			n = rel
		}
		names = append(names, n)
	}
	slices.Sort(names)
	names = slices.Compact(names)
	escape := strings.NewReplacer(" ", `\ `, "#", `\#`, "$", "$$", "%", `\%`)
	var b strings.Builder
	b.WriteString(escape.Replace(filepath.ToSlash(strings.TrimSuffix(name, ".d"))) + ":")
	for _, n := range names {
		b.WriteString(" \\\n  " + escape.Replace(n))
	}
	b.WriteString("\n\n")
	for _, n := range names { // a file that is gone is no error: the check says so
		b.WriteString(escape.Replace(n) + ":\n")
	}
	s, err := files.Stage(name, func(w io.Writer) error {
		_, err := io.WriteString(w, b.String())
		return err
	})
	if err == nil {
		err = files.Commit(s)
	}
	if err != nil {
		return fmt.Errorf("cannot write %s: %w", name, reason(err))
	}
	return nil
}
