package eval

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval/record"
	"guardband/eval/trade"
)

// A claim that holds whatever the board is, by a slip, is told.
func TestSlipsOfClaims(t *testing.T) {
	head := "```design\ntitle: x\nambient: 0 °C to 50 °C\n```\n```values\nV = 3.2 V to 3.4 V [assumed: invented]\n" +
		"H = 45 % to 55 % [assumed: invented]\nP = 1 W to 2 W [assumed: invented]\n```\n```claim c\nstatement: s\n"
	for criterion, code := range map[string]string{
		"H <= 60":                       "percent-missing",
		"H <= 60 %":                     "",
		"H <= 0.8":                      "",
		"abs(V - 3.3 V) / 3.3 V <= 3":   "percent-missing",
		"abs(V - 3.3 V) / 3.3 V <= 4 %": "",
		"V / 1 V <= 4":                  "",
		"V >= 3.2 V or V <= 3.4 V":      "claim-empty",
		"V <= 3.4 V or V >= 5 V":        "",
		"junction_temperature(25 °C, P, 20 K/W) <= 100 °C":    "ambient-literal",
		"junction_temperature(ambient, P, 20 K/W) <= 100 °C":  "",
		"V <= 3.4 V\nanalysis: Monte Carlo 1000\nyield: 1 %":  "yield-low",
		"V <= 3.4 V\nanalysis: Monte Carlo 1000\nyield: 99 %": "",
	} {
		r := compiled(t, head+"criterion: "+criterion+"\n```\n", Options{Checks: TestChecks, Language: trade.Language()})
		var told []string
		for _, d := range r.Diagnostics {
			told = append(told, d.Code)
		}
		require.Equal(t, code, strings.Join(told, " "), criterion)
		require.Equal(t, code == "percent-missing", claimOf(t, r, "c").Verdict == record.Open, criterion)
	}
}

// A budget counts a row that no state names, and no load below zero.
func TestSlipsOfBudgets(t *testing.T) {
	for rows, want := range map[string]string{
		"U1  run  10 mA\nU1  idle  1 mA": "0.01",
		"U1  run  10 mA\nU1  burst  2 A": "2",
		"U1  run  -10 mA":                "load-negative",
	} {
		r := compiled(t, "```design\ntitle: x\nstates:\n  on: U1 run\n  off: U1 idle\n```\n```part M\npins:\n  1 V supply\n  2 G ground\n```\n"+
			"```circuit\nU1  M  V=VCC G=GND\n```\n```values\nVCC = 5 V [assumed: invented]\n```\n```budget VCC\n"+rows+"\n```\n", Options{})
		text := fmt.Sprint(*r.Budgets[0].Results[0].Max)
		for _, d := range r.Diagnostics {
			if d.Code == "load-negative" {
				text = d.Code
			}
		}
		require.Equal(t, want, text, rows)
	}
}

// A type that is named itself holds at the use of the units placed of it, and a
// test at the temperatures its claim speaks of.
func TestTypesAndTestsHoldWhereTheyAreAsked(t *testing.T) {
	head := "```design\ntitle: x\nambient: 0 °C to 50 °C\n```\n```part R\nspec V_DROP = max 600 mV at I_OUT <= 300 mA\n" +
		"spec V_DROP = max 90 mV at I_OUT <= 50 mA\nat least zero: V_DROP\npins:\n  1 I supply\n  2 G ground\n  3 O supply output\n```\n" +
		"```source b\ntitle: bench\nperson: A. Tarn (invented)\n```\n```claim drop\nstatement: s\ncriterion: R.V_DROP <= 0.1 V\n```\n" +
		"```claim warm\nstatement: From 0 °C to 50 °C VX is right.\nmethod: test\n```\n" +
		"```values\nVX = 3 V to 4 V [assumed: invented]\n```\n"
	use := func(i, at string) string {
		return head + "```circuit\nU1  R  I=VI G=GND O=VO  in use: I_OUT = " + i + "\n```\n```readings\nboard: 1\nin use: T_A = " + at +
			"\nVX = 3.3 V [b 2026-10-05]\nsettles: warm\n```\n"
	}
	r := compiled(t, use("20 mA", "0 °C to 50 °C"), Options{})
	require.Equal(t, record.Passed, claimOf(t, r, "drop").Verdict)
	require.Equal(t, record.Passed, claimOf(t, r, "warm").Verdict)
	r = compiled(t, use("200 mA", "23 °C"), Options{})
	require.Equal(t, record.Failed, claimOf(t, r, "drop").Verdict)
	require.Equal(t, record.Open, claimOf(t, r, "warm").Verdict)
}
