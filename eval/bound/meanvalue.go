package bound

import (
	"math"
	"math/big"
)

// undecided tells whether the statement of an atom is open over its range.
func (a *atom) undecided() bool {
	if a.force {
		return true
	}
	v := signIs(a.over, a.mask)
	return v.lo != v.hi || v.u
}

// tighten computes derivatives for every undecided atom and narrows its range
// by the mean value form.
func (s *search) tighten(b box) {
	n := len(b.x)
	for k := range s.atoms {
		a := &s.atoms[k]
		a.over = s.r[a.d]
		if a.over.u || !a.undecided() {
			continue
		}
		g := s.grads[k*n : (k+1)*n]
		s.gradient(a.d, s.r, s.adj, g)
	}
	for k := range s.atoms {
		a := &s.atoms[k]
		if a.over.u || !a.undecided() {
			continue
		}
		s.meanValue(a, b, s.grads[k*n:(k+1)*n])
	}
}

// meanValue narrows an atom's range by d(c) + Σ g·(x - c), with the middle c
// chosen for the worse side.
func (s *search) meanValue(a *atom, b box, g []ival) {
	for _, low := range [2]bool{true, false} {
		if (low && a.side < 0) || (!low && a.side > 0) {
			continue
		}
		c, ok := s.centres(b, g, low)
		if !ok {
			return
		}
		s.run(c, s.rc)
		v := s.rc[a.d]
		if v.u || v.empty() {
			return
		}
		for i := range g {
			if b.pins[i] == pinFree {
				v = add(v, mul(g[i], sub(b.x[i], c[i])))
			}
		}
		a.narrow(v)
	}
}

// centres picks the point at which the mean value form bounds best from below
// or above (Baumann's centre).
func (s *search) centres(b box, g []ival, low bool) ([]ival, bool) {
	c := make([]ival, len(b.x))
	for i, x := range b.x {
		if b.pins[i] != pinFree {
			c[i] = x
			continue
		}
		d := g[i]
		if !low {
			d = neg(d)
		}
		m, ok := bestCentre(x, d)
		if !ok {
			return nil, false
		}
		c[i] = s.around(i, m)
	}
	return c, true
}

// around encloses the point of input i that a float64 stands for: the range's
// own end where the float64 is that end rounded outward, which itself lies
// outside the set, perhaps where an operation has no value.
func (s *area) around(i int, m float64) ival {
	end := (*big.Rat)(nil)
	switch {
	case m == s.top[i].lo:
		end = s.in[i].Lo
	case m == s.top[i].hi:
		end = s.in[i].Hi
	}
	if end == nil {
		return ival{lo: m, hi: m}
	}
	lo, hi := ratEnds(end)
	return ival{lo: lo, hi: hi}
}

func bestCentre(x, d ival) (float64, bool) {
	m := x.lo/2 + x.hi/2
	switch {
	case d.lo >= 0:
		m = x.lo
	case d.hi <= 0:
		m = x.hi
	case d.hi-d.lo < inf && x.hi-x.lo < inf:
		m = x.lo + (-d.lo/(d.hi-d.lo))*(x.hi-x.lo)
	}
	if math.IsInf(m, 0) || math.IsNaN(m) {
		return 0, false
	}
	return min(max(m, x.lo), x.hi), true
}

// shortfall is how far below their limits the undecided atoms may lie.
func (s *search) shortfall() float64 {
	worst := inf
	for k := range s.atoms {
		a := &s.atoms[k]
		if !a.undecided() {
			continue
		}
		low := a.over.lo
		if a.side < 0 {
			low = -a.over.hi
		}
		if a.side == 0 {
			low = min(low, -a.over.hi)
		}
		worst = min(worst, low)
	}
	return worst
}

// narrow keeps what two bounds of the same set have in common.
func (a *atom) narrow(v ival) {
	if v.lo > a.over.lo {
		a.over.lo = min(v.lo, a.over.hi)
	}
	if v.hi < a.over.hi {
		a.over.hi = max(v.hi, a.over.lo)
	}
}
