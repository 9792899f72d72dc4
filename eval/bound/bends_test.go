package bound

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// TestBendsWithoutEnds checks that nothing is proven of a number that bends at
// a place where its inputs have no ends: what is cut at the bend still reaches
// beyond every limit.
func TestBendsWithoutEnds(t *testing.T) {
	below := Input{Hi: rat("3")}
	for _, number := range []string{"abs(x-y)", "abs(x)", "max(x-y,y-x)", "max(x,0-x)", "abs(2*x-y/3)", "abs(x-y)+x", "max(x,y)"} {
		for _, in := range [][]Input{{{}, {}}, {{}, between("0", "1")}, {below, {}}, {below, below}, {{}, {SureLo: rat("0"), SureHi: rat("0")}}} {
			if number == "max(x,y)" && in[0].Hi != nil && in[1].Hi != nil {
				continue // at most 3
			}
			d := Decide(claimOf(number, OpLessEq, "15", "x", "y"), 0, in, Options{})
			require.NotEqual(t, Proven, d.Outcome, "%s over %+v", number, in)
		}
	}
}
