package bound

import (
	"fmt"
	"math/big"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
)

// TestOpenEndsAreSampled checks what is proven of random formulas with bends
// over inputs of which some have no ends: it holds at points far and near.
func TestOpenEndsAreSampled(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	var formula func(depth int) string
	formula = func(depth int) string {
		if depth == 0 {
			return []string{"x", "y", "2", "0.5", "x-y"}[rng.IntN(5)]
		}
		a, b := formula(depth-1), formula(depth-1)
		switch rng.IntN(6) {
		case 0:
			return "abs(" + a + ")"
		case 1:
			return fmt.Sprintf("max(%s,%s)", a, b)
		case 2:
			return fmt.Sprintf("min(%s,%s)", a, b)
		case 3:
			return fmt.Sprintf("(%s)*(%s)", a, b)
		case 4:
			return fmt.Sprintf("(%s)-(%s)", a, b)
		}
		return fmt.Sprintf("(%s)+(%s)", a, b)
	}
	proven := 0
	for range 3000 {
		number, limit := formula(1+rng.IntN(3)), fmt.Sprint(rng.IntN(40)-10)
		in := make([]Input, 2)
		for i := range in {
			if rng.IntN(2) == 0 {
				in[i].Lo = big.NewRat(int64(rng.IntN(20)-10), 1)
			}
			if rng.IntN(2) == 0 {
				in[i].Hi = big.NewRat(int64(rng.IntN(20)+10), 1)
			}
		}
		if Decide(claimOf(number, OpLessEq, limit, "x", "y"), 0, in, Options{Boxes: 500}).Outcome != Proven {
			continue
		}
		proven++
		p := claimOf(number, OpLessEq, limit, "x", "y")
		for range 60 {
			at := make([]*big.Rat, 2)
			point := make([]Input, 2)
			for i := range at {
				at[i] = big.NewRat(int64(rng.IntN(2001)-1000)*int64([]int{1, 1, 1000}[rng.IntN(3)]), int64(1+rng.IntN(100)))
				if lo := in[i].Lo; lo != nil && at[i].Cmp(lo) < 0 {
					at[i] = lo
				}
				if hi := in[i].Hi; hi != nil && at[i].Cmp(hi) > 0 {
					at[i] = hi
				}
				point[i] = Input{Lo: at[i], Hi: at[i], SureLo: at[i], SureHi: at[i]}
			}
			require.NotEqual(t, Broken, Decide(p, 0, point, Options{}).Outcome, "%s <= %s at %v over %+v", number, limit, at, in)
		}
	}
	require.Greater(t, proven, 300)
}
