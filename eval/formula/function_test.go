package formula

import (
	"math/big"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval/bound"
	"guardband/units"
)

var volt = units.Type{Dim: units.Dim{4, 2, -6, -2}}

// testFunctions are formulas of the trade as package trade holds them.
var testFunctions = []Function{
	{Name: "gain", Params: []Param{{Name: "V_in", Type: volt, Doc: "input"}, {Name: "V_out", Type: volt, Doc: "output", Default: "2 V"}},
		Body: "V_out / V_in", Valid: []string{"V_in > 0 V", "V_out >= V_in"}, Group: "test"},
	{Name: "gain_twice", Params: []Param{{Name: "V_in", Type: volt}}, Body: "2 * gain(V_in)", Group: "test"},
	{Name: "broken", Params: []Param{{Name: "V_in", Type: volt}}, Body: "V_in + 1 A", Group: "test"},
	{Name: "unread", Body: "1 +", Group: "test"},
}

func (s *bench) with(text string) (Value, []*Error) {
	e, errs := Parse(text)
	require.Empty(s.t, errs, text)
	return NewLanguage(testFunctions).Check(e, s, s.b)
}

func TestTradeFunctions(t *testing.T) {
	s := newBench(t, "V = 1 V to 4 V")
	for text, want := range map[string]string{"gain(1 V, 3 V)": "3", "gain(1 V)": "2", "gain_twice(1 V)": "4"} {
		v, errs := s.with(text)
		require.Empty(t, errs, text)
		r, ok := s.b.ConstOf(v.Reg)
		require.True(t, ok, text)
		require.Equal(t, want, r.RatString(), text)
		require.True(t, v.Fixed)
		require.False(t, v.Given, "a result is derived")
	}
	v, errs := s.with("gain(V, 3 V)")
	require.Empty(t, errs)
	require.False(t, v.Fixed)
	for text, want := range map[string]string{
		"gain()": "function-arguments", "gain(1 V, 2 V, 3 V)": "function-arguments", "gain(1 A)": "function-argument",
		"gain(nix)": "name-unknown", "broken(1 V)": "function-body", "unread()": "function-body", "gian(1 V)": "function-unknown",
	} {
		_, errs := s.with(text)
		require.Len(t, errs, 1, text)
		require.Equal(t, want, errs[0].Code, text)
	}
	_, errs = s.with("gain()")
	require.Equal(t, "write `gain(V_in, V_out = 2 V)`", errs[0].Hint)
}

// TestValidity: outside the conditions there is no value, and the register of
// the undefined point tells which condition it was.
func TestValidity(t *testing.T) {
	s := newBench(t, "V = 1 V to 4 V")
	v, errs := s.with("gain(V, 2 V)")
	require.Empty(t, errs)
	p := s.b.Extract(v.Reg)
	at := s.quantity("3 V")
	_, _, _, undefined := bound.At(p, 0, []*big.Rat{at.SI})
	require.NotNil(t, undefined)
	require.Equal(t, "gain(V, 2 V)|gain is valid for V_out >= V_in", s.notes[undefined.Reg])
	at = s.quantity("1 V")
	_, _, exact, undefined := bound.At(p, 0, []*big.Rat{at.SI})
	require.Nil(t, undefined)
	require.Equal(t, "2", exact.RatString())
}

func TestNotes(t *testing.T) {
	s := newBench(t, "A = 0 V to 1 V", "B = 1 V to 2 V")
	v, errs := s.check("1 V / (A - B)")
	require.Empty(t, errs)
	require.Equal(t, "1 V / (A - B)|", s.notes[v.Reg])
}

func TestFunctionsListed(t *testing.T) {
	seen := map[string]bool{}
	for _, f := range NewLanguage(testFunctions).Functions() {
		require.False(t, seen[f.Name], f.Name)
		seen[f.Name] = true
		require.NotEmpty(t, f.Group)
		if f.Group != "test" {
			require.NotEmpty(t, f.Doc)
			require.NotEmpty(t, f.Source)
		}
	}
	for _, name := range []string{"gain", "sqrt", "each", "parallel", "kelvin", "level_dBm", "preferred_above"} {
		require.True(t, seen[name], name)
	}
}

// TestArguments: what the built-in functions refuse.
func TestArguments(t *testing.T) {
	s := newBench(t, "T = 20 °C", "D = 5 K to 6 K", "V = 1 V", "P = 3 dBm", "L = parts Y1 48 Ω, Y2 52 Ω", "S = set max 1 V")
	for text, want := range map[string]string{
		"abs(T)": "type-point", "abs(P)": "type-level", "sqrt(T)": "type-point", "sqrt(sqrt(V))": "unit-power",
		"kelvin(V)": "function-argument", "kelvin(40 °C - 20 °C)": "function-argument", "celsius(T)": "function-argument",
		"rms(V)": "type-wave", "power_ratio(2)": "function-argument", "from_level(3 dB)": "function-argument",
		"level_dBm(V)": "function-argument", "level_dBV(V)": "function-argument", "parallel(T, T)": "function-argument",
		"parallel(V, 1 A)": "type-mismatch", "sum(V, 1 A)": "type-mismatch", "max(T, V)": "type-mismatch", "sum([])": "list-empty",
		"sum(V)": "list-missing", "each()": "function-arguments", "abs(S)": "limit-as-number", "sin(V)": "function-argument",
		"-T": "type-point", "-P": "type-level", "T^2": "type-point", "all(L)": "condition-missing", "exp(1, 2)": "function-arguments",
		"sum(L, .R) + sum(L, .Q)": "name-unknown", "V ? 1 : 2": "condition-missing", "each(V, .R)": "list-field", "L == L": "list-compare",
	} {
		_, errs := s.check(text)
		require.NotEmpty(t, errs, text)
		require.Equal(t, want, errs[0].Code, "%s: %v", text, errs)
	}
}

// TestColumns: a given value stands right of inside with its columns, which
// the scope states.
func TestColumns(t *testing.T) {
	s := newBench(t, "x = 2 V", "y.min = 1 V", "y.max = 3 V", "z.min = 1 V")
	for _, name := range []string{"y", "z"} {
		s.vals[name] = Value{Class: Number, Type: volt, Reg: s.b.Var(0), Given: true}
	}
	got, errs := s.criterion("x inside y", nil)
	require.Empty(t, errs)
	require.Len(t, got.Tests, 2)
	require.Equal(t, "x >= y.min", got.Tests[0].Text())
	_, errs = s.criterion("x inside z", nil)
	require.Equal(t, "column-missing@9:10", codes(errs))
}

// TestPins: V_OH(PA3) is a name with a pin where the scope knows it.
func TestPins(t *testing.T) {
	s := newBench(t, "V_OH(PA3) = 2.4 V", "U1.V_OH(PA3) = 2.5 V", `U1.V_OH("D+") = 2.6 V`, `net("3V0") = 3 V`)
	require.Equal(t, "12/5", s.constant("V_OH(PA3)").RatString())
	require.Equal(t, "5/2", s.constant("U1.V_OH(PA3)").RatString())
	require.Equal(t, "13/5", s.constant("U1.V_OH(“D+”)").RatString())
	require.Equal(t, "3", s.constant(`net("3V0")`).RatString())
	for text, want := range map[string]*Path{
		`V_OH("D+").max`:         {Head: "V_OH", Selector: "D+", Column: "max"},
		`U1.V_OH(PA3).min`:       {Head: "U1", Fields: []string{"V_OH"}, Selector: "PA3", Column: "min"},
		`budget("3V0").peak`:     {Head: "budget", HeadArg: "3V0", HasArg: true, Fields: []string{"peak"}},
		"U1.operating.V_DD.typ":  {Head: "U1", Fields: []string{"operating", "V_DD"}, Column: "typ"},
		`U1.spec.V_OH("µC").min`: {Head: "U1", Fields: []string{"spec", "V_OH"}, Selector: "μC", Column: "min"},
	} {
		e, errs := Parse(text)
		require.Empty(t, errs, text)
		require.Equal(t, want, e.Root.Path, text)
	}
}

// TestSecondLock: a token list that the scan would never make is refused by
// the parser behind it, in our words.
func TestSecondLock(t *testing.T) {
	s := &scanner{text: "ab"}
	for i := range 2 {
		n := s.newNode(NodeName, i, i+1)
		s.toks = append(s.toks, token{kind: tokOperand, off: i, end: i + 1, node: n})
	}
	require.Nil(t, s.tree())
	require.Equal(t, "formula-syntax@1:2", codes(s.errs))
	require.Equal(t, "`b` is not allowed here", s.errs[0].Msg)
}
