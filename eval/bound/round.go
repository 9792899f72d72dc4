package bound

import (
	"math"
	"math/big"
)

// Directed rounding without a rounding mode: the nearest result plus the sign
// of its exact error (two-sum, fused multiply-add residual) says whether the
// neighbour is needed. Products are converted explicitly so that no compiler
// fuses them. Where the error itself could underflow the neighbour is taken.
// Source of the transformations: Handbook of Floating-Point Arithmetic
// (Muller et al.), chapter 4.

const (
	tiny      = 0x1p-960 // below this the residual of a product may be inexact
	tinyRatio = 0x1p-1000
)

var inf = math.Inf(1)

// nextUp is the smallest float64 above x, nextDown the largest below.
func nextUp(x float64) float64 { return math.Nextafter(x, inf) }

func nextDown(x float64) float64 { return math.Nextafter(x, -inf) }

// lower is s, or its lower neighbour if the error e of s is negative.
func lower(s, e float64) float64 {
	if e < 0 {
		return nextDown(s)
	}
	return s
}

// addDown is a lower bound of a + b; neither is +Inf.
func addDown(a, b float64) float64 {
	s := a + b
	t := s - a
	e := (a - (s - t)) + (b - t)
	switch {
	case e-e == 0: // finite
		return lower(s, e)
	case s == inf:
		return math.MaxFloat64
	case math.IsInf(a, 0), math.IsInf(b, 0), s == -inf:
		return -inf
	}
	return nextDown(s)
}

// addUp is an upper bound of a + b; neither is -Inf.
func addUp(a, b float64) float64 { return 0 - addDown(-a, -b) }

// mulDown is a lower bound of a·b, where 0 times anything is 0.
func mulDown(a, b float64) float64 {
	p := float64(a * b)
	switch {
	case a == 0 || b == 0:
		return 0
	case math.IsInf(a, 0) || math.IsInf(b, 0), p == -inf:
		return p
	case p == inf:
		return math.MaxFloat64
	case math.Abs(p) > tiny:
		return lower(p, math.FMA(a, b, -p))
	case p == 0 && (a > 0) == (b > 0):
		return 0
	}
	return nextDown(p)
}

// mulUp is an upper bound of a·b, where 0 times anything is 0.
func mulUp(a, b float64) float64 { return 0 - mulDown(-a, b) }

// divDown is a lower bound of a/b; b is not 0.
func divDown(a, b float64) float64 {
	q := a / b
	r := math.FMA(-q, b, a)
	switch {
	case a == 0:
		return 0
	case math.IsInf(a, 0):
		if math.IsInf(b, 0) { // the quotient of two unbounded ends may be anything of its sign
			if (a > 0) == (b > 0) {
				return 0
			}
			return -inf
		}
		return q
	case math.IsInf(b, 0):
		if (a > 0) == (b > 0) {
			return 0
		}
		return -math.SmallestNonzeroFloat64
	case q == inf:
		return math.MaxFloat64
	case q == -inf:
		return q
	case math.Abs(a) > tiny && math.Abs(q) > tinyRatio && (r == 0 || (r > 0) == (b > 0)):
		return q
	case q == 0 && (a > 0) == (b > 0):
		return 0
	}
	return nextDown(q)
}

// divUp is an upper bound of a/b; b is not 0.
func divUp(a, b float64) float64 { return 0 - divDown(-a, b) }

// sqrtDown is a lower bound of the root of x >= 0.
func sqrtDown(x float64) float64 {
	s := math.Sqrt(x)
	if x > tiny && math.FMA(-s, s, x) >= 0 {
		return s
	}
	if s == 0 || s == inf {
		return s
	}
	return nextDown(s)
}

// sqrtUp is an upper bound of the root of x >= 0.
func sqrtUp(x float64) float64 {
	s := math.Sqrt(x)
	if x > tiny && math.FMA(-s, s, x) <= 0 {
		return s
	}
	if s == 0 || s == inf {
		return s
	}
	return nextUp(s)
}

// ratEnds encloses an exact rational between neighbouring float64 values, or
// the largest finite one and infinity.
func ratEnds(r *big.Rat) (lo, hi float64) {
	if n, d := r.Num(), r.Denom(); n.BitLen() <= 53 && d.BitLen() <= 53 {
		a, b := float64(n.Int64()), float64(d.Int64()) // both exact, so is the sign of what the division leaves
		f := a / b
		switch left := math.FMA(f, b, -a); {
		case left < 0:
			return f, nextUp(f)
		case left > 0:
			return nextDown(f), f
		default:
			return f, f
		}
	}
	f, exact := r.Float64()
	switch {
	case exact && (f != 0 || r.Sign() == 0): // Float64 calls an underflow to 0 exact where no bit but the last was lost
		return f, f
	case f == inf:
		return math.MaxFloat64, inf
	case f == -inf:
		return -inf, -math.MaxFloat64
	}
	near := new(big.Rat).SetFloat64(f)
	if near.Cmp(r) < 0 {
		return f, nextUp(f)
	}
	return nextDown(f), f
}
