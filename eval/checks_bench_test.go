package eval

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"runtime"
	"testing"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/extension"

	"guardband/eval/formula"
	"guardband/notebook"
)

// boardNotebook is a board of n placed parts, 38 pins to every ten of
// them: blocks of a chip of ten pins with its regulator of three, its
// capacitors, its pull-ups and a divider.
func boardNotebook(n int) []byte {
	var b bytes.Buffer
	b.WriteString("# board\n\n```design\ntitle: board\nambient: 0 °C to 50 °C\n```\n\n")
	b.WriteString("```part CHIP\ntitle: chip\norder: CH-8\ncode: CH-{pins}\nfield pins: 8 = SO14\npackage: SO14\npads: 19\nabsmax V_DD = -0.3 V to 4 V\nabsmax V_PIN = -0.3 V to V_DD + 0.3 V\noperating V_DD = 1.8 V to 3.6 V\noperating V_IH = min 0.7 * V_DD\noperating V_IL = max 0.3 * V_DD\n" +
		"spec V_OH = min V_DD - 0.4 V at I_OH <= 4 mA\nspec V_OL = max 0.4 V at I_OL <= 4 mA\nspec I_LEAK = max 1 µA\nspec C_PIN = max 8 pF\nat least zero: V_OL, I_LEAK, C_PIN\npins:\n  1 VDD supply V_DD\n  2 VSS ground\n  3 IN input\n  4 OUT output\n  5 SDA bidirectional open drain\n  6 SCL input\n")
	for k := 7; k <= 19; k++ {
		fmt.Fprintf(&b, "  %d P%02d bidirectional optional\n", k, k)
	}
	b.WriteString("application:\n  VDD VSS capacitor 100 nF\n```\n\n")
	b.WriteString("```part REG\ntitle: regulator\norder: R-3\ncode: R-{v}\nfield v: 3 = SOT23\npackage: SOT23\nabsmax V_IN = -0.3 V to 6 V\nabsmax T_J = max 125 °C\noperating V_IN = 2.2 V to 5.5 V\noperating I_OUT = 0 mA to 150 mA\nspec V_OUT = 3.0 V ± 2 %\nspec V_DO = max 210 mV at I_OUT <= 150 mA\nspec R_θJA = 190 K/W\nat least zero: V_DO\npins:\n  1 VIN supply\n  2 GND ground\n  3 VOUT supply output\napplication:\n  VIN GND capacitor 1 µF\n  VOUT GND capacitor 1 µF to 22 µF\n```\n\n")
	b.WriteString("```values\nV_SYS = 3.4 V to 4.2 V\n```\n\n```circuit\n")
	for i := 0; i*10 < n; i++ {
		fmt.Fprintf(&b, "UR%d  REG  VIN=V_SYS GND=GND VOUT=V3_%[1]d  in use: I_OUT = 50 mA\n", i)
		fmt.Fprintf(&b, "C%d0  capacitor 2.2 µF ± 10 %%, 16 V, X7R, 0805, retention 80 %%  V_SYS GND\n", i)
		fmt.Fprintf(&b, "C%d1  capacitor 2.2 µF ± 10 %%, 16 V, X7R, 0805, retention 80 %%  V3_%[1]d GND\n", i)
		fmt.Fprintf(&b, "UC%d  CHIP  VDD=V3_%[1]d VSS=GND IN=S%[1]d OUT=T%[1]d SDA=D%[1]d SCL=T%[1]d  in use: I_OH <= 1 mA; I_OL <= 2 mA\n", i)
		fmt.Fprintf(&b, "C%d2  capacitor 100 nF ± 10 %%, 16 V, X7R, 0402  V3_%[1]d GND\n", i)
		fmt.Fprintf(&b, "C%d3  capacitor 100 nF ± 10 %%, 16 V, X7R, 0402  S%[1]d GND\n", i)
		fmt.Fprintf(&b, "R%d0  resistor 2k2 ± 1 %%, 0402  D%[1]d V3_%[1]d\n", i)
		fmt.Fprintf(&b, "R%d1  resistor 100k ± 1 %%, 0402  V_SYS S%[1]d\n", i)
		fmt.Fprintf(&b, "R%d2  resistor 47k ± 1 %%, 0402  S%[1]d GND\n", i)
		fmt.Fprintf(&b, "R%d3  resistor 10k ± 1 %%, 0402  T%[1]d GND\n", i)
	}
	b.WriteString("```\n")
	return b.Bytes()
}

func benchmarkChecks(b *testing.B, n int) {
	text := boardNotebook(n)
	claims := 0
	for b.Loop() {
		book, err := notebook.Load("-", notebook.Options{Stdin: text})
		if err != nil {
			b.Fatal(err)
		}
		r := Compile(context.Background(), book, Options{Checks: TestChecks, On: "2026-11-24",
			Language: formula.NewLanguage(nil), Workers: runtime.GOMAXPROCS(0)})
		if r.Summary.Errors > 0 || len(r.Placements) != n {
			b.Fatal(r.Summary, len(r.Placements))
		}
		claims = len(r.Claims)
	}
	b.ReportMetric(float64(claims), "claims")
	b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N)/float64(n), "µs/part")
}

// The board of 400 placed parts and 1500 pins, and its growth to 4000.
func BenchmarkChecks400(b *testing.B)  { benchmarkChecks(b, 400) }
func BenchmarkChecks4000(b *testing.B) { benchmarkChecks(b, 4000) }

// BenchmarkFloorChecks4000 is the floor: goldmark parsing and rendering the
// same file.
func BenchmarkFloorChecks4000(b *testing.B) {
	text := boardNotebook(4000)
	md := goldmark.New(goldmark.WithExtensions(extension.GFM))
	for b.Loop() {
		if err := md.Convert(text, io.Discard); err != nil {
			b.Fatal(err)
		}
	}
}
