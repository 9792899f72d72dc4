package bound

import (
	"iter"
	"math/big"
	"slices"
)

// probe looks for a breaking point inside a box that is still open, and tries
// to close the box by convexity round a critical point.
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
	a := s.onlyAtom()
	switch {
	case a == nil:
		return stateOpen
	case a.side == 0:
		return s.probeCrossing(*b, a, out)
	case b.free() > 8:
		return stateOpen
	}
	return s.probeCritical(*b, a, out)
}

// mostPoints is how many points near a limit a search keeps: each is looked for
// in every box, and where a limit is met along a line they would have no end.
const mostPoints = 16

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

// freeInputs lists the inputs of a box that are not pinned.
func (b box) freeInputs() []int {
	var free []int
	for i, p := range b.pins {
		if p == pinFree {
			free = append(free, i)
		}
	}
	return free
}

// probeCritical seeks the worst point of the one open statement in a box. If it
// breaks there, that is a breaking point; if not, and the difference is convex
// over the box, the box holds.
func (s *search) probeCritical(b box, a *atom, out *found) state {
	coords := b.freeInputs()
	known := slices.IndexFunc(s.points, func(p []*big.Rat) bool { return s.inside(b, p) })
	if known < 0 && b.depth%4 != 0 && b.depth > 4 {
		return stateOpen
	}
	j := newJets(s.Program, len(s.in), coords)
	row := j.over(b.x, a.d)
	if !j.failed && b.depth >= taylorDepth {
		if v, ok := s.taylor(j, b, a, row, coords); ok {
			a.narrow(v)
		}
		if v := s.judge(); v.surelyTrue() {
			return stateHolds
		}
	}
	convex := !j.failed && semidefinite(len(coords), func(i, l int) ival {
		if a.side < 0 {
			return neg(row[j.pair(i, l)])
		}
		return row[j.pair(i, l)]
	})
	if !convex && (known >= 0 || len(s.points) >= mostPoints) {
		return stateOpen
	}
	at, ok := s.descend(j, b, a, coords)
	if !ok {
		return stateOpen
	}
	if convex && s.tangentHolds(b, a, at, coords) {
		return stateHolds
	}
	for snapped := range s.snaps(b, at, coords) {
		out.boxes++ // an exact point costs more than a box
		st := s.settlePoint(snapped, out)
		if st == stateBreaks {
			return st
		}
		if convex && st == stateHolds && s.exactlyCritical(b, a, snapped, coords) {
			return stateHolds
		}
		if st == stateHolds && known < 0 && len(s.points) < mostPoints {
			s.points = append(s.points, snapped)
			known = len(s.points) - 1
		}
	}
	return stateOpen
}

// tangentHolds bounds a convex difference by its tangent plane at a point.
func (s *search) tangentHolds(b box, a *atom, at []float64, coords []int) bool {
	bound, value := s.tangent(b, a, at, coords)
	if value.u || value.empty() {
		return false
	}
	if a.side > 0 {
		bound.hi = inf
	} else {
		bound.lo = -inf
	}
	return signIs(bound, a.mask).surelyTrue()
}

// tangent bounds a difference that is convex over the box (concave for the
// other side) by its tangent plane at a point; value is the one there.
func (s *search) tangent(b box, a *atom, at []float64, coords []int) (bound, value ival) {
	c := slices.Clone(b.x)
	for k, i := range coords {
		c[i] = s.around(i, at[k])
	}
	s.run(c, s.rc)
	value = s.rc[a.d]
	if value.u || value.empty() {
		return entireIval, value
	}
	g := make([]ival, len(s.in))
	s.gradient(a.d, s.rc, s.adj, g)
	bound = value
	for _, i := range coords {
		bound = add(bound, mul(g[i], sub(b.x[i], c[i])))
	}
	return bound, value
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

// snaps are exact points of short numbers near a float64 point of a box, the
// shortest first. Each is worked out when it is asked for.
func (s *area) snaps(b box, at []float64, coords []int) iter.Seq[[]*big.Rat] {
	return func(yield func([]*big.Rat) bool) {
		var seen [][]*big.Rat
		for _, tol := range [4]float64{1e-4, 1e-7, 1e-10, 1e-13} {
			for _, short := range [2]func(lo, hi *big.Rat) *big.Rat{shortestDecimal, simplest} {
				point := s.point(b)
				for k, i := range coords {
					point[i] = s.snap(b, i, at[k], tol, short)
				}
				if slices.ContainsFunc(seen, func(p []*big.Rat) bool { return samePoint(p, point) }) {
					continue
				}
				seen = append(seen, point)
				if !yield(point) {
					return
				}
			}
		}
	}
}

func samePoint(a, b []*big.Rat) bool {
	return slices.EqualFunc(a, b, func(x, y *big.Rat) bool { return x == y || x != nil && y != nil && x.Cmp(y) == 0 })
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
