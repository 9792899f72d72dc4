package units

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// typeOf reads a type from a literal; "D" is a difference of temperatures.
func typeOf(t *testing.T, s string) Type {
	if s == "D" {
		return Type{Dim: temperature}
	}
	q, err := ParseLiteral(s)
	require.Nil(t, err, s)
	return q.Type
}

// The whole table: rows are left op right; "" is an error with that code.
func TestCombine(t *testing.T) {
	for _, c := range []struct{ left, op, right, want, code string }{
		{"3 V", "+", "2 V", "1 V", ""}, {"3 V", "*", "2 A", "1 W", ""}, {"3 V", "/", "2 A", "1 Ω", ""},
		{"3 V", "+", "2 A", "", CodeTypeMismatch}, {"3 V", "<=", "2 A", "", CodeTypeMismatch}, {"3 V", "+", "5 %", "", CodeTypeMismatch},
		{"3", "*", "2 V", "1 V", ""}, {"3 V", "/", "2 V", "1", ""}, {"3 V", "<=", "2 V", "1 V", ""},
		// points (°C), differences (D) and kelvin literals
		{"25 °C", "+", "25 °C", "", CodeTypePoint}, {"25 °C", "-", "25 °C", "D", ""}, {"25 °C", "+", "D", "1 °C", ""},
		{"25 °C", "-", "D", "1 °C", ""}, {"D", "+", "25 °C", "1 °C", ""}, {"D", "-", "25 °C", "", CodeTypePoint},
		{"25 °C", "+", "5 K", "1 °C", ""}, {"25 °C", "-", "5 K", "1 °C", ""}, {"5 K", "+", "25 °C", "1 °C", ""},
		{"5 K", "-", "25 °C", "", CodeTypePoint}, {"5 K", "+", "5 K", "D", ""}, {"5 K", "-", "5 K", "D", ""},
		{"D", "+", "D", "D", ""}, {"D", "-", "5 K", "D", ""}, {"5 K", "+", "D", "D", ""},
		{"25 °C", "*", "2", "", CodeTypePoint}, {"2", "*", "25 °C", "", CodeTypePoint}, {"25 °C", "/", "2", "", CodeTypePoint},
		{"2", "/", "25 °C", "", CodeTypePoint}, {"5 K", "*", "2", "D", ""}, {"D", "/", "2 W", "1 K/W", ""}, {"5 K", "/", "5 K", "1", ""},
		{"25 °C", "<=", "25 °C", "1 °C", ""}, {"25 °C", "<=", "5 K", "1 °C", ""}, {"5 K", "<=", "25 °C", "1 °C", ""},
		{"25 °C", "<=", "D", "", CodeTypePoint}, {"D", "==", "25 °C", "", CodeTypePoint}, {"D", "<=", "5 K", "D", ""},
		{"5 K", "<=", "5 K", "1 K", ""}, {"D", "<", "D", "D", ""}, {"65 K/W", "*", "2 W", "D", ""},
		// levels follow with the decibel as the difference
		{"3 dBm", "+", "3 dBm", "", CodeTypeLevel}, {"3 dBm", "-", "1 dBm", "1 dB", ""}, {"3 dBm", "+", "1 dB", "1 dBm", ""},
		{"3 dBm", "-", "1 dB", "1 dBm", ""}, {"1 dB", "+", "3 dBm", "1 dBm", ""}, {"1 dB", "-", "3 dBm", "", CodeTypeLevel},
		{"1 dB", "+", "1 dB", "1 dB", ""}, {"3 dBm", "-", "1 dBV", "", CodeTypeLevel}, {"3 dBm", "<=", "1 dBV", "", CodeTypeLevel},
		{"3 dBm", "<=", "1 dBm", "1 dBm", ""}, {"3 dBm", "<=", "1 dB", "", CodeTypeLevel}, {"1 dB", "<=", "1 dB", "1 dB", ""},
		{"3 dBm", "*", "2", "", CodeTypeLevel}, {"2", "*", "1 dB", "1 dB", ""}, {"1 dB", "*", "1 dB", "", CodeTypeLevel},
		{"6 dB", "/", "3 dB", "1", ""}, {"2", "/", "1 dB", "", CodeTypeLevel}, {"3 dB/m", "*", "2 m", "1 dB", ""},
		{"3 dBm", "+", "1 W", "", CodeTypeLevel}, {"3 dB", "+", "2", "", CodeTypeLevel}, {"3 dBm", "<=", "1 mW", "", CodeTypeLevel},
		{"3 dBm", "+", "1 dB/m", "", CodeTypeMismatch}, {"3 dB/m", "+", "1 dB", "", CodeTypeMismatch},
		// wave forms
		{"3 V rms", "+", "2 V rms", "1 V rms", ""}, {"3 V rms", "+", "2 V", "", CodeTypeWave}, {"3 V rms", "<=", "2 V pk", "", CodeTypeWave},
		{"3 V rms", "*", "2", "1 V rms", ""}, {"2 Ω", "*", "3 A rms", "1 V rms", ""}, {"3 V rms", "*", "2 A rms", "1 W", ""},
		{"3 V rms", "/", "2 A rms", "1 Ω", ""}, {"3 V rms", "*", "2 A pk", "", CodeTypeWave}, {"3 V rms", "/", "2 Ω", "1 A rms", ""},
		{"3 V", "/", "2 A rms", "", CodeTypeWave},
	} {
		got, err := Combine(c.op, typeOf(t, c.left), typeOf(t, c.right), c.left, c.right)
		name := c.left + " " + c.op + " " + c.right
		if c.code != "" {
			require.NotNil(t, err, name)
			require.Equal(t, c.code, err.Code, "%s: %s", name, err.Msg)
			require.NotEmpty(t, err.Hint, name)
			continue
		}
		require.Nil(t, err, name)
		require.Equal(t, typeOf(t, c.want), got, name)
	}
}

// Both operands are named in words, with the unit as typed, and the likely
// slip is offered.
func TestMismatchWords(t *testing.T) {
	for _, c := range []struct{ left, op, right, msg, hint string }{
		{"0.25 W", "<=", "125 °C", "0.25 W is a power, 125 °C is a temperature", ""},
		{"3 mA", "+", "2 mAh", "3 mA is a current, 2 mAh is a charge", "charge = current * time"},
		{"3 mAh", "<=", "2 Wh", "3 mAh is a charge, 2 Wh is an energy", "voltage"},
		{"25 C", "<=", "25 °C", "25 C is a charge, 25 °C is a temperature", "°C"},
		{"3 V", "+", "5 %", "3 V is a voltage, 5 % is a ratio", "x * (1 + 5 %)"},
		{"3 V", "+", "5", "3 V is a voltage, 5 is a number without a unit", "left out"},
		{"3 V pk", "<=", "2 V rms", "3 V pk is pk, 2 V rms is rms", "sqrt(2)"},
		{"20 °C", "+", "20 °C", "not added", "20 K"},
		{"3 dBm", "<=", "1 W", "3 dBm is a level in dBm, 1 W is a power", "convert"},
		{"65 K/W", "+", "5 K", "a thermal resistance", "multiply"},
	} {
		_, err := Combine(c.op, typeOf(t, c.left), typeOf(t, c.right), c.left, c.right)
		require.NotNil(t, err)
		require.Contains(t, err.Msg, c.msg)
		require.Contains(t, err.Hint, c.hint)
	}
	_, err := Combine("<=", Type{Dim: temperature}, typeOf(t, "20 °C"), "T_SD - T_HYST", "20 °C")
	require.Equal(t, "if a difference is meant, compare it with one, e.g. 20 K; if T_SD - T_HYST is a temperature, state it on a scale, e.g. 20 °C", err.Hint)
	require.Contains(t, err.Error(), err.Hint)
}

func TestNegateAndPower(t *testing.T) {
	for _, s := range []string{"25 °C", "3 dBm"} {
		_, err := Negate(typeOf(t, s), s)
		require.NotNil(t, err)
		_, err = Power(typeOf(t, s), 2, 1, s)
		require.NotNil(t, err)
	}
	_, err := Power(typeOf(t, "3 dB"), 2, 1, "3 dB")
	require.NotNil(t, err)
	d, err := Negate(typeOf(t, "5 K"), "5 K")
	require.Nil(t, err)
	require.Equal(t, Type{Dim: temperature}, d)
	for _, c := range []struct {
		text     string
		num, den int
		want     string
	}{{"2 V", 2, 1, "1 V²"}, {"2 V²", 1, 2, "1 V"}, {"2 Hz", 1, 2, "1 √Hz"}, {"2 V rms", 2, 1, "1 V²"}, {"2 V rms", -1,
		1, "1 V⁻¹"}, {"5", 7, 3, "1"}} {
		got, err := Power(typeOf(t, c.text), c.num, c.den, c.text)
		require.Nil(t, err)
		want := typeOf(t, c.want)
		if c.num == -1 {
			want.Wave = RMS
		}
		require.Equal(t, want, got, c.text)
	}
	_, err = Power(typeOf(t, "2 V"), 1, 3, "2 V")
	require.NotNil(t, err)
}

func TestWords(t *testing.T) {
	for s, want := range map[string]string{
		"1 W": "a power", "1 V": "a voltage", "1 K/W": "a thermal resistance", "1": "a ratio", "1 %": "a ratio",
		"1 kg·m/s": "a momentum", "1 V³": "a quantity in kg³·m⁶·s⁻⁹·A⁻³", "1 °C": "a temperature", "1 nV/√Hz": "a voltage noise density",
		"1 T": "a magnetic flux density", "1 N·m": "a torque", "1 m/s": "a speed", "1 mol": "an amount of substance",
	} {
		require.Equal(t, want, typeOf(t, s).Words(), s)
	}
}

func TestDimPow(t *testing.T) {
	v := mustDim("V")
	p, ok := v.Pow(3, 1)
	require.True(t, ok)
	require.Equal(t, v.Mul(v).Mul(v), p)
	_, ok = v.Pow(1, 0)
	require.False(t, ok)
	_, ok = v.Pow(40, 1)
	require.False(t, ok)
	_, ok = v.Pow(1<<40, 1)
	require.False(t, ok)
	_, ok = Dim{}.Pow(1<<40, 3)
	require.True(t, ok)
	require.True(t, v.Div(v).IsZero())
}
