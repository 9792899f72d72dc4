package eval

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// Lines that newcomers write, and the hint that each gets: one that can be
// followed, and no other complaint about the same line.
func TestHintsCanBeFollowed(t *testing.T) {
	const head = "```design\ntitle: Hints, invented\nDESIGN\n```\n\n```part QX\ntitle: chip\norder: QX\npins:\n  1  VDD  supply\n" +
		"  2  GND  ground\n  3  PA6  bidirectional\napplication:\n  VDD  GND  capacitor 100 nF\n```\n\n" +
		"```values\nV3 = 3.3 V ± 1 %\n```\n\n```circuit\nU5  QX  VDD=V3 GND=GND\nROW\n```\n\n" +
		"```claim a\nstatement: x\ncriterion: V3 <= 4 V\nCLAIM\n```\n"
	for _, x := range []struct{ design, row, claim, code, hint string }{
		{"skip application.U5: fitted by hand", "", "", "check-unknown", "name each claim: `application.U5.VDD`"},
		{"skip application.U7: fitted by hand", "", "", "check-unknown",
			"`application` makes no claim about `U7`: drop this line, or name one that `check -v` lists"},
		{"", "U6  QX  VDD=V3 GND=GND PA6=not connected", "", "row-net", "leave a pin that is not connected out of the row"},
		{"", "J1  connector 4-way  V3 GND", "", "row-option", "leave `4-way` out: `J1  connector  NET NET`"},
		{"", "", "analysis: root sum square\nyield: 99 %", "yield-place",
			"write `analysis: Monte Carlo 200000`, and no other analysis; or drop `yield:`"},
		{"reviewers: J. Doe", "", "", "label-unknown", "name people in a `review` block: `participants: A. Tarn (author), K. Sedge (reviewer)`"},
		{"", "C1  capacitor 4.7uF 10% 16V X5R  V3 GND", "", "row-option", "write `capacitor 4.7uF ± 10 %, 16V, X5R`"},
		{"", "R1  resistor 10k V3 GND", "", "nets-missing", "put two spaces before the nets: `R1  resistor 10k  V3 GND`"},
	} {
		text := strings.NewReplacer("DESIGN", x.design, "ROW", x.row, "CLAIM", x.claim).Replace(head)
		r := compiled(t, text, Options{Checks: TestChecks})
		var got []string
		for _, d := range r.Diagnostics {
			if d.Severity == "error" {
				got = append(got, d.Code+": "+d.Hint)
			}
		}
		require.Equal(t, []string{x.code + ": " + x.hint}, got, x)
	}
}
