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

// TestRowsRoundOutwards holds the rows of a batch, with the processor's own
// rounding and without, against exact corners (math/big) and against the
// operations on single intervals: never narrower than the truth, and the
// processor's never wider than ours.
func TestRowsRoundOutwards(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 12))
	for _, op := range []Op{OpAdd, OpSub, OpMul, OpDiv} {
		g := NewBuilder()
		x, y := g.Var(0), g.Var(1)
		p := g.Extract(g.Binary(op, x, y))
		wide, plain := newIvalBatch(p, 0), newIvalBatch(p, 0)
		plain.wideRows = false
		for range 800 {
			special := rng.IntN(2) == 0 // half of the rows without a lane that spoils them
			n := 1 + rng.IntN(lanes)
			var in [2][lanes]ival
			for i := range in {
				for k := range lanes {
					v := anyInterval(rng)
					if !special {
						a := math.Exp(20 * (rng.Float64() - 0.5))
						v = ival{lo: a, hi: a * (1 + rng.Float64())}
					}
					in[i][k] = v
					for _, b := range []*ivalBatch{wide, plain} {
						if lo, hi := b.input(i); lo != nil {
							lo[k], hi[k] = v.lo, v.hi
						}
					}
				}
			}
			wide.run(n)
			plain.run(n)
			for k := range n {
				a, b := in[0][k], in[1][k]
				w, one := wide.get(wide.root, k), plain.get(plain.root, k)
				require.Equal(t, one.u, w.u, "%v %v %v", op, a, b)
				require.True(t, one.lo <= w.lo && w.hi <= one.hi || one.empty() && w.empty(), "%v %v %v: %v outside %v", op, a, b, w, one)
				for _, e := range [][2]float64{{a.lo, b.lo}, {a.lo, b.hi}, {a.hi, b.lo}, {a.hi, b.hi}} {
					if math.IsInf(e[0], 0) || math.IsInf(e[1], 0) || op == OpDiv && e[1] == 0 {
						continue
					}
					holdsExactly(t, w, corner(op, e[0], e[1]))
				}
			}
		}
	}
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
