package bound

import (
	"math/big"
)

// ival is the set of values of one register over a box: all reals from lo to
// hi, an infinite end meaning that there is no bound, never that infinity is
// reached. u tells that some point of the box may have no value. lo > hi: no
// point has a value. Predicates use the ends 0 (false) and 1 (true).
type ival struct {
	lo, hi float64
	u      bool
}

var (
	emptyIval  = ival{lo: inf, hi: -inf, u: true}
	entireIval = ival{lo: -inf, hi: inf}
	trueIval   = ival{lo: 1, hi: 1}
	falseIval  = ival{}
)

func ivalOfRat(r *big.Rat) ival {
	lo, hi := ratEnds(r)
	return ival{lo: lo, hi: hi}
}

func (a ival) empty() bool { return a.lo > a.hi }
func (a ival) thin() bool  { return a.lo == a.hi }

// has tells whether x lies in a.
func (a ival) has(x float64) bool { return a.lo <= x && x <= a.hi }

func hull(a, b ival) ival {
	return ival{min(a.lo, b.lo), max(a.hi, b.hi), a.u || b.u}
}

func neg(a ival) ival { return ival{-a.hi, -a.lo, a.u} }

func abs(a ival) ival {
	switch {
	case a.lo >= 0:
		return a
	case a.hi <= 0:
		return neg(a)
	}
	return ival{0, max(-a.lo, a.hi), a.u}
}

func add(a, b ival) ival {
	if a.empty() || b.empty() {
		return emptyIval
	}
	return ival{addDown(a.lo, b.lo), addUp(a.hi, b.hi), a.u || b.u}
}

func sub(a, b ival) ival { return add(a, ival{-b.hi, -b.lo, b.u}) }

func mul(a, b ival) ival {
	u := a.u || b.u
	switch {
	case a.empty() || b.empty():
		return emptyIval
	case a.lo >= 0:
		if b.lo >= 0 {
			return ival{mulDown(a.lo, b.lo), mulUp(a.hi, b.hi), u}
		}
		if b.hi <= 0 {
			return ival{mulDown(a.hi, b.lo), mulUp(a.lo, b.hi), u}
		}
		return ival{mulDown(a.hi, b.lo), mulUp(a.hi, b.hi), u}
	case a.hi <= 0:
		if b.lo >= 0 {
			return ival{mulDown(a.lo, b.hi), mulUp(a.hi, b.lo), u}
		}
		if b.hi <= 0 {
			return ival{mulDown(a.hi, b.hi), mulUp(a.lo, b.lo), u}
		}
		return ival{mulDown(a.lo, b.hi), mulUp(a.lo, b.lo), u}
	case b.lo >= 0:
		return ival{mulDown(a.lo, b.hi), mulUp(a.hi, b.hi), u}
	case b.hi <= 0:
		return ival{mulDown(a.hi, b.lo), mulUp(a.lo, b.lo), u}
	}
	return ival{
		min(mulDown(a.lo, b.hi), mulDown(a.hi, b.lo)),
		max(mulUp(a.lo, b.lo), mulUp(a.hi, b.hi)), u,
	}
}

// div encloses a/b over the points where b is not 0.
func div(a, b ival) ival {
	if a.empty() || b.empty() {
		return emptyIval
	}
	if b.lo > 0 || b.hi < 0 {
		return divSigned(a, b)
	}
	return divZero(a, b)
}

// divSigned divides by an interval that does not hold 0.
func divSigned(a, b ival) ival {
	u := a.u || b.u
	if b.hi < 0 {
		a, b = neg(a), neg(b)
	}
	switch {
	case a.lo >= 0:
		return ival{divDown(a.lo, b.hi), divUp(a.hi, b.lo), u}
	case a.hi <= 0:
		return ival{divDown(a.lo, b.lo), divUp(a.hi, b.hi), u}
	}
	return ival{divDown(a.lo, b.lo), divUp(a.hi, b.lo), u}
}

// divZero divides by an interval that holds 0.
func divZero(a, b ival) ival {
	switch {
	case b.lo == 0 && b.hi == 0:
		return emptyIval
	case a.lo == 0 && a.hi == 0:
		return ival{0, 0, true}
	case b.lo < 0 && b.hi > 0, a.lo < 0 && a.hi > 0:
		return ival{-inf, inf, true}
	case (a.lo >= 0) == (b.lo == 0): // same signs
		a, b = abs(a), abs(b)
		return ival{divDown(a.lo, b.hi), inf, true}
	}
	a, b = abs(a), abs(b)
	return ival{-inf, -divDown(a.lo, b.hi), true}
}

// minOf is the smaller of two intervals, point by point.
func minOf(a, b ival) ival {
	if a.empty() || b.empty() {
		return emptyIval
	}
	return ival{min(a.lo, b.lo), min(a.hi, b.hi), a.u || b.u}
}

// maxOf is the larger of two intervals, point by point.
func maxOf(a, b ival) ival { return neg(minOf(neg(a), neg(b))) }

// powInt raises to an integer power by directed multiplication.
func powInt(a ival, n int32) ival {
	switch {
	case a.empty():
		return a
	case n == 0:
		return ival{1, 1, a.u}
	case n < 0:
		return div(ival{lo: 1, hi: 1}, powInt(a, -n))
	}
	if n%2 == 0 {
		a = abs(a)
	}
	return ival{powEnd(a.lo, n, false), powEnd(a.hi, n, true), a.u}
}

// powEnd bounds x^n from above or below; n is positive, and odd where x < 0.
func powEnd(x float64, n int32, up bool) float64 {
	switch {
	case x < 0:
		return -powEnd(-x, n, !up)
	case n == 1:
		return x
	case n == 2:
		return mulTo(x, x, up)
	}
	return powDirected(x, n, up)
}

// powDirected multiplies out, rounding the same way each time; squaring keeps
// the number of roundings at most 2·log2(n).
func powDirected(x float64, n int32, up bool) float64 {
	result, base := 1.0, x
	for {
		if n&1 == 1 {
			result = mulTo(result, base, up)
		}
		n >>= 1
		if n == 0 {
			return result
		}
		base = mulTo(base, base, up)
	}
}

func mulTo(a, b float64, up bool) float64 {
	if up {
		return mulUp(a, b)
	}
	return mulDown(a, b)
}

func sqrt(a ival) ival {
	if a.empty() || a.hi < 0 {
		return emptyIval
	}
	if a.lo < 0 {
		return ival{0, sqrtUp(a.hi), true}
	}
	return ival{sqrtDown(a.lo), sqrtUp(a.hi), a.u}
}
