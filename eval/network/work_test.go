package network

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// What a design may cost is bounded over all that is asked of it: after that
// nothing is passed or failed, and the reason is told.
func TestWorkIsBounded(t *testing.T) {
	ask := func(work int) (passes, fails Judgement) {
		b := newBoard()
		b.n.limits.Work = 6 * work
		b.n.Question()
		pin, mid := b.n.Node("P4"), b.n.Node("D1_A")
		d, _, high := b.out("U1.P4", pin, b.rail("V3V3", "3.2", "3.4"))
		b.r("R1", pin, mid, "470")
		b.led("D1", mid, b.gnd)
		current := b.n.Current(high)
		return b.n.Judge(b.le(current, "7.4m"), only(d, "high")), b.n.Judge(b.le(current, "0.1m"), only(d, "high"))
	}
	passes, fails := ask(1_000_000)
	require.Equal(t, Passed, passes.Verdict)
	require.Equal(t, Failed, fails.Verdict)
	passes, fails = ask(1)
	require.Equal(t, Undecided, passes.Verdict)
	require.Equal(t, Undecided, fails.Verdict)
	require.Contains(t, passes.Why, "all the work that a design may cost")
}
