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
	if q, ok := n.small(k); ok {
		return q.rat()
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

// small is times in machine words, without the sign; ok is false where they
// are too short.
func (n number) small(k *known) (q ratio, ok bool) {
	switch {
	case n.isZero():
		return ratio{0, 1}, true
	case n.big != nil:
		return ratio{}, false
	}
	if k.isPow {
		if q, ok := decimal(n.mant, n.exp+int(k.pow)); ok {
			return q, true
		}
	}
	if n.exp <= 0 && n.exp >= -18 {
		return smallProduct(n.mant, smallPow10[-n.exp], k.unit.Factor)
	}
	return ratio{}, false
}

// decimal returns mant*10^e where that fits in machine words.
func decimal(mant uint64, e int) (q ratio, ok bool) {
	for e < 0 && mant%10 == 0 {
		mant /= 10
		e++
	}
	switch {
	case e == 0:
		return ratio{int64(mant), 1}, true
	case e > 0 && e <= 18 && mant <= uint64((1<<63-1)/smallPow10[e]):
		return ratio{int64(mant) * smallPow10[e], 1}, true
	case e < 0 && e >= -18:
		return newRatio(int64(mant), smallPow10[-e]), true
	}
	return ratio{}, false
}

// smallProduct returns mant/den*factor where machine words hold it.
func smallProduct(mant uint64, den int64, factor *big.Rat) (q ratio, ok bool) {
	if !factor.Num().IsInt64() || !factor.IsInt() && !factor.Denom().IsInt64() {
		return ratio{}, false
	}
	p, r := factor.Num().Int64(), int64(1)
	if !factor.IsInt() {
		r = factor.Denom().Int64()
	}
	if p <= 0 || mant > uint64((1<<63-1)/p) || r > (1<<63-1)/den {
		return ratio{}, false
	}
	return newRatio(int64(mant)*p, r*den), true
}
