package eval

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval/record"
)

// What a few lines can ask without measure is refused or open, each with the reason.
func TestWorkIsBounded(t *testing.T) {
	defer func(a, b, c int) { mostCells, mostSamples, mostRetried = a, b, c }(mostCells, mostSamples, mostRetried)
	mostCells, mostSamples, mostRetried = 6, 30_000, 500
	const design = "```design\ntitle: x\n```\n"
	run := "```circuit\nR1-R1000  resistor 1k  A B\n```\n"
	claim := func(id, text string) string { return "```claim " + id + "\nstatement: s\n" + text + "\n```\n" }
	t.Run("lists in lists", func(t *testing.T) {
		r := compileText(t, design+run+"```values\nX = sum(each(R1-R1000, sum(each(R1-R1000, sum(each(R1-R1000, .R))))))\n```\n"+
			claim("c", "criterion: X <= 6 Ω"))
		require.Contains(t, codes(r), "error list-work")
		require.Equal(t, record.Open, claimOf(t, r, "c").Verdict)
		one := compileText(t, design+run+"```values\nX = sum(each(R1-R1000, .R))\n```\n"+claim("c", "criterion: X <= 6 Ω"))
		require.Equal(t, record.Failed, claimOf(t, one, "c").Verdict)
	})
	t.Run("samples", func(t *testing.T) {
		text := design + "```values\nA = 1 V ± 5 %\n```\n"
		for i := range 4 {
			text += claim(fmt.Sprint("c", i), "criterion: A <= 2 V\nanalysis: Monte Carlo 10000\nyield: 50 %")
		}
		r := compileText(t, text)
		require.Equal(t, record.Passed, claimOf(t, r, "c0").Verdict)
		require.Equal(t, record.Open, claimOf(t, r, "c3").Verdict)
		require.Contains(t, claimOf(t, r, "c3").Headline, "30000 samples")
	})
	t.Run("shortlists", func(t *testing.T) {
		text := design + "```part P\ntitle: t\nspec A = 1 V\n```\n```part Q\ntitle: t\nspec A = 1 V\n```\n```shortlist s\ncandidates: P, Q\n" +
			strings.Repeat("criterion: candidate.A <= 2 V\n", 4) + "```\n"
		require.Contains(t, codes(compileText(t, text)), "error shortlist-large")
	})
	t.Run("alternates", func(t *testing.T) {
		text, names := design, []string{}
		for i := range 12 {
			names = append(names, fmt.Sprint("P", i))
		}
		for i, id := range names {
			text += "```part " + id + "\ntitle: t\nalternates: " + strings.Join(append(append([]string{}, names[:i]...), names[i+1:]...), ", ") +
				"\npins: none\napplication: none\n```\n"
		}
		r := compileText(t, text+"```circuit\n"+strings.Join(each(names, func(id string) string { return "U" + id[1:] + "  " + id }), "\n")+"\n```\n")
		require.Equal(t, record.Open, claimOf(t, r, "alternate.U11.P0").Verdict)
		require.NotEqual(t, record.Open, claimOf(t, r, "alternate.U0.P1").Verdict)
	})
}

func each(list []string, f func(string) string) (out []string) {
	for _, s := range list {
		out = append(out, f(s))
	}
	return out
}

// Proofs that are not decided use up the design's budget; what corners settle
// is judged all the same, and side by side or not gives the same.
func TestProofsOfADesignAreBounded(t *testing.T) {
	defer func(n int) { mostBoxes = n }(mostBoxes)
	mostBoxes = 3_000
	text := "```design\ntitle: x\n```\n```values\n"
	for i := range 4 {
		text += fmt.Sprintf("X%d = 1 V to 2 V [assumed: invented]\n", i)
	}
	text += "```\n"
	for i := range trialLot + 8 {
		text += fmt.Sprintf("```claim c%d\nstatement: s\ncriterion: (X0*X1 + X1*X2 + X2*X3 + X3*X0)/"+
			"(X0^2 + X1^2 + X2^2 + X3^2) <= 1.0%02d1\n```\n", i, i)
	}
	text += "```claim plain\nstatement: s\ncriterion: X0 + X1 <= 5 V\n```\n"
	r := compiled(t, text, Options{Checks: TestChecks, Workers: 1, Boxes: 200})
	require.Contains(t, claimOf(t, r, "c0").Headline, "not decided within")
	require.Contains(t, claimOf(t, r, fmt.Sprint("c", trialLot+7)).Headline, "the design's budget of proofs is used up")
	require.Equal(t, record.Passed, claimOf(t, r, "plain").Verdict)
	require.Equal(t, r, compiled(t, text, Options{Checks: TestChecks, Workers: 2, Boxes: 200}))
}

// What says nothing of a board is told, and what accepts everything.
func TestEmptyClaimsAndWideWaiversAreTold(t *testing.T) {
	text := "```design\ntitle: x\n```\n```values\nA = 1 V to 2 V [assumed: invented]\n```\n" +
		"```claim same\nstatement: s\ncriterion: A <= A\n```\n```claim square\nstatement: s\ncriterion: A*A >= 0 V^2\n```\n" +
		"```claim limit\nstatement: s\ncriterion: A <= 3 V\n```\n" +
		"```claim long\nstatement: s\ncriterion: A <= 1 V\nwaiver: 9999-12-31, W. Alder, why not\naccepts: 1000 %\n```\n" +
		"```claim short\nstatement: s\ncriterion: A <= 1.9 V\nwaiver: 2027-06-30, W. Alder, measured\naccepts: 10 %\n```\n"
	r := compiled(t, text, Options{Checks: TestChecks, On: "2026-11-29"})
	var told []string
	for _, d := range r.Diagnostics {
		told = append(told, fmt.Sprint(d.Code, ":", d.Line))
	}
	require.ElementsMatch(t, []string{"claim-empty:9", "claim-empty:13", "waiver-long:22", "waiver-wide:23"}, told)
	require.Contains(t, fmt.Sprint(r.Assumptions), "`A <= A` is true for any values")
	require.Equal(t, record.Passed, claimOf(t, r, "limit").Verdict)
}
