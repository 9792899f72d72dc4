package bound

import (
	"math"
	"math/big"
)

// pin tells how an input is fixed in a box.
type pin uint8

const (
	pinFree pin = iota
	pinLo       // exactly at Input.Lo
	pinHi       // exactly at Input.Hi
	pinAt       // exactly at the float64 x.lo = x.hi
)

// box is a part of the set searched.
type box struct {
	x     []ival
	pins  []pin
	depth int
	bound float64 // how far below its limit the nearest comparison may lie, or a lower bound of the number sought
}

func newBox(in []Input) box {
	b := box{x: wideBox(in), pins: make([]pin, len(in))}
	for i := range in {
		if in[i].Lo != nil && in[i].Hi != nil && (b.x[i].thin() || in[i].Lo.Cmp(in[i].Hi) == 0) {
			b.pins[i] = pinLo
		}
	}
	return b
}

func (b box) clone() box {
	c := b
	c.x = append(make([]ival, 0, len(b.x)), b.x...)
	c.pins = append(make([]pin, 0, len(b.pins)), b.pins...)
	return c
}

func (b box) free() int {
	n := 0
	for _, p := range b.pins {
		if p == pinFree {
			n++
		}
	}
	return n
}

// area is the set searched: the inputs and their outward float64 ranges.
type area struct {
	in  []Input
	top []ival
}

// fix puts input i of a box exactly at its low or high end; it fails at an
// end that is unbounded.
func (s *area) fix(b *box, i int, high bool) bool {
	x, t := b.x[i], s.top[i]
	switch {
	case high && x.hi == t.hi:
		if s.in[i].Hi == nil {
			return false
		}
		lo, hi := ratEnds(s.in[i].Hi)
		b.x[i], b.pins[i] = ival{lo: lo, hi: hi}, pinHi
	case !high && x.lo == t.lo:
		if s.in[i].Lo == nil {
			return false
		}
		lo, hi := ratEnds(s.in[i].Lo)
		b.x[i], b.pins[i] = ival{lo: lo, hi: hi}, pinLo
	case high:
		b.x[i], b.pins[i] = ival{lo: x.hi, hi: x.hi}, pinAt
	default:
		b.x[i], b.pins[i] = ival{lo: x.lo, hi: x.lo}, pinAt
	}
	return true
}

// fixInside puts input i exactly at its middle.
func (s *area) fixInside(b *box, i int) {
	if m, ok := middle(b.x[i]); ok {
		b.x[i], b.pins[i] = ival{lo: m, hi: m}, pinAt
		return
	}
	if !s.fix(b, i, false) {
		s.fix(b, i, true)
	}
}

// middleOf is the box with every free input exactly at its middle.
func (s *area) middleOf(b box) box {
	c := b.clone()
	for i := range c.x {
		if c.pins[i] == pinFree {
			s.fixInside(&c, i)
		}
	}
	return c
}

// exactly is the exact value of input i in a box where it is pinned, or the low
// end of a free one.
func (s *area) exactly(b box, i int) *big.Rat {
	switch b.pins[i] {
	case pinLo:
		return s.in[i].Lo
	case pinHi:
		return s.in[i].Hi
	case pinAt:
		return new(big.Rat).SetFloat64(b.x[i].lo)
	}
	return nil
}

// point gives the exact inputs of a box that is pinned everywhere.
func (s *area) point(b box) []*big.Rat {
	out := make([]*big.Rat, len(b.x))
	for i := range out {
		out[i] = s.exactly(b, i)
	}
	return out
}

// middle is a float64 strictly inside a, halving the width, or the number of
// float64 values where the ends are of very different size. ok is false if
// there is none.
func middle(a ival) (m float64, ok bool) {
	switch {
	case a.lo < 0 && a.hi > 0 && (math.IsInf(a.lo, 0) || math.IsInf(a.hi, 0)):
		m = 0
	case a.lo == -inf:
		m = -middleUp(-a.hi)
	case a.hi == inf:
		m = middleUp(a.lo)
	default:
		m = a.lo/2 + a.hi/2
		if a.lo > 0 && a.hi > 256*a.lo {
			m = math.Sqrt(a.lo) * math.Sqrt(a.hi)
		}
		if a.hi < 0 && a.lo < 256*a.hi {
			m = -math.Sqrt(-a.lo) * math.Sqrt(-a.hi)
		}
	}
	return m, a.lo < m && m < a.hi
}

// middleUp is a point above x that runs to the end of the numbers in few steps.
func middleUp(x float64) float64 {
	switch {
	case x < 1:
		return max(1, 2*x)
	case x < 1e10:
		return 1e3 * x
	}
	return math.Sqrt(x) * math.Sqrt(math.MaxFloat64)
}

// split halves input i; ok is false if it holds no further float64.
func (b box) split(i int) (low, high box, ok bool) {
	m, ok := middle(b.x[i])
	if !ok {
		return b, b, false
	}
	low, high = b, b.clone()
	low.x[i].hi, high.x[i].lo = m, m
	low.depth++
	high.depth = low.depth
	return low, high, true
}
