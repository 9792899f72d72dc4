package main

import (
	"fmt"
	"os"
	"path/filepath"

	"guardband/eval"
	"guardband/eval/record"
	"guardband/notebook/git"
)

// changedSince leaves of some designs those that a change since a revision
// touches: a notebook, list or document of theirs differs, or one is missing.
// They are read and not worked out for it.
func (a *app) changedSince(rev string, paths []string) (out []string, err error) {
	for _, path := range paths {
		changed, err := a.changed(rev, path)
		if err != nil {
			return nil, fmt.Errorf("--changed-since %s: %s: %w", rev, path, err)
		}
		if changed {
			out = append(out, path)
		}
	}
	return out, nil
}

func (a *app) changed(rev, path string) (bool, error) {
	r, err := git.Open(filepath.Dir(path))
	if err != nil {
		return false, err
	}
	defer r.Close()
	id, err := r.Resolve(rev)
	if err != nil {
		return false, err
	}
	book, _, err := a.open(path, eval.Options{})
	if err != nil {
		return false, err
	}
	own, documents, missing := book.Files()
	if missing || book.Diags.Errors() > 0 {
		return true, nil
	}
	differs := func(paths []string, kind record.FileKind) (bool, error) {
		for _, p := range paths {
			data, err := os.ReadFile(p)
			if err != nil {
				return true, nil // told when it is worked out
			}
			same, err := committed(r, id, record.File{Abs: p, SHA256: digest(data), Kind: kind})
			if err != nil || !same {
				return true, err
			}
		}
		return false, nil
	}
	if yes, err := differs(own, record.FileNotebook); yes || err != nil {
		return yes, err
	}
	return differs(documents, record.FileDocument)
}
