package bound

import (
	"math/big"
	"slices"
)

// probe looks for a breaking point inside a box that is still open.
func (s *search) probe(b *box, out *found) state {
	if b.depth == 0 {
		for _, p := range s.points {
			if s.inside(*b, p) && s.settlePoint(p, out) == stateBreaks {
				return stateBreaks
			}
		}
	}
	if s.tryMiddle(*b, out) == stateBreaks {
		return stateBreaks
	}
	if b.depth%4 == 0 && s.tryCorner(*b, out) == stateBreaks {
		return stateBreaks
	}
	if k := s.onlyAtom(); k >= 0 && s.atoms[k].side == 0 {
		return s.probeCrossing(*b, k, out)
	}
	return stateOpen
}

// tryMiddle evaluates the middle of a box.
func (s *search) tryMiddle(b box, out *found) state {
	c := s.middleOf(b)
	s.run(c.x, s.rc)
	v := s.rc[s.root()]
	if v.surelyFalse() {
		out.counter = s.point(c)
		return stateBreaks
	}
	if v.empty() && c.free() == 0 {
		return s.settlePoint(s.point(c), out)
	}
	return stateOpen
}

// cornerSteps is how often the slopes are asked again at the corner they led to.
const cornerSteps = 3

// tryCorner goes from the middle, whose values are in rc, to the corner to which
// the slopes lead, and on from there.
func (s *search) tryCorner(b box, out *found) state {
	g := make([]ival, len(b.x))
	for range cornerSteps {
		slope := make([]float64, len(b.x))
		for k := range s.atoms {
			a := &s.atoms[k]
			if v := s.rc[a.d]; v.u || v.empty() || !a.undecided() {
				continue
			}
			s.gradient(a.d, s.rc, s.adj, g)
			for i := range g {
				slope[i] += a.side * (g[i].lo/2 + g[i].hi/2)
			}
		}
		c := b.clone()
		for i := range c.x {
			if c.pins[i] == pinFree && !s.fix(&c, i, slope[i] < 0) {
				s.fixInside(&c, i)
			}
		}
		s.run(c.x, s.rc)
		if s.rc[s.root()].surelyFalse() {
			out.counter = s.point(c)
			return stateBreaks
		}
	}
	return stateOpen
}

// onlyAtom is the place of the single undecided statement of a box, -1 where there
// is none, more than one, or one that may have no value somewhere in it.
func (s *search) onlyAtom() int {
	only := -1
	for k := range s.atoms {
		a := &s.atoms[k]
		if !a.undecided() {
			continue
		}
		if only >= 0 || a.over.u {
			return -1
		}
		only = k
	}
	return only
}

// low and high are the exact ends of input i in a box, nil where unbounded.
func (s *area) low(b box, i int) *big.Rat {
	if b.x[i].lo == s.top[i].lo {
		return s.in[i].Lo
	}
	return new(big.Rat).SetFloat64(b.x[i].lo)
}

func (s *area) high(b box, i int) *big.Rat {
	if b.x[i].hi == s.top[i].hi {
		return s.in[i].Hi
	}
	return new(big.Rat).SetFloat64(b.x[i].hi)
}

// inside tells whether an exact point lies in a box.
func (s *area) inside(b box, at []*big.Rat) bool {
	if slices.Contains(at, nil) {
		return false
	}
	for i := range b.x {
		if b.pins[i] != pinFree {
			if s.exactly(b, i).Cmp(at[i]) != 0 {
				return false
			}
			continue
		}
		if lo := s.low(b, i); lo != nil && at[i].Cmp(lo) < 0 {
			return false
		}
		if hi := s.high(b, i); hi != nil && at[i].Cmp(hi) > 0 {
			return false
		}
	}
	return true
}
