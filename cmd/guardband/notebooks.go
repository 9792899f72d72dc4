package main

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"sort"
)

// notebooks lists the Markdown files of paths: files as named, folders with
// all below them but symbolic links, which are met where they lead if that is
// below too.
func (a *app) notebooks(args []string) ([]string, error) {
	if len(args) == 0 {
		args = []string{"."}
	}
	var out []string
	for _, p := range args {
		st, err := os.Stat(p)
		if err != nil {
			return nil, fmt.Errorf("cannot read %s: %w", p, reason(err))
		}
		if !st.IsDir() {
			if _, err := a.within(p); err != nil {
				return nil, err
			}
			out = append(out, p)
			continue
		}
		err = filepath.WalkDir(p, func(f string, d fs.DirEntry, err error) error {
			if err != nil {
				return err
			}
			if d.IsDir() && f != p && d.Name()[0] == '.' {
				return filepath.SkipDir
			}
			if d.Type().IsRegular() && filepath.Ext(f) == ".md" {
				out = append(out, f)
			}
			return nil
		})
		if err != nil {
			return nil, fmt.Errorf("cannot read %s: %w", p, err)
		}
	}
	sort.Strings(out)
	return out, nil
}
