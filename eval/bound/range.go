package bound

import "math/big"

// Range bounds a number over the wide sets. Where those of an input contradict
// each other the answer is Empty.
func Range(p *Program, root int, in []Input, opt Options) Extent {
	if contradictory(in) != nil {
		return Extent{Lo: unsought(1), Hi: unsought(-1), Empty: true}
	}
	switch i := p.code[p.roots[root]]; {
	case i.op == OpConst:
		lo, hi := ratEnds(p.rat(i))
		end := End{Exact: p.rat(i), At: make([]*big.Rat, len(in))}
		out := Extent{Lo: end, Hi: end, Boxes: 1}
		out.Lo.Outer, out.Lo.Inner, out.Hi.Outer, out.Hi.Inner = lo, hi, hi, lo
		return out
	case i.op == OpVar && in[i.n].Lo == nil && in[i.n].Hi == nil:
		return Extent{Lo: unsought(1), Hi: unsought(-1)}
	}
	c := p.cut(p.roots[root], false)
	mine := pick(in, c.from)
	boxes := opt.boxesOf(len(c.code))
	lo := newExtremum(c, mine, 1)
	lo.assured(boxes / 4)
	out := Extent{}
	lo.run(lo.top, lo.r)
	if lo.r[c.root()].empty() {
		out.Empty = true
	}
	if lo.r[c.root()].u {
		out.Undefined = lo.lacks(boxes / 4)
	}
	hi := newExtremum(lo.number(), mine, -1)
	out.Lo, out.Hi = unsought(1), unsought(-1)
	if opt.Ends.wants(1) {
		out.Lo = lo.seek(boxes/2).end(c.from, len(in))
	}
	if opt.Ends.wants(-1) {
		out.Hi = hi.seek(boxes/2).end(c.from, len(in))
	}
	if (out.Lo.Outer == inf || !opt.Ends.wants(1)) && (out.Hi.Outer == -inf || !opt.Ends.wants(-1)) {
		out.Empty = true // no box held a value
	}
	out.Boxes = lo.spent + hi.spent
	if out.Undefined != nil && out.Undefined.At != nil {
		out.Undefined.At = spread(out.Undefined.At, c.from, len(in))
	}
	return out
}

// SureRange bounds a number over the sure sets; inputs without one keep their
// wide set.
func SureRange(p *Program, root int, in []Input, opt Options) Extent {
	if contradictory(in) != nil {
		return Extent{Lo: unsought(1), Hi: unsought(-1), Empty: true}
	}
	return Range(p, root, sureInputs(in), opt)
}

// end turns an end of the searched side into one of the range.
func (e extreme) end(from []int, n int) End {
	out := End{Outer: e.outer, Inner: e.inner, Exact: e.exact}
	if e.at != nil {
		out.At = spread(e.at, from, n)
	}
	out.Unbounded = out.Outer == inf || out.Outer == -inf
	return out
}

// number is the part without the sign statement that the search added.
func (s *extremum) number() part {
	q := *s.Program
	n := len(q.code) - 1
	q.code, q.regs = q.code[:n:n], q.regs[:n:n]
	q.roots, q.ends = []int32{int32(n - 1)}, []int{n}
	return part{&q, s.from}
}

// assured marks operations that surely have a value.
func (s *extremum) assured(limit int) {
	var f found
	s.assure(limit, 0, &f)
	s.spent += f.boxes
}

// lacks looks for a point at which the number has no value; nil if there is
// none.
func (s *extremum) lacks(limit int) *Undefined {
	f := newSearch(s.number().withSign(signAny), s.in)
	f.points = s.points
	got := f.prove(limit, 0)
	s.spent += got.boxes
	if got.proven {
		return nil
	}
	if got.undefined != nil {
		return got.undefined
	}
	s.run(s.top, s.r)
	return s.mayLack()
}

// extreme is one end as the search left it, of the number itself.
type extreme struct {
	outer, inner float64
	exact        *big.Rat
	at           []*big.Rat
}
