package bound

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// TestEndless judges numbers whose inputs have no end on one side: a limit that
// is neared and not reached is met, a strict one is not shown.
func TestEndless(t *testing.T) {
	above := func(lo string) Input { return Input{Lo: rat(lo), SureLo: rat(lo), SureHi: rat(lo)} }
	parallel := "1/(1/x+1/y)"
	for _, c := range []struct {
		number, limit string
		op            Op
		x, y          Input
		want          Outcome
	}{
		{parallel, "5.02", OpLess, above("6.85"), above("18.8"), Broken},
		{"0-" + parallel, "-5.02", OpLessEq, above("6.85"), above("18.8"), Proven},
		{"0-" + parallel, "-5.03", OpLessEq, above("6.85"), above("18.8"), Broken},
		{parallel, "15.34", OpLessEq, between("15.34", "15.34"), above("2"), Proven},
		{parallel, "15.33", OpLessEq, between("15.34", "15.34"), above("2"), Undecided},
		{"y-0.205/x", "35.7", OpLessEq, above("693"), between("28.3", "35.7"), Proven},
		{"y-0.205/x", "35.69", OpLessEq, above("693"), between("28.3", "35.7"), Broken},
		{"0-x*y", "0", OpLessEq, above("0"), above("0"), Proven},
		{"0-x*y", "0", OpLess, above("0"), above("0"), Broken},
		{"0-x/y", "0", OpLess, above("0.1"), above("0.1"), Proven},
		{"x-y", "3", OpLessEq, between("1", "2"), above("0"), Proven},
		{"x-y", "3", OpLessEq, above("1"), above("0"), Undecided},
	} {
		d := Decide(claimOf(c.number, c.op, c.limit, "x", "y"), 0, []Input{c.x, c.y}, Options{})
		require.Equal(t, c.want, d.Outcome, "%s against %s: %+v", c.number, c.limit, d)
	}
}
