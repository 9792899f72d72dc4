package bound

// redraw writes the statement of a piece anew, with the coordinates it depends
// on: what is affine over the piece as one sum, what is known to be true or
// false as that.
func (p *piece) redraw() part {
	b, done := NewBuilder(), map[int32]Reg{}
	var place func(i int32) Reg
	place = func(i int32) Reg {
		r := done[i]
		if r == 0 {
			r = p.rewrite(b, i, place)
			done[i] = r
		}
		return r
	}
	q := b.Extract(place(p.c.root()))
	return part{q, q.inputs}
}

// rewrite enters one instruction into a graph; place enters its operands.
func (p *piece) rewrite(b *Builder, i int32, place func(int32) Reg) Reg {
	in := &p.c.code[i]
	switch {
	case p.forms[i] != nil:
		return b.sum(p.forms[i])
	case p.truth[i] != 0:
		return b.truthOf(p.truth[i] > 0)
	case in.op == OpIf && p.truth[in.a] > 0:
		return place(in.b)
	case in.op == OpIf && p.truth[in.a] < 0:
		return place(in.c)
	case in.op == OpPi:
		return b.Pi()
	case in.op == OpTable:
		return b.Table(place(in.a), p.c.tables[in.n].knots)
	}
	x := node{op: in.op, n: in.n, a: place(in.a)}
	if twoOperands(in.op) || in.op == OpIf {
		x.b = place(in.b)
	}
	if in.op == OpIf {
		x.c = place(in.c)
	}
	return b.rebuild(x)
}

// sum is an affine number.
func (b *Builder) sum(a *affine) Reg {
	r := b.Const(a.fixed)
	for _, i := range a.inputs() {
		r = b.Binary(OpAdd, r, b.Binary(OpMul, b.Const(a.coef[i]), b.Var(i)))
	}
	return r
}
