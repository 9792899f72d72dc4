package git

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"strconv"
	"strings"

	"github.com/go-git/go-git/v5/plumbing"
)

// ID is the name of an object: its SHA-1.
type ID = plumbing.Hash

func parseID(s string) (ID, bool) { return plumbing.NewHash(s), plumbing.IsHash(s) }

// Head is the commit that is checked out; ErrNoHead where there is none yet.
func (r *Repository) Head() (ID, error) { return r.reference("HEAD") }

// reference is the object that a reference leads to, symbolic ones followed as
// deep as git does; ErrNoHead where there is none.
func (r *Repository) reference(name string) (ID, error) {
	for range 6 {
		root := r.common
		if name == "HEAD" {
			root = r.own
		} else if !strings.HasPrefix(name, "refs/") || plumbing.ReferenceName(name).Validate() != nil {
			return ID{}, ErrNoHead
		}
		data, err := read(root, name, maxRef)
		if errors.Is(err, ErrNotRead) || errors.Is(err, fs.ErrPermission) {
			return ID{}, err
		}
		line := strings.TrimSpace(string(data))
		if err != nil {
			if line, err = r.packed(name); err != nil {
				return ID{}, err
			}
		}
		if to, ok := strings.CutPrefix(line, "ref: "); ok {
			name = to
			continue
		}
		if id, ok := parseID(line); ok {
			return id, nil
		}
		if len(line) == 64 {
			return ID{}, fmt.Errorf("%w: its objects are named by SHA-256", ErrNotRead)
		}
		return ID{}, fmt.Errorf("%w: %s holds no reference", ErrNotRead, name)
	}
	return ID{}, fmt.Errorf("%w: %s leads in a circle", ErrNotRead, name)
}

// packed looks a reference up in packed-refs.
func (r *Repository) packed(name string) (string, error) {
	data, err := read(r.common, "packed-refs", maxPacked)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return "", err
	}
	for line := range bytes.Lines(data) {
		if digits, ref, _ := strings.Cut(strings.TrimRight(string(line), "\r\n"), " "); ref == name {
			return digits, nil
		}
	}
	return "", ErrNoHead
}

// Resolve gives the commit that a revision names: HEAD, a branch, a tag, a
// whole digest or at least four digits of it, each with "~N" behind it for the
// Nth commit before it along first parents. Nothing else is understood.
func (r *Repository) Resolve(rev string) (ID, error) {
	name, steps, back := strings.Cut(rev, "~")
	n := 0
	if back {
		n = 1
		if steps != "" {
			var err error
			if n, err = strconv.Atoi(steps); err != nil || n < 0 || n > maxSteps {
				return ID{}, fmt.Errorf("%q is not a revision: a number up to %d follows ~", rev, maxSteps)
			}
		}
	}
	id, err := r.named(name)
	if err != nil {
		return ID{}, err
	}
	commit, data, err := r.commit(id)
	for range n {
		if err != nil {
			return ID{}, err
		}
		parent, ok := header(data, "parent")
		if !ok {
			return ID{}, fmt.Errorf("%s has fewer than %d commits before it", name, n)
		}
		if commit, data, err = r.commit(parent); err != nil {
			return ID{}, fmt.Errorf("the history here ends before %s (a shallow clone? fetch more of it): %w", rev, err)
		}
	}
	return commit, err
}

// named is the object that a name without steps leads to, looked up in git's order.
func (r *Repository) named(name string) (ID, error) {
	if name == "HEAD" || name == "@" {
		return r.Head()
	}
	if id, ok := parseID(name); ok {
		return id, nil
	}
	for _, in := range []string{"", "refs/", "refs/tags/", "refs/heads/", "refs/remotes/"} {
		if id, err := r.reference(in + name); !errors.Is(err, ErrNoHead) {
			return id, err
		}
	}
	ids, err := r.short(strings.ToLower(name))
	switch {
	case err != nil:
		return ID{}, err
	case len(ids) > 1:
		return ID{}, fmt.Errorf("the revision %q fits several objects; write more digits", name)
	}
	for id := range ids {
		return id, nil
	}
	return ID{}, fmt.Errorf("there is no revision %q: write HEAD, a branch, a tag or a commit's digits, ~N behind it", name)
}

// commit opens a commit, through annotated tags.
func (r *Repository) commit(id ID) (ID, []byte, error) {
	for range 10 {
		kind, data, err := r.object(id, maxSmall)
		if err != nil {
			return ID{}, nil, err
		}
		if kind == plumbing.CommitObject {
			return id, data, nil
		}
		to, ok := header(data, "object")
		if kind != plumbing.TagObject || !ok {
			return ID{}, nil, fmt.Errorf("%s is a %s, not a commit", id, kind)
		}
		id = to
	}
	return ID{}, nil, fmt.Errorf("%w: tags of tags", ErrNotRead)
}

// header is the object under a key in the head of a commit or tag.
func header(data []byte, key string) (ID, bool) {
	head, _, _ := strings.Cut(string(data), "\n\n")
	for line := range strings.SplitSeq(head, "\n") {
		if v, ok := strings.CutPrefix(line, key+" "); ok {
			return parseID(v)
		}
	}
	return ID{}, false
}
