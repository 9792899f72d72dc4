package font

// stretch adds the taller variants of the wanted glyphs and the pieces they
// are assembled of (MATH table, MathVariants, vertical constructions).
func stretch(math []byte, wanted map[uint16]bool) {
	variants := math[be.Uint16(math[8:]):]
	cover := be.Uint16(variants[2:])
	if cover == 0 {
		return
	}
	for i, g := range coverage(variants[cover:]) {
		if !wanted[g] {
			continue
		}
		c := variants[be.Uint16(variants[10+2*i:]):]
		for v := range int(be.Uint16(c[2:])) {
			wanted[be.Uint16(c[4+4*v:])] = true
		}
		if off := be.Uint16(c); off != 0 {
			parts := c[off:]
			for p := range int(be.Uint16(parts[4:])) {
				wanted[be.Uint16(parts[6+10*p:])] = true
			}
		}
	}
}

// coverage lists the glyphs of a coverage table in its order.
func coverage(b []byte) []uint16 {
	var out []uint16
	n := int(be.Uint16(b[2:]))
	for i := range n {
		if be.Uint16(b) == 1 {
			out = append(out, be.Uint16(b[4+2*i:]))
			continue
		}
		for g := int(be.Uint16(b[4+6*i:])); g <= int(be.Uint16(b[6+6*i:])); g++ {
			out = append(out, uint16(g))
		}
	}
	return out
}
