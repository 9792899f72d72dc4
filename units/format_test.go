package units

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestFormat(t *testing.T) {
	unit := func(s string) *Unit {
		u, err := ParseUnit(s)
		require.Nil(t, err)
		return &u
	}
	plain := func(d string) Type { return Type{Dim: mustDim(d)} }
	for _, c := range []struct {
		v    string
		t    Type
		st   Style
		want string
	}{
		{"0.0000621", plain("A"), Style{}, "62.1 µA"},
		{"0.0000621", plain("A"), Style{ASCII: true}, "62.1 uA"},
		{"233.15", Type{Dim: temperature, Kind: Point}, Style{}, "-40 °C"},
		{"233.15", Type{Dim: temperature, Kind: Point}, Style{ASCII: true}, "-40 degC"},
		{"15", plain("K"), Style{}, "15 K"},
		{"15", plain("K"), Style{Unit: unit("°C")}, "15 K"},
		{"298.15", Type{Dim: temperature, Kind: Point}, Style{Unit: unit("K")}, "298.15 K"},
		{"298.15", Type{Dim: temperature, Kind: Point}, Style{Unit: unit("°F")}, "77 °F"},
		{"298.15", Type{Dim: temperature, Kind: Kelvin}, Style{Unit: unit("°C")}, "25 °C"},
		{"1/6", Type{}, Style{Unit: unit("%"), Digits: 3}, "16.7 %"},
		{"1/6", Type{}, Style{}, "0.166667"},
		{"1/3", plain("V"), Style{}, "333.333 mV"},
		{"1/3", plain("V"), Style{Round: Up}, "333.334 mV"},
		{"-1/3", plain("V"), Style{Round: Up}, "-333.333 mV"},
		{"-1/3", plain("V"), Style{Round: Down}, "-333.334 mV"},
		{"-2/3", plain("V"), Style{}, "-666.667 mV"},
		{"9999997/10000", plain("V"), Style{Digits: 6}, "1 kV"},
		{"123456.789012", plain("V"), Style{}, "123.456789012 kV"},
		{"123456.7890123", plain("V"), Style{}, "123.457 kV"},
		{"123456.789012", plain("V"), Style{Digits: 4}, "123.5 kV"},
		{"3600", plain("s"), Style{}, "3600 s"},
		{"3600", plain("s"), Style{Unit: unit("h")}, "1 h"},
		{"0.005", plain("kg"), Style{}, "5 g"},
		{"0.000002", plain("m2"), Style{}, "2 mm²"},
		{"2", plain("m2"), Style{ASCII: true}, "2 m^2"},
		{"0", plain("V"), Style{}, "0 V"},
		{"1e-30", plain("F"), Style{}, "1e-30 F"},
		{"1e30", plain("Hz"), Style{}, "1e30 Hz"},
		{"5e-9", plain("V s1/2"), Style{}, "5 nV/√Hz"},
		{"5e-9", plain("V s1/2"), Style{ASCII: true}, "5 nV/rtHz"},
		{"65", plain("K W-1"), Style{}, "65 K/W"},
		{"0.00005", plain("K-1"), Style{}, "50 ppm/K"},
		{"-10", Type{Kind: Level, Ref: "µV"}, Style{ASCII: true}, "-10 dBuV"},
		{"3", Type{Kind: LevelStep}, Style{}, "3 dB"},
		{"230", Type{Dim: mustDim("V"), Wave: RMS}, Style{}, "230 V rms"},
		{"2", plain("V3"), Style{}, "2 kg³·m⁶·s⁻⁹·A⁻³"},
		{"2", plain("V3"), Style{ASCII: true}, "2 kg^3*m^6*s^-9*A^-3"},
		{"2", plain("V"), Style{Unit: unit("A")}, "2 V"}, // an ill-matched unit is ignored
	} {
		require.Equal(t, c.want, Format(rat(c.v), c.t, c.st))
	}
}

func TestFormatFloat(t *testing.T) {
	v := Type{Dim: mustDim("V")}
	require.Equal(t, "unbounded", FormatFloat(math.Inf(1), v, Style{}))
	require.Equal(t, "unbounded", FormatFloat(math.Inf(-1), v, Style{}))
	require.Equal(t, "undefined", FormatFloat(math.NaN(), v, Style{}))
	require.Equal(t, "100 mV", FormatFloat(0.1, v, Style{}))
	require.Equal(t, "-1.23457 kV", FormatFloat(-1234.5678, v, Style{}))
	require.Equal(t, "0 V", FormatFloat(0, v, Style{}))
	require.Equal(t, "100.001 mV", FormatFloat(0.1, v, Style{Round: Up})) // the float is a little above 0.1
	require.Equal(t, "100 mV", FormatFloat(0.1, v, Style{Round: Down}))
}

func TestFormatAgainst(t *testing.T) {
	v := Type{Dim: mustDim("V")}
	limit := rat("3.3")
	require.Equal(t, "3.3 V", FormatAgainst(rat("3.3"), limit, v, Style{}))
	require.Equal(t, "3.3000001 V", FormatAgainst(rat("3.3000001"), limit, v, Style{Digits: 3}))
	require.Equal(t, "3.29999999999999 V", FormatAgainst(rat("3.29999999999999"), limit, v, Style{Digits: 3}))
	require.Equal(t, "3.2 V", FormatAgainst(rat("3.2"), limit, v, Style{Digits: 3}))
	// a limit that is no decimal: both printed against each other agree
	third, close := rat("1/3"), rat("0.33333333335")
	a, b := FormatAgainst(close, third, v, Style{}), FormatAgainst(third, close, v, Style{})
	qa, err := ParseLiteral(a)
	require.Nil(t, err)
	qb, err := ParseLiteral(b)
	require.Nil(t, err)
	require.Equal(t, 1, qa.SI.Cmp(qb.SI), "%s against %s", a, b)
}
