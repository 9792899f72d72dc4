package eval

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// One missing row of a budget keeps every claim that uses the sum open; the
// record tells it once, with the claims. Two claims with one reason are few
// enough to be told each.
func TestOpenClaimsWithOneRootAreToldAsOne(t *testing.T) {
	text := "```part CHIP\ntitle: chip\nspec I = max 2 mA\nat least zero: I\npins:\n  1 VDD supply\n  2 VSS ground\n```\n\n" +
		"```values\nV3 = 3.3 V ± 2 %\n```\n\n```circuit\nU1  CHIP  VDD=V3 VSS=GND\nU2  CHIP  VDD=V3 VSS=GND\n```\n\n" +
		"```budget V3\nU1  run  U1.I\nMORE```\n\n"
	for i := range 4 {
		text += fmt.Sprintf("```claim load-%d\nstatement: The load is small.\ncriterion: budget.V3.peak <= %d0 mA\n```\n\n", i, i+1)
	}
	r := compileText(t, strings.Replace(text, "MORE", "", 1))
	require.NotEmpty(t, r.Roots)
	root := r.Roots[0]
	require.Contains(t, root.Text, "no row for U2")
	require.Contains(t, root.Settle, "U2")
	require.Equal(t, 4, root.Opens)
	require.Equal(t, []string{"load-0", "load-1", "load-2", "load-3"}, root.Claims)
	told := 0
	for _, u := range r.LookUp {
		if strings.Contains(u.Text, "keeps 4 claims open") {
			told++
			require.Equal(t, root.Claims, u.Claims)
		}
	}
	require.Equal(t, 1, told)
	for _, x := range compileText(t, strings.Replace(text, "MORE", "U2  run  U2.I\n", 1)).Roots {
		require.NotContains(t, strings.Join(x.Claims, " "), "load-", x.Text)
	}
}
