package git

import (
	"bufio"
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"sort"
	"strings"
)

// Limits of packs.
const (
	maxPacks = 4096
	maxChain = 4095 // deltas upon one another, as git writes them at most
)

// pack is a pack file and its index of version 2 (gitformat-pack(5)).
type pack struct {
	size  int // bytes of a name
	index *os.File
	data  *os.File
	fan   [256]uint32
	count int
}

func (p *pack) close() {
	p.index.Close()
	p.data.Close()
}

// allPacks opens the packs of the repository.
func (r *Repository) allPacks() ([]*pack, error) {
	if r.opened {
		return r.packs, nil
	}
	r.opened = true
	dir, err := r.common.Open("objects/pack")
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	defer dir.Close()
	names, err := dir.Readdirnames(-1)
	if err != nil {
		return nil, err
	}
	sort.Strings(names)
	for _, n := range names {
		base, ok := strings.CutSuffix(n, ".idx")
		if !ok {
			continue
		}
		if len(r.packs) == maxPacks {
			return nil, fmt.Errorf("%w: more than %d packs", ErrNotRead, maxPacks)
		}
		p, err := r.openPack("objects/pack/" + base)
		if err != nil {
			return nil, err
		}
		r.packs = append(r.packs, p)
	}
	return r.packs, nil
}

func (r *Repository) openPack(base string) (*pack, error) {
	index, size, err := openFile(r.common, base+".idx", 1<<40)
	if err != nil {
		return nil, err
	}
	data, _, err := openFile(r.common, base+".pack", 1<<50)
	if err != nil {
		index.Close()
		return nil, err
	}
	p := &pack{size: r.size, index: index, data: data}
	head := make([]byte, 8+4*256)
	_, err = index.ReadAt(head, 0)
	if err == nil && !bytes.Equal(head[:8], []byte{0xff, 't', 'O', 'c', 0, 0, 0, 2}) {
		err = errors.New("not of version 2")
	}
	for i := range p.fan {
		p.fan[i] = binary.BigEndian.Uint32(head[8+4*i:])
		if i > 0 && p.fan[i] < p.fan[i-1] && err == nil {
			err = errors.New("damaged")
		}
	}
	p.count = int(p.fan[255])
	if err == nil && int64(p.count)*int64(p.size+8)+int64(len(head)) > size {
		err = errors.New("too short")
	}
	if err != nil {
		p.close()
		return nil, fmt.Errorf("%w: the index of a pack: %v", ErrNotRead, err)
	}
	return p, nil
}

func (p *pack) namesAt() int64 { return 8 + 4*256 }

// name is the name at a place of the sorted list.
func (p *pack) name(i int) (ID, error) {
	b := make([]byte, p.size)
	_, err := p.index.ReadAt(b, p.namesAt()+int64(i)*int64(p.size))
	return ID(b), err
}

// search is the first place whose name is not below.
func (p *pack) search(name []byte) (int, error) {
	from, to := 0, int(p.fan[name[0]])
	if name[0] > 0 {
		from = int(p.fan[name[0]-1])
	}
	var err error
	i := from + sort.Search(to-from, func(k int) bool {
		id, e := p.name(from + k)
		if e != nil {
			err = e
		}
		return id >= ID(name)
	})
	return i, err
}

// offset is where an object begins in the pack.
func (p *pack) offset(id ID) (int64, bool, error) {
	i, err := p.search([]byte(id))
	if err != nil || i >= p.count {
		return 0, false, err
	}
	if found, err := p.name(i); err != nil || found != id {
		return 0, false, err
	}
	small := p.namesAt() + int64(p.count)*int64(p.size+4) // behind names and checksums
	b := make([]byte, 8)
	if _, err := p.index.ReadAt(b[:4], small+4*int64(i)); err != nil {
		return 0, false, err
	}
	at := binary.BigEndian.Uint32(b)
	if at < 1<<31 {
		return int64(at), true, nil
	}
	if _, err := p.index.ReadAt(b, small+4*int64(p.count)+8*int64(at&(1<<31-1))); err != nil {
		return 0, false, err
	}
	return int64(binary.BigEndian.Uint64(b) & (1<<63 - 1)), true, nil
}

// fromPacks reads an object out of the packs.
func (r *Repository) fromPacks(id ID, most int64) (string, []byte, error) {
	packs, err := r.allPacks()
	if err != nil {
		return "", nil, err
	}
	for _, p := range packs {
		at, ok, err := p.offset(id)
		if err != nil {
			return "", nil, damaged(id, err)
		}
		if ok {
			return r.unpack(p, at, most)
		}
	}
	return "", nil, fmt.Errorf("%w: object %s is not here (borrowed from another repository, or a partial clone)",
		ErrNotRead, id)
}

// Kinds of entries in a pack.
var kinds = map[byte]string{1: "commit", 2: "tree", 3: "blob", 4: "tag"}

const (
	offsetDelta = 6
	nameDelta   = 7
)

// unpack reads the entry at a place: its own bytes, or those of a base with
// the deltas on the way to it.
func (r *Repository) unpack(p *pack, at, most int64) (string, []byte, error) {
	var deltas [][]byte
	held := int64(0)
	for range maxChain + 1 {
		e, err := p.entry(at)
		if err != nil {
			return "", nil, err
		}
		data, err := e.content(most)
		if err != nil {
			return "", nil, err
		}
		if kind, ok := kinds[e.kind]; ok {
			for i := len(deltas) - 1; i >= 0; i-- {
				if data, err = applyDelta(data, deltas[i], most); err != nil {
					return "", nil, err
				}
			}
			return kind, data, nil
		}
		if err := r.spend(len(data)); err != nil {
			return "", nil, err
		}
		if held += int64(len(data)); held > most {
			return "", nil, fmt.Errorf("%w: deltas of more than %d bytes", ErrNotRead, most)
		}
		deltas = append(deltas, data)
		if e.kind == nameDelta {
			var ok bool
			if at, ok, err = p.offset(e.base); err != nil || !ok {
				return "", nil, fmt.Errorf("%w: a delta without its base", ErrNotRead)
			}
		} else if at -= e.back; at <= 0 {
			return "", nil, fmt.Errorf("%w: a delta before the pack", ErrNotRead)
		}
	}
	return "", nil, fmt.Errorf("%w: more than %d deltas upon one another", ErrNotRead, maxChain)
}

// entry is the head of an entry and the reader behind it.
type entry struct {
	kind byte
	size int64
	back int64 // of an offset delta: how far before this entry its base begins
	base ID    // of a name delta
	from *bufio.Reader
}

func (p *pack) entry(at int64) (e entry, err error) {
	e.from = bufio.NewReader(io.NewSectionReader(p.data, at, 1<<62-at))
	b, err := e.from.ReadByte()
	e.kind, e.size = b>>4&7, int64(b&15)
	for shift := 4; b&0x80 != 0 && err == nil; shift += 7 {
		if shift > 53 {
			return e, fmt.Errorf("%w: an entry of the pack is damaged", ErrNotRead)
		}
		b, err = e.from.ReadByte()
		e.size |= int64(b&0x7f) << shift
	}
	switch {
	case err != nil:
	case e.kind == offsetDelta:
		ahead, _ := e.from.Peek(9) // fewer at the end of the file
		back, n := offsetVarint(ahead)
		e.from.Discard(n)
		if e.back = int64(back); e.back <= 0 {
			err = errors.New("no base")
		}
	case e.kind == nameDelta:
		name := make([]byte, p.size)
		_, err = io.ReadFull(e.from, name)
		e.base = ID(name)
	case kinds[e.kind] == "":
		err = errors.New("of an unknown kind")
	}
	if err != nil {
		return e, fmt.Errorf("%w: an entry of the pack: %v", ErrNotRead, err)
	}
	return e, nil
}

func (e entry) content(most int64) ([]byte, error) {
	z, err := zlib.NewReader(e.from)
	if err != nil {
		return nil, fmt.Errorf("%w: an entry of the pack: %v", ErrNotRead, err)
	}
	return inflate(z, e.size, most)
}

// applyDelta builds an object from its base and a delta: two lengths, then
// copies out of the base and bytes to insert.
func applyDelta(base, delta []byte, most int64) ([]byte, error) {
	bad := fmt.Errorf("%w: a damaged delta", ErrNotRead)
	from, n := binary.Uvarint(delta)
	if n <= 0 || from != uint64(len(base)) {
		return nil, bad
	}
	delta = delta[n:]
	size, n := binary.Uvarint(delta)
	if n <= 0 || size > uint64(most) {
		return nil, bad
	}
	delta = delta[n:]
	var out []byte
	for len(delta) > 0 {
		op := delta[0]
		delta = delta[1:]
		if op&0x80 == 0 { // insert op bytes
			if op == 0 || int(op) > len(delta) {
				return nil, bad
			}
			out, delta = append(out, delta[:op]...), delta[op:]
		} else {
			var at, length int
			for i := range 7 { // four bytes of offset, three of length, those present
				if op>>i&1 == 0 {
					continue
				}
				if len(delta) == 0 {
					return nil, bad
				}
				if i < 4 {
					at |= int(delta[0]) << (8 * i)
				} else {
					length |= int(delta[0]) << (8 * (i - 4))
				}
				delta = delta[1:]
			}
			if length == 0 {
				length = 0x10000
			}
			if at > len(base) || length > len(base)-at {
				return nil, bad
			}
			out = append(out, base[at:at+length]...)
		}
		if uint64(len(out)) > size {
			return nil, bad
		}
	}
	if uint64(len(out)) != size {
		return nil, bad
	}
	return out, nil
}
