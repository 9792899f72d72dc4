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

func (h boxHeap) Len() int { return len(h) }

func (h boxHeap) Less(i, j int) bool { return h[i].bound < h[j].bound }

func (h boxHeap) Swap(i, j int) { h[i], h[j] = h[j], h[i] }

func (h *boxHeap) Push(b any) { *h = append(*h, b.(box)) }

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
	s.sample(b)
	b.bound = s.lower(a.over)
	if b.bound < s.best {
		heap.Push(&s.queue, b)
	}
	return width
}

// sample evaluates the middle.
func (s *extremum) sample(b box) {
	c := s.middleOf(b)
	s.run(c.x, s.rc)
	v := s.rc[s.target()]
	if c.free() == 0 && !v.u && !v.empty() {
		s.offer(s.upper(v), s.point(c))
	}
}

// offer records an attained value.
func (s *extremum) offer(value float64, at []*big.Rat) {
	if value < s.best {
		s.best, s.bestAt = value, at
	}
}
