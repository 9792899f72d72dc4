package bound

import (
	"maps"
	"math/big"
	"slices"
)

// A statement may meet its limit exactly at a kink: at a knot of a table, at
// the 0 of an abs, where the sides of a min or max cross, where a choice changes
// over. Halving a float64 range does not end on one. Where what decides is
// affine in the inputs, the set is cut at the exact kink instead, and every
// piece is proven without it.

// Bounds of the cutting, so that it costs no more than the search it follows.
const (
	kinkBoxes = 64      // tried on a piece before it is cut again
	kinkDepth = 24      // cuts that lead to one piece
	kinkWork  = 1 << 16 // operations times inputs of a program that is looked at
)

// piece is a part of the set. Its coordinates are the inputs of the statement
// until a kink that several of them move takes the place of one.
type piece struct {
	c      part
	steers []bool
	in     []Input         // of the coordinates
	vars   []*affine       // the statement's inputs
	signs  map[int32]int32 // of numbers that steer a choice, by the place of the statement
	depth  int
	// What reading it gave, by place: numbers that are affine, truths that are
	// known (a mask of one sign), and where to cut.
	forms []*affine
	truth []int8
	cut   *affine
	jump  int32 // the statement that changes over there, or -1
}

// inPieces proves or breaks a statement by cutting it at its kinks, within a
// budget.
func inPieces(c part, in []Input, limit int) found {
	out := found{}
	newPiece(c, in).prove(&out, limit, in)
	return out
}

// newPiece is the whole set.
func newPiece(c part, in []Input) *piece {
	p := &piece{c: c, in: in, steers: c.steering(), vars: make([]*affine, len(in))}
	for i := range in {
		p.vars[i] = inputAlone(i, len(in))
	}
	return p
}

// kinked tells that a statement has something to cut at.
func (p part) kinked() bool {
	return len(p.code)*len(p.inputs) <= kinkWork && slices.ContainsFunc(p.code, func(in instr) bool {
		return in.op == OpAbs || in.op == OpMin || in.op == OpMax || in.op == OpTable || in.op == OpIf
	})
}

// prove settles the piece, cutting it as need be. Whole is the set of the
// statement's own inputs.
func (p *piece) prove(out *found, limit int, whole []Input) {
	out.proven = false
	p.read()
	room := max(limit-out.boxes, 0)
	if p.cut != nil {
		room = min(room, kinkBoxes)
	}
	if room == 0 {
		return
	}
	drawn := p.redraw()
	f := newSearch(drawn, pick(p.in, drawn.from)).prove(room, 0)
	out.boxes += f.boxes
	if f.counter != nil {
		all := area{in: p.in}
		f.counter = all.complete(spread(f.counter, drawn.from, len(p.in)))
	}
	if f.counter != nil && p.breaks(f.counter, whole, out) || f.proven {
		out.proven = f.proven
		return
	}
	if p.cut == nil || p.depth == kinkDepth {
		return
	}
	for _, q := range p.halves() {
		if q.prove(out, limit, whole); !out.proven {
			return
		}
	}
}

// breaks keeps a point of the piece as one that breaks the statement, if it
// does.
func (p *piece) breaks(at []*big.Rat, whole []Input, out *found) bool {
	point := make([]*big.Rat, len(p.vars))
	for i, x := range p.vars {
		point[i] = x.at(at)
		w := &whole[i]
		if point[i] == nil || !rising(w.Lo, point[i]) || !rising(point[i], w.Hi) {
			return false
		}
	}
	if t, ok := Holds(p.c.Program, 0, point); !ok || t {
		return false
	}
	out.counter = point
	return true
}

// halves cuts the piece where its kink lies.
func (p *piece) halves() []*piece {
	lo, hi := p.cut.ends(p.in)
	zero := new(big.Rat)
	out := []*piece{p.half(lo, zero), p.half(zero, hi)}
	if p.jump >= 0 {
		out = append(out, p.half(zero, zero))
		for i, sign := range []int32{signNeg, signPos, signZero} {
			out[i].signs = maps.Clone(p.signs)
			if out[i].signs == nil {
				out[i].signs = map[int32]int32{}
			}
			out[i].signs[p.jump] = sign
		}
	}
	return out
}

// half is the piece with the number it is cut by from lo to hi. Where one input
// moves that number its range is cut; else the number becomes a coordinate in
// place of the input that moves it most, which may then leave its own range:
// what is proven is proven for more than the piece.
func (p *piece) half(lo, hi *big.Rat) *piece {
	q := &piece{c: p.c, steers: p.steers, in: slices.Clone(p.in), vars: p.vars, signs: p.signs, depth: p.depth + 1}
	moving := p.cut.inputs()
	i := slices.MaxFunc(moving, func(i, k int) int { return p.reach(i).Cmp(p.reach(k)) })
	scale := new(big.Rat).Inv(p.cut.coef[i])
	self := inputAlone(i, len(p.in))
	x := self.minus(p.cut.with(i, affineOf(new(big.Rat), len(p.in)))).times(scale)
	if len(moving) > 1 {
		q.in[i] = Input{Lo: lo, Hi: hi}
		q.vars = make([]*affine, len(p.vars))
		for k, v := range p.vars {
			q.vars[k] = v.with(i, x)
		}
		return q
	}
	q.in[i].Lo, q.in[i].Hi = x.ends(append(append(slices.Clone(p.in[:i]), Input{Lo: lo, Hi: hi}), p.in[i+1:]...))
	return q
}

// reach is how far input i moves the number that the piece is cut by.
func (p *piece) reach(i int) *big.Rat {
	x := p.in[i]
	if x.Lo == nil || x.Hi == nil {
		return new(big.Rat).SetInt64(1 << 62)
	}
	r := new(big.Rat).Sub(x.Hi, x.Lo)
	r.Mul(r, p.cut.coef[i])
	return r.Abs(r)
}

// read finds what is affine over the piece and the first kink inside it.
func (p *piece) read() {
	n := len(p.c.code)
	p.forms, p.truth, p.cut, p.jump = make([]*affine, n), make([]int8, n), nil, -1
	for i := range p.c.code {
		in := &p.c.code[i]
		if p.forms[i] = p.form(in); p.forms[i] == nil {
			p.truth[i] = p.judge(int32(i), in)
		}
	}
}

// form is the number of an instruction where that is affine over the piece.
func (p *piece) form(in *instr) *affine {
	a := func() *affine { return p.forms[in.a] }
	b := func() *affine { return p.forms[in.b] }
	switch in.op {
	case OpConst:
		return affineOf(p.c.rat(*in), len(p.in))
	case OpVar:
		return p.vars[in.n]
	case OpNeg:
		return a().times(big.NewRat(-1, 1))
	case OpAdd:
		return a().plus(b())
	case OpSub:
		return a().minus(b())
	case OpMul:
		return a().product(b())
	case OpDiv:
		if f, ok := b().constant(); ok && f.Sign() != 0 {
			return a().times(new(big.Rat).Inv(f))
		}
	case OpAbs:
		return p.either(a(), a(), a().times(big.NewRat(-1, 1)))
	case OpMin:
		return p.either(a().minus(b()), b(), a())
	case OpMax:
		return p.either(a().minus(b()), a(), b())
	case OpTable:
		return p.segment(a(), p.c.tables[in.n])
	case OpIf:
		switch p.truth[in.a] {
		case 1:
			return p.forms[in.b]
		case -1:
			return p.forms[in.c]
		}
	}
	return nil
}

// either is above where the number that decides is not below 0 over the piece,
// below where it is not above.
func (p *piece) either(decides, above, below *affine) *affine {
	if decides == nil {
		return nil
	}
	switch can := decides.signs(p.in); {
	case can&signNeg == 0:
		return above
	case can&signPos == 0:
		return below
	}
	p.mark(decides, -1)
	return nil
}

func (p *piece) mark(f *affine, jump int32) {
	if p.cut == nil {
		p.cut, p.jump = f, jump
	}
}

// segment is a table over the piece where that lies between two of its knots.
// Else it is to be cut at the middle one of the knots inside.
func (p *piece) segment(x *affine, t *table) *affine {
	if x == nil {
		return nil
	}
	lo, hi := x.ends(p.in)
	var inside []int
	for k := range t.knots {
		if (lo == nil || lo.Cmp(t.knots[k].X) < 0) && (hi == nil || t.knots[k].X.Cmp(hi) < 0) {
			inside = append(inside, k)
		}
	}
	if inside != nil {
		p.mark(x.less(t.knots[inside[len(inside)/2]].X), -1)
		return nil
	}
	if lo == nil || hi == nil || t.at(lo) == nil || t.at(hi) == nil {
		return nil // outside
	}
	k := 0
	for k < len(t.ratio)-1 && t.knots[k+1].X.Cmp(lo) <= 0 {
		k++
	}
	return x.less(t.knots[k].X).times(t.ratio[k]).plus(affineOf(t.knots[k].Y, len(p.in)))
}

// judge tells what steers a choice: 1 true over the piece, -1 false, 0 neither
// or no steering.
func (p *piece) judge(at int32, in *instr) int8 {
	switch in.op {
	case OpTrue:
		return 1
	case opFalse:
		return -1
	case OpAnd:
		return min(p.truth[in.a], p.truth[in.b])
	case OpOr:
		return max(p.truth[in.a], p.truth[in.b])
	case opSign:
		f := p.forms[in.a]
		if f == nil || !p.steers[at] {
			return 0
		}
		can := p.signs[at]
		if can == 0 {
			can = f.signs(p.in)
		}
		switch {
		case can&^in.n == 0:
			return 1
		case can&in.n == 0:
			return -1
		}
		p.mark(f, at)
	}
	return 0
}
