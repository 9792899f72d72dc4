package units

import (
	"math/big"
	"math/bits"
)

// ratio is a fraction in machine words, reduced, its denominator above 0.
// Nearly every number that is typed fits; what does not is left to math/big.
type ratio struct{ num, den int64 }

// newRatio reduces num/den; den must be above 0.
func newRatio(num, den int64) ratio {
	if num == 0 {
		return ratio{0, 1}
	}
	if den == 1 {
		return ratio{num, 1}
	}
	g := int64(gcd(magnitude(num), uint64(den)))
	return ratio{num / g, den / g}
}

func magnitude(n int64) uint64 {
	if n < 0 {
		return -uint64(n)
	}
	return uint64(n)
}

// gcd is the greatest common divisor of two numbers that are not 0 (Stein's
// binary algorithm; Knuth, The Art of Computer Programming, 4.5.2, algorithm B).
func gcd(a, b uint64) uint64 {
	shift := bits.TrailingZeros64(a | b)
	a >>= bits.TrailingZeros64(a)
	for b != 0 {
		b >>= bits.TrailingZeros64(b)
		if a > b {
			a, b = b, a
		}
		b -= a
	}
	return a << shift
}

// plus is q + r; ok is false where machine words are too short.
func (q ratio) plus(r ratio) (sum ratio, ok bool) {
	g := int64(gcd(uint64(q.den), uint64(r.den)))
	a, okA := mulInt(q.num, r.den/g)
	b, okB := mulInt(r.num, q.den/g)
	d, okD := mulInt(q.den/g, r.den)
	n, okN := addInt(a, b)
	if !okA || !okB || !okD || !okN {
		return ratio{}, false
	}
	return newRatio(n, d), true
}

// times is q * r; ok is false where machine words are too short.
func (q ratio) times(r ratio) (product ratio, ok bool) {
	n, okN := mulInt(q.num, r.num)
	d, okD := mulInt(q.den, r.den)
	if !okN || !okD {
		return ratio{}, false
	}
	return newRatio(n, d), true
}

func (q ratio) neg() ratio { return ratio{-q.num, q.den} }

func (q ratio) abs() ratio {
	if q.num < 0 {
		return q.neg()
	}
	return q
}

// mulInt and addInt are exact or say that they are not. The smallest int64,
// whose negation does not fit, is never given.
func mulInt(a, b int64) (int64, bool) {
	hi, lo := bits.Mul64(magnitude(a), magnitude(b))
	if hi != 0 || lo >= 1<<63 {
		return 0, false
	}
	if (a < 0) != (b < 0) {
		return -int64(lo), true
	}
	return int64(lo), true
}

func addInt(a, b int64) (int64, bool) {
	s := a + b
	return s, (a < 0) != (b < 0) || (s < 0) == (a < 0) && s != -1<<63
}

// ratCell is a rational with its words beside it, so that it takes one
// allocation and no reduction.
type ratCell struct {
	r     big.Rat
	words [2]big.Word
}

// twoParts is a fraction whose denominator is not 1: math/big lets the
// denominator of such a one alone be set through a pointer.
var twoParts = big.NewRat(1, 2)

// rat is the same number for exact arithmetic of any length.
func (q ratio) rat() *big.Rat {
	if bits.UintSize < 64 {
		return big.NewRat(q.num, q.den)
	}
	c := &ratCell{words: [2]big.Word{big.Word(magnitude(q.num)), big.Word(q.den)}}
	if q.den != 1 {
		c.r = *twoParts // both parts are replaced before anything looks at them
		c.r.Denom().SetBits(c.words[1:2:2])
	}
	n := c.r.Num()
	n.SetBits(c.words[0:1:1])
	if q.num < 0 {
		n.Neg(n)
	}
	return &c.r
}
