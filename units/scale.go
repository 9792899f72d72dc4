package units

import "math/big"

var smallPow10 = [19]int64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18}

// si returns the number in SI base units: n*factor + offset, exactly.
func (n number) si(k *known) *big.Rat {
	r := n.times(k)
	if n.neg {
		r.Neg(r)
	}
	if k.unit.Offset != nil {
		r.Add(r, k.unit.Offset)
	}
	return r
}

// times multiplies the magnitude with the factor; machine integers serve
// wherever they hold the result.
func (n number) times(k *known) *big.Rat {
	if n.isZero() {
		return new(big.Rat)
	}
	if n.big == nil && k.isPow {
		if r := decimal(n.mant, n.exp+int(k.pow)); r != nil {
			return r
		}
	}
	if n.big == nil && n.exp <= 0 && n.exp >= -18 {
		if r := smallProduct(n.mant, smallPow10[-n.exp], k.unit.Factor); r != nil {
			return r
		}
	}
	m := n.big
	if m == nil {
		m = new(big.Int).SetUint64(n.mant)
	}
	r := new(big.Rat).SetInt(m)
	if n.exp != 0 {
		r.Mul(r, pow10(n.exp))
	}
	return r.Mul(r, k.unit.Factor)
}

// decimal returns mant*10^e, or nil where that does not fit in machine words.
func decimal(mant uint64, e int) *big.Rat {
	for e < 0 && mant%10 == 0 {
		mant /= 10
		e++
	}
	switch {
	case e == 0:
		return new(big.Rat).SetInt64(int64(mant))
	case e > 0 && e <= 18 && mant <= uint64((1<<63-1)/smallPow10[e]):
		return new(big.Rat).SetInt64(int64(mant) * smallPow10[e])
	case e < 0 && e >= -18:
		return new(big.Rat).SetFrac64(int64(mant), smallPow10[-e])
	}
	return nil
}

// smallProduct returns mant/den*factor, or nil where machine words are too
// short.
func smallProduct(mant uint64, den int64, factor *big.Rat) *big.Rat {
	if !factor.Num().IsInt64() || !factor.IsInt() && !factor.Denom().IsInt64() {
		return nil
	}
	p, q := factor.Num().Int64(), int64(1)
	if !factor.IsInt() {
		q = factor.Denom().Int64()
	}
	if p <= 0 || mant > uint64((1<<63-1)/p) || q > (1<<63-1)/den {
		return nil
	}
	return new(big.Rat).SetFrac64(int64(mant)*p, q*den)
}
