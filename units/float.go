package units

import (
	"math"
	"math/big"
)

// Float returns the float64 nearest to v; beyond the range an infinity.
func Float(v *big.Rat) float64 {
	f, _ := nearest(v)
	return f
}

// FloatDown returns the largest float64 not above v, -Inf beyond the range.
func FloatDown(v *big.Rat) float64 {
	f, side := nearest(v)
	if side > 0 {
		return math.Nextafter(f, math.Inf(-1))
	}
	return f
}

// FloatUp returns the smallest float64 not below v, +Inf beyond the range.
func FloatUp(v *big.Rat) float64 {
	f, side := nearest(v)
	if side < 0 {
		return math.Nextafter(f, math.Inf(1))
	}
	return f
}

// nearest returns the float64 nearest to v and the sign of its distance to v:
// 1 where it lies above.
func nearest(v *big.Rat) (f float64, side int) {
	if f, side, ok := nearestSmall(v); ok {
		return f, side
	}
	f, exact := v.Float64()
	switch {
	case exact && (f != 0 || v.Sign() == 0): // Float64 calls some underflows to 0 exact
		return f, 0
	case math.IsInf(f, 1):
		return f, 1
	case math.IsInf(f, -1):
		return f, -1
	}
	return f, new(big.Rat).SetFloat64(f).Cmp(v)
}

// nearestSmall serves where numerator and denominator are whole float64s: one
// division rounds correctly, and the fused remainder f*d-n has the right sign.
func nearestSmall(v *big.Rat) (f float64, side int, ok bool) {
	const most = 1 << 53
	if !v.Num().IsInt64() || v.Num().Int64() > most || v.Num().Int64() < -most {
		return 0, 0, false
	}
	n := float64(v.Num().Int64())
	if v.IsInt() {
		return n, 0, true
	}
	if !v.Denom().IsInt64() || v.Denom().Int64() > most {
		return 0, 0, false
	}
	d := float64(v.Denom().Int64())
	f = n / d
	switch rest := math.FMA(f, d, -n); {
	case rest > 0:
		return f, 1, true
	case rest < 0:
		return f, -1, true
	}
	return f, 0, true
}
