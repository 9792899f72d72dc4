package bound

import (
	"math"
	"math/big"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
)

// ends are values at which rounding, overflow, underflow and signs matter.
var ends = []float64{math.Inf(-1), -math.MaxFloat64, -3, -1, -0.1, -0x1p-1022, -math.SmallestNonzeroFloat64, 0,
	math.SmallestNonzeroFloat64, 0x1p-1022, 0x1p-540, 0.1, 1, 3, 1e17, math.MaxFloat64, math.Inf(1)}

// anyInterval draws an interval with ends of all kinds.
func anyInterval(rng *rand.Rand) ival {
	end := func() float64 {
		if rng.IntN(3) == 0 {
			return ends[rng.IntN(len(ends))]
		}
		return math.Ldexp(rng.Float64()*2-1, rng.IntN(40)-20)
	}
	lo, hi := end(), end()
	if lo > hi {
		lo, hi = hi, lo
	}
	if math.IsInf(lo, 1) || math.IsInf(hi, -1) {
		return entireIval
	}
	return ival{lo: lo, hi: hi}
}

// corner applies an operation to two finite numbers exactly.
func corner(op Op, a, b float64) *big.Rat {
	x, y := new(big.Rat).SetFloat64(a), new(big.Rat).SetFloat64(b)
	switch op {
	case OpAdd:
		return x.Add(x, y)
	case OpSub:
		return x.Sub(x, y)
	case OpMul:
		return x.Mul(x, y)
	}
	return x.Quo(x, y)
}

// TestOperationsRoundOutwards compares intervals with exact corners (math/big):
// never narrower than the truth.
func TestOperationsRoundOutwards(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 12))
	draw := func() ival {
		if rng.IntN(2) == 0 {
			return anyInterval(rng)
		}
		a := math.Exp(20 * (rng.Float64() - 0.5))
		return ival{lo: a, hi: a * (1 + rng.Float64())}
	}
	for _, op := range []Op{OpAdd, OpSub, OpMul, OpDiv} {
		for range 20_000 {
			a, b := draw(), draw()
			w := single(op, a, b)
			for _, e := range [][2]float64{{a.lo, b.lo}, {a.lo, b.hi}, {a.hi, b.lo}, {a.hi, b.hi}} {
				if math.IsInf(e[0], 0) || math.IsInf(e[1], 0) || op == OpDiv && e[1] == 0 {
					continue
				}
				holdsExactly(t, w, corner(op, e[0], e[1]))
			}
		}
	}
}

// single applies an operation to one pair of intervals.
func single(op Op, a, b ival) ival {
	switch op {
	case OpAdd:
		return add(a, b)
	case OpSub:
		return sub(a, b)
	case OpMul:
		return mul(a, b)
	}
	return div(a, b)
}

func holdsExactly(t *testing.T, v ival, r *big.Rat) {
	t.Helper()
	if !math.IsInf(v.lo, 0) {
		require.LessOrEqual(t, new(big.Rat).SetFloat64(v.lo).Cmp(r), 0, "%v above %v", v, r)
	}
	if !math.IsInf(v.hi, 0) {
		require.GreaterOrEqual(t, new(big.Rat).SetFloat64(v.hi).Cmp(r), 0, "%v below %v", v, r)
	}
}
