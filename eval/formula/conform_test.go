package formula

import (
	"math/big"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/units"
)

// conformance lists the cases of the language's grammar that formulas alone
// decide: definitions, a criterion, a margin, and what must come of it: a
// verdict, or the code of an error. The number is the case's number there.
var conformance = []struct {
	number    string
	defs      string // parted by "; "
	criterion string
	margin    string
	want      string
}{
	{"1", "A = 0.1 V; B = 0.2 V", "A + B <= 0.3 V", "", "passed"},
	{"1", "A = 0.1 V; B = 0.2 V", "A + B < 0.3 V", "", "failed"},
	{"2", "L = 5 m", "L == 5000 mm", "", "passed"},
	{"3", "V = 3.234 V to 3.366 V", "V == 3.3 V", "", "failed"},
	{"3", "V = 3.234 V to 3.366 V", "V - V == 0 V", "", "passed"},
	{"5", "R = 4k7 ohm", "R == 4.7 kΩ", "", "passed"},
	{"6", "", "4k7 <= 3", "", "literal-marking"},
	{"7", "", "17 % 5 <= 1", "", "literal-percent"},
	{"8", "X = 3.201 V to 3.465 V", "X inside 3.201 V to 3.465 V", "", "passed"},
	{"10", "", "10 V -1 V <= 9 V", "", "formula-blank"},
	{"10", "", "1.9V-5.6V <= 9 V", "", "formula-dash"},
	{"11", "X = -40 °C to 125 °C", "X <= 125 °C", "", "passed"},
	{"12", "X = 3 V", "X inside 6 V to 2.7 V", "", "form-reversed"},
	{"12", "X = 3 V", "X <= 3,3 V", "", "number-comma"},
	{"14", "X = -2 mV to 2 mV", "abs(X) <= 2 mV", "", "passed"},
	{"15", "I = 2 A", "2 A^2 * 3 Ω == 6 W and I^2 * 3 Ω == 12 W", "", "passed"},
	{"15", "I = 2 A", "2 A ^ 2 == 4 A^2", "", "unit-power"},
	{"16", "A = 25 °C; B = 40 °C", "B - A == 15 K and A - 5 K == 20 °C and -40 °C < 0 °C", "", "passed"},
	{"17", "A = 25 °C", "A + A <= 30 °C", "", "type-point"},
	{"17", "A = 25 °C", "2 * A <= 30 °C", "", "type-point"},
	{"19", "C = 2.2 µF; D = 2.2 μF; E = 2.2 uF", "C == D and D == E", "", "passed"},
	{"21", "", "in <= 3 V", "", "formula-in"},
	{"25", "P = 1 W", "P <= 3 V", "", "type-mismatch"},
	{"34", "X = 0 V to 2 V", "X <= 1 V", "", "failed"},
	{"34", "X = 0 V to 2 V", "not (X <= 1 V)", "", "failed"},
	{"34", "X = 0 V to 2 V", "not X <= 1 V", "", "formula-not"},
	{"33", "X = 0 V to 2 V", "X <= 1 V or X >= 1 V", "", "passed"},
	{"41", "V_OH = 2.4 V; V_IH = set min 2 V", "V_OH inside V_IH", "", "passed"},
	{"41", "V_OH = 2.4 V; V_IH = set min 2 V", "V_OH >= V_IH", "", "limit-as-number"},
	{"47", "X = 1 V to 2 V; Y = 2 V to 3 V", "X <= Y", "", "passed"},
	{"47", "X = 1 V to 2 V; Y = 2 V to 3 V", "X < Y", "", "failed"},
	{"47", "X = 1 V to 2 V", "X < X", "", "failed"},
	{"47", "X = 1 V to 2 V", "X <= X", "", "passed"},
	{"49", "V = 2.9 V to 3.1 V", "2.7 V <= V <= 3.6 V", "5 %", "passed"},
	{"50", "V = 2.94 V to 3.06 V", "V inside 2.7 V to 3.6 V", "10 %", "failed"},
	{"50", "V = 2.94 V to 3.06 V", "V inside 2.7 V to 3.6 V", "10 % of span", "passed"},
	{"51", "V = 1 V", "V >= 0 V", "5 %", "margin-of-zero"},
	{"51", "V = 1 V", "V >= 0 V", "0.5 V", "passed"},
	{"53", "T = 110 °C", "T <= 125 °C", "10 K", "passed"},
	{"53", "T = 110 °C", "T <= 125 °C", "10 %", "margin-of-point"},
	{"55", "V = 3.0 V to 3.6 V; T = 99 kΩ to 101 kΩ; B = 46.53 kΩ to 47.47 kΩ", "V * B / (T + B) <= 1.17 V", "", "passed"},
	{"56", "X = 0 V to 1 V", "X * (1 V - X) <= 0.25 V^2", "", "passed"},
	{"56", "X = 0 V to 1 V", "X * (1 V - X) < 0.25 V^2", "", "failed"},
	// The table of ambiguities.
	{"chain", "x = 1 V", "1 V < x > 0 V", "", "chain-direction"},
	{"chain", "a = 1 V; b = 1 V; c = 1 V", "a == b == c", "", "condition-compare"},
	{"chain", "a = 1 V; b = 1 V", "not (a) <= b", "", "condition-missing"},
	{"chain", "a = 1 V; c = 2 V", "a inside 0 V to 2 V <= c", "", "condition-compare"},
	{"margin", "a = 1 V", "a <= 2 V or a >= 3 V", "5 %", "margin-split"},
	{"margin", "a = 1 V", "not (a >= 2 V)", "5 %", "margin-split"},
	{"margin", "a = 1 V", "a == 1 V", "5 %", "margin-split"},
	{"margin", "a = 1 V", "a not inside 2 V to 3 V", "5 %", "margin-split"},
	{"margin", "a = 1 V", "a <= 2 V", "10 % of span", "margin-span"},
	{"margin", "a = 1 V", "a <= 2 V", "1 A", "margin-type"},
	{"margin", "P = 10 dBm", "P <= 14 dBm", "10 %", "margin-of-level"},
	{"margin", "P = 10 dBm", "P <= 14 dBm", "3 dB", "passed"},
	{"margin", "P = 10 dBm", "P <= 14 dBm", "5 dB", "failed"},
	{"margin", "T = 110 °C", "T <= 125 °C", "10 °C", "passed"},
	{"margin", "T = 110 °C", "T <= 125 °C", "16 °C", "failed"},
	{"margin", "D = 0.4", "D <= 0.5", "0.05", "passed"},
	{"margin", "D = 0.4", "D <= 0.5", "25 %", "failed"},
	{"margin", "D = 0.4", "D <= 0.5", "20 %", "passed"},
	{"margin", "V = 2.94 V to 3.06 V", "V inside 2.7 V to 3.6 V", "8 % of nominal", "passed"},
	{"margin", "V = 2.94 V to 3.06 V", "V inside 2.7 V to 3.6 V", "8.1 % of nominal", "failed"},
	{"text", "code = text 30", `code == "30"`, "", "passed"},
	{"text", "code = text 30", `code != "30"`, "", "failed"},
	{"text", "code = text 30", `code <= "30"`, "", "text-compare"},
	{"text", "code = text 30", `code == 30`, "", "text-as-number"},
	{"list", "L = parts Y1 48 Ω, Y2 52 Ω", "sum(L, .R) == 100 Ω and max(L, .R) < 53 Ω and count(L, .R > 50 Ω) == 1", "", "passed"},
	{"list", "L = parts Y1 48 Ω, Y2 52 Ω", "each(L, 24 V / .R) <= 0.5 A", "", "passed"},
	{"list", "L = parts Y1 48 Ω, Y2 52 Ω", "all(L, .R inside 50 Ω to 60 Ω)", "", "failed"},
	{"list", "L = parts Y1 48 Ω, Y2 52 Ω", "any(L, .R inside 50 Ω to 60 Ω)", "", "passed"},
	{"list", "L = parts Y1 48 Ω, Y2 52 Ω", "L * 2 <= 3 Ω", "", "list-as-number"},
	{"list", "L = parts Y1 48 Ω, Y2 52 Ω", "sum(L, .Q) <= 3 Ω", "", "name-unknown"},
	{"list", "x = 2 V", "x inside [1 V, 2 V]", "", "passed"},
	{"set", "x = 2 V", "x inside 2 V", "", "inside-set"},
	{"set", "x = 2 V; y = 1 V to 3 V", "x inside y", "", "passed"},
	{"set", "x = 2 V; y = 1 V to 3 V", "x inside y * 2", "", "inside-set"},
	{"set", "x = 2 V; L = set free", "x inside L", "", "passed"},
	{"power", "R = 2 Ω; x = 0.5", "(R^x)^x <= 2 Ω", "", "unit-power"},
	{"power", "R = 4 Ω; x = 0.3", "R^x <= 2 Ω", "", "power-base"},
	{"power", "x = 0.3", "2^x <= 1.24 and 2^x >= 1.23 and 4^0.5 == 2", "", "passed"},
	{"power", "V = 2 V", "2^V <= 2", "", "power-exponent"},
	{"wave", "U = 230 V rms", "U <= 400 V", "", "type-wave"},
	{"wave", "U = 230 V rms", "peak(U) <= 326 V pk and peak(U) >= 325 V pk", "", "passed"},
	{"wave", "U = 230 V", "peak(U) <= 326 V pk", "", "type-wave"},
	{"wave", "U = 230 V rms", "U <= 253 V rms", "23 V", "passed"},
	{"wave", "U = 230 V rms", "U <= 253 V rms", "24 V rms", "failed"},
	{"wave", "U = 230 V rms", "U <= 253 V rms", "10 V pk", "margin-type"},
	{"wave", "U = 230 V rms; R = 100 Ω", "U^2 / R == 529 W", "", "passed"},
	{"preferred", "", `preferred(3578 Ω, "E96") == 3570 Ω and preferred(2950 Ω, "E12") == 2700 Ω and preferred_above(966.7 Ω, "E24") == 1 kΩ`, "", "passed"},
	{"preferred", "R = 1 kΩ to 2 kΩ", `preferred(R, "E24") <= 2 kΩ`, "", "function-argument"},
	{"preferred", "R = 1 kΩ", `preferred(R, "E25") <= 2 kΩ`, "", "series-unknown"},
	{"preferred", "R = 1 kΩ", `preferred(R, 24) <= 2 kΩ`, "", "function-argument"},
	{"another", "V = 1 V to 2 V", "another(V) - V == 0 V", "", "failed"},
	{"another", "V = 1 V to 2 V", "abs(another(V) - V) <= 1 V", "", "passed"},
	{"level", "P = 0.1 W", "level_dBm(P) == 20 dBm and from_level(20 dBm) == 0.1 W and dB_voltage(10) == 20 dB and power_ratio(20 dB) == 100", "", "passed"},
	{"none", "V = 1 V", "V", "", "condition-missing"},
	{"none", "V = 1 V", "Vv <= 1 V", "", "name-unknown"},
	{"none", "V = 1 V", "sqr(V) <= 1 V", "", "function-unknown"},
	{"none", "V = 1 V", "sqrt(V, V) <= 1 V", "", "function-arguments"},
	{"none", "V = 1 V", "ln(V) <= 1", "", "function-argument"},
	{"field", "V = 1 V", ".R <= 1 V", "", "list-field"},
	{"if", "V = 1 V to 2 V", "(V > 1.5 V ? 3 V : 2 V) <= 3 V", "", "passed"},
	{"if", "V = 1 V to 2 V", "V > 1.5 V ? V <= 2 V : V >= 1 V", "", "passed"},
	{"if", "V = 1 V to 2 V", "(V > 1.5 V ? 3 V : 2 A) <= 3 V", "", "type-mismatch"},
}

// margin reads "5 %", "10 % of span", "0.5 V".
func (s *bench) margin(text string) *Margin {
	if text == "" {
		return nil
	}
	amount, of, _ := strings.Cut(text, " of ")
	q := s.quantity(amount)
	m := &Margin{Of: of, Off: 1000, End: 1001}
	if q.Unit.Symbol == "%" {
		m.Share = q.SI
	} else {
		m.Absolute = &q
	}
	return m
}

func TestConformance(t *testing.T) {
	for _, c := range conformance {
		t.Run(c.number+" "+c.criterion+" "+c.margin, func(t *testing.T) {
			var defs []string
			if c.defs != "" {
				defs = strings.Split(c.defs, "; ")
			}
			s := newBench(t, defs...)
			m := s.margin(c.margin)
			got, errs := s.criterion(c.criterion, m)
			if len(errs) > 0 {
				require.Equal(t, c.want, errs[0].Code, "%v", errs)
				if strings.HasPrefix(errs[0].Code, "margin-") {
					require.Equal(t, []int{1000, 1001}, []int{errs[0].Off, errs[0].End})
				} else {
					require.LessOrEqual(t, errs[0].End, len(c.criterion))
				}
				return
			}
			require.Equal(t, Bool, got.Class)
			require.Equal(t, c.want, verdict(s.decide(got.Reg)))
			require.NotEmpty(t, got.Tests)
		})
	}
}

// TestMarginShown compares the margins that a claim shows with the figures of
// the grammar's cases 41, 43, 49, 50, 53.
func TestMarginShown(t *testing.T) {
	for _, c := range []struct {
		defs, criterion, margin string
		want                    []float64 // smallest ratio of each test
	}{
		{"V = 2.9 V to 3.1 V", "2.7 V <= V <= 3.6 V", "5 %", []float64{0.2 / 2.7, 0.5 / 3.6}},
		{"V = 2.94 V to 3.06 V", "V inside 2.7 V to 3.6 V", "10 %", []float64{0.24 / 2.7, 0.54 / 3.6}},
		{"V = 2.94 V to 3.06 V", "V inside 2.7 V to 3.6 V", "10 % of span", []float64{0.24 / 0.9, 0.54 / 0.9}},
		{"V = 2.94 V to 3.06 V", "V inside 2.7 V to 3.6 V", "5 % of nominal", []float64{0.24 / 3, 0.54 / 3}},
		{"V_OH = 2.4 V; V_IH = set min 2 V", "V_OH inside V_IH", "", []float64{0.2}},
		{"V = 0.1 V to 0.25 V", "300 mV >= V", "", []float64{0.05 / 0.3}},
	} {
		s := newBench(t, strings.Split(c.defs, "; ")...)
		got, errs := s.criterion(c.criterion, s.margin(c.margin))
		require.Empty(t, errs)
		require.Len(t, got.Tests, len(c.want))
		for i, w := range c.want {
			require.InDelta(t, w, s.least(got.Tests[i].Ratio), 1e-12, c.criterion)
		}
	}
}

func TestTests(t *testing.T) {
	s := newBench(t, "V = 2.9 V to 3.1 V", "V_DD = set 2.7 V to 3.6 V", "L = parts Y1 48 Ω, Y2 52 Ω", "T = 20 °C to 30 °C")
	got, errs := s.criterion("V inside V_DD and 3.5 V > V and (V <= 3 V or V > 2 V) and each(L, 24 V / .R) <= 1 A and T <= 85 °C and all(L, .R > 1 Ω)", nil)
	require.Empty(t, errs)
	var texts []string
	for _, x := range got.Tests {
		texts = append(texts, x.Text())
	}
	require.Equal(t, []string{"V >= V_DD.min", "V <= V_DD.max", "3.5 V > V", "V <= 3 V", "V > 2 V",
		"24 V / Y1.R <= 1 A", "24 V / Y2.R <= 1 A", "T <= 85 °C", "Y1.R > 1 Ω", "Y2.R > 1 Ω"}, texts)
	require.False(t, got.Tests[2].LimitRight, "the side without spread is the limit")
	require.True(t, got.Tests[3].Negated, "under an or")
	require.False(t, got.Tests[5].Negated)
	require.Zero(t, got.Tests[7].Ratio, "no percentage of a temperature")
	require.NotZero(t, got.Tests[7].Slack)
	require.Equal(t, got.Reg, got.Plain, "no margin asked")
}

// TestMarginReg tells a claim that is broken from one that is short.
func TestMarginReg(t *testing.T) {
	s := newBench(t, "V = 2.94 V to 3.06 V")
	got, errs := s.criterion("V inside 2.7 V to 3.6 V", &Margin{Share: big.NewRat(1, 10)})
	require.Empty(t, errs)
	require.Equal(t, "failed", verdict(s.decide(got.Reg)))
	require.Equal(t, "passed", verdict(s.decide(got.Plain)))
	need, ok := s.b.ConstOf(got.Tests[0].Need)
	require.True(t, ok)
	require.Equal(t, "27/100", need.RatString())
}

// TestMargins of zero keep strictness: a value at its limit still fails `<`.
func TestStrictMargin(t *testing.T) {
	s := newBench(t, "V = 2 V")
	q := s.quantity("0.5 V")
	for text, want := range map[string]string{"V < 2.5 V": "failed", "V <= 2.5 V": "passed", "2.5 V > V": "failed", "2.5 V >= V": "passed"} {
		got, errs := s.criterion(text, &Margin{Absolute: &q})
		require.Empty(t, errs)
		require.Equal(t, want, verdict(s.decide(got.Reg)), text)
	}
}

// TestErrorPlaces: every complaint of a check names the piece it speaks of.
func TestErrorPlaces(t *testing.T) {
	s := newBench(t, "P = 1 W", "T = 20 °C", "L = set min 2 V", "V = 1 V")
	for text, want := range map[string]string{
		"P + 3 V <= 1 W":                 "type-mismatch@0:7",
		"V <= 1 V and P <= 3 V":          "type-mismatch@13:21",
		"(V + P) * (T + T) <= 1 V":       "type-mismatch@1:6 type-point@11:16",
		"V <= L":                         "limit-as-number@5:6",
		"nix + V <= 1 V and nox <= 2":    "name-unknown@0:3 name-unknown@19:22",
		"sqrt(T) <= 1":                   "type-point@5:6",
		"-T <= 1 °C":                     "type-point@0:2",
		"V^T <= 1":                       "power-exponent@2:3",
		"V <= 1 V ? 3 : V <= 2 V":        "condition-kind@0:23",
		"foo(V, nix) <= 2 V":             "function-unknown@0:11 name-unknown@7:10",
		"V <= 2 V and V":                 "condition-missing@13:14",
		"(V <= 2 V) + 1 V <= 2 V":        "condition-as-number@0:10",
		"\"a\" + 1 <= 2":                 "text-as-number@0:3",
		"V inside 2 V to 3 V inside 2 V": "inside-set@27:30",
	} {
		_, errs := s.criterion(text, nil)
		require.Equal(t, want, codes(errs), text)
	}
}

func TestWords(t *testing.T) {
	s := newBench(t, "P_LOSS = 1 W")
	_, errs := s.criterion("P_LOSS <= 3 V", nil)
	require.Len(t, errs, 1)
	require.Contains(t, errs[0].Msg, "P_LOSS is a power")
	require.Contains(t, errs[0].Msg, "3 V is a voltage")
	_, errs = s.criterion("sqr(P_LOSS) <= 3 V", nil)
	require.Contains(t, errs[0].Hint, "`sqrt`")
}

func TestExactConstants(t *testing.T) {
	s := newBench(t)
	for text, want := range map[string]string{
		"0.1 V + 0.2 V":                 "3/10",
		"-2^2":                          "-4",
		"2^-3":                          "1/8",
		"2^3^2":                         "512",
		"sqrt(9 V^2)":                   "3",
		"(4 V^2)^0.5":                   "2",
		"(4 V^2)^(3/2)":                 "8",
		"parallel(1 kΩ, 1 kΩ, 500 Ω)":   "250",
		"kelvin(25 °C)":                 "5963/20",
		"celsius(300 K)":                "300",
		"40 °C - 25 °C":                 "15",
		"max(1 V, 2 V) - min(3 V, 1 V)": "1",
		"sum([1 A, 2 A, 3 A])":          "6",
		"count([1 V, 2 V])":             "2",
		"rms(peak(10 V rms))":           "10",
	} {
		if text == "rms(peak(10 V rms))" {
			v, errs := s.check(text) // √2 is irrational: checked by its range
			require.Empty(t, errs)
			require.InDelta(t, 10, s.least(v.Reg), 1e-12)
			require.Equal(t, units.RMS, v.Type.Wave)
			continue
		}
		require.Equal(t, want, s.constant(text).RatString(), text)
	}
}
