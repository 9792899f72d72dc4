package eval

import "testing"

// A budget counts what the circuit hangs on its net and no row names.
func TestBudgetCountsTheCircuit(t *testing.T) {
	board := func(rows, budget, criterion string) string {
		return "```part U\ntitle: logic\norder: U\npins:\n  1 VDD supply\n  2 GND ground\n  3 P output\n```\n\n```values\nV = 5 V\n```\n\n```circuit\n" +
			"U1  U  VDD=V GND=GND P=P\n" + rows + "\n```\n\n```budget V\nU1  1 mA\n" + budget +
			"```\n\n```claim load\nstatement: it is little.\ncriterion: " + criterion + "\n```\n"
	}
	const peak, average = "budget.V.peak <= 3 mA", "budget.V.average <= 3 mA"
	for _, x := range []struct{ rows, budget, criterion, verdict string }{
		{"R1  resistor 10k  V P", "", peak, "passed"},
		{"R1  resistor 1k  V GND", "", peak, "failed"},
		{"R1  resistor 1k  V GND", "", average, "failed"},
		{"R1  resistor 1k  V GND", "R1  5 mA\n", "budget.V.peak <= 6 mA", "passed"},
		{"R1  resistor 1k  V A\nR2  resistor 9k  A GND", "", peak, "passed"},
		{"R1  resistor 1k  V A\nR2  resistor 1k  A GND", "", peak, "failed"},
		{"R1  resistor 1k  V P", "", peak, "open"},
		{"R1  resistor 1k  V A\nR2  resistor 1k  A V", "", peak, "open"},
		{"R1  resistor 1k  V A\nC1  capacitor 1u  A GND", "", average, "passed"},
		{"R1  resistor 1k  V P", "", average, "passed"},
		{"D1  LED  A=V K=A\nR1  resistor 1k  A GND", "", peak, "open"},
		{"D1  LED  K=V A=A\nR1  resistor 1k  A GND", "", peak, "passed"},
	} {
		r := compileFolder(t, map[string]string{"board.md": board(x.rows, x.budget, x.criterion)})
		requireClaim(t, r, []string{x.verdict, "load"})
	}
}
