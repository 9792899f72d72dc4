package examples_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval/record"
)

// verdicts of the claims that are written in each notebook. What is not
// listed here must have passed.
var designs = []struct {
	path     string
	root     string
	claims   []string                  // every written claim, in any order
	others   map[string]record.Verdict // written claims that did not pass
	builtIns map[string]record.Verdict // built-in checks that neither passed nor were skipped
	exit     int
}{
	{
		path: "weirkeeper/board.md",
		root: "weirkeeper",
		claims: []string{"A1", "A2", "A3", "A4", "A5", "A6", "A7", "A8", "A9", "A10", "A11", "A12", "A13", "A14",
			"sense-range", "pads-and-polarity", "rail-load",
			"small-limits", "charge-window", "cell-discharge"},
		others: map[string]record.Verdict{
			"A8": record.Waived, // its thermal resistance is typical, of a test board
		},
	},
	{
		path: "granary/board.md",
		root: "granary",
		claims: []string{"B1", "B2", "B3", "B4", "B5", "B6", "B7", "B8", "B9", "B10", "B11", "B12", "B13", "B14", "bleed-single-fault",
			"mains-parts", "coil-limits", "bus-lines"},
		others: map[string]record.Verdict{
			"bleed-single-fault": record.Open,   // left in on purpose
			"B14":                record.Waived, // stated at 3.3 V, used at 3.25 V
		},
		exit: 1,
	},
	{
		path: "guide/guide.md",
		root: "guide",
		claims: []string{"supply-inside", "headroom", "junction", "rail-of-limit", "rail-of-span", "rail-of-nominal",
			"rail-absolute", "divider-statistics", "divider-yield", "pin-one", "warm-up", "quiet-supply", "load-inside"},
		others: map[string]record.Verdict{"quiet-supply": record.Waived},
		builtIns: map[string]record.Verdict{
			"regulator.U2.junction": record.Waived, // the sheet states the supply current without a load only
		},
	},
	{
		path:     "weirkeeper/mistakes/cutoff.md",
		root:     "weirkeeper/mistakes",
		claims:   []string{"as-argued", "A2"},
		others:   map[string]record.Verdict{"A2": record.Failed},
		builtIns: map[string]record.Verdict{"regulator.U2.headroom": record.Failed},
		exit:     1,
	},
	{
		path:     "weirkeeper/mistakes/package.md",
		root:     "weirkeeper/mistakes",
		claims:   []string{"ordered-case", "ordered-volts"},
		others:   map[string]record.Verdict{"ordered-case": record.Failed},
		builtIns: map[string]record.Verdict{"order-code.U2": record.Failed},
		exit:     1,
	},
	{
		path:     "weirkeeper/mistakes/pullups.md",
		root:     "weirkeeper/mistakes",
		claims:   []string{"A6"},
		others:   map[string]record.Verdict{"A6": record.Failed},
		builtIns: map[string]record.Verdict{"pull-up.SDA": record.Failed, "pull-up.SCL": record.Failed},
		exit:     1,
	},
	{
		path:   "granary/mistakes/suppressor.md",
		root:   "granary/mistakes",
		claims: []string{"B1"},
		others: map[string]record.Verdict{"B1": record.Failed},
		exit:   1,
	},
	{
		path:   "granary/mistakes/slot.md",
		root:   "granary/mistakes",
		claims: []string{"B10"},
		others: map[string]record.Verdict{"B10": record.Failed},
		exit:   1,
	},
	{
		path:     "granary/mistakes/fan.md",
		root:     "granary/mistakes",
		claims:   []string{"as-argued", "B7"},
		others:   map[string]record.Verdict{"B7": record.Failed},
		builtIns: map[string]record.Verdict{"regulator.PS1.current": record.Failed},
		exit:     1,
	},
}

func TestVerdicts(t *testing.T) {
	for _, d := range designs {
		t.Run(d.path, func(t *testing.T) {
			r := compile(t, d.path, d.root)
			require.Zero(t, r.Summary.Errors, "%v", r.Diagnostics)
			require.Zero(t, r.Summary.Warnings, "%v", r.Diagnostics)
			var written []string
			for _, c := range r.Claims {
				if c.Kind == "claim" {
					written = append(written, c.ID)
					require.Equal(t, expected(d.others, c.ID), c.Verdict, "%s: %s", c.ID, c.Headline)
					require.NotEmpty(t, c.Statement)
				} else if c.Verdict != record.Skipped {
					require.Equal(t, expected(d.builtIns, c.ID), c.Verdict, "%s: %s %v", c.ID, c.Headline, c.Open)
				}
			}
			require.ElementsMatch(t, d.claims, written)
		})
	}
}

func expected(m map[string]record.Verdict, id string) record.Verdict {
	if v, ok := m[id]; ok {
		return v
	}
	return record.Passed
}

// A mistake must show its numbers at the corner that breaks the claim.
func TestMistakesNameTheirCorner(t *testing.T) {
	for path, want := range map[string]struct {
		claim string
		miss  float64 // SI, by hand
	}{
		"weirkeeper/mistakes/cutoff.md":  {"A2", 3.30 - 0.1271*0.405 - 0.210 - 3.06},
		"weirkeeper/mistakes/pullups.md": {"A6", 300e-9 - 0.8472978603872037*10.1e3*60e-12}, // ln(7/3)
		"granary/mistakes/suppressor.md": {"B1", 250 - 253},
		"granary/mistakes/slot.md":       {"B10", 4.2e-3 - 5.0e-3},
		"granary/mistakes/fan.md":        {"B7", 0.75 - (0.540 + 5.15/(69.4*0.9) + 0.022 + 0.060 + 0.060 + 0.0014)},
	} {
		c := claim(t, compile(t, path, ""), want.claim)
		require.Equal(t, "broken", failure(c), path)
		require.InEpsilon(t, want.miss, worst(c), 1e-9, path)
	}
}

func failure(c record.Claim) string {
	for _, k := range c.Criteria {
		if k.Failure != "" {
			return k.Failure
		}
	}
	return ""
}

// worst is the smallest margin of a claim.
func worst(c record.Claim) float64 {
	least, found := 0.0, false
	for _, k := range c.Criteria {
		for _, x := range k.Tests {
			if x.Margin != nil && x.Margin.Absolute != nil && (!found || *x.Margin.Absolute < least) {
				least, found = *x.Margin.Absolute, true
			}
		}
	}
	return least
}
