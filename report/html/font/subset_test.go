package font

// The test files of this package make a smaller copy of a TrueType font for a
// web page: the outlines of the characters that are wanted, of the parts that
// stretchy signs are built from, and nothing else. Glyph numbers stay as they
// are, so tables that refer to glyphs (MATH) are copied untouched. Formats:
// OpenType 1.9 (sfnt, cmap, glyf, loca, MATH) and WOFF File Format 1.0 (W3C).

import (
	"encoding/binary"
	"errors"
	"fmt"
	"slices"
)

// ErrFont says that the bytes are no TrueType font that this package reads.
var ErrFont = errors.New("no TrueType font with long glyph offsets")

// Naming is what the copy's name table says.
type Naming struct {
	Family    string // of the copy; licences ask that it differs from the original's
	Copyright string
	Notice    string // how the copy differs from the original
}

var be = binary.BigEndian

type font map[string][]byte

// Tables reads the table directory of an sfnt.
func Tables(ttf []byte) (map[string][]byte, error) {
	if len(ttf) < 12 {
		return nil, ErrFont
	}
	n := int(be.Uint16(ttf[4:]))
	out := font{}
	for i := range n {
		if len(ttf) < 28+16*i {
			return nil, ErrFont
		}
		e := ttf[12+16*i:]
		off, size := uint64(be.Uint32(e[8:])), uint64(be.Uint32(e[12:]))
		if off+size > uint64(len(ttf)) {
			return nil, ErrFont
		}
		out[string(e[:4])] = ttf[off : off+size]
	}
	return out, nil
}

// Make keeps the glyphs of keep and what they are built of.
func Make(ttf []byte, keep []rune, name Naming) (tables map[string][]byte, err error) {
	defer func() { // a font that ends early is found by its bounds
		if r := recover(); r != nil {
			tables, err = nil, fmt.Errorf("%w: %v", ErrFont, r)
		}
	}()
	t, err := Tables(ttf)
	if err != nil {
		return nil, err
	}
	for _, need := range []string{"head", "hhea", "maxp", "hmtx", "loca", "glyf", "cmap", "OS/2"} {
		if t[need] == nil {
			return nil, fmt.Errorf("%w: table %q is missing", ErrFont, need)
		}
	}
	if be.Uint16(t["head"][50:]) != 1 {
		return nil, ErrFont
	}
	chars := readCmap(t["cmap"])
	pairs := map[rune]uint16{}
	wanted := map[uint16]bool{0: true}
	for _, r := range keep {
		if g, ok := chars[r]; ok {
			pairs[r], wanted[g] = g, true
		}
	}
	if t["MATH"] != nil {
		stretch(t["MATH"], wanted)
	}
	compose(t, wanted)
	out := font{
		"head": slices.Clone(t["head"]), "hhea": t["hhea"], "maxp": t["maxp"], "OS/2": t["OS/2"],
		"cmap": writeCmap(pairs), "name": writeName(name), "post": postWithoutNames(t["post"]),
	}
	if t["MATH"] != nil {
		out["MATH"] = t["MATH"]
	}
	out["glyf"], out["loca"] = outlines(t, wanted)
	out["hmtx"] = advances(t, wanted)
	return out, nil
}

func glyph(t font, g uint16) []byte {
	from, to := be.Uint32(t["loca"][4*int(g):]), be.Uint32(t["loca"][4*int(g)+4:])
	return t["glyf"][from:to]
}

// compose adds the parts of composite glyphs.
func compose(t font, wanted map[uint16]bool) {
	pending := make([]uint16, 0, len(wanted))
	for g := range wanted {
		pending = append(pending, g)
	}
	for len(pending) > 0 {
		b := glyph(t, pending[0])
		pending = pending[1:]
		if len(b) < 10 || int16(be.Uint16(b)) >= 0 {
			continue
		}
		for b = b[10:]; ; {
			flags, part := be.Uint16(b), be.Uint16(b[2:])
			if !wanted[part] {
				wanted[part] = true
				pending = append(pending, part)
			}
			size := 6
			if flags&1 != 0 { // arguments are words
				size += 2
			}
			switch {
			case flags&8 != 0: // one scale
				size += 2
			case flags&0x40 != 0: // two scales
				size += 4
			case flags&0x80 != 0: // two by two
				size += 8
			}
			b = b[size:]
			if flags&0x20 == 0 { // no more parts
				break
			}
		}
	}
}

func outlines(t font, wanted map[uint16]bool) (glyf, loca []byte) {
	n := len(t["loca"])/4 - 1
	loca = be.AppendUint32(nil, 0)
	for g := range n {
		if wanted[uint16(g)] {
			glyf = append(glyf, glyph(t, uint16(g))...)
			for len(glyf)%4 != 0 {
				glyf = append(glyf, 0)
			}
		}
		loca = be.AppendUint32(loca, uint32(len(glyf)))
	}
	return glyf, loca
}

// advances clears the advance widths that nobody needs, so that they pack well.
func advances(t font, wanted map[uint16]bool) []byte {
	out := slices.Clone(t["hmtx"])
	long := int(be.Uint16(t["hhea"][34:]))
	for g := range long {
		if !wanted[uint16(g)] {
			clear(out[4*g : 4*g+4])
		}
	}
	return out
}

func postWithoutNames(post []byte) []byte {
	out := make([]byte, 32)
	copy(out, post)
	be.PutUint32(out, 0x00030000)
	return out
}

func writeName(n Naming) []byte {
	texts := []struct {
		id uint16
		s  string
	}{
		{0, n.Copyright},
		{1, n.Family},
		{2, "Regular"},
		{3, n.Family},
		{4, n.Family},
		{6, "Subset-Regular"},
		{10, n.Notice},
	}
	head := be.AppendUint16(nil, 0)
	head = be.AppendUint16(head, uint16(len(texts)))
	head = be.AppendUint16(head, uint16(6+12*len(texts)))
	var body []byte
	for _, t := range texts {
		var s []byte
		for _, r := range t.s { // the basic plane is enough for names
			s = be.AppendUint16(s, uint16(r))
		}
		for _, v := range []uint16{3, 1, 0x409, t.id, uint16(len(s)), uint16(len(body))} {
			head = be.AppendUint16(head, v)
		}
		body = append(body, s...)
	}
	return append(head, body...)
}
