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
	if a := s.onlyAtom(); a != nil && a.side == 0 {
		return s.probeCrossing(*b, a, out)
	}
	return stateOpen
}

// tryMiddle evaluates the middle of a box.
func (s *search) tryMiddle(b box, out *found) state {
	c := b.clone()
	for i := range c.x {
		if c.pins[i] == pinFree {
			s.fixInside(&c, i)
		}
	}
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

// onlyAtom is the single undecided statement of a box, if there is one and it
// has a value everywhere in it.
func (s *search) onlyAtom() *atom {
	var only *atom
	for k := range s.atoms {
		a := &s.atoms[k]
		if !a.undecided() {
			continue
		}
		if only != nil || a.over.u {
			return nil
		}
		only = a
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

// snap is a short number within a relative tol of x inside the box, or the
// box's end if x lies on it.
func (s *area) snap(b box, i int, x, tol float64, short func(lo, hi *big.Rat) *big.Rat) *big.Rat {
	lo, hi := s.low(b, i), s.high(b, i)
	if x <= b.x[i].lo && lo != nil {
		return lo
	}
	if x >= b.x[i].hi && hi != nil {
		return hi
	}
	scale := max(abs(ival{lo: x, hi: x}).hi, min(b.x[i].hi-b.x[i].lo, 1)*1e-3)
	from := new(big.Rat).SetFloat64(x - tol*scale)
	to := new(big.Rat).SetFloat64(x + tol*scale)
	if from == nil || to == nil {
		return new(big.Rat).SetFloat64(x)
	}
	if lo != nil && from.Cmp(lo) < 0 {
		from = lo
	}
	if hi != nil && to.Cmp(hi) > 0 {
		to = hi
	}
	if from.Cmp(to) >= 0 {
		return from
	}
	return short(from, to)
}
