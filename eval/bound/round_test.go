package bound

import (
	"math"
	"math/big"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
)

// anyFloat draws float64 values of all sizes, with the nasty ones.
func anyFloat(rng *rand.Rand) float64 {
	special := [...]float64{0, 1, -1, 0.1, 0.3, math.MaxFloat64, -math.MaxFloat64, math.SmallestNonzeroFloat64,
		-math.SmallestNonzeroFloat64, 0x1p-1022, 0x1p-960, 0x1p-537, 0x1p537, 1 - 0x1p-53, 1 + 0x1p-52}
	switch rng.IntN(8) {
	case 0:
		return special[rng.IntN(len(special))]
	case 1:
		return float64(rng.IntN(2001) - 1000)
	case 2, 3:
		for {
			if x := math.Float64frombits(rng.Uint64()); !math.IsNaN(x) && !math.IsInf(x, 0) {
				return x
			}
		}
	}
	return (2*rng.Float64() - 1) * math.Exp2(float64(rng.IntN(60)-30))
}

func exactOf(x float64) *big.Rat { return new(big.Rat).SetFloat64(x) }

// requireEncloses checks exact containment and width for a rational value.
func requireEncloses(t *testing.T, v ival, want *big.Rat, ulps int64, format string, args ...any) {
	t.Helper()
	require.False(t, v.empty(), append([]any{format}, args...)...)
	if !math.IsInf(v.lo, 0) {
		require.LessOrEqual(t, exactOf(v.lo).Cmp(want), 0, append([]any{format}, args...)...)
	}
	if !math.IsInf(v.hi, 0) {
		require.GreaterOrEqual(t, exactOf(v.hi).Cmp(want), 0, append([]any{format}, args...)...)
	}
	require.False(t, v.lo == inf || v.hi == -inf)
	require.LessOrEqual(t, steps(v.lo, v.hi), ulps, append([]any{format}, args...)...)
}

// TestArithmeticIsTight checks + - × ÷ √ and powers at points against exact
// rationals: the value is held, and the interval is no wider than 2 (32 for
// powers) neighbouring float64 values.
func TestArithmeticIsTight(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for range 15000 {
		a, b := anyFloat(rng), anyFloat(rng)
		x, y := ival{lo: a, hi: a}, ival{lo: b, hi: b}
		ra, rb := exactOf(a), exactOf(b)
		requireEncloses(t, add(x, y), new(big.Rat).Add(ra, rb), 2, "%v + %v", a, b)
		requireEncloses(t, sub(x, y), new(big.Rat).Sub(ra, rb), 2, "%v - %v", a, b)
		requireEncloses(t, mul(x, y), new(big.Rat).Mul(ra, rb), 2, "%v * %v", a, b)
		if b != 0 {
			requireEncloses(t, div(x, y), new(big.Rat).Quo(ra, rb), 2, "%v / %v", a, b)
		}
	}
	for range 20000 {
		a := math.Abs(anyFloat(rng))
		v := sqrt(ival{lo: a, hi: a})
		require.LessOrEqual(t, steps(v.lo, v.hi), int64(2))
		lo, hi, ra := exactOf(v.lo), exactOf(v.hi), exactOf(a)
		require.LessOrEqual(t, lo.Mul(lo, lo).Cmp(ra), 0, "%v", a)
		require.GreaterOrEqual(t, hi.Mul(hi, hi).Cmp(ra), 0, "%v", a)
	}
	for range 20000 {
		a, n := (2*rng.Float64()-1)*math.Exp2(float64(rng.IntN(20)-10)), rng.IntN(23)-8
		if a == 0 {
			continue
		}
		want, status := ratPowInt(exactOf(a), n)
		require.Equal(t, ratOK, status)
		requireEncloses(t, powInt(ival{lo: a, hi: a}, int32(n)), want, 32, "%v ^ %v", a, n)
	}
	requireEncloses(t, powInt(ival{lo: 1e200, hi: 1e200}, 3), tenTo(600), 1, "overflow")
	small := exactOf(1e-200)
	requireEncloses(t, powInt(ival{lo: 1e-200, hi: 1e-200}, 3), new(big.Rat).Mul(small, new(big.Rat).Mul(small, small)), 1, "underflow")
}

// TestRatEnds checks that rationals become neighbouring float64 values.
func TestRatEnds(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for range 20000 {
		num, den := rng.Int64N(1<<uint(1+rng.IntN(62))), 1+rng.Int64N(1<<uint(1+rng.IntN(62)))
		if rng.IntN(2) == 0 {
			num = -num
		}
		r := big.NewRat(num, den)
		if rng.IntN(4) == 0 {
			r.Mul(r, tenTo(rng.IntN(640)-320))
		}
		v := ivalOfRat(r)
		requireEncloses(t, v, r, 1, "%v", r)
	}
}

// TestIntervalsHold checks that interval operations hold the point results for
// points of the operands, infinite ends included.
func TestIntervalsHold(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	anyInterval := func() (ival, float64) {
		a, b := anyFloat(rng), anyFloat(rng)
		v := ival{lo: min(a, b), hi: max(a, b)}
		at := v.lo
		if m, ok := middle(v); ok && rng.IntN(2) == 0 {
			at = m
		}
		switch rng.IntN(10) {
		case 0:
			v.lo = -inf
		case 1:
			v.hi = inf
		}
		return v, at
	}
	for range 40000 {
		x, a := anyInterval()
		y, b := anyInterval()
		ra, rb := exactOf(a), exactOf(b)
		requireEncloses(t, add(x, y), new(big.Rat).Add(ra, rb), math.MaxInt64, "%v+%v", x, y)
		requireEncloses(t, mul(x, y), new(big.Rat).Mul(ra, rb), math.MaxInt64, "%v*%v", x, y)
		q := div(x, y)
		if b != 0 {
			requireEncloses(t, q, new(big.Rat).Quo(ra, rb), math.MaxInt64, "%v/%v", x, y)
		}
		require.Equal(t, y.has(0), q.u)
		for _, v := range []ival{add(x, y), sub(x, y), mul(x, y), q} {
			require.False(t, math.IsNaN(v.lo) || math.IsNaN(v.hi), "%v %v", x, y)
		}
	}
}
