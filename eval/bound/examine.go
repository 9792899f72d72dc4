package bound

import "math/big"

// examine evaluates a box, fixing inputs at their worse ends where that loses
// nothing, until that changes no more.
func (s *search) examine(b *box, out *found) state {
	for {
		s.run(b.x, s.r)
		v := s.r[s.root()]
		if v.surelyTrue() {
			return stateHolds
		}
		if v.surelyFalse() {
			out.counter = s.worstCorner(*b)
			return stateBreaks
		}
		if b.free() == 0 {
			return s.settlePoint(s.point(*b), out)
		}
		if v.empty() {
			return s.nothingThere(*b, out)
		}
		s.tighten(*b)
		v = s.judge()
		if v.surelyTrue() {
			return stateHolds
		}
		if v.surelyFalse() {
			out.counter = s.worstCorner(*b)
			return stateBreaks
		}
		if !s.pinWorst(b) {
			break
		}
	}
	b.bound = s.shortfall()
	return s.probe(b, out)
}

// nothingThere records a box no point of which has a value: there is nothing to
// look for inside.
func (s *search) nothingThere(b box, out *found) state {
	c := s.middleOf(b)
	if c.free() == 0 && (out.undefined == nil || out.undefined.At == nil) {
		s.settlePoint(s.point(c), out)
	}
	if out.undefined == nil {
		s.run(b.x, s.r)
		out.undefined = s.mayLack()
	}
	if out.undefined == nil {
		return stateOpen
	}
	return stateLacks
}

// settlePoint evaluates one exact point.
func (s *search) settlePoint(at []*big.Rat, out *found) state {
	values := s.evaluate(len(s.code), at)
	v := values[s.root()]
	switch {
	case v.surelyTrue():
		return stateHolds
	case v.surelyFalse():
		out.counter = at
		return stateBreaks
	case v.empty():
		if out.undefined == nil || out.undefined.At == nil {
			out.undefined = s.witness(s.root(), values, at)
		}
		return stateLacks
	}
	return stateTie
}

// judge evaluates the predicates again with the tightened ranges.
func (s *search) judge() ival {
	for k := range s.atoms {
		a := &s.atoms[k]
		s.r[a.d] = a.over
	}
	for i := range s.code {
		in := &s.code[i]
		switch in.op {
		case opSign:
			s.r[i] = signIs(s.r[in.a], in.n)
		case OpAnd:
			s.r[i] = and(s.r[in.a], s.r[in.b])
		case OpOr:
			s.r[i] = or(s.r[in.a], s.r[in.b])
		case OpIf:
			if predicate(&s.code[in.b]) {
				s.r[i] = choose(s.r[in.a], s.r[in.b], s.r[in.c])
			}
		}
	}
	return s.r[s.root()]
}

func predicate(in *instr) bool {
	switch in.op {
	case opSign, OpAnd, OpOr, OpTrue, opFalse, OpNot:
		return true
	}
	return false
}

// worstCorner names a point of a box all of which breaks: the worse ends where
// they are known.
func (s *search) worstCorner(b box) []*big.Rat {
	c := b.clone()
	n := len(b.x)
	s.run(b.x, s.r)
	for k := range s.atoms {
		a := &s.atoms[k]
		a.over = s.r[a.d]
		s.gradient(a.d, s.r, s.adj, s.grads[k*n:(k+1)*n])
	}
	for i := range c.x {
		if c.pins[i] != pinFree {
			continue
		}
		high, flat := s.leaning(i, n)
		if flat || !s.fix(&c, i, high) {
			s.fixAnywhere(&c, i)
		}
	}
	return s.point(c)
}

// leaning is worseEnd for a box all of which breaks.
func (s *search) leaning(i, n int) (high, flat bool) {
	sum := 0.0
	for k := range s.atoms {
		a, g := &s.atoms[k], s.grads[k*n+i]
		if a.over.u || a.side == 0 {
			continue
		}
		if g.lo >= 0 {
			sum += a.side
		}
		if g.hi <= 0 {
			sum -= a.side
		}
	}
	return sum < 0, sum == 0
}
