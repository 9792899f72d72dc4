package bound

import (
	"math/big"
	"slices"
)

// beyond is a number or an end without bound: inf is its sign then, else 0.
type beyond struct {
	rat *big.Rat
	inf int
}

func (x beyond) sign() int {
	if x.inf != 0 {
		return x.inf
	}
	return x.rat.Sign()
}

func (x beyond) neg() beyond {
	if x.inf != 0 {
		return beyond{inf: -x.inf}
	}
	return beyond{rat: new(big.Rat).Neg(x.rat)}
}

func (x beyond) cmp(y beyond) int {
	if x.inf != 0 || y.inf != 0 {
		return x.inf - y.inf
	}
	return x.rat.Cmp(y.rat)
}

// byEnds proves a statement, or one side of an `or`, by signs and by limits.
func (s *search) byEnds() bool {
	if s.bySigns() || s.atInfinity() {
		return true
	}
	root := s.code[s.root()]
	if root.op != OpOr || !s.endless() {
		return false
	}
	for _, side := range [2]int32{root.a, root.b} {
		c := s.cut(side, false)
		t := newSearch(c, pick(s.in, c.from))
		var f found
		if t.assure(hopelessBoxes, 0, &f); t.byEnds() {
			return true
		}
	}
	return false
}

// endless tells that some input has no end on a side.
func (s *search) endless() bool {
	return slices.ContainsFunc(s.in, func(x Input) bool { return x.Lo == nil || x.Hi == nil })
}

// atInfinity proves a one-sided statement about a number that is monotone in
// every input and worst where some of them have no end, by its limit there. The
// number may come as near to its limit as one likes and never be worse, so a
// tie with it proves a statement that allows equality.
func (s *search) atInfinity() bool {
	root := s.code[s.root()]
	if !s.endless() || len(s.atoms) != 1 || root.op != opSign || s.atoms[0].side == 0 {
		return false
	}
	s.run(s.top, s.r)
	a := &s.atoms[0]
	if s.r[a.d].u {
		return false
	}
	s.gradient(a.d, s.r, s.adj, s.grads)
	at, far := make([]beyond, len(s.in)), false
	for i, g := range s.grads[:len(s.in)] {
		in, high := &s.in[i], g.hi <= 0
		if g.lo < 0 && g.hi > 0 {
			return false
		}
		if a.side < 0 {
			high = !high
		}
		end, inf := in.Lo, -1
		if high {
			end, inf = in.Hi, 1
		}
		switch {
		case end != nil:
			at[i].rat = end
		case g.lo == 0 && g.hi == 0:
			if at[i].rat = in.Lo; at[i].rat == nil {
				at[i].rat = in.Hi
			}
			if at[i].rat == nil {
				at[i].rat = new(big.Rat)
			}
		default:
			at[i].inf, far = inf, true
		}
	}
	if !far {
		return false
	}
	v, ok := s.limit(a.d, at)
	return ok && int32(1)<<(v.sign()+1)&^root.n == 0
}

// limit is where a register tends as the inputs tend to a point; ok is false
// where that is not plain.
func (p *Program) limit(at int32, x []beyond) (v beyond, ok bool) {
	values := make([]beyond, at+1)
	for i := range values {
		in := &p.code[i]
		switch in.op {
		case OpConst:
			values[i], ok = beyond{rat: p.rat(*in)}, true
		case OpVar:
			values[i], ok = x[in.n], true
		default:
			values[i], ok = limitOf(in, values[in.a], values[in.b])
		}
		if !ok {
			return v, false
		}
	}
	return values[at], true
}

func limitOf(in *instr, a, b beyond) (v beyond, ok bool) {
	if twoOperands(in.op) && a.inf == 0 && b.inf == 0 {
		r, status := ratBinary(in.op, a.rat, b.rat)
		return beyond{rat: r}, status == ratOK
	}
	switch in.op {
	case OpNeg:
		return a.neg(), true
	case OpAbs:
		if a.sign() < 0 {
			return a.neg(), true
		}
		return a, true
	case OpSqrt:
		if a.inf != 0 {
			return a, a.inf > 0
		}
		r, status := ratSqrt(a.rat)
		return beyond{rat: r}, status == ratOK
	case OpSub:
		b = b.neg()
		fallthrough
	case OpAdd:
		if a.inf == 0 {
			a, b = b, a
		}
		return a, b.inf != -a.inf
	case OpMul:
		sign := a.sign() * b.sign()
		return beyond{inf: sign}, sign != 0
	case OpDiv:
		if a.inf == 0 {
			return beyond{rat: new(big.Rat)}, true
		}
		sign := a.sign() * b.sign()
		return beyond{inf: sign}, sign != 0 && b.inf == 0
	case OpMin, OpMax:
		if (a.cmp(b) > 0) == (in.op == OpMax) {
			return a, true
		}
		return b, true
	}
	return v, false
}
