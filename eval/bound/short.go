package bound

import "math/big"

// shortestDecimal is the decimal number with the fewest digits in lo..hi, the
// one nearest the middle among those with as many.
func shortestDecimal(lo, hi *big.Rat) *big.Rat {
	if lo.Sign() <= 0 && hi.Sign() >= 0 {
		return new(big.Rat)
	}
	if hi.Sign() < 0 {
		r := shortestDecimal(new(big.Rat).Neg(hi), new(big.Rat).Neg(lo))
		return r.Neg(r)
	}
	if lo.Cmp(hi) == 0 {
		return new(big.Rat).Set(lo)
	}
	mid := new(big.Rat).Add(lo, hi)
	mid.Quo(mid, big.NewRat(2, 1))
	half := new(big.Rat).Sub(hi, mid)
	exponent := (hi.Num().BitLen()-hi.Denom().BitLen())*30103/100000 + 2
	for ; ; exponent-- {
		unit := tenTo(exponent)
		r := new(big.Rat).SetInt(nearestInt(new(big.Rat).Quo(mid, unit)))
		r.Mul(r, unit)
		if off := new(big.Rat).Sub(r, mid); off.Abs(off).Cmp(half) <= 0 {
			return r
		}
	}
}

func tenTo(n int) *big.Rat {
	m := n
	if m < 0 {
		m = -m
	}
	p := new(big.Rat).SetInt(new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(m)), nil))
	if n < 0 {
		p.Inv(p)
	}
	return p
}

// nearestInt rounds to the nearest integer, halves up.
func nearestInt(r *big.Rat) *big.Int {
	twice := new(big.Rat).Add(r, big.NewRat(1, 2))
	return new(big.Int).Div(twice.Num(), twice.Denom())
}
