package units

import (
	"math/big"
	"testing"

	"github.com/stretchr/testify/require"
)

func rat(s string) *big.Rat {
	r, ok := new(big.Rat).SetString(s)
	if !ok {
		panic(s)
	}
	return r
}

func TestLiterals(t *testing.T) {
	for _, c := range []struct{ text, si, dim, printed string }{
		{"3.3 V", "3.3", "V", "3.3 V"},
		{"3.3V", "3.3", "V", "3.3 V"},
		{".5 V", "0.5", "V", "0.5 V"},
		{"3.3\u00a0V", "3.3", "V", "3.3 V"},
		{"3.3\u202fV", "3.3", "V", "3.3 V"},
		{"4.70 kΩ", "4700", "Ω", "4.7 kΩ"},
		{"4.7 k\u2126", "4700", "Ω", "4.7 kΩ"},
		{"4.7 kohm", "4700", "Ω", "4.7 kΩ"},
		{"2.2 µF", "0.0000022", "F", "2.2 µF"},
		{"2.2 \u03bcF", "0.0000022", "F", "2.2 µF"},
		{"2.2 uF", "0.0000022", "F", "2.2 µF"},
		{"10 KΩ", "10000", "Ω", "10 kΩ"},
		{"5 m", "5", "m", "5 m"},
		{"10 mS", "0.01", "S", "10 mS"},
		{"1e-6 A", "0.000001", "A", "1e-6 A"},
		{"1E+3 Hz", "1000", "Hz", "1000 Hz"},
		{"1.5×10^-3 A", "0.0015", "A", "0.0015 A"},
		{"1.5 × 10⁻³ A", "0.0015", "A", "0.0015 A"},
		{"10\u202f000 V", "10000", "V", "10000 V"},
		{"0.000\u2009001 V", "0.000001", "V", "1e-6 V"},
		{"0x1F", "31", "", "31"},
		{"2 A^2", "2", "A2", "2 A²"},
		{"2 A²", "2", "A2", "2 A²"},
		{"5 s⁻¹", "5", "s-1", "5 s⁻¹"},
		{"5 nV/√Hz", "5e-9", "V s1/2", "5 nV/√Hz"},
		{"5 nV/rtHz", "5e-9", "V s1/2", "5 nV/√Hz"},
		{"1 V/√MHz", "0.001", "V s1/2", "1 V/√MHz"},
		{"65 °C/W", "65", "K W-1", "65 °C/W"},
		{"9 °F/W", "5", "K W-1", "9 °F/W"},
		{"65 \u212a/W", "65", "K W-1", "65 K/W"},
		{"10 %", "0.1", "", "10 %"},
		{"50 ppm/°C", "0.00005", "K-1", "50 ppm/°C"},
		{"2 W/(m·K)", "2", "W m-1 K-1", "2 W/(m·K)"},
		{"2 W/(m*K)", "2", "W m-1 K-1", "2 W/(m·K)"},
		{"5 N*m", "5", "J", "5 N·m"},
		{"1 oz/ft²", "45359237/148644864", "kg m-2", "1 oz/ft²"}, // 0.45359237/16 kg over 0.3048² m²
		{"1 inch", "0.0254", "m", "1 inch"},
		{"4k7 ohm", "4700", "Ω", "4.7 kΩ"},
		{"4k7Ω", "4700", "Ω", "4.7 kΩ"},
		{"2R2 ohm", "2.2", "Ω", "2.2 Ω"},
		{"0R ohm", "0", "Ω", "0 Ω"},
		{"4µ7 F", "0.0000047", "F", "4.7 µF"},
		{"100n F", "1e-7", "F", "100 nF"},
		{"5m ohm", "0.005", "Ω", "5 mΩ"},
		{"47K ohm", "47000", "Ω", "47 kΩ"},
		{"10 min", "600", "s", "10 min"},
		{"5 eV", "8.01088317e-19", "J", "5 eV"},
		{"1 KiB", "8192", "", "1 KiB"},
		{"60 rpm", "1", "Hz", "60 rpm"},
		{"123456789012345678901234567890 V", "123456789012345678901234567890", "V", "1.2345678901234567890123456789e29 V"},
	} {
		q, err := ParseLiteral(c.text)
		require.Nil(t, err, c.text)
		require.Zero(t, rat(c.si).Cmp(q.SI), "%s: %s", c.text, q.SI)
		require.Equal(t, Type{Dim: mustDim(c.dim)}, Type{Dim: q.Type.Dim, Kind: q.Type.Kind, Wave: q.Type.Wave, Ref: q.Type.Ref}, c.text)
		require.Equal(t, c.printed, q.String())
		require.Equal(t, c.text, q.Text)
	}
}

func TestLiteralKinds(t *testing.T) {
	for _, c := range []struct {
		text, si string
		want     Type
	}{
		{"-40 °C", "233.15", Type{Dim: temperature, Kind: Point}},
		{"−40 ℃", "233.15", Type{Dim: temperature, Kind: Point}},
		{"-40 degC", "233.15", Type{Dim: temperature, Kind: Point}},
		{"-40 º\u0043", "233.15", Type{Dim: temperature, Kind: Point}},
		{"68 °F", "293.15", Type{Dim: temperature, Kind: Point}},
		{"10 K", "10", Type{Dim: temperature, Kind: Kelvin}},
		{"10 \u212a", "10", Type{Dim: temperature, Kind: Kelvin}},
		{"10 mK", "0.01", Type{Dim: temperature, Kind: Kelvin}},
		{"3 dB", "3", Type{Kind: LevelStep}},
		{"-10 dBm", "-10", Type{Kind: Level, Ref: "m"}},
		{"5 dBuV", "5", Type{Kind: Level, Ref: "µV"}},
		{"5 dBµV/m", "5", Type{Kind: Level, Ref: "µV/m"}},
		{"-150 dBc/Hz", "-150", Type{Kind: Level, Ref: "c/Hz"}},
		{"3 dB/m", "3", Type{Dim: mustDim("m-1"), Kind: LevelStep}},
		{"230 V rms", "230", Type{Dim: mustDim("V"), Wave: RMS}},
		{"325 V pk", "325", Type{Dim: mustDim("V"), Wave: Peak}},
		{"650 mVpp", "0.65", Type{Dim: mustDim("V"), Wave: PeakToPeak}},
		{"2 Arms", "2", Type{Dim: mustDim("A"), Wave: RMS}},
	} {
		q, err := ParseLiteral(c.text)
		require.Nil(t, err, c.text)
		require.Zero(t, rat(c.si).Cmp(q.SI), "%s: %s", c.text, q.SI)
		require.Equal(t, c.want, q.Type, c.text)
	}
}

// What of a longer text is the literal; the rest belongs to the formula.
func TestScanLiteralStops(t *testing.T) {
	for _, c := range []struct{ text, literal string }{
		{"5 V/R1", "5 V"}, {"5 V/(R1+R2)", "5 V"}, {"5 V/s", "5 V/s"}, {"2 A*R", "2 A"}, {"2 A^2*R", "2 A^2"},
		{"5 V / s", "5 V"}, {"1 A / V", "1 A"}, {"5 + 3", "5"}, {"5 * R1", "5"}, {"5*R1", "5"}, {"2^3", "2"},
		{"10 % to 20 %", "10 %"}, {"10 % inside x", "10 %"}, {"5 V and x", "5 V"}, {"5 inside x", "5"}, {"5 V min", "5 V"},
		{"5 typ", "5"}, {"3 V, 5 V", "3 V"}, {"3 V)", "3 V"}, {"3 V # note", "3 V"}, {"5  R1", "5"}, {"7..9", "7"},
		{"10 m/s/R1", "10 m/s"}, {"5 % of span", "5 %"}, {"2 V rms * 3", "2 V rms"}, {"5 V?", "5 V"}, {"5 ? 1 : 2", "5"},
		{"3 at x", "3"}, {"20 every 5", "20"}, {"5 W/(m·R1)", "5 W"}, {"5 V·R1", "5 V"},
	} {
		q, end, ok, err := ScanLiteral(c.text, 0, true)
		require.Nil(t, err, c.text)
		require.True(t, ok, c.text)
		require.Equal(t, c.literal, c.text[:end])
		require.Equal(t, c.literal, q.Text)
	}
	for _, s := range []string{"R1", "V", "", "-x", "- 5 V", ".x", "µ"} {
		_, _, ok, err := ScanLiteral(s, 0, true)
		require.False(t, ok, s)
		require.Nil(t, err, s)
	}
	_, _, ok, _ := ScanLiteral("-5 V", 0, false)
	require.False(t, ok)
	q, end, ok, err := ScanLiteral("A-40 °C", 1, true)
	require.True(t, ok)
	require.Nil(t, err)
	require.Equal(t, "-40 °C", q.Text)
	require.Equal(t, len("A-40 °C"), end)
}

func TestLiteralErrors(t *testing.T) {
	for _, c := range []struct{ text, marked, code, hint string }{
		{"3,3 V", "3,3", CodeNumberComma, "3.3"},
		{"1,000 V", "1,000", CodeNumberComma, "1000"},
		{"10 000 V", "10 000", CodeNumberGrouping, "10000"},
		{"1.2.3 V", "1.2.", CodeNumberPoint, ""},
		{"5e V", "5e", CodeNumberExponent, "5e3"},
		{"1e301 V", "1e301", CodeNumberRange, ""},
		{"0xG", "0x", CodeNumberHex, "0x1F"},
		{"3V3", "V3", CodeUnitUnknown, `write 3.3 V, or net("3V3")`},
		{"2 R1", "R1", CodeLiteralProduct, "write 2 * R1"},
		{"2πf", "πf", CodeLiteralProduct, "write 2 * πf"},
		{"2 R", "R", CodeUnitUnknown, "2 ohm, or 2 * R"},
		{"2R", "2R", CodeLiteralMarking, "2R ohm"},
		{"4k7", "4k7", CodeLiteralMarking, "4k7 ohm"},
		{"5 k", "k", CodeUnitPrefix, "5 kΩ"},
		{"5 V5", "V5", CodeLiteralProduct, "5 * V5"},
		{"5 m2", "m2", CodeLiteralProduct, "m²"},
		{"5 KHZ", "KHZ", CodeUnitUnknown, "did you mean kHz?"},
		{"5 mhz", "mhz", CodeUnitUnknown, "did you mean MHz or mHz?"},
		{"3 Watts", "Watts", CodeUnitUnknown, "write W"},
		{"5 Vdc", "Vdc", CodeUnitUnknown, "write V"},
		{"5 in", "in", CodeLiteralRest, "inch"},
		{"17 % 5", "17 % 5", CodeLiteralPercent, "x * (1 + 5 %)"},
		{"17 %5", "17 %5", CodeLiteralPercent, "x * (1 + 5 %)"},
		{"2 A ^ 2", "^", CodeUnitPower, "(2 A)^2"},
		{"2 A^x", "^", CodeUnitPower, "whole"},
		{"2 A^0", "A^0", CodeUnitPower, ""},
		{"2 A^2x", "A^2", CodeLiteralProduct, "*"},
		{"1 A /V", " /V", CodeUnitBlank, "A/V"},
		{"1 A/ V", "/ V", CodeUnitBlank, "A/V"},
		{"5 m/s/s", "/s", CodeUnitSlash, "m/s^2"},
		{"5 W/m·K", "·K", CodeUnitSlash, "W/(m·K)"},
		{"5 V/√kHz", "√kHz", CodeUnitPower, "√Hz"},
		{"5 dBm/s", "dBm", CodeUnitLevel, "convert"},
		{"5 dBm rms", "rms", CodeTypeWave, "230 V rms"},
		{"volts", "volts", CodeNumberMissing, "3.3 V"},
		{"3 V x", "x", CodeLiteralRest, ""},
	} {
		_, err := ParseLiteral(c.text)
		require.NotNil(t, err, c.text)
		require.Equal(t, c.code, err.Code, "%s: %s", c.text, err.Msg)
		require.Equal(t, c.marked, c.text[err.Off:err.End], "%s: %s", c.text, err.Msg)
		require.Contains(t, err.Hint+err.Msg, c.hint, c.text)
	}
}

// Values that hold exactly, as issue and language promise.
func TestExactDecimals(t *testing.T) {
	si := func(s string) *big.Rat {
		q, err := ParseLiteral(s)
		require.Nil(t, err)
		return q.SI
	}
	require.Zero(t, new(big.Rat).Add(si("0.1 V"), si("0.2 V")).Cmp(si("0.3 V")))
	require.Zero(t, new(big.Rat).Mul(si("3.3 V"), si("1.02")).Cmp(si("3.366 V")))
	require.Zero(t, si("1 inch").Cmp(si("25.4 mm")))
	require.Zero(t, si("1 mil").Cmp(si("25.4 µm")))
	require.Zero(t, si("100 °C").Cmp(si("212 °F")))
	require.Zero(t, si("100 °C").Cmp(si("373.15 K")))
}

func TestDoubt(t *testing.T) {
	for text, hint := range map[string]string{
		"10 mΩ": "", "10 MΩ": "", "10 MF": "mF", "5 mW": "", "100 mHz": "", "10 MV": "mV", "10 KΩ": "small k", "10 K": "", "0 MF": "",
		"5 MA": "mA", "8 MHz": "", "0.5 mHz": "MHz",
	} {
		q, err := ParseLiteral(text)
		require.Nil(t, err)
		d := Doubt(q)
		if hint == "" {
			require.Nil(t, d, text)
			continue
		}
		require.NotNil(t, d, text)
		require.Contains(t, d.Hint, hint)
	}
}
