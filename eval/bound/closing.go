package bound

import "math/big"

// closePoint records a box that is one exact point.
func (s *extremum) closePoint(b box, v ival) {
	at := s.point(b)
	if v.u {
		values := s.evaluate(len(s.code), at)
		e := values[s.target()]
		if e.none {
			return
		}
		if !e.doubtful {
			lo, hi := e.enclosure().ends()
			v = ival{lo: lo, hi: hi}
		}
	}
	if !v.u {
		s.offer(s.upper(v), at)
	}
	s.close(s.lower(v), at)
}

// close records a box whose values reach down to lower at most; at is its
// exact worst point, if known.
func (s *extremum) close(lower float64, at []*big.Rat) {
	s.floor = min(s.floor, lower)
	if at == nil {
		s.open = true
		return
	}
	s.finals = append(s.finals, final{at, lower})
}

// taylorDepth is the number of halvings after which second-order bounds pay.
const taylorDepth = 4

// closeConvex closes a box over which the number is convex, by its critical
// point or, short of that, by a tangent plane.
func (s *extremum) closeConvex(b box) bool {
	coords := b.freeInputs()
	if len(coords) > 8 || b.depth < taylorDepth && b.depth%2 != 0 {
		return false
	}
	a := &s.atoms[0]
	j := newJets(s.Program, len(s.in), coords)
	row := j.over(b.x, a.d)
	if j.failed {
		return false
	}
	if b.depth >= taylorDepth {
		if v, ok := s.taylor(j, b, a, row, coords); ok {
			a.narrow(v)
		}
		if s.lower(a.over) >= s.best {
			return true
		}
	}
	if !semidefinite(len(coords), func(i, l int) ival {
		if a.side < 0 {
			return neg(row[j.pair(i, l)])
		}
		return row[j.pair(i, l)]
	}) {
		return false
	}
	at, ok := s.descend(j, b, a, coords)
	if !ok {
		return false
	}
	return s.closeNear(b, a, at, coords)
}

// closeNear bounds a convex number by its tangent plane near the critical point
// and closes the box if that is tight enough: by the critical point itself where
// that is a short number.
func (s *extremum) closeNear(b box, a *atom, at []float64, coords []int) bool {
	bound, value := s.tangent(b, a, at, coords)
	lower := s.lower(bound)
	point := s.point(b)
	for k, i := range coords {
		point[i] = s.exactInside(b, i, at[k])
	}
	if !value.u && !value.empty() {
		if v := s.evaluate(int(a.d)+1, point)[a.d]; !v.none && !v.doubtful {
			lo, hi := v.enclosure().ends()
			s.offer(s.upper(ival{lo: lo, hi: hi}), point)
		}
	}
	if lower >= s.best {
		return true
	}
	if lower < s.best-s.tolerance(0) {
		return false
	}
	for snapped := range s.snaps(b, at, coords) {
		if !s.exactlyCritical(b, a, snapped, coords) {
			continue
		}
		if v := s.evaluate(int(a.d)+1, snapped)[a.d]; !v.none && !v.doubtful {
			lo, hi := v.enclosure().ends()
			s.offer(s.upper(ival{lo: lo, hi: hi}), snapped)
			s.close(s.lower(ival{lo: lo, hi: hi}), snapped)
			return true
		}
	}
	s.close(lower, nil)
	return true
}

// exactInside is the exact value of a float64 in the range of input i: the
// range's own end where the float64 is that end rounded outward.
func (s *area) exactInside(b box, i int, x float64) *big.Rat {
	r := new(big.Rat).SetFloat64(x)
	if lo := s.low(b, i); lo != nil && r.Cmp(lo) < 0 {
		return lo
	}
	if hi := s.high(b, i); hi != nil && r.Cmp(hi) > 0 {
		return hi
	}
	return r
}

// result sums up what is closed and what is left.
func (s *extremum) result() extreme {
	outer := s.floor
	left := false
	for i := range s.queue {
		if s.queue[i].bound < s.best {
			left = true
			outer = min(outer, s.queue[i].bound)
		}
	}
	outer = min(outer, s.best)
	if s.best < -1e290 {
		outer = -inf
	}
	e := extreme{outer: outer, inner: s.best, at: s.bestAt}
	if !left && !s.open {
		s.settleExact(&e)
	}
	if s.side < 0 {
		e.outer, e.inner = -e.outer, -e.inner
	}
	return e
}

// settleExact compares the exact worst points of all boxes that matter. Boxes
// that were dropped hold nothing below the best value, which was attained at a
// point of its own.
func (s *extremum) settleExact(e *extreme) {
	points := [][]*big.Rat{}
	for _, f := range s.finals {
		if f.lower <= s.best {
			points = append(points, f.at)
		}
	}
	if len(points) == 0 || len(points) > 16 {
		return
	}
	if s.bestAt != nil {
		points = append(points, s.bestAt)
	}
	var exact *big.Rat
	var at []*big.Rat
	for _, x := range points {
		v := s.evaluate(int(s.target())+1, x)[s.target()]
		if v.rat == nil || v.doubtful || v.none {
			return
		}
		if exact == nil || s.side > 0 && v.rat.Cmp(exact) < 0 || s.side < 0 && v.rat.Cmp(exact) > 0 {
			exact, at = v.rat, x
		}
	}
	lo, hi := ratEnds(exact)
	e.exact, e.at = exact, at
	e.outer, e.inner = s.lower(ival{lo: lo, hi: hi}), s.upper(ival{lo: lo, hi: hi})
}
