package bound

import (
	"container/heap"
	"math"
	"math/big"
)

// extremum seeks the lowest (side +1) or highest (side -1) value of a number,
// best bound first. Inside, values are turned so that the lowest is sought.
type extremum struct {
	*search
	side   float64
	spent  int
	queue  boxHeap
	best   float64 // some value is at most this
	bestAt []*big.Rat
	floor  float64 // nothing in closed boxes lies below
	finals []final
	open   bool // some closed box has no exact worst point
}

// final is an exact point that is the worst of its box.
type final struct {
	at    []*big.Rat
	lower float64
}

func newExtremum(c part, in []Input, side float64) *extremum {
	mask := int32(signPos)
	if side < 0 {
		mask = signNeg
	}
	s := newSearch(c.withSign(mask), in)
	s.atoms[0].force = true
	return &extremum{search: s, side: side, best: inf, floor: inf}
}

// target is the register sought.
func (s *extremum) target() int32 { return s.atoms[0].d }

// lower is the turned lower end of a range, upper its upper one.
func (s *extremum) lower(v ival) float64 {
	if s.side < 0 {
		return -v.hi
	}
	return v.lo
}

func (s *extremum) upper(v ival) float64 { return -s.lower(ival{lo: -v.hi, hi: -v.lo}) }

type boxHeap []box

func (h boxHeap) Len() int           { return len(h) }
func (h boxHeap) Less(i, j int) bool { return h[i].bound < h[j].bound }
func (h boxHeap) Swap(i, j int)      { h[i], h[j] = h[j], h[i] }
func (h *boxHeap) Push(b any)        { *h = append(*h, b.(box)) }
func (h *boxHeap) Pop() any {
	last := len(*h) - 1
	b := (*h)[last]
	*h = (*h)[:last]
	return b
}

// seek finds the end within a budget of boxes.
func (s *extremum) seek(limit int) extreme {
	b := newBox(s.in)
	scale := s.visit(b)
	for s.queue.Len() > 0 {
		top := s.queue[0].bound
		if s.spent >= limit || top >= s.best-s.tolerance(scale) || s.best < -1e290 {
			break
		}
		b := heap.Pop(&s.queue).(box)
		low, high, ok := s.divideAgain(b)
		if !ok {
			s.close(b.bound, nil)
			continue
		}
		s.visit(low)
		s.visit(high)
	}
	return s.result()
}

// divideAgain splits the input that moves the number most over the box.
func (s *extremum) divideAgain(b box) (low, high box, ok bool) {
	s.run(b.x, s.r)
	a := &s.atoms[0]
	a.over = s.r[a.d]
	if !a.over.u {
		s.gradient(a.d, s.r, s.adj, s.grads)
	}
	return s.divide(b)
}

// tolerance is the gap at which an end counts as found.
func (s *extremum) tolerance(scale float64) float64 {
	t := 1e-12 * math.Abs(s.best)
	if scale < inf {
		t += 1e-16 * scale
	}
	return t
}

// visit bounds a box and queues or closes it. It returns the width of the
// number over it.
func (s *extremum) visit(b box) float64 {
	s.spent++
	a := &s.atoms[0]
	for {
		s.run(b.x, s.r)
		v := s.r[a.d]
		if v.empty() {
			return 0
		}
		if b.free() == 0 {
			s.closePoint(b, v)
			return 0
		}
		s.tighten(b)
		if s.lower(a.over) >= s.best {
			return 0
		}
		if !s.pinWorst(&b) {
			break
		}
	}
	width := a.over.hi - a.over.lo
	if s.sample(b) && s.closeConvex(b) {
		return width
	}
	b.bound = s.lower(a.over)
	if b.bound < s.best {
		heap.Push(&s.queue, b)
	}
	return width
}

// sample evaluates the middle; it tells whether the number is defined all over
// the box.
func (s *extremum) sample(b box) bool {
	c := b.clone()
	for i := range c.x {
		if c.pins[i] == pinFree {
			s.fixInside(&c, i)
		}
	}
	s.run(c.x, s.rc)
	v := s.rc[s.target()]
	if c.free() == 0 && !v.u && !v.empty() {
		s.offer(s.upper(v), s.point(c))
	}
	return !s.atoms[0].over.u
}

// offer records an attained value.
func (s *extremum) offer(value float64, at []*big.Rat) {
	if value < s.best {
		s.best, s.bestAt = value, at
	}
}

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
	for _, snapped := range s.snaps(b, at, coords) {
		if s.exactlyCritical(b, a, snapped, coords) {
			v := s.evaluate(int(a.d)+1, snapped)[a.d]
			if v.none || v.doubtful {
				continue
			}
			lo, hi := v.enclosure().ends()
			s.offer(s.upper(ival{lo: lo, hi: hi}), snapped)
			s.close(s.lower(ival{lo: lo, hi: hi}), snapped)
			return true
		}
	}
	return s.closeTangent(b, a, at, coords)
}

// closeTangent bounds a convex number by its tangent plane near the critical
// point and closes the box if that is tight enough.
func (s *extremum) closeTangent(b box, a *atom, at []float64, coords []int) bool {
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

// settleExact compares the exact worst points of all boxes that matter.
func (s *extremum) settleExact(e *extreme) {
	n := 0
	for _, f := range s.finals {
		if f.lower > s.best {
			continue
		}
		if n++; n > 16 {
			return
		}
		v := s.evaluate(int(s.target())+1, f.at)[s.target()]
		if v.rat == nil || v.doubtful || v.none {
			e.exact = nil
			return
		}
		if e.exact == nil || s.side > 0 && v.rat.Cmp(e.exact) < 0 || s.side < 0 && v.rat.Cmp(e.exact) > 0 {
			e.exact, e.at = v.rat, f.at
		}
	}
	if e.exact == nil {
		return
	}
	lo, hi := ratEnds(e.exact)
	e.outer, e.inner = s.lower(ival{lo: lo, hi: hi}), s.upper(ival{lo: lo, hi: hi})
}
