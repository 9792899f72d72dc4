package units

import (
	"math/big"
	"strconv"
	"strings"
)

// Rounding says which way a printed number may differ from the value.
type Rounding uint8

const (
	Nearest Rounding = iota // ties away from zero
	Down                    // towards -inf
	Up                      // towards +inf
)

// dec is a decimal number, ±digits*10^exp; digits has no zero at either end,
// and is empty for 0.
type dec struct {
	neg    bool
	digits string
	exp    int
}

// lead is the power of ten of the first digit.
func (d dec) lead() int { return d.exp + len(d.digits) - 1 }

func newDec(neg bool, digits string, exp int) dec {
	digits = strings.TrimLeft(digits, "0")
	cut := strings.TrimRight(digits, "0")
	exp += len(digits) - len(cut)
	if cut == "" {
		return dec{}
	}
	return dec{neg, cut, exp}
}

// rat returns the value of d.
func (d dec) rat() *big.Rat {
	if d.digits == "" {
		return new(big.Rat)
	}
	n, _ := new(big.Int).SetString(d.digits, 10)
	r := new(big.Rat).SetInt(n)
	if d.exp != 0 {
		r.Mul(r, pow10(d.exp))
	}
	if d.neg {
		r.Neg(r)
	}
	return r
}

// exactDec writes x exactly if it is a decimal of at most most digits.
func exactDec(x *big.Rat, most int) (dec, bool) {
	places, exact := x.FloatPrec()
	if !exact {
		return dec{}, false
	}
	d := newDec(x.Sign() < 0, strings.Replace(new(big.Rat).Abs(x).FloatString(places), ".", "", 1), -places)
	return d, len(d.digits) <= most
}

// roundDec writes x with at most n significant digits.
func roundDec(x *big.Rat, n int, mode Rounding) dec {
	if x.Sign() == 0 {
		return dec{}
	}
	lead := leadOf(x)
	return roundAt(x, lead-n+1, mode)
}

// leadOf returns the power of ten of the first digit of |x|, x not 0.
func leadOf(x *big.Rat) int {
	abs := new(big.Rat).Abs(x)
	e := (x.Num().BitLen() - x.Denom().BitLen()) * 30103 / 100000
	for abs.Cmp(pow10(e)) < 0 {
		e--
	}
	for abs.Cmp(pow10(e+1)) >= 0 {
		e++
	}
	return e
}

// roundAt rounds x to a multiple of 10^exp.
func roundAt(x *big.Rat, exp int, mode Rounding) dec {
	s := new(big.Rat).Abs(x)
	s.Mul(s, pow10(-exp))
	q, m := new(big.Int).QuoRem(s.Num(), s.Denom(), new(big.Int))
	neg := x.Sign() < 0
	up := false
	switch {
	case m.Sign() == 0:
	case mode == Nearest:
		up = m.Lsh(m, 1).Cmp(s.Denom()) >= 0
	default:
		up = (mode == Up) != neg
	}
	if up {
		q.Add(q, big.NewInt(1))
	}
	return newDec(neg, q.String(), exp)
}

// appendDec writes d*10^-shift: as a plain decimal, or with an exponent where
// that would fill with zeros.
func appendDec(b []byte, d dec, shift int) []byte {
	if d.digits == "" {
		return append(b, '0')
	}
	if d.neg {
		b = append(b, '-')
	}
	exp := d.exp - shift
	lead := exp + len(d.digits) - 1
	switch {
	case lead < -5 || lead > 11 && exp > 0:
		b = append(b, d.digits[0])
		if len(d.digits) > 1 {
			b = append(b, '.')
			b = append(b, d.digits[1:]...)
		}
		b = append(b, 'e')
		return strconv.AppendInt(b, int64(lead), 10)
	case exp >= 0:
		return append(append(b, d.digits...), strings.Repeat("0", exp)...)
	case lead >= 0:
		b = append(b, d.digits[:lead+1]...)
		b = append(b, '.')
		return append(b, d.digits[lead+1:]...)
	}
	return append(append(b, "0."+strings.Repeat("0", -lead-1)...), d.digits...)
}
