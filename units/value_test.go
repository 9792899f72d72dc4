package units

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func str(q *Quantity) string {
	if q == nil {
		return "-"
	}
	return q.String()
}

func TestValues(t *testing.T) {
	for _, c := range []struct {
		text, min, typ, max string
		shape               Shape
	}{
		{"3.3 V", "3.3 V", "3.3 V", "3.3 V", Single},
		{"1.9 V to 5.6 V", "1.9 V", "-", "5.6 V", Range},
		{"-40 to 125 °C", "-40 °C", "-", "125 °C", Range},
		{"(1.9 to 5.6) V", "1.9 V", "-", "5.6 V", Range},
		{"-325 to 325 V pk", "-325 V pk", "-", "325 V pk", Range},
		{"3.3 V ± 2 %", "3.234 V", "3.3 V", "3.366 V", Deviated},
		{"3.3 V +- 50 mV", "3.25 V", "3.3 V", "3.35 V", Deviated},
		{"3.3 V +/- 50mV", "3.25 V", "3.3 V", "3.35 V", Deviated},
		{"-3.3 V ± 2 %", "-3.366 V", "-3.3 V", "-3.234 V", Deviated},
		{"± 2 mV", "-2 mV", "0 mV", "2 mV", Deviated},
		{"± 2 %", "-0.02", "0", "0.02", Deviated},
		{"± 2 °C", "-2 K", "0 K", "2 K", Deviated},
		{"25 °C ± 2 °C", "23 °C", "25 °C", "27 °C", Deviated},
		{"25 °C ± 2 K", "23 °C", "25 °C", "27 °C", Deviated},
		{"3.3 V +5 % -3 %", "3.201 V", "3.3 V", "3.465 V", Deviated},
		{"3.3 V -3 % +5 %", "3.201 V", "3.3 V", "3.465 V", Deviated},
		{"41.2 mA ± (1.2 % + 3 µA)", "40.7026 mA", "41.2 mA", "41.6974 mA", Deviated},
		{"10 dBm ± 1 dB", "9 dBm", "10 dBm", "11 dBm", Deviated},
		{"230 V rms ± 10 %", "207 V rms", "230 V rms", "253 V rms", Deviated},
		{"0.5 ± 2 %", "0.49", "0.5", "0.51", Deviated},
		{"min 2.7 V, typ 3.3 V, max 3.6 V", "2.7 V", "3.3 V", "3.6 V", Columns},
		{"max 3.6 V, min 2.7 V", "2.7 V", "-", "3.6 V", Columns},
		{"typ 1 µA, max 5 µA", "-", "1 µA", "5 µA", Columns},
		{"1.9 V min", "1.9 V", "-", "-", Columns},
		{"1.9 V min, 3 V max", "1.9 V", "-", "3 V", Columns},
		{"3 max", "-", "-", "3", Columns},
		{"typ 10 min", "-", "10 min", "-", Columns},
		{"10 min", "10 min", "10 min", "10 min", Single},
		{"max ± 2 mV", "-2 mV", "-", "2 mV", Columns},
		{"typ 0 mV, max ± 2 mV", "-2 mV", "0 mV", "2 mV", Columns},
		{"min -40 °C, max 398.15 K", "-40 °C", "-", "398.15 K", Columns},
	} {
		v, err := ParseValue(c.text)
		require.Nil(t, err, c.text)
		require.Equal(t, []string{c.min, c.typ, c.max}, []string{str(v.Min), str(v.Typ), str(v.Max)}, c.text)
		require.Equal(t, c.shape, v.Shape, c.text)
	}
}

func TestValueErrors(t *testing.T) {
	for _, c := range []struct{ text, marked, code, hint string }{
		{"", "", CodeFormEmpty, "3.3 V"},
		{"10 V -1 V", "-1 V", CodeFormSign, "\" - \""},
		{"10 V +1 V +2 V", "+1 V", CodeFormSign, "one of each"},
		{"1.9V-5.6V", "-", CodeFormRange, "\"to\""},
		{"1.9 V–5.6 V", "–", CodeFormRange, "\"to\""},
		{"1.9 V … 5.6 V", "…", CodeFormRange, "\"to\""},
		{"1.9 V .. 5.6 V", "..", CodeFormRange, "\"to\""},
		{"6 V to 2.7 V", "6 V to 2.7 V", CodeFormReversed, "lower"},
		{"min 3 V, max 2 V", "min 3 V, max 2 V", CodeFormReversed, "lower"},
		{"min 3 V, typ 2 V", "min 3 V, typ 2 V", CodeFormReversed, "lower"},
		{"1 mA to 150", "150", CodeFormRange, "150 mA"},
		{"1 V to 2 V to 3 V", "to", CodeFormRange, ""},
		{"to 3 V", "to", CodeFormRange, "both"},
		{"1 V to 2 A", "1 V to 2 A", CodeTypeMismatch, "voltage"},
		{"50 % ± 2 %", "2 %", CodeFormPercent, "48 % to 52 %"},
		{"25 °C ± 2 %", "25 °C ± 2 %", CodeFormPercent, "± 2 K"},
		{"3.3 V ± 0.1", "3.3 V ± 0.1", CodeTypeMismatch, "± 0.1 V"},
		{"3.3 V ± 1 A", "3.3 V ± 1 A", CodeTypeMismatch, "a voltage, 1 A is a current"},
		{"3.3 V ±", "±", CodeFormDeviation, "amount"},
		{"3.3 V ± -2 %", "-2 %", CodeFormDeviation, "without a sign"},
		{"3.3 V ± 2 % ± 3 mV", "±", CodeFormDeviation, "parentheses"},
		{"3.3 V ± 2 % + 3 mV", "2 % + 3 mV", CodeFormDeviation, ""},
		{"(3.3 V ± 2 %) * 2", "±", CodeFormDeviation, "name"},
		{"A + B ± 2 %", "A + B", CodeFormDeviation, "name"},
		{"1 V to 2 V ± 2 %", "to", CodeFormDeviation, "range"},
		{"min 2 V, 3 V", "3 V", CodeFormColumn, "min"},
		{"min 2 V, min 3 V", "min 3 V", CodeFormColumn, "twice"},
		{"min", "min", CodeFormColumn, "value"},
		{"min 2 V,", "", CodeFormColumn, "empty"},
		{"min 2 V max", "max", CodeFormColumn, "one of the words"},
		{"max ± 2 mV, min 1 V", "2 mV", CodeFormColumn, "both ends"},
		{"min ± 2 mV", "±", CodeFormColumn, "max ± 2 mV"},
		{"min 1 V to 2 V", "to", CodeFormColumn, "range"},
		{"3.3 V ± (1 % + 2)", "3.3 V ± (1 % + 2)", CodeTypeMismatch, "± 2 V"},
		{"± (1 % + 2 mV)", "± (1 % + 2 mV)", CodeFormPercent, "before"},
	} {
		_, err := ParseValue(c.text)
		require.NotNil(t, err, c.text)
		require.Equal(t, c.code, err.Code, "%s: %s", c.text, err.Msg)
		require.Equal(t, c.marked, c.text[err.Off:err.End], "%s: %s", c.text, err.Msg)
		require.Contains(t, err.Msg+err.Hint, c.hint, c.text)
	}
}

// Split leaves formulas alone.
func TestSplitFormulas(t *testing.T) {
	for _, c := range []struct {
		text  string
		shape Shape
		parts []string // in the order Single, Lo, Hi, Centre, Min, Typ, Max
	}{
		{"V * B / (T + B)", Single, []string{"V * B / (T + B)"}},
		{"-0.3 V to V_DD + 0.3 V", Range, []string{"-0.3 V", "V_DD + 0.3 V"}},
		{"X ± 2 %", Deviated, []string{"X"}},
		{"U1.V_OUT ± 2 %", Deviated, []string{"U1.V_OUT"}},
		{"(A + B) ± 2 %", Deviated, []string{"(A + B)"}},
		{`net("A to B") ± 2 %`, Deviated, []string{`net("A to B")`}},
		{"min(2 V, 3 V)", Single, []string{"min(2 V, 3 V)"}},
		{"max([A, 2 V])", Single, []string{"max([A, 2 V])"}},
		{"min A + 1 V, max min(B, C)", Columns, []string{"A + 1 V", "min(B, C)"}},
		{"3.3 V + 5 % - 3 %", Single, []string{"3.3 V + 5 % - 3 %"}},
		{"V2 min", Columns, []string{"V2"}},
		{"a ? 3 V : 2 V", Single, []string{"a ? 3 V : 2 V"}},
		{"V - 1 V", Single, []string{"V - 1 V"}},
		{"3 V - 1 V", Single, []string{"3 V - 1 V"}},
		{"total / 2", Single, []string{"total / 2"}},
	} {
		p, err := Split(c.text)
		require.Nil(t, err, c.text)
		require.Equal(t, c.shape, p.Shape, c.text)
		var got []string
		for _, l := range []Leaf{p.Single, p.Lo, p.Hi, p.Centre, p.Min, p.Typ, p.Max} {
			if l.Present() {
				got = append(got, l.Text(c.text))
			}
		}
		require.Equal(t, c.parts, got, c.text)
	}
}
