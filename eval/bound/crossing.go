package bound

import (
	"math"
	"math/big"
)

// probeCrossing serves a statement that a difference is not 0. Where the
// difference changes its sign along one input it is 0 in between: at a short
// number if one fits, which is then a breaking point, else at one that has no
// such name, and the search can end.
func (s *search) probeCrossing(b box, a *atom, out *found) state {
	if a.mask&signZero != 0 || b.depth%4 != 0 && b.depth > 2 {
		return stateOpen
	}
	n := len(b.x)
	k := s.indexOf(a)
	c := b.clone()
	for i := range c.x {
		if c.pins[i] == pinFree {
			s.fixInside(&c, i)
		}
	}
	for i := range b.x {
		g := s.grads[k*n+i]
		if b.pins[i] != pinFree || math.IsInf(g.lo, 0) || math.IsInf(g.hi, 0) || math.IsInf(b.x[i].hi-b.x[i].lo, 0) {
			continue
		}
		if st := s.crossAlong(b, c, i, a, out); st != stateOpen {
			return st
		}
	}
	return stateOpen
}

func (s *search) indexOf(a *atom) int {
	for k := range s.atoms {
		if &s.atoms[k] == a {
			return k
		}
	}
	return -1
}

// crossAlong bisects the sign change along input i, the others fixed as in c.
func (s *search) crossAlong(b, c box, i int, a *atom, out *found) state {
	was := c.x[i]
	defer func() { c.x[i] = was }()
	sign := func(x float64) int {
		c.x[i] = ival{lo: x, hi: x}
		s.run(c.x, s.rc)
		switch v := s.rc[a.d]; {
		case v.u || v.empty():
			return 2
		case v.lo > 0:
			return 1
		case v.hi < 0:
			return -1
		}
		return 0
	}
	lo, hi := nextUp(b.x[i].lo), nextDown(b.x[i].hi)
	from, to := sign(lo), sign(hi)
	if from*to != -1 {
		return stateOpen
	}
	for range 2100 {
		m, ok := middle(ival{lo: lo, hi: hi})
		if !ok {
			break
		}
		switch sign(m) {
		case from:
			lo = m
		case to:
			hi = m
		default:
			lo, hi = m, m
		}
	}
	if st := s.nameCrossing(b, c, i, lo, hi, out); st != stateOpen {
		return st
	}
	out.crossed = true
	return stateTie
}

// nameCrossing tries short numbers round the place where the sign changes.
func (s *search) nameCrossing(b, c box, i int, lo, hi float64, out *found) state {
	for _, tol := range [3]float64{1e-15, 1e-12, 1e-9} {
		for _, short := range [2]func(lo, hi *big.Rat) *big.Rat{shortestDecimal, simplest} {
			at := s.point(c)
			at[i] = s.snap(b, i, lo/2+hi/2, tol, short)
			if st := s.settlePoint(at, out); st == stateBreaks {
				return st
			}
		}
	}
	return stateOpen
}
