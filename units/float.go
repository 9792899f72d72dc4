package units

import "math/big"

// Float returns the float64 nearest to v; beyond the range an infinity.
func Float(v *big.Rat) float64 {
	f, _ := v.Float64()
	return f
}
