package pdf

import (
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval"
)

// A skipped claim is not among the open points.
func TestSkippedClaimsAreNotOpen(t *testing.T) {
	why := []eval.OpenPoint{{Reason: "no fact", Text: "x"}}
	d := &document{r: &eval.Record{Claims: []eval.Claim{{ID: "a", Verdict: eval.Skipped, Open: why}, {ID: "b", Verdict: eval.Open, Open: why}}}}
	require.Len(t, d.openEntries(), 1)
	require.Equal(t, "b", d.openEntries()[0].claim)
}
