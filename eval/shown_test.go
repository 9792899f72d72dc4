package eval

import (
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval/record"
)

// What is compared inside a number steers it and is no test of the claim; sides
// that hold an operator are not torn at it.
func TestComparisonsInsideANumberAreNoTests(t *testing.T) {
	const rows = "A = 1.1 V ¶ B = 1.6 V ¶ circuit ¶ R1  resistor 1k  N1 N2 ¶ R2  resistor 2k  N1 N2 ¶ "
	for _, k := range []struct{ text, left, right string }{
		{"count([R1, R2], .R <= 1.5 kΩ) <= 1", "count([R1, R2], .R <= 1.5 kΩ)", "1"},
		{"1 >= count([A <= 1.5 V, B <= 1.5 V])", "1", "count([A <= 1.5 V, B <= 1.5 V])"},
		{"(A <= 1.5 V ? 1 : 2) <= 1", "(A <= 1.5 V ? 1 : 2)", "1"},
		{"sum(each([R1, R2], .R <= 1.5 kΩ ? 1 : 0)) <= 1", "sum(each([R1, R2], .R <= 1.5 kΩ ? 1 : 0))", "1"},
		{"count([R1, R2], .R <= 1.5 kΩ) inside 1 to 1", "count([R1, R2], .R <= 1.5 kΩ)", "1"},
	} {
		t.Run(k.text, func(t *testing.T) {
			r := compileText(t, caseText(splitTrim(rows+"criterion: "+k.text, "¶")))
			require.Zero(t, r.Summary.Errors, allText(r))
			c := r.Claims[0]
			require.Equal(t, record.Passed, c.Verdict, allText(r))
			for _, x := range c.Criteria[0].Tests {
				require.Equal(t, k.left, x.Left.Text)
				require.Equal(t, k.right, x.Right.Text)
				require.Equal(t, record.Passed, x.Verdict)
				require.GreaterOrEqual(t, *x.Margin.Absolute, 0.0)
			}
			require.LessOrEqual(t, len(c.Criteria[0].Tests), 2)
		})
	}
	r := compileText(t, caseText(splitTrim(rows+"criterion: count([R1, R2], .R <= 1.5 kΩ) <= 1 ¶ margin: 0.5", "¶")))
	require.Equal(t, record.Failed, r.Claims[0].Verdict, allText(r)) // the margin is of the count
	require.Equal(t, "short", r.Claims[0].Criteria[0].Failure)
}
