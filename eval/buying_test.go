package eval

import (
	"context"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval/circuit"
	"guardband/eval/record"
	"guardband/notebook"
)

const buyingNote = "```design\ntitle: t\nboards: 10\nattrition: 5 %\n```\n\n```part P\ntitle: regulator\norder: R-30C5, R-30D6\ncode: R-{volts}{case}{packing}\n" +
	"field volts: 18 = 1.8 V, 30 = 3.0 V\nfield case: C5 = SC-70-5, D6 = DFN-6\nfield packing: none = tube, R = reel\npackage: SC-70-5\npack: 100\nspec I = 1 A\npins:\n  1 VIN supply\n  2 GND ground\n  3 IN input\napplication:\n  VIN GND capacitor 1 µF\n```\n\n" +
	"```circuit\nU1-U3  P  VIN=V5 GND=GND\nR1-R7  resistor 1k  A B\n```\n"

func TestQuantitiesToOrder(t *testing.T) {
	r := compileText(t, buyingNote)
	require.Len(t, r.PartsList, 2)
	require.Equal(t, []int{3, 10, 100, 100},
		[]int{r.PartsList[0].Quantity, r.PartsList[0].Boards, r.PartsList[0].Pack, r.PartsList[0].ToOrder})
	require.Equal(t, 74, r.PartsList[1].ToOrder) // 10 × 7 × 1.05 = 73.5, whole pieces

	book, err := notebook.Load("-", notebook.Options{Stdin: []byte(buyingNote)})
	require.NoError(t, err)
	r = Compile(context.Background(), book, Options{Checks: TestChecks, Boards: 40})
	require.Equal(t, 200, r.PartsList[0].ToOrder) // 126 pieces, packs of 100
	r = compileText(t, strings.Replace(buyingNote, "boards: 10", "boards: ten", 1))
	require.Contains(t, allText(r), "whole number from 1")
	require.Zero(t, r.PartsList[0].ToOrder)
}

// Each code noted must decode and buy the package drawn; the second does not.
func TestEveryOrderCodeIsChecked(t *testing.T) {
	r := compileText(t, buyingNote)
	requireClaim(t, r, []string{"failed", "order-code.U1", "R-30D6 buys DFN-6, but SC-70-5 is drawn"})
	requireClaim(t, r, []string{"failed", "order-code.U1", "R-30C5 buys SC-70-5, which is drawn"})
}

func TestGapsAreNotes(t *testing.T) {
	r := compileText(t, buyingNote)
	got := map[string]string{}
	for _, n := range r.Parts[0].Notes {
		got[n.Name] = n.Value
	}
	require.Equal(t, "1: spec I", got["facts without a page"])
	require.Equal(t, "3: U1.IN, U2.IN, U3.IN", got["pins without a net"])
	require.Equal(t, "1: VIN to GND: capacitor", got["needs without a part"])
	require.Contains(t, got, GapSecondPerson)
}

func TestOrderCodesThatBuyWhatIsWanted(t *testing.T) {
	book, err := notebook.Load("-", notebook.Options{Stdin: []byte(buyingNote)})
	require.NoError(t, err)
	list, err := OrderCodes(book, "P", map[string]string{"volts": "3000 mV", "case": "SC70-5"})
	require.NoError(t, err)
	require.Len(t, list, 2)
	require.Equal(t, "R-30C5", list[0].Code) // the optional field left out
	require.Equal(t, "R-30C5R", list[1].Code)
	all, err := OrderCodes(book, "P", nil)
	require.NoError(t, err)
	require.Len(t, all, 8)
	_, err = OrderCodes(book, "P", map[string]string{"colour": "red"})
	require.ErrorContains(t, err, "no field colour")
	_, err = OrderCodes(book, "Q", nil)
	require.ErrorContains(t, err, "no part Q")
}

func TestFieldsOfAnyLength(t *testing.T) {
	pieces, bad := circuit.CodeParts("C{value}{class}")
	require.Empty(t, bad)
	opts := map[string][]circuit.CodeOption{"value": circuit.FieldOptions("digits = value code"), "class": circuit.FieldOptions("R = X7R, G = C0G")}
	for _, code := range []string{"C104R", "C4R", "C47500G"} {
		all := circuit.Decode(code, pieces, opts)
		require.Len(t, all, 1, code)
		require.Equal(t, "value code "+code[1:len(code)-1], all[0][0].Means)
	}
	require.Empty(t, circuit.Decode("CR", pieces, opts))
	require.Len(t, circuit.Decode("C12", []circuit.CodePiece{{Text: "C"}, {Field: "value"}, {Field: "value"}}, opts), 1)
	require.Len(t, circuit.Decode("C123", []circuit.CodePiece{{Text: "C"}, {Field: "value"}, {Field: "value"}}, opts), 2) // two ways to read it
}

func TestPackagePads(t *testing.T) {
	for name, want := range map[string]int{"SOT23": 3, "SOT-23-6": 6, "SC-70-5": 5, "SC70": 3, "QFN-48": 48,
		"TSSOP10": 10, "SOT223": 4, "SOT363": 6, "0402": 2, "01005": 2, "SOD-123": 2, "LQFP32 7 x 7": 32,
		"DFN8 2x2 + EP": 8, "SO14": 14, "D2PAK": 3} {
		n, ok := circuit.PackagePads(name)
		require.True(t, ok, name)
		require.Equal(t, want, n, name)
	}
	for _, name := range []string{"", "box", "QFN", "can 6.3 x 11", "5 x 20"} {
		_, ok := circuit.PackagePads(name)
		require.False(t, ok, name)
	}
	for i, f := range circuit.PackageFamilies { // a longer name must not hide behind a shorter one
		for _, g := range circuit.PackageFamilies[:i] {
			require.False(t, strings.HasPrefix(f.Name, g.Name), "%s stands after %s", f.Name, g.Name)
		}
	}
}

// A shortlist is ordered by verdict, then by the least margin; a near miss
// says by how much.
func TestShortlistOrder(t *testing.T) {
	r := compileText(t, "```part A\ntitle: a\nspec I = max 4 µA\n```\n\n```part B\ntitle: b\nspec I = max 2 µA\n```\n\n```part C\ntitle: c\nspec I = max 6 µA\n```\n\n```part D\ntitle: d\nspec I = typ 1 µA\n```\n\n"+
		"```shortlist s\ncandidates: A, C, D, B\ncriterion: candidate.I <= 5 µA\n```\n")
	require.Len(t, r.Shortlists, 1)
	require.Equal(t, []string{"B", "A", "D", "C"}, r.Shortlists[0].Candidates)
	require.Contains(t, r.Shortlists[0].Cells[3][0].Text, "misses by 1 µA")
}

func TestCandidateTwice(t *testing.T) {
	r := compileText(t, "```part A\ntitle: a\nspec I = max 4 µA\n```\n\n```shortlist s\ncandidates: A, A\ncriterion: candidate.I <= 5 µA\n```\n")
	require.Equal(t, 1, r.Summary.Errors)
	require.Contains(t, r.Diagnostics[1].Message+r.Diagnostics[0].Message, "`A` appears twice among the candidates")
	require.Equal(t, []string{"A"}, r.Shortlists[0].Candidates)
}

// Choosing parts must agree with what is known by hand: a need may push
// another to a part that suits it as well, and nothing serves two needs.
func TestMatchMakesRoom(t *testing.T) {
	r := compileText(t, "```part P\ntitle: p\npins:\n  1 VDD supply\n  2 GND ground\n  3 VX supply\napplication:\n  VDD GND capacitor 100 nF\n  VX GND capacitor 1 µF\n```\n\n"+
		"```circuit\nU1  P  VDD=V3 VX=V3 GND=GND\nC1  capacitor 1 µF, 16 V  V3 GND\nC2  capacitor 100 nF, 16 V  V3 GND\n```\n")
	requireClaim(t, r, []string{"passed", "application.U1.VDD", "C2"})
	requireClaim(t, r, []string{"passed", "application.U1.VX", "C1"})
}

func TestReadAsked(t *testing.T) {
	for text, want := range map[string]circuit.Asked{
		"min 1 µF":          {Low: "1 µF", Lo: 1e-6},
		"1.0 µF to 22 µF":   {Low: "1.0 µF", High: "22 µF", Lo: 1e-6, Hi: 22e-6},
		"1 to 22 µF":        {Low: "1 µF", High: "22 µF", Lo: 1e-6, Hi: 22e-6},
		"22 nF":             {Nominal: "22 nF", Nom: 22e-9},
		"2.00 kΩ ± 1 %":     {Low: "1.98 kΩ", High: "2.02 kΩ", Lo: 1980, Hi: 2020},
		"0 Ω to 0.3 Ω":      {Low: "0 Ω", High: "0.3 Ω", Hi: 0.3},
		"max 0.5 Ω":         {High: "0.5 Ω", Hi: 0.5},
		"X7R":               {},
		"":                  {},
		"min 1 µF, max 2 V": {Low: "1 µF", High: "2 V", Lo: 1e-6, Hi: 2},
	} {
		got := circuit.ReadAsked(text)
		require.Equal(t, [3]string{want.Low, want.High, want.Nominal}, [3]string{got.Low, got.High, got.Nominal}, text)
		for _, p := range [][2]float64{{want.Lo, got.Lo}, {want.Hi, got.Hi}, {want.Nom, got.Nom}} {
			require.LessOrEqual(t, math.Abs(p[0]-p[1]), 1e-12*math.Abs(p[0]), text)
		}
	}
}

// TestOrderCodesThatDiffer: a claim on what is bought holds for each code noted.
func TestOrderCodesThatDiffer(t *testing.T) {
	verdict := func(orders string) *record.Record {
		return compileText(t, "```part P\norder: "+orders+
			"\ncode: R-{volts}{pack}\nfield volts: 18 = 1.8 V, 30 = 3.0 V\nfield pack: T = tray, R = reel\n```\n"+
			"```circuit\nU1  P\n```\n```claim c\nstatement: three volts are bought\ncriterion: U1.order.volts == 3.0 V\n```\n")
	}
	r := verdict("R-30T, R-30R")
	require.NotEqual(t, record.Open, claimOf(t, r, "c").Verdict, allText(r))
	r = verdict("R-30T, R-18T")
	require.Equal(t, record.Open, claimOf(t, r, "c").Verdict, allText(r))
	require.Contains(t, allText(r), "the order codes of part P differ: by R-30T it is 3.0 V, by R-18T it is 1.8 V")
}

// TestManyOptionalFields: forty fields that may each be left out are read in a time that does not double with each.
func TestManyOptionalFields(t *testing.T) {
	var pieces []circuit.CodePiece
	opts := map[string][]circuit.CodeOption{"f": {{Code: "A", Means: "x"}, {Code: "AA", Means: "y"}, {Code: "", Means: "z"}}}
	for range 40 {
		pieces = append(pieces, circuit.CodePiece{Field: "f"})
	}
	code := strings.Repeat("A", 40)
	require.Empty(t, circuit.Decode(code, append(pieces, circuit.CodePiece{Text: "B"}), opts))
	require.Len(t, circuit.Decode(code, pieces, opts), 2)
}
