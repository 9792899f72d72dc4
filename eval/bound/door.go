package bound

import (
	"math"
	"math/big"
	"math/bits"
)

// This file is the door of the package: whatever judges inputs asks first
// whether their sets make sense. A wide set without a value would let every
// statement about it pass, the true ones and their opposites.

// Consistent tells that the sets of an input fit each other: the ends of each
// are in order, and the sure set lies in the wide one.
func (x *Input) Consistent() bool {
	lo, hi := x.sure()
	return rising(x.Lo, x.Hi) && rising(lo, hi) && rising(x.Lo, lo) && rising(hi, x.Hi)
}

// contradictory lists the inputs whose sets do not fit each other.
func contradictory(in []Input) []int {
	var out []int
	for i := range in {
		if !in[i].Consistent() {
			out = append(out, i)
		}
	}
	return out
}

// rising tells that a <= b, where nil is an end without a bound. Fractions in
// machine words are compared without allocating: every question comes this way.
func rising(a, b *big.Rat) bool {
	if a == nil || b == nil || a == b {
		return true
	}
	n, d, ok := fraction(a)
	m, e, both := fraction(b)
	switch {
	case !ok || !both:
		return a.Cmp(b) <= 0
	case (n < 0) != (m < 0):
		return n < 0
	case n < 0: // the larger magnitude is the lower
		n, d, m, e = -m, e, -n, d
	}
	ah, al := bits.Mul64(uint64(n), uint64(e))
	bh, bl := bits.Mul64(uint64(m), uint64(d))
	return ah < bh || ah == bh && al <= bl
}

// fraction is a number in machine words, its denominator above 0; ok is false
// where it is too long.
func fraction(r *big.Rat) (num, den int64, ok bool) {
	num, den = r.Num().Int64(), 1
	if !r.Num().IsInt64() || num == math.MinInt64 {
		return 0, 0, false
	}
	if !r.IsInt() {
		den, ok = r.Denom().Int64(), r.Denom().IsInt64()
		return num, den, ok
	}
	return num, den, true
}
