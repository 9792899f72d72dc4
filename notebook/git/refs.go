package git

import (
	"bytes"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"strings"
)

// ID is the name of an object: its digest, SHA-1 or SHA-256, as bytes.
type ID string

// Len is the length in bytes, 20 or 32.
func (id ID) Len() int { return len(id) }

// String is the name in hexadecimal digits.
func (id ID) String() string { return hex.EncodeToString([]byte(id)) }

// parseID reads a whole name.
func parseID(s string) (ID, bool) {
	if len(s) != 40 && len(s) != 64 {
		return "", false
	}
	b, err := hex.DecodeString(s)
	return ID(b), err == nil
}

// Head is the commit that is checked out; ErrNoHead where there is none yet.
func (r *Repository) Head() (ID, error) {
	name := "HEAD"
	for range 6 { // symbolic references as deep as git follows them
		root := r.common
		if name == "HEAD" {
			root = r.own
		}
		data, err := read(root, name, maxRef)
		if errors.Is(err, fs.ErrNotExist) {
			id, ok, err := r.packed(name)
			if err == nil && !ok {
				err = ErrNoHead
			}
			return id, err
		}
		if err != nil {
			return "", err
		}
		line := strings.TrimSpace(string(data))
		if id, ok := parseID(line); ok {
			return id, nil
		}
		to, ok := strings.CutPrefix(line, "ref: ")
		if !ok || !refName(to) {
			return "", fmt.Errorf("%w: %s holds no reference", ErrNotRead, name)
		}
		name = to
	}
	return "", fmt.Errorf("%w: HEAD leads in a circle", ErrNotRead)
}

// refName says that a name is a reference's, so that none leads elsewhere.
func refName(s string) bool {
	return strings.HasPrefix(s, "refs/") && path.Clean(s) == s && !strings.Contains(s, "..") &&
		!strings.ContainsAny(s, "\\:\x00")
}

// ref is the object that a branch or tag names, looked up in git's order.
func (r *Repository) ref(name string) (ID, bool, error) {
	for _, in := range []string{"", "refs/", "refs/tags/", "refs/heads/", "refs/remotes/"} {
		full := in + name
		for range 6 {
			if !refName(full) {
				break
			}
			data, err := read(r.common, full, maxRef)
			if err != nil {
				id, ok, err := r.packed(full)
				if ok || err != nil {
					return id, ok, err
				}
				break
			}
			line := strings.TrimSpace(string(data))
			if id, ok := parseID(line); ok {
				return id, true, nil
			}
			full = strings.TrimPrefix(line, "ref: ")
		}
	}
	return "", false, nil
}

// packed looks a reference up in packed-refs.
func (r *Repository) packed(name string) (ID, bool, error) {
	data, err := read(r.common, "packed-refs", maxPacked)
	if errors.Is(err, fs.ErrNotExist) {
		return "", false, nil
	}
	if err != nil {
		return "", false, err
	}
	for line := range bytes.Lines(data) {
		digits, ref, ok := strings.Cut(strings.TrimRight(string(line), "\r\n"), " ")
		if !ok || ref != name {
			continue
		}
		id, ok := parseID(digits)
		return id, ok, nil
	}
	return "", false, nil
}
