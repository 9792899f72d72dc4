package eval

import (
	"context"
	"fmt"
	"math/big"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"guardband/eval/formula"
	"guardband/eval/record"
	"guardband/notebook"
)

const joined = "```design\ntitle: j\n```\n```values\nV5 = 5 V ± 5 %\nV6 = 6 V\n```\n"

func codes(r *record.Record) []string {
	var out []string
	for _, d := range r.Diagnostics {
		out = append(out, d.Severity+" "+d.Code)
	}
	return out
}

// A link between two voltages is told, and each keeps its own.
func TestLinkBetweenTwoVoltages(t *testing.T) {
	r := compileText(t, joined+"```circuit\nL1  link  V5 V6\n```\n```claim c\nstatement: c\ncriterion: V6 == 6 V\n```\n")
	require.Contains(t, codes(r), "warning net-origins", allText(r))
	require.Equal(t, record.Passed, claimOf(t, r, "c").Verdict)
	require.Contains(t, allText(r), "L1 makes one net of `V5` and `V6`")

	two := "```part REG\nspec V_OUT = 3.3 V ± 2 %\npins:\n  1 VIN supply\n  2 GND ground\n  3 VOUT supply output\n```\n" +
		"```circuit\nU1  REG  VIN=V5 GND=GND VOUT=VA\nU2  REG  VIN=V5 GND=GND VOUT=VB\nL1  link  VA VB\n```\n"
	r = compileText(t, joined+two)
	require.Contains(t, codes(r), "error net-origins", allText(r))

	r = compileText(t, joined+"```circuit\nL1  link  GND AGND\nR1  resistor 1k, 0402  V5 AGND\n```\n") // two names of the return
	require.NotContains(t, codes(r), "warning net-origins")
}

// Links may stand in a ring or in a row, in any order.
func TestLinksInRings(t *testing.T) {
	for _, rows := range []string{
		"L1  link  A B\nL2  link  B C\nL3  link  C A\nL4  wire  C V5",
		"L4  wire  V5 C\nL3  link  C A\nL2  link  C B\nL1  link  B A",
	} {
		r := compileText(t, joined+"```circuit\n"+rows+
			"\nR1  resistor 1k, 0402  A GND\n```\n```claim c\nstatement: c\ncriterion: A - V5 == 0 V and B - C == 0 V\n```\n")
		require.Zero(t, r.Summary.Errors, allText(r))
		require.Equal(t, record.Passed, claimOf(t, r, "c").Verdict, allText(r))
	}
}

// Whatever the order of the rows, a chain of beads is followed from its
// source, and a ring is not.
func TestBeadsInAnyOrder(t *testing.T) {
	rows := []string{
		"FB1  ferrite bead 600 Ω, R_DC 0.1 Ω  V6 A  in use: I = 1 A",
		"FB2  ferrite bead 600 Ω, R_DC 0.1 Ω  A B  in use: I = 1 A",
		"FB3  ferrite bead 600 Ω, R_DC 0.1 Ω  B C  in use: I = 1 A",
	}
	claim := "```claim c\nstatement: c\ncriterion: C == 5.7 V\n```\n"
	for _, order := range [][]int{{0, 1, 2}, {2, 1, 0}, {1, 0, 2}, {2, 0, 1}} {
		var l []string
		for _, i := range order {
			l = append(l, rows[i])
		}
		r := compileText(t, joined+"```circuit\n"+strings.Join(l, "\n")+"\n```\n"+claim)
		require.Equal(t, record.Passed, claimOf(t, r, "c").Verdict, allText(r))
	}
	ring := "```part LOAD\npins:\n  1 VDD supply\n  2 GND ground\n```\n```circuit\nU1  LOAD  VDD=B GND=GND\n" +
		"FB1  ferrite bead 600 Ω, R_DC 0.1 Ω  V6 A\nFB2  ferrite bead 600 Ω, R_DC 0.1 Ω  A B\nFB3  ferrite bead 600 Ω, R_DC 0.1 Ω  B V6\n```\n"
	r := compileText(t, joined+ring+"```claim c\nstatement: c\ncriterion: B >= 5 V\n```\n")
	c := claimOf(t, r, "c")
	require.Equal(t, record.Open, c.Verdict)
	require.Contains(t, allText(r), "how the current divides is not stated")
}

// The return behind a shunt stands above 0 V by what flows through it.
func TestReturnBehindAShunt(t *testing.T) {
	text := joined + "```part CHIP\npins:\n  1 VDD supply\n  2 VSS ground\n```\n```circuit\nU1  CHIP  VDD=V5 VSS=LOW\nF1  fuse, R 0.1 Ω  LOW GND  in use: I = 1 A\n```\n" +
		"```claim c\nstatement: c\ncriterion: LOW == 0.1 V\n```\n"
	r := compileText(t, text)
	require.Equal(t, record.Passed, claimOf(t, r, "c").Verdict, allText(r))
}

// States are checked against what is on the board.
func TestStatesSpeakOfTheBoard(t *testing.T) {
	board := "```values\nV5 = 5 V\n```\n```part REG\nspec V_OUT = 3.3 V\npins:\n  1 VIN supply\n  2 GND ground\n  3 VOUT supply output\n```\n" +
		"```circuit\nU2  REG  VIN=V5 GND=GND VOUT=V33\n```\n```budget V33\nU1  run  5 mA\nU1  stop  1 mA\n```\n"
	for row, want := range map[string]string{
		"U1 run, U2 on":           "",
		"U1 stop, V5 off":         "",
		"U1 off":                  "warning state-row",
		"U1 rum":                  "warning state-row",
		"U2 of":                   "warning state-row",
		"U7 on":                   "error state-part",
		"V5 = -5 V to 0 V, U2 on": "",
		"V33 = 0 V":               "error state-value",
		"V5 = 3 A":                "error state-value",
		"V5 <= 3 V":               "error state-form",
	} {
		r := compileText(t, "```design\ntitle: s\nstates:\n  one: "+row+"\n```\n"+board)
		var got []string
		for _, c := range codes(r) {
			if strings.Contains(c, "state-") {
				got = append(got, c)
			}
		}
		if want == "" {
			require.Empty(t, got, row)
		} else {
			require.Equal(t, []string{want}, got, row)
		}
	}
}

// The options of a row are parted by commas.
func TestOptionWithoutComma(t *testing.T) {
	r := compileText(t, joined+"```circuit\nR1  resistor 10k 0402  V5 GND\n```\n")
	require.Contains(t, codes(r), "error row-option")
	require.Contains(t, allText(r), "`0402` is after the value")
	r = compileText(t, joined+"```circuit\nR1  resistor 4k7 ohm, 0402  V5 GND\nR2  resistor 4k7 ± 1 %, 0402  V5 GND\nR3  resistor 10k +5 % -3 %, 0402  V5 GND\n```\n")
	require.NotContains(t, codes(r), "error row-option", allText(r))
}

// The value of a kind is a quantity of its kind.
func TestValueOfAKind(t *testing.T) {
	for row, want := range map[string]string{
		"R1  resistor 330, 0402  V5 GND":         "`330` has no unit",
		"R1  resistor 330 nF, 0402  V5 GND":      "the value of a resistor is not a capacitance",
		"C1  capacitor 100, 16 V, X7R  V5 GND":   "`100` has no unit",
		"L1  inductor 10, 0805  V5 GND":          "`10` has no unit",
		"R1  resistor 330R, 0402  V5 GND":        "",
		"R1  resistor 330 ± 1 %, 0402  V5 GND":   "`330` has no unit",
		"C1  capacitor 100 nF, 16 V  V5 GND":     "",
		"L1  inductor 10 µH ± 20 %, 1 A  V5 GND": "",
	} {
		r := compileText(t, joined+"```circuit\n"+row+"\n```\n")
		if want == "" {
			require.NotContains(t, codes(r), "error value-unit", row)
			continue
		}
		require.Contains(t, codes(r), "error value-unit", row)
		require.Contains(t, allText(r), want, row)
	}
}

// A random tree of beads against sums worked out by hand: Kirchhoff's voltage
// law along the way from the source, with each drop at its least and greatest.
func TestTreesOfBeads(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 6).Draw(t, "nets")
		least, most := make([]*big.Rat, n+1), make([]*big.Rat, n+1)
		least[0], most[0] = big.NewRat(6, 1), big.NewRat(6, 1)
		rows := make([]string, n)
		for k := 1; k <= n; k++ {
			from := rapid.IntRange(0, k-1).Draw(t, "from")
			r0, i0 := rapid.Int64Range(0, 50).Draw(t, "r0"), rapid.Int64Range(0, 50).Draw(t, "i0")
			r1, i1 := r0+rapid.Int64Range(0, 50).Draw(t, "r"), i0+rapid.Int64Range(0, 50).Draw(t, "i")
			ends := []string{netOfTree(from), netOfTree(k)}
			if rapid.Bool().Draw(t, "turned") {
				ends[0], ends[1] = ends[1], ends[0]
			}
			rows[k-1] = fmt.Sprintf("FB%d  ferrite bead 600 Ω, R_DC %d mΩ to %d mΩ  %s %s  in use: I = %d mA to %d mA",
				k, r0, r1, ends[0], ends[1], i0, i1)
			least[k] = new(big.Rat).Sub(least[from], big.NewRat(r1*i1, 1e6))
			most[k] = new(big.Rat).Sub(most[from], big.NewRat(r0*i0, 1e6))
		}
		rows = rapid.Permutation(rows).Draw(t, "order")
		text := "```design\ntitle: t\n```\n```values\nV6 = 6 V\n```\n```circuit\n" + strings.Join(rows, "\n") + "\n```\n"
		k := rapid.IntRange(1, n).Draw(t, "asked")
		for _, c := range []struct{ id, criterion string }{
			{"low", ">= " + least[k].FloatString(6)}, {"above", "> " + least[k].FloatString(6)},
			{"high", "<= " + most[k].FloatString(6)}, {"below", "< " + most[k].FloatString(6)},
		} {
			text += "```claim " + c.id + "\nstatement: x\ncriterion: " + netOfTree(k) + " " + c.criterion + " V\n```\n"
		}
		book, err := notebook.Load("-", notebook.Options{Stdin: []byte(text)})
		require.NoError(t, err)
		r := Compile(context.Background(), book, Options{Checks: TestChecks, On: "2026-11-24", Language: formula.NewLanguage(nil)})
		require.Zero(t, r.Summary.Errors, text)
		for _, c := range r.Claims {
			switch c.ID {
			case "low", "high":
				require.Equal(t, record.Passed, c.Verdict, "%s %s\n%s", c.ID, c.Headline, text)
			case "above", "below":
				require.Equal(t, record.Failed, c.Verdict, "%s %s\n%s", c.ID, c.Headline, text)
			}
		}
	})
}

func netOfTree(k int) string {
	if k == 0 {
		return "V6"
	}
	return fmt.Sprintf("N%d", k)
}
