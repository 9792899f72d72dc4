package eval

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval/record"
)

// The rows of a budget are printed with their part of the time, and add up to
// the average; what no row states is a row too.
func TestBudgetRowsAddUp(t *testing.T) {
	text := "```budget VB\nU1  run   5 mA  for 1 s every 10 s\nU1  send  20 mA  for 1 s every 100 s\nU1  stop  10 µA\nU2  on  2 mA\nMORE```\n"
	r := compileText(t, strings.Replace(text, "MORE", "", 1))
	require.Zero(t, r.Summary.Errors, allText(r))
	sum := 0.0
	for _, row := range r.Budgets[0].Rows {
		require.NotNil(t, row.Average, row)
		sum += *row.Average
	}
	require.InDelta(t, 0.5e-3+0.2e-3+0.89*10e-6+2e-3, sum, 1e-12)
	for _, v := range r.Budgets[0].Results {
		if strings.HasSuffix(v.Name, ".average") {
			require.Less(t, math.Abs(*v.Max-sum), 1e-12)
		}
	}
	require.Equal(t, "the rest", r.Budgets[0].Rows[2].Duty)
	require.Empty(t, r.Budgets[0].Rows[3].Duty)
	r = compileText(t, strings.Replace(text, "MORE", "U3  on  1 mA  for 1 s every 2 s\n", 1))
	last := r.Budgets[0].Rows[len(r.Budgets[0].Rows)-1]
	require.Equal(t, "U3 the rest not stated", last.Ref+" "+last.State+" "+last.AverageText)
}

// How two rows without a duty divide the rest of the time is not known: the
// average is as much as the larger and as little as the smaller of them.
func TestRowsThatDivideTheRest(t *testing.T) {
	text := "```budget VB\nU1  run   4 mA\nU1  stop  1 mA\n```\n" +
		"```claim top\nstatement: x\ncriterion: budget.VB.average <= 4 mA\n```\n" +
		"```claim low\nstatement: x\ncriterion: budget.VB.average >= 1 mA\n```\n" +
		"```claim mid\nstatement: x\ncriterion: budget.VB.average >= 3 mA\n```\n" +
		"```claim over\nstatement: x\ncriterion: budget.VB.average >= 5 mA\n```\n"
	r := compileText(t, text)
	require.Zero(t, r.Summary.Errors, allText(r))
	for id, v := range map[string]record.Verdict{"top": record.Passed, "low": record.Passed, "mid": record.Open, "over": record.Failed} {
		require.Equal(t, v, claimOf(t, r, id).Verdict, id)
	}
	require.Contains(t, allText(r), "how the time of U1 divides")
}

// A life is judged at the least charge, whether or not a most is noted.
func TestLifeOfACapacityWithoutAMaximum(t *testing.T) {
	text := "```part BT\ntitle: cell\nspec CAP = min 1800 mAh\n```\n```circuit\nBT1  BT\n```\n" +
		"```budget VB\nusable: 0.85 * BT1.CAP\nself-discharge: 1 %/year\nU1  run  5 mA ± 5 %\n```\n" +
		"```claim life\nstatement: x\ncriterion: budget.VB.life >= HOURS h\n```\n"
	for hours, v := range map[string]record.Verdict{"290": record.Passed, "295": record.Failed} { // 1530 mAh over 5.25 mA and 0.17 µA
		require.Equal(t, v, claimOf(t, compileText(t, strings.Replace(text, "HOURS", hours, 1)), "life").Verdict, hours)
	}
}
