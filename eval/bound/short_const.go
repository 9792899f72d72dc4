package bound

import "math/bits"

// shortConst is a constant whose parts fit int64, reduced, its denominator
// above 0. Nearly every constant that is typed is one, and so is what they are
// folded to; math/big does the rest. The smallest int64 is in none of those
// that are worked out, so that a negation fits.
type shortConst struct{ num, den int64 }

func (k shortConst) hash() uint64 { return mix(mix(uint64(k.num)) ^ uint64(k.den)) }

// shortUnary applies an operation exactly; ok is false where it is left to
// math/big.
func shortUnary(op Op, a shortConst) (v shortConst, ok bool) {
	if a.den == 0 || a.num == -1<<63 {
		return a, false
	}
	switch op {
	case OpNeg:
		return shortConst{-a.num, a.den}, true
	case OpAbs:
		return shortConst{int64(size(a.num)), a.den}, true
	}
	return a, false
}

// shortBinary applies an operation exactly; ok is false where it is left to
// math/big.
func shortBinary(op Op, a, b shortConst) (v shortConst, ok bool) {
	if a.den == 0 || b.den == 0 {
		return a, false
	}
	switch op {
	case OpAdd:
		return a.plus(b)
	case OpSub:
		return a.plus(shortConst{-b.num, b.den})
	case OpMul:
		return a.times(b)
	case OpDiv:
		switch {
		case b.num > 0:
			return a.times(shortConst{b.den, b.num})
		case b.num < 0:
			return a.times(shortConst{-b.den, -b.num})
		}
	}
	return a, false
}

func (k shortConst) plus(o shortConst) (sum shortConst, ok bool) {
	x, okX := timesWords(k.num, o.den)
	y, okY := timesWords(o.num, k.den)
	d, okD := timesWords(k.den, o.den)
	n := x + y
	over := (x < 0) == (y < 0) && (n < 0) != (x < 0) || n == -1<<63
	if !okX || !okY || !okD || over {
		return shortConst{}, false
	}
	return reduced(n, d), true
}

func (k shortConst) times(o shortConst) (product shortConst, ok bool) {
	n, okN := timesWords(k.num, o.num)
	d, okD := timesWords(k.den, o.den)
	if !okN || !okD {
		return shortConst{}, false
	}
	return reduced(n, d), true
}

// timesWords multiplies, or says that the product does not fit.
func timesWords(a, b int64) (int64, bool) {
	hi, lo := bits.Mul64(size(a), size(b))
	if hi != 0 || lo >= 1<<63 {
		return 0, false
	}
	if (a < 0) != (b < 0) {
		return -int64(lo), true
	}
	return int64(lo), true
}

// size is the magnitude of a number.
func size(n int64) uint64 {
	if n < 0 {
		return -uint64(n)
	}
	return uint64(n)
}

// reduced is n/d without common factors (Euclid); d is above 0.
func reduced(n, d int64) shortConst {
	x, y := size(n), uint64(d)
	for y != 0 {
		x, y = y, x%y
	}
	return shortConst{n / int64(x), d / int64(x)}
}
