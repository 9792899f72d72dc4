package eval

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval/record"
)

// statisticsClaim is one claim on two resistors and a supply, with the lines
// that say how it is judged.
func statisticsClaim(lines ...string) string {
	return "```values\nA = 1 V ± 10 %\nB = 1 V ± 10 %\nS = 0.1 V ± 10 %\nP = ± 3 V\nQ = ± 4 V\nW = 1 V to 2 V\n" +
		"K = A > 1 V ? B : 2 * B\nN = count([A, B], A > 2 V) * 1 V\nONE = W > 0 V ? A : B\n```\n```claim c\nstatement: the case holds\n" +
		strings.Join(lines, "\n") + "\n```\n"
}

// TestYieldOfAllCriteria holds the yield to the share of pieces for which all
// criteria hold: of two independent ones at 97.5 % that is 95.06 %.
func TestYieldOfAllCriteria(t *testing.T) {
	apart := []string{"criterion: A <= 1.095 V", "criterion: B <= 1.095 V", "analysis: Monte Carlo 20000"}
	for _, x := range []struct {
		yield string
		want  record.Verdict
	}{{"97 %", record.Failed}, {"94.5 %", record.Passed}} {
		joined := []string{"criterion: A <= 1.095 V and B <= 1.095 V", apart[2]}
		for _, lines := range [][]string{apart, joined} {
			c := claimOf(t, compileText(t, statisticsClaim(append(lines, "yield: "+x.yield)...)), "c")
			require.Equal(t, x.want, c.Verdict, "%v: %s", lines, c.Headline)
			for _, k := range c.Criteria {
				require.Equal(t, x.want, k.Verdict)
				require.InDelta(t, 0.975*0.975, float64(k.Statistics.Held)/20000, 0.005, "%s", k.Statistics.Text)
			}
		}
	}
	// The same piece breaks both, or either.
	c := claimOf(t, compileText(t, statisticsClaim("criterion: A <= 1.095 V", "criterion: 2 * A <= 2.19 V", apart[2], "yield: 97 %")), "c")
	require.Equal(t, record.Passed, c.Verdict, "%s", c.Headline)
	c = claimOf(t, compileText(t, statisticsClaim("criterion: A <= 1.095 V", "criterion: A >= 0.905 V", apart[2], "yield: 97 %")), "c")
	require.Equal(t, record.Failed, c.Verdict, "%s", c.Headline)
}

// TestYieldOfACandidate: a shortlist is judged as it says.
func TestYieldOfACandidate(t *testing.T) {
	text := "```part PA\nspec V_O = 1 V ± 100 mV\nspec V_P = 1 V ± 100 mV\n```\n```shortlist s\ncandidates: PA\nchoice: PA\n" +
		"criterion: candidate.V_O <= 1.095 V\ncriterion: candidate.V_P <= 1.095 V\nanalysis: Monte Carlo 20000\nyield: %s\n```\n"
	require.Equal(t, record.Failed, claimOf(t, compileText(t, fmt.Sprintf(text, "97 %")), "shortlist.s.PA").Verdict)
	require.Equal(t, record.Passed, claimOf(t, compileText(t, fmt.Sprintf(text, "94.5 %")), "shortlist.s.PA").Verdict)
	r := compileText(t, strings.Replace(text, "analysis: Monte Carlo 20000\nyield: %s", "waiver: 2099-12-31, A. Tarn, the bench will do", 1))
	require.Equal(t, record.Waived, claimOf(t, r, "shortlist.s.PA").Verdict)
	require.Contains(t, codes(compileText(t, strings.Replace(fmt.Sprintf(text, "97 %"), "analysis: Monte Carlo 20000\n",
		"", 1))), "error yield-place")
	require.Contains(t, codes(compileText(t, strings.Replace(text, "yield: %s\n", "", 1))), "error yield-missing")
}

// TestYieldFailures: what fails says whether only its margin is missing, and
// nothing fails by what the facts leave open.
func TestYieldFailures(t *testing.T) {
	const draw = "analysis: Monte Carlo 20000"
	short := claimOf(t, compileText(t, statisticsClaim("criterion: A <= 1.095 V", "margin: 0.05 V", draw, "yield: 97 %")), "c")
	require.Equal(t, "short", short.Criteria[0].Failure, "%s", short.Headline)
	require.Contains(t, short.Headline, "samples hold")
	broken := claimOf(t, compileText(t, statisticsClaim("criterion: A <= 1.05 V", "margin: 0.05 V", draw, "yield: 97 %")), "c")
	require.Equal(t, "broken", broken.Criteria[0].Failure)
	// Not negative by the user's word and with no min: may be 0, need not be.
	part := "```part PA\nspec I_X = max 1 mA\nspec V_X = 1 V ± 10 %\nat least zero: I_X\n```\n```circuit\nU1 PA\n```\n"
	open := claimOf(t, compileText(t, part+"```claim c\nstatement: s\ncriterion: U1.I_X >= 0.9 mA\n"+draw+"\nyield: 97 %\n```\n"), "c")
	require.Equal(t, record.Open, open.Verdict, "%s", open.Headline)
	open = claimOf(t, compileText(t, part+"```claim c\nstatement: s\ncriterion: U1.I_X >= 0.9 mA\nanalysis: root sum square\n```\n"), "c")
	require.Equal(t, record.Open, open.Verdict, "%s", open.Headline)
}

// TestRootSumSquareAtTheLimit: a value equal to its limit meets it, `<` is
// strict, and what only misses its margin is short.
func TestRootSumSquareAtTheLimit(t *testing.T) {
	for _, x := range []struct {
		criterion, margin string
		verdict           record.Verdict
		failure           string
	}{
		{"A <= 1.1 V", "", record.Passed, ""},
		{"A < 1.1 V", "", record.Failed, "broken"},
		{"S <= 0.11 V", "", record.Passed, ""},
		{"S + S <= 0.22 V", "", record.Passed, ""},
		{"S >= 0.09 V", "", record.Passed, ""},
		{"A * W <= 2.2 V^2", "", record.Passed, ""}, // surroundings at their worst
		{"A / S <= 11", "", record.Failed, "broken"},
		{"W <= 2 V", "", record.Passed, ""}, // nothing spreads
		{"W < 2 V", "", record.Failed, "broken"},
		{"P + Q <= 5 V", "", record.Passed, ""}, // 3, 4, 5
		{"P - Q >= -5 V", "", record.Passed, ""},
		{"P + Q < 5 V", "", record.Failed, "broken"},
		{"P + Q <= 4.999999999999 V", "", record.Failed, "broken"},
		{"P + Q inside -5 V to 5 V", "", record.Passed, ""},
		{"P + Q <= 6 V", "1 V", record.Passed, ""},
		{"P + Q <= 6 V", "1.001 V", record.Failed, "short"},
		{"P + Q <= 4.9 V", "1 V", record.Failed, "broken"},
		{"A <= 1.2 V", "0.15 V", record.Failed, "short"},
		{"A <= 1.2 V and B <= 1.05 V", "0.15 V", record.Failed, "broken"},
		{"A <= 1.1 V", "5 %", record.Failed, "short"},
		{"K <= 3 V", "", record.Open, ""},
		{"K <= 1 V", "", record.Open, ""},
		{"N <= 1 V", "", record.Passed, ""},
		{"ONE <= 1.1 V", "", record.Passed, ""},
		{"max(A, B) <= 1.2 V", "", record.Open, ""},
		{"abs(A) <= 1.1 V", "", record.Passed, ""},
		{"A / (W - 1.5 V) <= 3", "", record.Open, ""},
	} {
		lines := []string{"criterion: " + x.criterion, "analysis: root sum square"}
		if x.margin != "" {
			lines = append(lines, "margin: "+x.margin)
		}
		c := claimOf(t, compileText(t, statisticsClaim(lines...)), "c")
		require.Equal(t, x.verdict, c.Verdict, "%s with %s: %s", x.criterion, x.margin, c.Headline)
		require.Equal(t, x.failure, c.Criteria[0].Failure, "%s with %s: %s", x.criterion, x.margin, c.Headline)
	}
}

// TestRootSumSquareOfSums compares many sums with √Σa² worked out here, at, just
// inside and just outside the limit.
func TestRootSumSquareOfSums(t *testing.T) {
	triples := [][3]int{{3, 4, 5}, {5, 12, 13}, {8, 15, 17}, {7, 24, 25}, {20, 21, 29}, {9, 40, 41}}
	r := rand.New(rand.NewPCG(1, 2))
	for n := range 60 {
		x := triples[n%len(triples)]
		scale, centre := 1+r.IntN(900), r.IntN(2000)-1000
		at := centre + x[2]*scale
		lines := fmt.Sprintf("```values\nA = %d mV ± %d mV\nB = ± %d mV\n```\n", centre, x[0]*scale, x[1]*scale)
		for past, want := range map[int]record.Verdict{0: record.Passed, 1: record.Passed, -1: record.Failed} {
			limit := fmt.Sprintf("%d nV", at*1_000_000+past)
			c := claimOf(t, compileText(t, lines+"```claim c\nstatement: s\ncriterion: A + B <= "+limit+"\nanalysis: root sum square\n```\n"), "c")
			require.Equal(t, want, c.Verdict, "%s %s: %s", lines, limit, c.Headline)
		}
	}
}
