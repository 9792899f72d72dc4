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
			to = b.rebuild(x)
		}
		done[r] = to
		return to
	}
	return copyOf(r)
}

// rebuild makes a node anew from its operands, so that what is known of it (a
// constant, a value at every point) follows the new operands and not the old.
func (b *Builder) rebuild(x node) Reg {
	switch x.op {
	case OpPowInt:
		return b.PowInt(x.a, int(x.n))
	case OpTable:
		return b.Table(x.a, b.tables[x.n].knots)
	case OpIf:
		return b.If(x.a, x.b, x.c)
	case opSign:
		return b.sign(x.a, x.n)
	case opNothing:
		return b.Binary(OpSub, x.a, x.a)
	case opUnit:
		return b.Binary(OpDiv, x.a, x.a)
	}
	if twoOperands(x.op) {
		return b.Binary(x.op, x.a, x.b)
	}
	return b.Unary(x.op, x.a)
}

func (b *Builder) touches(r Reg, sub map[int]Reg) bool {
	for _, v := range b.Vars(r) {
		if _, ok := sub[v]; ok {
			return true
		}
	}
	return false
}
