package eval

import (
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval/record"
)

// A capacitor passes an alternating voltage on: what stands behind it is not
// without current, as it would be at direct current.
func TestAlternatingVoltageReachesThroughCapacitors(t *testing.T) {
	r := compileText(t, "```design\ntitle: c\nambient: 0 °C to 40 °C\n```\n\n```values\nL_AC = 230 V rms ± 10 %\n```\n\n"+
		"```circuit\nC1  capacitor 100 nF, 275 V  L_AC MID\nR7  resistor 1M ± 5 %, 1206  MID GND\n```\n\n"+
		"```claim p\nstatement: It stays cool.\ncriterion: R7.use.P <= 0.1 W\n```\n")
	for _, c := range r.Claims {
		if c.ID == "p" {
			require.Equal(t, record.Open, c.Verdict)
			return
		}
	}
	require.Fail(t, "no claim p")
}
