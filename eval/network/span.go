package network

import (
	"math"
	"math/big"
)

// This file is the arithmetic of ranges whose ends are rounded outwards.

// span is a range. lo and hi are rounded outwards; an exact end is kept where
// it came unchanged from what is stated.
type span struct {
	lo, hi   float64
	low, top *big.Rat
}

func everything() span { return span{lo: math.Inf(-1), hi: math.Inf(1)} }

func nothing(s span) bool { return s.lo > s.hi }

func outwards(lo, hi float64) span {
	if math.IsNaN(lo) {
		lo = math.Inf(-1)
	}
	if math.IsNaN(hi) {
		hi = math.Inf(1)
	}
	return span{lo: math.Nextafter(lo, math.Inf(-1)), hi: math.Nextafter(hi, math.Inf(1))}
}

func (s span) plus(o span) span {
	out := outwards(s.lo+o.lo, s.hi+o.hi)
	switch { // exact ends stay exact
	case s.lo == 0:
		out.lo, out.low = o.lo, o.low
	case o.lo == 0:
		out.lo, out.low = s.lo, s.low
	case s.low != nil && o.low != nil:
		e := exactly(new(big.Rat).Add(s.low, o.low), nil)
		out.lo, out.low = e.lo, e.low
	}
	switch {
	case s.hi == 0:
		out.hi, out.top = o.hi, o.top
	case o.hi == 0:
		out.hi, out.top = s.hi, s.top
	case s.top != nil && o.top != nil:
		e := exactly(nil, new(big.Rat).Add(s.top, o.top))
		out.hi, out.top = e.hi, e.top
	}
	return out
}

func (s span) minus(o span) span { return s.plus(o.flip()) }

func (s span) flip() span {
	out := span{lo: -s.hi, hi: -s.lo}
	if s.top != nil {
		out.low = new(big.Rat).Neg(s.top)
	}
	if s.low != nil {
		out.top = new(big.Rat).Neg(s.low)
	}
	return out
}

// times multiplies by a resistance, which is not negative; 0 times infinity
// is anything.
func (s span) times(r span) span {
	if math.IsInf(r.hi, 1) && (s.lo != 0 || s.hi != 0) || r.lo < 0 {
		return everything()
	}
	lo, hi := math.Min(s.lo*r.lo, s.lo*r.hi), math.Max(s.hi*r.lo, s.hi*r.hi)
	return outwards(lo, hi)
}

// over divides by a resistance that is above 0; else nothing is known but the
// sign.
func (s span) over(r span) span {
	switch {
	case r.lo > 0:
		return outwards(math.Min(s.lo/r.lo, s.lo/r.hi), math.Max(s.hi/r.lo, s.hi/r.hi))
	case r.lo == 0 && s.lo > 0:
		return outwards(s.lo/r.hi, math.Inf(1))
	case r.lo == 0 && s.hi < 0:
		return outwards(math.Inf(-1), s.hi/r.hi)
	}
	return everything()
}

// meet is what lies in both; changed tells whether it is clearly less than s.
func (s span) meet(o span) (out span, changed bool) {
	out = s
	if o.lo > s.lo || o.lo == s.lo && o.low != nil && s.low == nil {
		out.lo, out.low = o.lo, o.low
	}
	if o.hi < s.hi || o.hi == s.hi && o.top != nil && s.top == nil {
		out.hi, out.top = o.hi, o.top
	}
	less := func(a, b float64) bool {
		return a != b && (math.IsInf(b, 0) || math.Abs(a-b) > 1e-9*(math.Abs(a)+math.Abs(b)))
	}
	return out, less(out.lo, s.lo) || less(out.hi, s.hi)
}

// exactly is the range between two exact ends, nil where there is none.
func exactly(low, top *big.Rat) span {
	s := everything()
	round := func(r *big.Rat, away float64) float64 {
		f, exact := r.Float64()
		if !exact {
			f = math.Nextafter(f, away)
		}
		return f
	}
	if low != nil {
		s.lo, s.low = round(low, math.Inf(-1)), low
	}
	if top != nil {
		s.hi, s.top = round(top, math.Inf(1)), top
	}
	return s
}

func n0() span { return span{low: zero, top: zero} }

// rats are the ends of a range as rationals, nil where there is none.
func (s span) rats() (lo, hi *big.Rat) {
	if lo = s.low; lo == nil && !math.IsInf(s.lo, 0) {
		lo = new(big.Rat).SetFloat64(s.lo)
	}
	if hi = s.top; hi == nil && !math.IsInf(s.hi, 0) {
		hi = new(big.Rat).SetFloat64(s.hi)
	}
	return lo, hi
}
