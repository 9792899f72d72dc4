package git

import (
	"bufio"
	"bytes"
	"compress/zlib"
	"crypto/sha1"
	"crypto/sha256"
	"errors"
	"fmt"
	"hash"
	"io"
	"io/fs"
	"strconv"
	"strings"
)

// maxSmall bounds a commit, tag or tree, bytes.
const maxSmall = 8 << 20

// object is one object, its digest verified: its kind (commit, tree, blob or
// tag) and content, of at most so many bytes.
func (r *Repository) object(id ID, most int64) (kind string, data []byte, err error) {
	if id.Len() != r.size {
		return "", nil, fmt.Errorf("%w: names of two lengths", ErrNotRead)
	}
	kind, data, err = r.loose(id, most)
	if errors.Is(err, fs.ErrNotExist) {
		kind, data, err = r.fromPacks(id, most)
	}
	if err != nil {
		return "", nil, err
	}
	if err := r.spend(len(data)); err != nil {
		return "", nil, err
	}
	if sum := r.digest(kind, data); sum != id {
		return "", nil, fmt.Errorf("%w: object %s is damaged", ErrNotRead, id)
	}
	return kind, data, nil
}

// spend bounds what reading a repository may cost that was made to cost much.
func (r *Repository) spend(bytes int) error {
	if r.spent += int64(bytes); r.spent > maxSpent {
		return fmt.Errorf("%w: more than %d bytes of objects", ErrNotRead, int64(maxSpent))
	}
	return nil
}

func (r *Repository) newHash() hash.Hash {
	if r.size == sha256.Size {
		return sha256.New()
	}
	return sha1.New()
}

func (r *Repository) digest(kind string, data []byte) ID {
	h := r.newHash()
	fmt.Fprintf(h, "%s %d\x00", kind, len(data))
	h.Write(data)
	return ID(h.Sum(nil))
}

// loose reads an object that has a file of its own.
func (r *Repository) loose(id ID, most int64) (string, []byte, error) {
	s := id.String()
	f, _, err := openFile(r.common, "objects/"+s[:2]+"/"+s[2:], MaxObject)
	if err != nil {
		return "", nil, err
	}
	defer f.Close()
	z, err := zlib.NewReader(bufio.NewReader(f))
	if err != nil {
		return "", nil, damaged(id, err)
	}
	b := bufio.NewReader(z)
	head, err := b.ReadSlice(0)
	if err != nil || len(head) > 40 {
		return "", nil, damaged(id, err)
	}
	kind, digits, _ := strings.Cut(string(head[:len(head)-1]), " ")
	size, err := strconv.ParseInt(digits, 10, 64)
	if err != nil || size < 0 {
		return "", nil, damaged(id, err)
	}
	data, err := inflate(b, size, most)
	if err != nil {
		return "", nil, fmt.Errorf("object %s: %w", id, err)
	}
	return kind, data, nil
}

func damaged(id ID, err error) error {
	return fmt.Errorf("%w: object %s is damaged (%v)", ErrNotRead, id, err)
}

// inflate reads exactly size bytes, which are claimed, not known: memory grows
// with what comes.
func inflate(from io.Reader, size, most int64) ([]byte, error) {
	if size > most {
		return nil, fmt.Errorf("%w: %d bytes, at most %d are read", ErrNotRead, size, most)
	}
	var b bytes.Buffer
	b.Grow(int(min(size, 1<<20)) + bytes.MinRead)
	n, err := b.ReadFrom(io.LimitReader(from, size+1))
	if err != nil {
		return nil, fmt.Errorf("%w: %v", ErrNotRead, err)
	}
	if n != size {
		return nil, fmt.Errorf("%w: it is longer or shorter than it says", ErrNotRead)
	}
	return b.Bytes(), nil
}

// Blob is the content of a file in the repository.
func (r *Repository) Blob(id ID) ([]byte, error) {
	kind, data, err := r.object(id, MaxObject)
	if err == nil && kind != "blob" {
		err = fmt.Errorf("%w: object %s is a %s", ErrNotRead, id, kind)
	}
	return data, err
}
