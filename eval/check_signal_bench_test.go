package eval

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval/formula"
	"guardband/notebook"
)

// signalBoard is a board of n invented parts: controllers, each with a bus, a
// strap and followers of its own, on two supplies.
func signalBoard(n int) string {
	var b strings.Builder
	b.WriteString("```part MCU\ntitle: controller\nabsmax V_PIN = -0.3 V to V_DD + 0.3 V\noperating V_DD = 1.8 V to 3.6 V\noperating V_IH = min 0.7 * V_DD\noperating V_IL = max 0.3 * V_DD\n" +
		"spec V_OH = min V_DD - 0.4 V\nspec V_OL = max 0.4 V at I_OL <= 4 mA\nspec I_LEAK = ± 1 µA\nspec C_PIN = max 8 pF\nat least zero: V_OL, C_PIN\npins:\n  1 VDD supply V_DD\n  2 GND ground\n  3 SDA bidirectional open drain\n  4 OUT output\n  5 IN input\n  6 BOOT input strap\n```\n\n" +
		"```part DEV\ntitle: follower\nabsmax V_PIN = -0.3 V to 5.5 V\noperating V_DD = 1.8 V to 3.6 V\noperating V_IH = min 0.7 * V_DD\noperating V_IL = max 0.3 * V_DD\noperating t_R = max 1 µs\n" +
		"spec V_OH = min V_DD - 0.4 V\nspec V_OL = max 0.4 V at I_OL <= 4 mA\nspec I_LEAK = ± 1 µA\nspec C_PIN = max 8 pF\nat least zero: V_OL, C_PIN\npins:\n  1 VDD supply V_DD\n  2 GND ground\n  3 SDA bidirectional open drain\n  4 Q output\n```\n\n" +
		"```values\nV33 = 3.3 V ± 2 %\nV30 = 3.0 V ± 2 %\nC_TRACK = 20 pF\n```\n\n```circuit\n")
	for i := range n / 4 {
		fmt.Fprintf(&b, "U%d  MCU  VDD=V33 GND=GND SDA=SDA%d OUT=O%d IN=O%d BOOT=B%d  in use: I_OL <= 3 mA\n", i, i, i, (i+1)%(n/4), i)
		fmt.Fprintf(&b, "D%d  DEV  VDD=V30 GND=GND SDA=SDA%d Q=Q%d  in use: I_OL <= 3 mA\n", i, i, i)
		fmt.Fprintf(&b, "R%d  resistor 4k7 ± 1 %%  SDA%d V30\nR%d  resistor 10k ± 5 %%  B%d GND\n", 2*i, i, 2*i+1, i)
	}
	b.WriteString("```\n")
	return b.String()
}

// BenchmarkSignalChecks compiles boards of growing size; the time a part must
// not grow with the board.
func BenchmarkSignalChecks(b *testing.B) {
	for _, n := range []int{400, 4000} {
		text := signalBoard(n)
		b.Run(fmt.Sprintf("parts=%d", n), func(b *testing.B) {
			book, err := notebook.Load("-", notebook.Options{Stdin: []byte(text)})
			require.NoError(b, err)
			claims := 0
			for b.Loop() {
				r := Compile(b.Context(), book, Options{Checks: TestChecks, On: "2026-11-24", Language: formula.NewLanguage(nil), Detail: 50})
				claims = len(r.Claims)
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(n), "ns/part")
			b.ReportMetric(float64(claims), "claims")
		})
	}
}
