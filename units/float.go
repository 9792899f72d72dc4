package units

import (
	"math"
	"math/big"
)

// Float returns the float64 nearest to v; beyond the range an infinity.
func Float(v *big.Rat) float64 {
	f, _ := v.Float64()
	return f
}

// FloatDown returns the largest float64 not above v, -Inf beyond the range.
func FloatDown(v *big.Rat) float64 {
	f, exact := v.Float64()
	if !exact && above(f, v) {
		return math.Nextafter(f, math.Inf(-1))
	}
	return f
}

// FloatUp returns the smallest float64 not below v, +Inf beyond the range.
func FloatUp(v *big.Rat) float64 {
	f, exact := v.Float64()
	if !exact && !above(f, v) {
		return math.Nextafter(f, math.Inf(1))
	}
	return f
}

// above reports whether f > v, for f the float64 nearest to v and not equal.
func above(f float64, v *big.Rat) bool {
	if math.IsInf(f, 0) {
		return f > 0
	}
	return new(big.Rat).SetFloat64(f).Cmp(v) > 0
}
