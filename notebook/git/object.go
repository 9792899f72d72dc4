package git

import (
	"bufio"
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"strings"

	"github.com/go-git/go-git/v5/plumbing"
	"github.com/go-git/go-git/v5/plumbing/format/idxfile"
	"github.com/go-git/go-git/v5/plumbing/format/objfile"
	"github.com/go-git/go-git/v5/plumbing/format/packfile"
)

// Limits of objects.
const (
	maxSmall = 8 << 20 // bytes of a commit, tag or tree
	maxPacks = 4096
	maxChain = 4095 // deltas upon one another, as git writes them at most
)

// object is one object, its digest verified: its kind and its content, of at
// most so many bytes.
func (r *Repository) object(id ID, most int64) (kind plumbing.ObjectType, data []byte, err error) {
	defer func() { // what a stranger's bytes do to a decoder is theirs to answer for
		if fault := recover(); fault != nil {
			err = damaged(id, fmt.Errorf("%v", fault))
		}
	}()
	kind, data, err = r.loose(id, most)
	if errors.Is(err, fs.ErrNotExist) {
		kind, data, err = r.fromPacks(id, most)
	}
	if err == nil && plumbing.ComputeHash(kind, data) != id {
		err = damaged(id, errors.New("its digest is another"))
	}
	return kind, data, err
}

func damaged(id ID, err error) error {
	if err == nil || errors.Is(err, ErrNotRead) {
		return err
	}
	return fmt.Errorf("%w: object %s is damaged (%w)", ErrNotRead, id, err)
}

// spend bounds an object, and what reading a repository may cost that was made
// to cost much.
func (r *Repository) spend(size, most int64) error {
	if size < 0 || size > most {
		return fmt.Errorf("%w: an object of %d bytes, at most %d are read", ErrNotRead, size, most)
	}
	if r.spent += size; r.spent > maxSpent {
		return fmt.Errorf("%w: more than %d bytes of objects", ErrNotRead, int64(maxSpent))
	}
	return nil
}

// loose reads an object that has a file of its own.
func (r *Repository) loose(id ID, most int64) (kind plumbing.ObjectType, data []byte, err error) {
	s := id.String()
	f, err := openFile(r.common, "objects/"+s[:2]+"/"+s[2:], MaxObject)
	if err != nil {
		return 0, nil, err
	}
	defer f.Close()
	z, err := objfile.NewReader(bufio.NewReader(f))
	if err != nil {
		return 0, nil, damaged(id, err)
	}
	defer z.Close()
	kind, size, err := z.Header()
	if err == nil {
		err = r.spend(size, most)
	}
	if err == nil { // a byte more than it says is damage, which the digest tells
		data, err = io.ReadAll(io.LimitReader(z, size+1))
	}
	return kind, data, damaged(id, err)
}

// pack is a pack of objects and its index.
type pack struct {
	*packfile.Packfile
	index *idxfile.MemoryIndex
	data  *os.File
}

// file is one that nobody else writes while it is read.
type file struct{ *os.File }

func (file) Lock() error   { return nil }
func (file) Unlock() error { return nil }

// allPacks opens the packs of the repository.
func (r *Repository) allPacks() ([]pack, error) {
	if r.opened {
		return r.packs, nil
	}
	r.opened = true
	names, err := fs.Glob(r.common.FS(), "objects/pack/*.idx")
	if err == nil && len(names) > maxPacks {
		err = fmt.Errorf("%w: more than %d packs", ErrNotRead, maxPacks)
	}
	for _, name := range names {
		if err == nil {
			err = r.openPack(name)
		}
	}
	return r.packs, err
}

func (r *Repository) openPack(name string) error {
	f, err := openFile(r.common, name, MaxObject)
	if err != nil {
		return err
	}
	defer f.Close()
	p := pack{index: idxfile.NewMemoryIndex()}
	if err := idxfile.NewDecoder(f).Decode(p.index); err != nil {
		return fmt.Errorf("%w: the index of a pack: %w", ErrNotRead, err)
	}
	if p.data, err = openFile(r.common, strings.TrimSuffix(name, "idx")+"pack", 1<<50); err == nil {
		p.Packfile = packfile.NewPackfile(p.index, nil, file{p.data}, 0)
		r.packs = append(r.packs, p)
	}
	return err
}

// fromPacks reads an object out of the packs.
func (r *Repository) fromPacks(id ID, most int64) (plumbing.ObjectType, []byte, error) {
	packs, err := r.allPacks()
	if err != nil {
		return 0, nil, err
	}
	for _, p := range packs {
		at, err := p.index.FindOffset(id)
		if err == plumbing.ErrObjectNotFound {
			continue
		}
		if err == nil {
			err = r.afford(p, at, most)
		}
		if err != nil {
			return 0, nil, damaged(id, err)
		}
		o, err := p.Get(id)
		if err != nil {
			return 0, nil, damaged(id, err)
		}
		z, err := o.Reader()
		if err != nil {
			return 0, nil, damaged(id, err)
		}
		defer z.Close()
		data, err := io.ReadAll(z)
		return o.Type(), data, damaged(id, err)
	}
	return 0, nil, fmt.Errorf("%w: object %s is not here (borrowed from another repository, or a partial clone)",
		ErrNotRead, id)
}

// afford adds up what an object and all that its deltas rest on say they are
// long: nothing longer is unpacked, and no circle is walked.
func (r *Repository) afford(p pack, at, most int64) error {
	for range maxChain + 1 {
		h, err := p.Scanner().SeekObjectHeader(at)
		if err == nil {
			err = r.spend(h.Length, most)
		}
		if err != nil {
			return err
		}
		switch h.Type {
		case plumbing.OFSDeltaObject:
			at = h.OffsetReference
		case plumbing.REFDeltaObject:
			if at, err = p.index.FindOffset(h.Reference); err != nil {
				return err
			}
		default:
			return nil
		}
		var delta bytes.Buffer // begins with two lengths: of its base and of what it makes
		if _, _, err := p.Scanner().NextObject(&delta); err != nil {
			return err
		}
		_, n := binary.Uvarint(delta.Bytes())
		size, _ := binary.Uvarint(delta.Bytes()[max(n, 0):])
		if err := r.spend(int64(size), most); err != nil {
			return err
		}
	}
	return fmt.Errorf("%w: more than %d deltas upon one another", ErrNotRead, maxChain)
}

// short lists the objects whose names begin with some digits.
func (r *Repository) short(digits string) (map[ID]bool, error) {
	if len(digits) < 4 || len(digits) > 40 || strings.Trim(digits, "0123456789abcdef") != "" {
		return nil, nil
	}
	found := map[ID]bool{}
	names, err := fs.Glob(r.common.FS(), "objects/"+digits[:2]+"/"+digits[2:]+"*")
	for _, n := range names {
		if id, ok := parseID(strings.ReplaceAll(strings.TrimPrefix(n, "objects/"), "/", "")); ok {
			found[id] = true
		}
	}
	if err != nil {
		return nil, err
	}
	packs, err := r.allPacks()
	for _, p := range packs {
		rows, err := p.index.Entries()
		for err == nil {
			var e *idxfile.Entry
			if e, err = rows.Next(); err == nil && strings.HasPrefix(e.Hash.String(), digits) {
				found[e.Hash] = true
			}
		}
		if err != io.EOF {
			return nil, err
		}
	}
	return found, err
}

// blob is the content of a file in the repository.
func (r *Repository) blob(id ID) ([]byte, error) {
	kind, data, err := r.object(id, MaxObject)
	if err == nil && kind != plumbing.BlobObject {
		err = fmt.Errorf("%w: object %s is a %s", ErrNotRead, id, kind)
	}
	return data, err
}
