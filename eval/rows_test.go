package eval

import (
	"math/big"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval/bound"
	"guardband/eval/record"
)

// verdictCase is a notebook of one claim in the compact form of the conformance
// cases, and what must come of it.
type verdictCase struct {
	name, text string
	verdict    record.Verdict
	says       string // must stand in what the user is told
	code       string // of a diagnostic, "" where there may be none
}

func checkVerdicts(t *testing.T, cases []verdictCase) {
	t.Helper()
	for _, k := range cases {
		t.Run(k.name, func(t *testing.T) {
			r := compileText(t, caseText(splitTrim(k.text, "¶")))
			all := allText(r)
			require.Equal(t, "c", r.Claims[0].ID, all)
			require.Equal(t, k.verdict, r.Claims[0].Verdict, all)
			require.Contains(t, all, k.says)
			var codes []string
			for _, d := range r.Diagnostics {
				codes = append(codes, d.Code)
			}
			if k.code == "" {
				require.Empty(t, codes, all)
				return
			}
			require.Contains(t, codes, k.code, all)
		})
	}
}

const (
	gain = "part P ¶ spec H_FE = min 120 at I_C = 2 mA to 10 mA ¶ spec H_FE = max 100 at I_C = 10 mA to 50 mA ¶ circuit ¶ U1  P  in use: I_C = "
	drop = "part P ¶ spec V_DO = typ 130 mV, max 250 mV at I <= 150 mA ¶ spec V_DO = typ 45 mV, max 90 mV at I <= 50 mA ¶ circuit ¶ U1  P  in use: I = "
	leak = "part P ¶ spec I = max 1 µA at T_A <= 25 °C ¶ spec I = typ 2 µA, max 10 µA at T_A <= 85 °C ¶ circuit ¶ U1  P  in use: T_A = "
	mode = "part P ¶ spec I = max 1 A at V <= 3.6 V ¶ spec V = min 3.2 V, max 3.4 V at SEL = 0 V ¶ spec V = min 4.9 V, max 5.1 V at SEL = 3 V ¶ "
)

// Nothing is concluded from rows that no number meets; the diagnostic names both.
func TestContradictingRowsAreOpen(t *testing.T) {
	const both = "`spec H_FE = min 120 at I_C = 2 mA to 10 mA` and `spec H_FE = max 100 at I_C = 10 mA to 50 mA`"
	checkVerdicts(t, []verdictCase{
		{"at least", gain + "10 mA ¶ criterion: U1.H_FE >= 100", record.Open, both, "rows-contradict"},
		{"at most", gain + "10 mA ¶ criterion: U1.H_FE <= 110", record.Open, both, "rows-contradict"},
		{"never", gain + "10 mA ¶ criterion: U1.H_FE >= 1000", record.Open, both, "rows-contradict"},
		{"derived", "X = 2 * U1.H_FE ¶ " + gain + "10 mA ¶ criterion: X >= 200", record.Open, both, "rows-contradict"},
		{"column", gain + "10 mA ¶ criterion: U1.H_FE.min >= 100", record.Open, both, "rows-contradict"},
		{"copy", gain + "10 mA ¶ criterion: another(U1.H_FE) >= 100", record.Open, both, "rows-contradict"},
		{"either", gain + "10 mA ¶ criterion: U1.H_FE >= 110 or U1.H_FE <= 110", record.Open, both, "rows-contradict"},
		{"one row", gain + "5 mA ¶ criterion: U1.H_FE >= 100", record.Passed, "", ""},
		{"other row", gain + "20 mA ¶ criterion: U1.H_FE <= 110", record.Passed, "", ""},
		{"condition on it", "part P ¶ spec X = max 1 V at H <= 110 ¶ spec H = min 120 at I = 1 A ¶ spec H = max 100 at I = 1 A ¶ circuit ¶ U1  P  in use: I = 1 A ¶ criterion: U1.X <= 2 V",
			record.Open, "no value meets both rows of U1.H", "rows-contradict"},
		{"limit", "part P ¶ operating V = min 3 V at X = 1 V ¶ operating V = max 2 V at X = 1 V ¶ circuit ¶ U1  P  in use: X = 1 V ¶ criterion: 2.5 V inside U1.operating.V",
			record.Open, "no value meets both rows", "rows-contradict"},
		{"limit's end", "part P ¶ operating V = min 3 V at X = 1 V ¶ operating V = max 2 V at X = 1 V ¶ circuit ¶ U1  P  in use: X = 1 V ¶ criterion: 3.5 V >= U1.operating.V.min",
			record.Open, "no value meets both rows", "rows-contradict"},
		{"no one use", mode + "criterion: P.V <= 6 V", record.Open, "no one use has both rows", ""},
		{"one mode", mode + "circuit ¶ U1  P  in use: SEL = 0 V ¶ criterion: U1.V <= 3.5 V", record.Passed, "", ""},
		{"condition on one mode", mode + "circuit ¶ U1  P  in use: SEL = 0 V ¶ criterion: U1.I <= 2 A", record.Passed, "", ""},
		{"condition on the other", mode + "circuit ¶ U1  P  in use: SEL = 3 V ¶ criterion: U1.I <= 2 A", record.Open,
			"U1 is used at 4.9 V to 5.1 V", ""},
		{"ends of formulas", "X = 1 V to 5 V ¶ A = X to 2 V ¶ criterion: A <= 5.5 V", record.Open, "the min of A is above its max", ""},
		{"ends of formulas in order", "X = 1 V to 5 V ¶ A = X to 5 V ¶ criterion: A <= 5.5 V", record.Passed, "", ""},
		{"formula rows", "part P ¶ spec A = min X at I = 1 A ¶ spec A = max 0.5 * X at I = 1 A ¶ circuit ¶ U1  P  in use: I = 1 A; X = 1 V to 2 V ¶ criterion: U1.A <= 5 V",
			record.Open, "the min of U1.A is above its max", "rows-contradict"},
	})
}

// The user's word that a quantity is at least zero does not outweigh a number.
func TestAtLeastZeroAgainstANegativeNumber(t *testing.T) {
	const part = "part P ¶ at least zero: V ¶ spec V = "
	checkVerdicts(t, []verdictCase{
		{"max, low", part + "max -2 V ¶ circuit ¶ U1  P ¶ criterion: U1.V <= -1 V", record.Open, "is declared non-negative", "below-zero"},
		{"max, high", part + "max -2 V ¶ circuit ¶ U1  P ¶ criterion: U1.V >= -1 V", record.Open, "is declared non-negative", "below-zero"},
		{"typ", part + "typ -1 V, max 3 V ¶ circuit ¶ U1  P ¶ criterion: U1.V >= -0.5 V", record.Open,
			"is declared non-negative", "below-zero"},
		{"with a condition", part + "max -2 V at I = 1 A ¶ circuit ¶ U1  P  in use: I = 1 A ¶ criterion: U1.V >= -1 V",
			record.Open, "is declared non-negative", "below-zero"},
		{"a value", "V = max -2 V ¶ at least zero: V ¶ criterion: V >= -1 V", record.Open, "is declared non-negative", "below-zero"},
		{"in order", part + "typ 1 V, max 3 V ¶ circuit ¶ U1  P ¶ criterion: U1.V >= 0 V", record.Passed, "", ""},
		{"absolute zero", "T = max -300 °C ¶ criterion: T >= -5 °C", record.Open, "below absolute zero", "absolute-zero"},
	})
}

// The row that wins an end brings its own printed values.
func TestTheRowThatWinsAnEndBringsItsPrintedValues(t *testing.T) {
	checkVerdicts(t, []verdictCase{
		{"broken at its max", drop + "40 mA ¶ criterion: U1.V_DO <= 1 mV", record.Failed, "90 mV", ""},
		{"broken at its typ", drop + "40 mA ¶ criterion: U1.V_DO >= 60 mV", record.Failed, "45 mV", ""},
		{"the other's typ breaks nothing", drop + "40 mA ¶ criterion: U1.V_DO <= 100 mV", record.Passed, "", ""},
		{"wide row alone", drop + "100 mA ¶ criterion: U1.V_DO >= 200 mV", record.Failed, "130 mV", ""},
		{"turned round", "part P ¶ spec V_DO = typ 45 mV, max 90 mV at I <= 50 mA ¶ spec V_DO = typ 130 mV, max 250 mV at I <= 150 mA ¶ circuit ¶ U1  P  in use: I = 40 mA ¶ criterion: U1.V_DO <= 1 mV",
			record.Failed, "90 mV", ""},
		{"ends of two rows", "part P ¶ spec V = min 1 V, typ 5 V at I <= 3 A ¶ spec V = typ 1.5 V, max 2 V at I <= 2 A ¶ circuit ¶ U1  P  in use: I = 1 A ¶ criterion: U1.V >= 1.2 V",
			record.Failed, "1 V", ""},
		{"ends of two rows, high", "part P ¶ spec V = min 1 V, typ 5 V at I <= 3 A ¶ spec V = typ 1.5 V, max 2 V at I <= 2 A ¶ circuit ¶ U1  P  in use: I = 1 A ¶ criterion: U1.V <= 1.8 V",
			record.Failed, "2 V", ""},
		{"typical values that differ", "part P ¶ spec V = typ 3 V at I <= 1 A ¶ spec V = typ 5 V at I <= 3 A ¶ circuit ¶ U1  P  in use: I = 0 A ¶ criterion: U1.V <= 4 V",
			record.Open, "states only a typical value", ""},
	})
	low, high := big.NewRat(45, 1), big.NewRat(250, 1)
	in, k := meet([]*row{{in: bound.Input{Hi: high, SureLo: big.NewRat(130, 1), SureHi: high, Spread: true}},
		{in: bound.Input{Hi: big.NewRat(90, 1), SureLo: low, SureHi: big.NewRat(90, 1), Centre: low, Spread: true}}})
	require.Nil(t, k)
	require.True(t, in.Consistent() && in.Spread)
	require.Equal(t, low, in.SureLo)
	require.Equal(t, low, in.Centre)
}

// A column, a copy and the nominal value are those of the rows that hold.
func TestColumnsAndCopiesKnowTheConditions(t *testing.T) {
	const nominal = "part P ¶ spec V = min 1 V, typ 3 V at S <= 1 V ¶ spec V = min 2 V, typ 5 V, max 6 V at S <= 3 V ¶ circuit ¶ U1  P  in use: S = 2 V ¶ criterion: U1.V >= 1 V ¶ margin: "
	checkVerdicts(t, []verdictCase{
		{"max", leak + "60 °C ¶ criterion: U1.I.max <= 2 µA", record.Failed, "10 µA", ""},
		{"max at its use", leak + "20 °C ¶ criterion: U1.I.max <= 2 µA", record.Passed, "", ""},
		{"max of the only row", "part P ¶ spec I = max 1 µA at T_A <= 25 °C ¶ circuit ¶ U1  P  in use: T_A = 60 °C ¶ criterion: U1.I.max <= 2 µA",
			record.Open, "U1 is used at 60 °C", ""},
		{"typ of the second row", leak + "60 °C ¶ criterion: U1.I.typ <= 2 µA", record.Passed, "", ""},
		{"no row left states it", "part P ¶ spec V = typ 3 V at S <= 1 V ¶ spec V = max 5 V at S <= 3 V ¶ circuit ¶ U1  P  in use: S = 2 V ¶ criterion: U1.V.typ <= 5 V",
			record.Open, "no row of U1.V that covers the use of U1 states U1.V.typ", ""},
		{"in a value", "X = 2 * U1.I.max ¶ " + leak + "60 °C ¶ criterion: X <= 4 µA", record.Failed, "10 µA", ""},
		{"in a list", leak + "60 °C ¶ criterion: max(each([U1], .I.max)) <= 2 µA", record.Failed, "10 µA", ""},
		{"as the limit", leak + "60 °C ¶ criterion: 2 µA <= U1.I.max ¶ margin: 80 %", record.Passed, "", ""},
		{"copy", leak + "60 °C ¶ criterion: another(U1.I) <= 2 µA", record.Failed, "10 µA", ""},
		{"copy of a copy", leak + "60 °C ¶ criterion: another(another(U1.I)) <= 2 µA", record.Failed, "10 µA", ""},
		{"nominal", nominal + "20 % of nominal", record.Passed, "", ""},
		{"nominal, more", nominal + "21 % of nominal", record.Failed, "short", ""},
	})
}
