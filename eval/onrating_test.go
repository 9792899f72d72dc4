package eval

import (
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval/record"
)

// A pass by the current that a pin survives is told apart from others.
func TestPassesOnMaximumRatings(t *testing.T) {
	seen := map[string]bool{}
	for _, k := range readCheckCases(t) {
		if k.file != "testdata/checks/signal/supply-crossing.md" {
			continue
		}
		r := k.compile(t)
		for _, a := range r.Assumptions {
			if a.Kind != record.KindRating {
				continue
			}
			require.NotEmpty(t, a.Claims)
			for _, id := range a.Claims {
				seen[id] = true
			}
		}
	}
	require.Contains(t, seen, "input-above-supply.U2.D", "a series resistor holds the injected current")
}
