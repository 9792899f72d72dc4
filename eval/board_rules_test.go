package eval

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval/record"
)

func claimOf(t *testing.T, r *record.Record, id string) record.Claim {
	t.Helper()
	for _, c := range r.Claims {
		if c.ID == id {
			return c
		}
	}
	require.Fail(t, "no claim "+id, allText(r))
	return record.Claim{}
}

// A budget takes another rail through its regulator, whose own current is
// added, and the peak is that of the largest state.
func TestBudgetOfRailsAndStates(t *testing.T) {
	text := "```design\ntitle: b\nstates:\n  awake:  U1 run, U4 off\n  asleep: U1 stop, U4 on\n```\n" +
		"```part REG\nspec I_Q = max 100 µA\n```\n```circuit\nU2  REG\n```\n" +
		"```budget V3\nU1  run   6 mA  for 1 s every 10 s\nU1  stop  0 mA\nU4  on    5 mA\nU4  off   0 mA\n```\n" +
		"```budget VB\nusable: 100 mAh\nU2  from V3\n```\n" +
		"```claim p\nstatement: peak\ncriterion: budget.V3.peak == 6 mA\n```\n" +
		"```claim q\nstatement: peak of the other rail\ncriterion: budget.VB.peak <= 6.1 mA\n```\n"
	r := compileText(t, text)
	require.Zero(t, r.Summary.Errors, allText(r))
	require.Equal(t, record.Passed, claimOf(t, r, "p").Verdict, allText(r))
	require.Equal(t, record.Passed, claimOf(t, r, "q").Verdict, allText(r))
	require.Equal(t, "0 mA, 0 % of limit", claimOf(t, r, "q").Criteria[0].Tests[0].Margin.Text)
	require.Equal(t, "what V3 draws", r.Budgets[1].Rows[0].Text)

	r = compileText(t, strings.Replace(text, "from V3", "from V4", 1))
	require.Positive(t, r.Summary.Errors)
	require.Contains(t, allText(r), "there is no budget for `V4`")
}

// A reading counts by itself, and the conditions of its block hold for it.
func TestReadingIsAClaim(t *testing.T) {
	text := "```values\nV = 3 V to 4 V [assumed: x]\nW = 2 * V\n```\n```readings\nin use: V = 3.5 V\nW = 7.00 V ± 10 mV\n```\n"
	r := compileText(t, text)
	require.Zero(t, r.Summary.Errors, allText(r))
	require.Equal(t, "7 V", r.Readings[0].Predicted)
	require.Equal(t, record.Open, claimOf(t, r, "reading.W").Verdict, allText(r))
	r = compileText(t, strings.Replace(text, "7.00 V", "9.00 V", 1))
	require.Equal(t, record.Failed, claimOf(t, r, "reading.W").Verdict, allText(r))
	require.Contains(t, allText(r), "above the prediction by 1.99 V")
}

// The pin table of the part's own package counts.
func TestPinsOfThePackage(t *testing.T) {
	text := "```part P\npackage: SO8\npins SO8:\n  1  A  input\n  2  B  ground\npins QFN8:\n  1  B  ground\n  2  A  input\n```\n```circuit\nU1  P  A=X B=GND\n```\n"
	r := compileText(t, text)
	require.Len(t, r.Parts[0].Pins, 2)
	require.Equal(t, "A", r.Parts[0].Pins[0].Name)
	require.NotContains(t, allText(r), "stands twice")
}

// Conditions of use of a whole circuit, a row's own first; a two-terminal part
// without nets is an error.
func TestCircuitRows(t *testing.T) {
	text := "```part L\nspec V_D = max 250 mV at I = 1 A\n```\n```circuit\nin use: I = 1 A\nU1  L\nU2  L  in use: I = 2 A\n```\n" +
		"```claim a\nstatement: a\ncriterion: U1.V_D <= 300 mV\n```\n```claim b\nstatement: b\ncriterion: U2.V_D <= 300 mV\n```\n"
	r := compileText(t, text)
	require.Equal(t, record.Passed, claimOf(t, r, "a").Verdict, allText(r))
	require.Equal(t, record.Open, claimOf(t, r, "b").Verdict, allText(r))

	r = compileText(t, "```circuit\nC5  capacitor 100 nF\n```\n")
	require.Contains(t, allText(r), "`C5` is not connected to any net")
}
