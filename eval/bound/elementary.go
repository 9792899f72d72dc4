package bound

import (
	"math"
	"math/big"
	"sync"
)

// Elementary functions on big.Float values of workBits. Each is right to
// within 2^-(endBits+8) relative; around adds that error.

func newWork() *big.Float { return new(big.Float).SetPrec(workBits) }

func workInt(n int64) *big.Float { return newWork().SetInt64(n) }

// piTo computes pi to prec bits by Machin's formula
// pi = 16 atan(1/5) - 4 atan(1/239).
func piTo(prec uint) *big.Float {
	term := func(q int64) *big.Float { // atan(1/q)
		sum := new(big.Float).SetPrec(prec + 32)
		power := new(big.Float).SetPrec(prec+32).Quo(big.NewFloat(1), big.NewFloat(float64(q)))
		square := new(big.Float).SetInt64(q * q)
		for k := int64(0); ; k++ {
			t := new(big.Float).SetPrec(prec+32).Quo(power, new(big.Float).SetInt64(2*k+1))
			if t.MantExp(nil) < -int(prec)-30 {
				return sum
			}
			if k%2 == 0 {
				sum.Add(sum, t)
			} else {
				sum.Sub(sum, t)
			}
			power.Quo(power, square)
		}
	}
	a := new(big.Float).SetPrec(prec+32).Mul(big.NewFloat(16), term(5))
	b := new(big.Float).SetPrec(prec+32).Mul(big.NewFloat(4), term(239))
	return a.Sub(a, b)
}

// piLong is pi to longBits, computed once; it is only ever read.
var piLong = sync.OnceValue(func() *big.Float { return piTo(longBits) })

const longBits = workBits + 128

// piWork is pi to workBits.
func piWork() *big.Float { return newWork().Set(piLong()) }

// lnTwo is ln 2 = 2 atanh(1/3), computed once; it is only ever read.
var lnTwo = sync.OnceValue(func() *big.Float {
	sum, power := newWork(), newWork().Quo(workInt(2), workInt(3))
	for k := int64(0); power.MantExp(nil) > -workBits-8; k++ {
		sum.Add(sum, newWork().Quo(power, workInt(2*k+1)))
		power.Quo(power, workInt(9))
	}
	return sum
})

// expWork is e^x for |x| below 2^30; beyond it gives 0 or infinity.
func expWork(x *big.Float) *big.Float {
	if x.Sign() == 0 {
		return workInt(1)
	}
	if x.IsInf() || x.MantExp(nil) > 30 {
		if x.Sign() > 0 {
			return newWork().SetInf(false)
		}
		return newWork()
	}
	l := lnTwo()
	f, _ := newWork().Quo(x, l).Float64()
	k := math.Round(f)
	r := newWork().Sub(newWork().Set(x), newWork().Mul(newWork().SetFloat64(k), l))
	r.SetMantExp(r, -24)
	sum, term := workInt(1), workInt(1)
	for n := int64(1); term.Sign() != 0 && term.MantExp(nil) > -workBits; n++ {
		term.Mul(term, r)
		term.Quo(term, workInt(n))
		sum.Add(sum, term)
	}
	for range 24 {
		sum.Mul(sum, sum)
	}
	return sum.SetMantExp(sum, int(k))
}

// lnWork is ln x for x > 0.
func lnWork(x *big.Float) *big.Float {
	if x.IsInf() {
		return newWork().Set(x)
	}
	if x.Cmp(workInt(1)) == 0 {
		return newWork()
	}
	m := newWork()
	e := newWork().Set(x).MantExp(m) // x = m·2^e, 0.5 <= m < 1
	if m.Cmp(newWork().SetFloat64(math.Sqrt2/2)) < 0 {
		m.SetMantExp(m, 1)
		e--
	}
	y := lnNearOne(m)
	return y.Add(y, newWork().Mul(workInt(int64(e)), lnTwo()))
}

// lnNearOne is 2 atanh((m-1)/(m+1)), which keeps its relative accuracy at 1.
func lnNearOne(m *big.Float) *big.Float {
	z := newWork().Quo(newWork().Sub(m, workInt(1)), newWork().Add(m, workInt(1)))
	square := newWork().Mul(z, z)
	sum, power := newWork(), newWork().Set(z)
	bottom := z.MantExp(nil) - workBits
	for k := int64(0); power.Sign() != 0 && power.MantExp(nil) > bottom; k++ {
		sum.Add(sum, newWork().Quo(power, workInt(2*k+1)))
		power.Mul(power, square)
	}
	return sum.SetMantExp(sum, 1)
}

// reduceCircle gives x = k·pi/2 + r with |r| below 0.8; near says that k is 0
// without a reduction, so that r has its full relative accuracy. Otherwise r
// is right to within 2^-workBits.
func reduceCircle(x *big.Float) (k int64, r *big.Float, near bool) {
	if x.MantExp(nil) < 0 {
		return 0, newWork().Set(x), true
	}
	prec := uint(workBits + x.MantExp(nil) + 64)
	at := func() *big.Float { return new(big.Float).SetPrec(prec) }
	half := at()
	if prec <= longBits {
		half.Set(piLong())
	} else {
		half.Set(piTo(prec))
	}
	half.SetMantExp(half, -1)
	shift := 0.5
	if x.Sign() < 0 {
		shift = -0.5
	}
	n, _ := at().Add(at().Quo(x, half), big.NewFloat(shift)).Int(nil)
	r = at().Sub(at().Set(x), at().Mul(at().SetInt(n), half))
	return new(big.Int).And(n, big.NewInt(3)).Int64(), newWork().Set(r), false
}

// sinCosSmall sums the series of sine and cosine for |r| below 1.
func sinCosSmall(r *big.Float) (s, c *big.Float) {
	s, c = newWork(), newWork()
	term := workInt(1)
	bottom := min(r.MantExp(nil), 0) - workBits
	for n := int64(0); term.Sign() != 0 && (n < 2 || term.MantExp(nil) > bottom); n++ {
		switch n % 4 {
		case 0:
			c.Add(c, term)
		case 1:
			s.Add(s, term)
		case 2:
			c.Sub(c, term)
		case 3:
			s.Sub(s, term)
		}
		term.Mul(term, r)
		term.Quo(term, workInt(n+1))
	}
	return s, c
}

// sinCosWork gives sine and cosine; unless near, to within 2^-workBits·8 only.
func sinCosWork(x *big.Float) (s, c *big.Float, near bool) {
	k, r, near := reduceCircle(x)
	s, c = sinCosSmall(r)
	switch k {
	case 1:
		return c, s.Neg(s), near
	case 2:
		return s.Neg(s), c.Neg(c), near
	case 3:
		return c.Neg(c), s, near
	}
	return s, c, near
}

// atanWork is the arc tangent: four halvings of the angle, then the series.
func atanWork(x *big.Float) *big.Float {
	if x.Sign() == 0 {
		return newWork()
	}
	if x.IsInf() {
		half := piWork()
		half.SetMantExp(half, -1)
		if x.Sign() < 0 {
			half.Neg(half)
		}
		return half
	}
	z := newWork().Set(x)
	inverted := newWork().Abs(z).Cmp(workInt(1)) > 0
	if inverted {
		z.Quo(workInt(1), z)
	}
	for range 4 { // atan z = 2 atan(z / (1 + sqrt(1 + z²)))
		root := newWork().Sqrt(newWork().Add(workInt(1), newWork().Mul(z, z)))
		z.Quo(z, root.Add(root, workInt(1)))
	}
	square := newWork().Mul(z, z)
	sum, power := newWork(), newWork().Set(z)
	for k := int64(0); power.Sign() != 0 && power.MantExp(nil) > z.MantExp(nil)-workBits; k++ {
		t := newWork().Quo(power, workInt(2*k+1))
		if k%2 == 1 {
			t.Neg(t)
		}
		sum.Add(sum, t)
		power.Mul(power, square)
	}
	sum.SetMantExp(sum, 4)
	if !inverted {
		return sum
	}
	half := piWork()
	half.SetMantExp(half, -1)
	if x.Sign() < 0 {
		half.Neg(half)
	}
	return half.Sub(half, sum)
}
