package git

import (
	"bytes"
	"crypto/sha1"
	"errors"
	"fmt"

	"github.com/go-git/go-git/v5/plumbing/format/index"
)

// Index lists the staged files, what the next commit will hold, in their order.
// A split or sparse index, and one with an extension that must be understood and
// is not, is refused.
func (r *Repository) Index() ([]*index.Entry, error) {
	data, err := read(r.own, "index", MaxObject)
	if err != nil {
		return nil, err
	}
	if n := len(data) - sha1.Size; n > 0 && bytes.Equal(data[n:], make([]byte, sha1.Size)) {
		sum := sha1.Sum(data[:n]) // all zero where git was told to skip it
		copy(data[n:], sum[:])
	}
	var list index.Index
	err = index.NewDecoder(bytes.NewReader(data)).Decode(&list)
	if errors.Is(err, index.ErrUnknownExtension) {
		return nil, fmt.Errorf("%w: the index is split or sparse, or has another extension that is not read", ErrNotRead)
	}
	if err != nil {
		return nil, fmt.Errorf("%w: the index is damaged (%w)", ErrNotRead, err)
	}
	return list.Entries, nil
}
