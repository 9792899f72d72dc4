package eval

import "testing"

// A thermistor has the resistance of its row at 25 °C alone.
func TestThermistorHoldsAtOneTemperature(t *testing.T) {
	for _, x := range []struct{ row, criterion, verdict string }{
		{"TH1  thermistor 10 kΩ ± 1 %  A GND", "V * TH1 / (TH1 + R1) <= 0.7 V", "open"},
		{"TH1  thermistor 10 kΩ ± 1 %  A GND", "net(\"A\") <= 0.7 V", "open"},
		{"TH1  thermistor 10 kΩ ± 1 %  A GND", "TH1.R_25 <= 10.2 kΩ", "passed"},
		{"TH1  thermistor 10 kΩ ± 1 %  A GND", "V * TH1.R_25 / (TH1.R_25 + R1) <= 0.7 V", "passed"},
		{"TH1  NTC  A=A B=GND", "net(\"A\") <= 0.7 V", "open"},
		{"TH1  NTC  A=A B=GND", "TH1.R <= 10.2 kΩ", "passed"},
	} {
		r := compileFolder(t, map[string]string{"board.md": "```part NTC\ntitle: thermistor\nkind: thermistor\norder: NTC\n" +
			"spec R = 10 kΩ ± 1 %\npins:\n  1 A passive\n  2 B passive\n```\n\n```values\nV = 3.3 V\n```\n\n```circuit\n" +
			x.row + "\nR1  resistor 47k ± 1 %  V A\n```\n\n```claim cold\nstatement: it is low.\ncriterion: " + x.criterion + "\n```\n"})
		requireClaim(t, r, []string{x.verdict, "cold"})
	}
}
