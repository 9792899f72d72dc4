package bound

import (
	"math"
	"math/big"
)

// Enclosures of 256 bits and more: the ends are big.Float values rounded
// outward by their rounding mode; elementary functions are computed with
// workBits and widened by a relative 2^-endBits, far above their error.

const (
	workBits = 448
	endBits  = 320
)

// wide is an enclosure lo..hi; infinite ends mean unbounded.
type wide struct{ lo, hi *big.Float }

func floatDown() *big.Float {
	return new(big.Float).SetPrec(endBits).SetMode(big.ToNegativeInf)
}

func floatUp() *big.Float {
	return new(big.Float).SetPrec(endBits).SetMode(big.ToPositiveInf)
}

func wideOfRat(r *big.Rat) wide { return wide{floatDown().SetRat(r), floatUp().SetRat(r)} }

func wideOfInt(n int64) wide { return wide{floatDown().SetInt64(n), floatUp().SetInt64(n)} }

// around widens a value computed with workBits by its error.
func around(x *big.Float) wide {
	if x.Sign() == 0 || x.IsInf() {
		return wide{floatDown().Set(x), floatUp().Set(x)}
	}
	eps := new(big.Float).SetMantExp(big.NewFloat(1), x.MantExp(nil)-endBits+8)
	return wide{floatDown().Sub(x, eps), floatUp().Add(x, eps)}
}

func (a wide) sign() int { // 0 if not known
	if a.lo.Sign() > 0 {
		return 1
	}
	if a.hi.Sign() < 0 {
		return -1
	}
	return 0
}

func (a wide) neg() wide { return wide{floatDown().Neg(a.hi), floatUp().Neg(a.lo)} }

func (a wide) abs() wide {
	switch {
	case a.lo.Sign() >= 0:
		return a
	case a.hi.Sign() <= 0:
		return a.neg()
	}
	return wide{floatDown(), larger(a.neg().hi, a.hi)}
}

func larger(a, b *big.Float) *big.Float {
	if a.Cmp(b) >= 0 {
		return a
	}
	return b
}

func smaller(a, b *big.Float) *big.Float {
	if a.Cmp(b) <= 0 {
		return a
	}
	return b
}

func (a wide) add(b wide) wide {
	return wide{plus(floatDown(), a.lo, b.lo), plus(floatUp(), a.hi, b.hi)}
}

// plus adds in the direction of z. Of two that are far apart the lesser is taken as the least that still rounds the
// sum: written out to the last bit they would fill the memory.
func plus(z, x, y *big.Float) *big.Float {
	if x.Sign() == 0 || y.Sign() == 0 || x.IsInf() || y.IsInf() {
		return z.Add(x, y)
	}
	if x.MantExp(nil) < y.MantExp(nil) {
		x, y = y, x
	}
	if e := x.MantExp(nil) - 4*endBits; y.MantExp(nil) < e {
		y = new(big.Float).SetMantExp(big.NewFloat(math.Copysign(0.5, float64(y.Sign()))), e)
	}
	return z.Add(x, y)
}

func (a wide) sub(b wide) wide { return a.add(b.neg()) }

func (a wide) min(b wide) wide { return wide{smaller(a.lo, b.lo), smaller(a.hi, b.hi)} }

func (a wide) max(b wide) wide { return wide{larger(a.lo, b.lo), larger(a.hi, b.hi)} }

// times multiplies in the direction of z, where 0 times anything is 0.
func times(z, x, y *big.Float) *big.Float {
	if x.Sign() == 0 || y.Sign() == 0 {
		return z
	}
	return z.Mul(x, y)
}

func (a wide) mul(b wide) wide {
	lo := smaller(smaller(times(floatDown(), a.lo, b.lo), times(floatDown(), a.lo, b.hi)),
		smaller(times(floatDown(), a.hi, b.lo), times(floatDown(), a.hi, b.hi)))
	hi := larger(larger(times(floatUp(), a.lo, b.lo), times(floatUp(), a.lo, b.hi)),
		larger(times(floatUp(), a.hi, b.lo), times(floatUp(), a.hi, b.hi)))
	return clamp(lo, hi)
}

// clamp keeps an overflow from turning an end into the wrong infinity.
func clamp(lo, hi *big.Float) wide {
	if lo.IsInf() && lo.Sign() > 0 {
		lo = floatDown().SetMantExp(big.NewFloat(0.5), big.MaxExp)
	}
	if hi.IsInf() && hi.Sign() < 0 {
		hi = floatUp().SetMantExp(big.NewFloat(-0.5), big.MaxExp)
	}
	return wide{lo, hi}
}

// div divides by an enclosure whose sign is known.
func (a wide) div(b wide) wide {
	return a.mul(wide{floatDown().Quo(floatDown().SetInt64(1), b.hi), floatUp().Quo(floatUp().SetInt64(1), b.lo)})
}

func (a wide) powInt(n int) wide {
	if n < 0 {
		return wideOfInt(1).div(a.powInt(-n))
	}
	if n%2 == 0 {
		a = a.abs()
	}
	out := wideOfInt(1)
	for ; n > 0; n >>= 1 {
		if n&1 == 1 {
			out = out.mul(a)
		}
		if n > 1 {
			a = a.mul(a)
		}
	}
	return out
}

// sqrt takes the root of an enclosure of values known to be at least 0.
func (a wide) sqrt() wide {
	lo, hi := floatDown(), floatUp()
	if a.lo.Sign() > 0 {
		lo = around(newWork().Sqrt(a.lo)).lo
	}
	if a.hi.Sign() > 0 {
		hi = around(newWork().Sqrt(a.hi)).hi
	}
	return wide{lo, hi}
}

// rising applies an increasing function.
func (a wide) rising(f func(*big.Float) *big.Float) wide {
	lo := around(f(a.lo))
	if a.lo.Cmp(a.hi) == 0 {
		return lo
	}
	return wide{lo.lo, around(f(a.hi)).hi}
}

// ends gives float64 bounds.
func (a wide) ends() (lo, hi float64) {
	return floatEnd(a.lo, false), floatEnd(a.hi, true)
}

func floatEnd(x *big.Float, up bool) float64 {
	if up {
		return -floatEnd(new(big.Float).Neg(x), false)
	}
	f, acc := x.Float64()
	if acc == big.Above {
		if f == inf {
			return nextDown(inf)
		}
		return nextDown(f)
	}
	return f
}
