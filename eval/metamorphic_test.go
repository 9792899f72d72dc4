package eval

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval/record"
)

// dividerNotebook is a small design with its numbers spelled by s.
func dividerNotebook(s func(value, unit string) string) []string {
	return []string{
		"V_IN  = " + s("9", "V") + " to " + s("12.6", "V"),
		"R_TOP = " + s("100", "kΩ") + " ± 1 %",
		"R_BOT = " + s("33", "kΩ") + " ± 1 %",
		"I_PIN = max " + s("1", "µA"),
		"V_OUT = V_IN * R_BOT / (R_TOP + R_BOT)",
		"P_TOP = (V_IN - V_OUT)^2 / R_TOP",
	}
}

var dividerClaims = []string{
	"criterion: V_OUT <= %s\nmargin: 5 %%",
	"criterion: V_OUT + I_PIN * R_TOP * R_BOT / (R_TOP + R_BOT) <= %s",
	"criterion: P_TOP <= %s",
}

var dividerLimits = [][2]string{{"3.4", "V"}, {"3.2", "V"}, {"0.9", "mW"}}

func dividerText(lines []string, s func(value, unit string) string) string {
	var b strings.Builder
	b.WriteString("```design\ntitle: divider\n```\n```values\n" + strings.Join(lines, "\n") + "\n```\n")
	for i, c := range dividerClaims {
		fmt.Fprintf(&b, "```claim c%d\nstatement: it holds\n"+c+"\n```\n", i, s(dividerLimits[i][0], dividerLimits[i][1]))
	}
	return b.String()
}

func verdicts(r *record.Record) map[string]string {
	out := map[string]string{}
	for _, c := range r.Claims {
		out[c.ID] = string(c.Verdict)
		for _, k := range c.Criteria {
			for _, t := range k.Tests {
				if t.Margin != nil && t.Margin.Absolute != nil {
					out[c.ID] += fmt.Sprintf(" %.12g", *t.Margin.Absolute)
				}
			}
		}
	}
	return out
}

// The same design spelled in other units gives the same verdicts and margins.
func TestOtherUnitsSameVerdicts(t *testing.T) {
	plain := func(v, u string) string { return v + " " + u }
	other := map[string]func(string) string{
		"V":  func(v string) string { return v + "e3 mV" },
		"kΩ": func(v string) string { return v + "e-3 Mohm" },
		"µA": func(v string) string { return v + "e3 nA" },
		"mW": func(v string) string { return v + "e-3 W" },
	}
	spelled := func(v, u string) string { return other[u](v) }
	a := compileText(t, dividerText(dividerNotebook(plain), plain))
	b := compileText(t, dividerText(dividerNotebook(spelled), spelled))
	require.Zero(t, a.Summary.Errors, allText(a))
	require.Zero(t, b.Summary.Errors, allText(b))
	require.Equal(t, verdicts(a), verdicts(b))
	require.Equal(t, record.Passed, a.Claims[0].Verdict, allText(a))
}

// The order of definitions does not matter.
func TestOrderDoesNotMatter(t *testing.T) {
	plain := func(v, u string) string { return v + " " + u }
	want := verdicts(compileText(t, dividerText(dividerNotebook(plain), plain)))
	r := rand.New(rand.NewPCG(1, 2))
	for range 20 {
		lines := dividerNotebook(plain)
		r.Shuffle(len(lines), func(i, j int) { lines[i], lines[j] = lines[j], lines[i] })
		got := compileText(t, dividerText(lines, plain))
		require.Zero(t, got.Summary.Errors, allText(got))
		require.Equal(t, want, verdicts(got), lines)
	}
}

// Widening an input never turns a claim that does not pass into one that does.
func TestWiderNeverPassesMore(t *testing.T) {
	passed := true
	for _, tol := range []string{"0.1", "0.5", "1", "2", "5", "10"} {
		r := compileText(t, "```design\ntitle: w\n```\n```values\nV = 5 V ± "+tol+
			" %\n```\n```claim c\nstatement: it holds\ncriterion: V inside 4.9 V to 5.1 V\n```\n")
		now := r.Claims[0].Verdict == record.Passed
		require.False(t, now && !passed, tol)
		passed = now
	}
	require.False(t, passed)
}
