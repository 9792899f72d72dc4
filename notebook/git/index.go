package git

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"strings"
)

// Staged is a file of the index, what the next commit will hold.
type Staged struct {
	Path string // "/" between folders
	Mode uint32 // as in a tree: 0o100644, 0o120000 a link, 0o160000 a submodule
	ID   ID
	// Stage is 0; 1 to 3 are the versions of a file in a merge not yet settled.
	Stage int
	// Intent is set for a file that was only announced: it has no content yet.
	Intent bool
}

// Index lists the staged files in their order. A split or sparse index, and
// one with an extension that must be understood and is not, is refused.
func (r *Repository) Index() ([]Staged, error) {
	data, err := read(r.own, "index", maxIndex)
	if err != nil {
		return nil, err
	}
	bad := func(why string) ([]Staged, error) { return nil, fmt.Errorf("%w: the index %s", ErrNotRead, why) }
	if len(data) < 12+r.size || string(data[:4]) != "DIRC" {
		return bad("is damaged")
	}
	body, sum := data[:len(data)-r.size], data[len(data)-r.size:]
	if !bytes.Equal(sum, make([]byte, r.size)) { // all zero where git was told to skip it
		h := r.newHash()
		h.Write(body)
		if !bytes.Equal(h.Sum(nil), sum) {
			return bad("is damaged")
		}
	}
	version := binary.BigEndian.Uint32(body[4:])
	if version < 2 || version > 4 {
		return bad(fmt.Sprintf("is of version %d", version))
	}
	count := int64(binary.BigEndian.Uint32(body[8:]))
	rest := body[12:]
	if count*int64(42+r.size) > int64(len(body)) {
		return bad("is damaged")
	}
	out := make([]Staged, 0, count)
	last, nameless := "", false // rows of a split index may have no path
	for range count {
		e, n, ok := r.staged(rest, version, last)
		if !ok {
			return bad("is damaged")
		}
		if e.Mode == 0o40000 {
			return bad("is sparse")
		}
		out, rest, last = append(out, e), rest[n:], e.Path
		nameless = nameless || e.Path == ""
	}
	for len(rest) >= 8 {
		name, size := string(rest[:4]), int64(binary.BigEndian.Uint32(rest[4:]))
		switch {
		case name == "link":
			return bad("is split")
		case name == "sdir":
			return bad("is sparse")
		case name[0] < 'A' || name[0] > 'Z':
			return bad("has the extension " + fmt.Sprintf("%q", name))
		case size > int64(len(rest)-8):
			return bad("is damaged")
		}
		rest = rest[8+size:]
	}
	if nameless {
		return bad("is damaged")
	}
	return out, nil
}

// staged reads one row and says how many bytes it takes: ten numbers of four
// bytes, the name of the object, flags, and the path; padded to eight bytes,
// or, in version 4, sharing its beginning with the path before.
func (r *Repository) staged(b []byte, version uint32, last string) (e Staged, n int, ok bool) {
	n = 40 + r.size + 2
	if len(b) < n {
		return e, 0, false
	}
	e.Mode = binary.BigEndian.Uint32(b[24:])
	e.ID = ID(b[40 : 40+r.size])
	flags := binary.BigEndian.Uint16(b[n-2:])
	e.Stage = int(flags >> 12 & 3)
	if flags&0x4000 != 0 { // two more bytes of flags
		if n += 2; len(b) < n {
			return e, 0, false
		}
		e.Intent = binary.BigEndian.Uint16(b[n-2:])&0x2000 != 0
	}
	keep := ""
	if version == 4 {
		cut, used := offsetVarint(b[n:])
		if used == 0 || cut > uint64(len(last)) {
			return e, 0, false
		}
		keep = last[:len(last)-int(cut)]
		n += used
	}
	end := bytes.IndexByte(b[n:], 0)
	if end < 0 {
		return e, 0, false
	}
	e.Path = keep + string(b[n:n+end])
	n += end + 1
	if version < 4 {
		n = (n + 7) / 8 * 8
	}
	return e, n, n <= len(b) && !strings.HasPrefix(e.Path, "/")
}

// offsetVarint is the variable-length number of gitformat-pack(5), "offset
// encoding": each further byte adds one to what came before.
func offsetVarint(b []byte) (v uint64, n int) {
	for i, c := range b {
		if i > 8 {
			break
		}
		v = v<<7 | uint64(c&0x7f)
		if c&0x80 == 0 {
			return v, i + 1
		}
		v++
	}
	return 0, 0
}
