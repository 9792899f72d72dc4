package font

import (
	"bytes"
	"compress/zlib"
	"errors"
	"io"
	"maps"
	"slices"
)

// checksum of a table as OpenType defines it: the sum of its big-endian words.
func checksum(b []byte) uint32 {
	var sum uint32
	for len(b) >= 4 {
		sum += be.Uint32(b)
		b = b[4:]
	}
	var last [4]byte
	copy(last[:], b)
	return sum + be.Uint32(last[:])
}

func padded(n int) int { return (n + 3) &^ 3 }

// SFNT writes tables as a TrueType file and sets the checksum of the whole in
// the head table.
func SFNT(tables map[string][]byte) []byte {
	tags := slices.Sorted(maps.Keys(tables))
	n := len(tags)
	search, sel := 16, 0
	for search*2 <= 16*n {
		search, sel = search*2, sel+1
	}
	out := []byte{0, 1, 0, 0}
	for _, v := range []int{n, search, sel, 16*n - search} {
		out = be.AppendUint16(out, uint16(v))
	}
	be.PutUint32(tables["head"][8:], 0)
	off, head := 12+16*n, 0
	for _, tag := range tags {
		b := tables[tag]
		out = append(out, tag...)
		out = be.AppendUint32(be.AppendUint32(be.AppendUint32(out, checksum(b)), uint32(off)), uint32(len(b)))
		if tag == "head" {
			head = off
		}
		off += padded(len(b))
	}
	for _, tag := range tags {
		out = append(out, tables[tag]...)
		out = append(out, make([]byte, padded(len(out))-len(out))...)
	}
	total := 0xB1B0AFBA - checksum(out)
	be.PutUint32(out[head+8:], total)
	be.PutUint32(tables["head"][8:], total)
	return out
}

// WOFF packs tables as WOFF 1.0.
func WOFF(tables map[string][]byte) []byte {
	sfnt := SFNT(tables)
	tags := slices.Sorted(maps.Keys(tables))
	dir := make([]byte, 0, 20*len(tags))
	var body []byte
	start := 44 + 20*len(tags)
	for i, tag := range tags {
		raw := tables[tag]
		packed := deflate(raw)
		if len(packed) >= len(raw) {
			packed = raw
		}
		dir = append(dir, tag...)
		sum := be.Uint32(sfnt[12+16*i+4:]) // as the sfnt's directory has it
		for _, v := range []uint32{uint32(start + len(body)), uint32(len(packed)), uint32(len(raw)), sum} {
			dir = be.AppendUint32(dir, v)
		}
		body = append(body, packed...)
		body = append(body, make([]byte, padded(len(body))-len(body))...)
	}
	head := append([]byte("wOFF"), 0, 1, 0, 0)
	head = be.AppendUint32(head, uint32(start+len(body)))
	head = be.AppendUint16(be.AppendUint16(head, uint16(len(tags))), 0)
	head = be.AppendUint32(head, uint32(len(sfnt)))
	head = append(head, make([]byte, 44-len(head))...)
	return slices.Concat(head, dir, body)
}

func deflate(b []byte) []byte {
	var out bytes.Buffer
	z, _ := zlib.NewWriterLevel(&out, zlib.BestCompression) // the level is a known one
	_, _ = z.Write(b)                                       // a buffer takes all
	_ = z.Close()
	return out.Bytes()
}

// ErrWOFF says that the bytes are no WOFF 1.0 file.
var ErrWOFF = errors.New("no WOFF 1.0 file")

// UnpackWOFF gives the tables of a WOFF file.
func UnpackWOFF(woff []byte) (map[string][]byte, error) {
	if len(woff) < 44 || string(woff[:4]) != "wOFF" {
		return nil, ErrWOFF
	}
	out := map[string][]byte{}
	for i := range int(be.Uint16(woff[12:])) {
		if len(woff) < 64+20*i {
			return nil, ErrWOFF
		}
		e := woff[44+20*i:]
		off, packed, size := int(be.Uint32(e[4:])), int(be.Uint32(e[8:])), int(be.Uint32(e[12:]))
		if off+packed > len(woff) {
			return nil, ErrWOFF
		}
		b := woff[off : off+packed]
		if packed < size {
			z, err := zlib.NewReader(bytes.NewReader(b))
			if err != nil {
				return nil, errors.Join(ErrWOFF, err)
			}
			if b, err = io.ReadAll(io.LimitReader(z, int64(size)+1)); err != nil || len(b) != size {
				return nil, errors.Join(ErrWOFF, err)
			}
		}
		out[string(e[:4])] = b
	}
	return out, nil
}
