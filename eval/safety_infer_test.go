package eval

import (
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval/circuit"
)

// TestInferredCautions: what calls for a caution without a word in the notes.
// Limits of IEC 62368-1 (ES1: 60 V d.c.; PS2: 15 W, PS3: 100 W) and nominal
// voltages of IEC 60038, from memory.
func TestInferredCautions(t *testing.T) {
	const row = "```circuit\nR9  resistor 1M  VP GND\nR8  resistor 1M  VN GND\n"
	for _, x := range []struct{ name, text, hazard, why string }{
		{"rails apart", "```values\nVP = 40 V\nVN = -40 V\n```\n\n" + row + "```\n", "voltage that needs a safeguard",
			"VN to VP reaches 80 V"},
		{"rails further apart", "```values\nVP = 60 V\nVN = -60 V\nVX = 1 V\n```\n\n" + row + "```\n",
			"voltage that needs a safeguard", "VN to VP reaches 120 V"},
		{"rails near", "```values\nVP = 25 V\nVN = -25 V\n```\n\n" + row + "```\n", "", ""},
		{"untagged mains", "```values\nV_LINE = 230 V ± 10 %\n```\n", "mains",
			"V_LINE is near 230 V of IEC 60038, and rms or pk is not stated"},
		{"bus voltage", "```values\nV_BUS = 310 V\n```\n", "hazardous voltage", "V_BUS reaches 310 V"},
		{"one capacitor", "```values\nVP = 200 V\n```\n\n```circuit\nC1  capacitor 40 µF  VP GND\n```\n",
			"hazardous voltage", "VP reaches 200 V"},
		{"a bank", "```values\nVP = 200 V\n```\n\n```circuit\nC1-C3  capacitor 40 µF  VP GND\n```\n", "stored energy",
			"C1 and 2 more side by side store 2.4 J"},
		{"a bank partly fitted", "```values\nVP = 200 V\n```\n\n```circuit\nC1  capacitor 40 µF  VP GND\nC2-C3  " +
			"capacitor 40 µF, do not populate  VP GND\n```\n", "hazardous voltage", "VP reaches 200 V"},
		{"a noted capacitor", "```part CAP\ntitle: capacitor\nspec C = 80 µF\npins:\n  1 P passive\n  2 N " +
			"passive\n```\n\n```values\nVP = 200 V\n```\n\n```circuit\nC1  CAP  P=VP N=GND\n```\n", "stored " +
			"energy", "C1 stores 1.6 J"},
		{"power to a fault", "```values\nVP = 12 V\n```\n\n```circuit\nR1  resistor 6R  VP GND\n```\n\n```budget " +
			"VP\nR1  on  2 A\n```\n", "fire power", "budget VP peaks at 24 W (PS2)"},
		{"more power", "```values\nVP = 24 V\n```\n\n```circuit\nR1  resistor 4R  VP GND\n```\n\n```budget VP\nR1  on " +
			" 6 A\n```\n", "fire power", "budget VP peaks at 144 W (PS3)"},
		{"a hot junction", "```values\nT_J = 80 °C\nT_A = 90 °C\n```\n", "hot surface", "T_J reaches 80 °C"},
		{"a warm case", "```values\nT_C = 50 °C\n```\n", "", ""},
		{"outdoors", "```design\ntitle: lamp\nhazard: outdoor use\n```\n\n```values\nV_LAMP = 24 V rms ± 10 %\n```\n",
			wetUse, "the design carries hazard: outdoor use; V_LAMP reaches 26.4 V rms"},
		{"indoors", "```values\nV_LAMP = 24 V rms ± 10 %\n```\n", "", ""},
		{"little power", "```values\nVP = 12 V\n```\n\n```circuit\nR1  resistor 12R  VP GND\n```\n\n```budget VP\nR1  " +
			"on  1 A\n```\n", "", ""},
	} {
		t.Run(x.name, func(t *testing.T) {
			r := compileText(t, x.text)
			why := map[string]string{}
			for _, k := range r.Safety {
				why[k.Hazard] = k.Why
				require.Contains(t, k.Text[len(k.Text)-1], "licensed or qualified person")
			}
			if x.hazard == "" {
				require.Empty(t, why)
				return
			}
			require.Equal(t, x.why, why[x.hazard], "%v", why)
			if x.hazard != "stored energy" {
				require.NotContains(t, why, "stored energy")
			}
		})
	}
}

// The file of cautions is whole, and holds every hazard that the program names.
func TestCautionsAreWhole(t *testing.T) {
	var names []string
	for _, c := range cautionTexts() {
		require.Contains(t, []string{"DANGER", "WARNING", "CAUTION", "NOTICE"}, c.word, c.hazard)
		require.NotEmpty(t, c.text, c.hazard)
		require.NotEmpty(t, c.source, c.hazard)
		names = append(names, c.hazard)
	}
	for _, h := range append([]string{wetUse, "mains", "hazardous voltage", "voltage that needs a safeguard", "coin or button cell",
		"stored energy", "hot surface", "fire power"}, circuit.BatteryHazards...) {
		require.Contains(t, names, h)
	}
}
