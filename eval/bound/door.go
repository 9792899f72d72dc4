package bound

import "math/big"

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

// rising tells that a <= b, where nil is an end without a bound.
func rising(a, b *big.Rat) bool { return a == nil || b == nil || a == b || a.Cmp(b) <= 0 }
