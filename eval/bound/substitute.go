package bound

// Substitute copies r with other registers in place of some of its inputs:
// sub maps graph input numbers to registers. What does not depend on them is
// shared, not copied.
func (b *Builder) Substitute(r Reg, sub map[int]Reg) Reg {
	done := map[Reg]Reg{}
	var copyOf func(Reg) Reg
	copyOf = func(r Reg) Reg {
		if r == 0 || !b.touches(r, sub) {
			return r
		}
		if to, ok := done[r]; ok {
			return to
		}
		x := b.nodes[r]
		var to Reg
		if x.op == OpVar {
			to = sub[int(x.n)]
		} else {
			x.a, x.b, x.c = copyOf(x.a), copyOf(x.b), copyOf(x.c)
			to = b.intern(nodeKey{op: x.op, n: x.n, a: x.a, b: x.b, c: x.c}, x.total, x.truth)
		}
		done[r] = to
		return to
	}
	return copyOf(r)
}

func (b *Builder) touches(r Reg, sub map[int]Reg) bool {
	for _, v := range b.nodes[r].vars {
		if _, ok := sub[v]; ok {
			return true
		}
	}
	return false
}
