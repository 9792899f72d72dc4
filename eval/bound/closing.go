package bound

import "math/big"

// closePoint records a box that is one exact point.
func (s *extremum) closePoint(b box, v ival) {
	at := s.point(b)
	if v.u {
		e := s.evaluate(len(s.code), at)[s.target()]
		if e.empty() {
			return
		}
		if !e.u {
			v = e.ival
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
		if v.rat == nil || v.u {
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
