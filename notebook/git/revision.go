package git

import (
	"bytes"
	"encoding/hex"
	"fmt"
	"strconv"
	"strings"
)

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
			if n, err = strconv.Atoi(steps); err != nil || n < 0 || n > maxIDs {
				return "", fmt.Errorf("%q is not a revision: a number up to %d follows ~", rev, maxIDs)
			}
		}
	}
	id, err := r.named(name)
	if err != nil {
		return "", err
	}
	commit, data, err := r.commit(id)
	for range n {
		if err != nil {
			return "", err
		}
		parent, ok := parentOf(data)
		if !ok {
			return "", fmt.Errorf("%s has fewer than %d commits before it", name, n)
		}
		if commit, data, err = r.commit(parent); err != nil {
			return "", fmt.Errorf("the history here ends before %s (a shallow clone? fetch more of it): %w", rev, err)
		}
	}
	return commit, err
}

// named is the object that a name without steps leads to.
func (r *Repository) named(name string) (ID, error) {
	if name == "HEAD" || name == "@" {
		return r.Head()
	}
	if id, ok := parseID(name); ok && id.Len() == r.size {
		return id, nil
	}
	if id, ok, err := r.ref(name); ok || err != nil {
		return id, err
	}
	ids, err := r.short(name)
	switch {
	case err != nil:
		return "", err
	case len(ids) > 1:
		return "", fmt.Errorf("the revision %q fits several objects; write more digits", name)
	case len(ids) == 1:
		return ids[0], nil
	}
	return "", fmt.Errorf("there is no revision %q: write HEAD, a branch, a tag or a commit's digits, ~N behind it", name)
}

// short lists the objects whose names begin with some digits.
func (r *Repository) short(digits string) ([]ID, error) {
	if len(digits) < 4 || len(digits) > 2*r.size || strings.Trim(strings.ToLower(digits), "0123456789abcdef") != "" {
		return nil, nil
	}
	digits = strings.ToLower(digits)
	found := map[ID]bool{}
	if f, err := r.common.Open("objects/" + digits[:2]); err == nil {
		names, err := f.Readdirnames(-1)
		f.Close()
		if err != nil {
			return nil, err
		}
		for _, n := range names {
			if id, ok := parseID(digits[:2] + n); ok && strings.HasPrefix(id.String(), digits) {
				found[id] = true
			}
		}
	}
	packs, err := r.allPacks()
	if err != nil {
		return nil, err
	}
	from, _ := hex.DecodeString(digits + strings.Repeat("0", 2*r.size-len(digits)))
	for _, p := range packs {
		i, err := p.search(from)
		for ; err == nil && i < p.count && len(found) < 2; i++ {
			var id ID
			if id, err = p.name(i); err == nil {
				if !strings.HasPrefix(id.String(), digits) {
					break
				}
				found[id] = true
			}
		}
		if err != nil {
			return nil, err
		}
	}
	var out []ID
	for id := range found {
		out = append(out, id)
	}
	return out, nil
}

// commit opens a commit, through annotated tags.
func (r *Repository) commit(id ID) (ID, []byte, error) {
	for range 10 {
		kind, data, err := r.object(id, maxSmall)
		if err != nil {
			return "", nil, err
		}
		if kind == "commit" {
			return id, data, nil
		}
		to, ok := header(data, "object")
		if kind != "tag" || !ok {
			return "", nil, fmt.Errorf("%s is a %s, not a commit", id, kind)
		}
		id = to
	}
	return "", nil, fmt.Errorf("%w: tags of tags", ErrNotRead)
}

func parentOf(commit []byte) (ID, bool) { return header(commit, "parent") }

// header is the object under a key in the head of a commit or tag.
func header(data []byte, key string) (ID, bool) {
	for line := range bytes.Lines(data) {
		if len(line) == 1 {
			break
		}
		if v, ok := strings.CutPrefix(strings.TrimRight(string(line), "\n"), key+" "); ok {
			return parseID(v)
		}
	}
	return "", false
}
