package eval

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// What a few lines can ask without measure is refused or open, each with the reason.
func TestWorkIsBounded(t *testing.T) {
	defer func(a, b, c int) { mostCells, mostSamples, mostRetried = a, b, c }(mostCells, mostSamples, mostRetried)
	mostCells, mostSamples, mostRetried = 6, 30_000, 500
	const design = "```design\ntitle: x\n```\n"
	run := "```circuit\nR1-R1000  resistor 1k  A B\n```\n"
	claim := func(id, text string) string { return "```claim " + id + "\nstatement: s\n" + text + "\n```\n" }
	t.Run("lists in lists", func(t *testing.T) {
		r := compileText(t, design+run+"```values\nX = sum(each(R1-R1000, sum(each(R1-R1000, sum(each(R1-R1000, .R))))))\n```\n"+claim("c", "criterion: X <= 6 Ω"))
		require.Contains(t, codes(r), "error list-work")
		require.Equal(t, Open, claimOf(t, r, "c").Verdict)
		one := compileText(t, design+run+"```values\nX = sum(each(R1-R1000, .R))\n```\n"+claim("c", "criterion: X <= 6 Ω"))
		require.Equal(t, Failed, claimOf(t, one, "c").Verdict)
	})
	t.Run("samples", func(t *testing.T) {
		text := design + "```values\nA = 1 V ± 5 %\n```\n"
		for i := range 4 {
			text += claim(fmt.Sprint("c", i), "criterion: A <= 2 V\nanalysis: Monte Carlo 10000\nyield: 50 %")
		}
		r := compileText(t, text)
		require.Equal(t, Passed, claimOf(t, r, "c0").Verdict)
		require.Equal(t, Open, claimOf(t, r, "c3").Verdict)
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
		require.Equal(t, Open, claimOf(t, r, "alternate.U11.P0").Verdict)
		require.NotEqual(t, Open, claimOf(t, r, "alternate.U0.P1").Verdict)
	})
}

func each(list []string, f func(string) string) (out []string) {
	for _, s := range list {
		out = append(out, f(s))
	}
	return out
}
