package bound

import (
	"math"
	"math/big"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
)

// Sets that contradict each other conclude nothing, whichever way is asked.
func TestContradictorySetsConcludeNothing(t *testing.T) {
	e := func(s string) *big.Rat {
		if s == "" {
			return nil
		}
		return rat(s)
	}
	for name, x := range map[string]Input{
		"wide set without a value":       {Lo: e("120"), Hi: e("100")},
		"with a sure set at either end":  {Lo: e("120"), Hi: e("100"), SureLo: e("120"), SureHi: e("120"), Spread: true},
		"sure set below the wide one":    {Lo: e("0"), Hi: e("5"), SureLo: e("-2"), SureHi: e("-2")},
		"sure set partly above":          {Hi: e("5"), SureLo: e("4"), SureHi: e("6")},
		"sure set turned round":          {SureLo: e("6"), SureHi: e("4")},
		"single sure end outside":        {Lo: e("7"), SureHi: e("6")},
		"by less than a float can tell":  {Lo: e("1.00000000000000000000000001"), Hi: e("1")},
		"below zero, in short fractions": {Lo: e("-1/3"), Hi: e("-1/2")},
	} {
		t.Run(name, func(t *testing.T) {
			in := []Input{x}
			for _, limit := range []string{"110", "-1", "1000", "-1000"} {
				for _, op := range []Op{OpLessEq, OpLess, OpEqual} {
					b := NewBuilder()
					for _, r := range []Reg{b.Binary(op, b.Var(0), num(b, limit)), b.Binary(op, num(b, limit), b.Var(0))} {
						d := Decide(b.Extract(r), 0, in, Options{})
						require.Equal(t, Undecided, d.Outcome)
						require.Equal(t, CauseContradiction, d.Cause)
						require.Equal(t, []int{0}, d.Lacking)
						got := MonteCarlo(b.Extract(r), 0, in, Sampling{N: 100, Yield: rat("0.5")})
						require.Equal(t, Undecided, got.Outcome)
						value, kind := Turns(b.Extract(r), 0, 0, in, Options{})
						require.Nil(t, value)
						require.Equal(t, Never, kind)
					}
				}
			}
			b := NewBuilder()
			p := b.Extract(b.Binary(OpAdd, b.Var(0), num(b, "1")))
			for _, got := range []Extent{Range(p, 0, in, Options{}), SureRange(p, 0, in, Options{})} {
				require.True(t, got.Empty)
				require.True(t, got.Lo.Unbounded && got.Hi.Unbounded)
			}
			require.NotEmpty(t, RootSumSquare(p, 0, in, Options{}).Missing)
			require.Equal(t, []float64{0}, Contributions(p, 0, in, true))
		})
	}
}

// The order of two fractions is that of math/big, at every size.
func TestRisingIsExact(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	draw := func() *big.Rat {
		n, d := r.Int64()>>r.IntN(63), r.Int64()>>r.IntN(63)+1
		if r.IntN(2) == 0 {
			n = -n
		}
		v := big.NewRat(n, max(d, 1))
		if r.IntN(4) == 0 {
			v.Mul(v, new(big.Rat).SetFrac(new(big.Int).Lsh(big.NewInt(1), uint(r.IntN(200))), big.NewInt(7)))
		}
		return v
	}
	extreme := []*big.Rat{big.NewRat(math.MinInt64, 1), big.NewRat(math.MaxInt64, 1), big.NewRat(1, math.MaxInt64),
		big.NewRat(-1, math.MaxInt64), new(big.Rat)}
	for range 20000 {
		a := draw()
		for _, b := range append(extreme, draw(), new(big.Rat).Set(a)) {
			require.Equal(t, a.Cmp(b) <= 0, rising(a, b), "%s %s", a, b)
			require.Equal(t, b.Cmp(a) <= 0, rising(b, a), "%s %s", b, a)
		}
	}
}
