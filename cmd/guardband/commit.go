package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"

	"guardband/eval/record"
	"guardband/notebook"
	"guardband/notebook/git"
)

// commitOf is the commit that is checked out in a folder, with "+" where one
// of the files read differs from what it holds; "" outside version control.
func commitOf(dir string, files []record.File) (string, error) {
	r, err := git.Open(dir)
	if errors.Is(err, git.ErrNone) {
		return "", nil
	}
	if err != nil {
		return "", err
	}
	defer r.Close()
	head, err := r.Head()
	if errors.Is(err, git.ErrNoHead) {
		return "", nil
	}
	if err != nil {
		return "", err
	}
	name := head.String()[:12]
	for _, f := range files {
		same, err := committed(r, head, f)
		if err != nil {
			return "", err
		}
		if !same {
			return name + "+", nil
		}
	}
	return name, nil
}

// committed says that a file was read as the commit holds it. A document that
// the commit does not hold changes nothing: the record names its digest.
func committed(r *git.Repository, head git.ID, f record.File) (bool, error) {
	path, ok := r.Path(f.Abs)
	if !ok {
		return f.Kind == record.FileDocument, nil
	}
	data, err := r.File(head, path)
	if errors.Is(err, git.ErrMissing) {
		return f.Kind == record.FileDocument, nil
	}
	if err != nil || digest(data) == f.SHA256 {
		return err == nil, err
	}
	// Text may have its line ends turned when it is checked out.
	text := len(data) <= notebook.MaxBytes && bytes.IndexByte(data, 0) < 0
	return text && digest(bytes.ReplaceAll(data, []byte("\n"), []byte("\r\n"))) == f.SHA256, nil
}

func digest(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}
