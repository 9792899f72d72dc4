package font

import (
	"maps"
	"slices"
)

// readCmap reads the characters of a format 12 subtable; without one it finds none.
func readCmap(cmap []byte) map[rune]uint16 {
	out := map[rune]uint16{}
	for i := range int(be.Uint16(cmap[2:])) {
		sub := cmap[be.Uint32(cmap[8+8*i:]):]
		if be.Uint16(sub) != 12 {
			continue
		}
		for g := range int(be.Uint32(sub[12:])) {
			e := sub[16+12*g:]
			from, to, id := be.Uint32(e), be.Uint32(e[4:]), be.Uint32(e[8:])
			for c := from; c <= to; c++ {
				out[rune(c)] = uint16(id + c - from)
			}
		}
		break
	}
	return out
}

type run struct {
	from, to rune
	glyph    uint16
}

// writeCmap writes format 4 for the basic plane and format 12 for all.
func writeCmap(pairs map[rune]uint16) []byte {
	var runs []run
	for _, r := range slices.Sorted(maps.Keys(pairs)) {
		g := pairs[r]
		if k := len(runs) - 1; k >= 0 && runs[k].to+1 == r && int(runs[k].glyph)+int(r-runs[k].from) == int(g) && r != 0x10000 {
			runs[k].to = r
			continue
		}
		runs = append(runs, run{r, r, g})
	}
	f4, f12 := format4(runs), format12(runs)
	out := []byte{0, 0, 0, 2}
	out = append(be.AppendUint32(append(out, 0, 3, 0, 1), 20), 0, 3, 0, 10)
	out = be.AppendUint32(out, uint32(20+len(f4)))
	return append(append(out, f4...), f12...)
}

func format4(runs []run) []byte {
	var basic []run
	for _, r := range runs {
		if r.to < 0xffff {
			basic = append(basic, r)
		}
	}
	basic = append(basic, run{0xffff, 0xffff, 0})
	n := len(basic)
	search, sel := 2, 0
	for search*2 <= 2*n {
		search, sel = search*2, sel+1
	}
	put := be.AppendUint16
	out := put(put(put(nil, 4), uint16(16+8*n)), 0)
	out = put(put(put(put(out, uint16(2*n)), uint16(search)), uint16(sel)), uint16(2*n-search))
	for _, r := range basic {
		out = put(out, uint16(r.to))
	}
	out = put(out, 0)
	for _, r := range basic {
		out = put(out, uint16(r.from))
	}
	for _, r := range basic {
		delta := uint16(int(r.glyph) - int(r.from))
		if r.from == 0xffff {
			delta = 1
		}
		out = put(out, delta)
	}
	for range basic {
		out = put(out, 0)
	}
	return out
}

func format12(runs []run) []byte {
	out := []byte{0, 12, 0, 0}
	out = be.AppendUint32(out, uint32(16+12*len(runs)))
	out = be.AppendUint32(be.AppendUint32(out, 0), uint32(len(runs)))
	for _, r := range runs {
		out = be.AppendUint32(be.AppendUint32(be.AppendUint32(out, uint32(r.from)), uint32(r.to)), uint32(r.glyph))
	}
	return out
}
