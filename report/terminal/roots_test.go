package terminal

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval/record"
)

// Claims that are open for one reason stand together, with the reason and what
// would settle it; each is listed where numbers are asked for.
func TestOneReasonIsToldOnce(t *testing.T) {
	point := record.OpenPoint{Reason: "no fact", Text: "the budget has no row for U7", Settle: "add a row"}
	r := &record.Record{Summary: record.Summary{Open: 9, LimitsNoted: 74, LimitsUnjudged: 26}}
	root := record.Root{Reason: point.Reason, Text: point.Text, Settle: point.Settle, Opens: 8}
	for _, id := range strings.Fields("a1 a2 a3 a4 a5 a6 a7 a8") {
		r.Claims = append(r.Claims, record.Claim{ID: id, Verdict: record.Open, Open: []record.OpenPoint{point}})
		root.Claims = append(root.Claims, id)
	}
	r.Claims = append(r.Claims, record.Claim{ID: "other", Verdict: record.Open})
	r.Roots = []record.Root{root}
	var b strings.Builder
	require.NoError(t, Write(&b, r, Options{Max: 1}))
	require.Equal(t, 1, strings.Count(b.String(), point.Text))
	require.Contains(t, b.String(), "open     8 claims for one reason, no fact")
	require.Contains(t, b.String(), "to settle: add a row")
	require.Contains(t, b.String(), "claims: a1, a2, a3, a4, a5, a6 and 2 more")
	require.Contains(t, b.String(), "\nopen other")
	require.NotContains(t, b.String(), "more open")
	require.Contains(t, b.String(), "26 of 74 noted limits are judged by nothing: see `limits`")
	b.Reset()
	require.NoError(t, Write(&b, r, Options{Verbose: true}))
	require.Equal(t, 8, strings.Count(b.String(), point.Text))
}

// What passed on a maximum rating is counted apart; what failed is not.
func TestPassesOnRatingsAreTold(t *testing.T) {
	r := &record.Record{Claims: []record.Claim{{ID: "b", Verdict: record.Failed}},
		Assumptions: []record.Assumption{{Kind: record.KindRating, Claims: []string{"a", "b"}}}}
	var b strings.Builder
	require.NoError(t, Write(&b, r, Options{Width: 120}))
	require.Contains(t, b.String(), "1 pass rests on a maximum rating, which promises survival and no more: a\n")
}
