package units

import (
	"math"
	"math/big"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// general works a right-hand side out the long way, as the rest of the program
// does.
func general(s string) (lo, typ, hi Quantity, ok bool) {
	v, err := ParseValue(s)
	if err != nil || v.Shape != Single && v.Shape != Deviated {
		return lo, typ, hi, false
	}
	return *v.Min, *v.Typ, *v.Max, true
}

func TestExactIsTheLongWay(t *testing.T) {
	r := NewReader()
	for _, s := range []string{
		"3.3 V", "5.0 V ± 0.05 V", "3300 mV ± 33 mV", "15 uA ± 5 uA", "4k7 ohm ± 1 %", "-3 V ± 2 %", "10 µF ± 20 %", "1 ± 2 %",
		"0.1 ± 0.05", "230 V rms ± 10 %", "230 V rms ± 23 V rms", "5 V± 1 V", "5 V ±1 V", "5V±1V", "3.3±2 %", "0 V ± 1 mV", "12 V/µs ± 3 V/µs", "7 ft ± 1 inch",
		"32768 Hz ± 20 ppm", "1e-12 F ± 1e-13 F", "100 ps", "1 GHz",
	} {
		x, ok := r.Exact(s)
		require.True(t, ok, s)
		requireSame(t, s, x)
	}
	for _, s := range []string{
		"", "V", "3.3 V to 3.6 V", "5 V ± 1 A", "5 % ± 1 %", "25 °C", "25 °C ± 5 K", "-3 dBm ± 1 dB", "5 V ± -1 V", "5 V ±", "± 2 %", "10 min ± 1 min", "5 V + 1 V ± 1 V",
		"5 V ± 1 V ± 1 V", "min 3 V, max 4 V", "vin ± 2 %", "5 V +- 1 V", "5 V ± (1 % + 2 mV)", "100 MA", "5,0 V ± 1 V", "9223372036854775807.1 V ± 1 V", "300 K ± 1 K", "5 V ± 1 Vrms", "1 k",
	} {
		_, ok := r.Exact(s)
		require.False(t, ok, s)
	}
}

func requireSame(t require.TestingT, s string, x Exact) {
	lo, typ, hi, ok := general(s)
	require.True(t, ok, s)
	for _, p := range []struct{ got, want *big.Rat }{{x.Min, lo.SI}, {x.Typ, typ.SI}, {x.Max, hi.SI}} {
		require.Zero(t, p.got.Cmp(p.want), "%s: %s, not %s", s, p.got, p.want)
		require.Equal(t, p.want.String(), p.got.String(), s)
		require.Equal(t, p.want.Denom().String(), p.got.Denom().String(), s)
	}
	require.Equal(t, typ.Type, x.Type, s)
	require.Equal(t, typ.Unit.Symbol, x.Unit.Symbol, s)
	require.Equal(t, typ.Unit.Typed, x.Unit.Typed, s)
	require.Equal(t, typ.Unit.Type, x.Unit.Type, s)
	require.Zero(t, typ.Unit.Factor.Cmp(x.Unit.Factor), s)
}

func TestExactOnRandomText(t *testing.T) {
	r := NewReader() // one for all, so that what it remembers is put to the test
	number := rapid.StringMatching(`-?[0-9]{1,9}(\.[0-9]{1,9})?(e-?[0-9]{1,2})?`)
	unit := rapid.SampledFrom([]string{"", "V", "mV", "uA", "kΩ", "%", "ppm", "Hz", "ft", "°C", "K", "dB", "dBm", "min", "V rms", "MV", "pF", "V/√Hz", "Nm", "h"})
	rapid.Check(t, func(t *rapid.T) {
		s := number.Draw(t, "number") + " " + unit.Draw(t, "unit")
		if rapid.Bool().Draw(t, "deviated") {
			s += " ± " + number.Draw(t, "amount") + " " + unit.Draw(t, "unit of the amount")
		}
		if x, ok := r.Exact(s); ok {
			requireSame(t, s, x)
		}
	})
}

func TestRatioIsExact(t *testing.T) {
	part := rapid.OneOf(rapid.Int64Range(-1000, 1000), rapid.Int64Range(-math.MaxInt64, math.MaxInt64))
	size := rapid.OneOf(rapid.Int64Range(1, 1000), rapid.Int64Range(1, math.MaxInt64))
	rapid.Check(t, func(t *rapid.T) {
		a, b := part.Draw(t, "a"), part.Draw(t, "b")
		p, q := size.Draw(t, "p"), size.Draw(t, "q")
		x, y := newRatio(a, p), newRatio(b, q)
		rx, ry := big.NewRat(a, p), big.NewRat(b, q)
		require.Zero(t, rx.Cmp(x.rat()))
		require.Equal(t, rx.String(), x.rat().String())
		if s, ok := x.plus(y); ok {
			require.Equal(t, new(big.Rat).Add(rx, ry).String(), s.rat().String())
		}
		if m, ok := x.times(y); ok {
			require.Equal(t, new(big.Rat).Mul(rx, ry).String(), m.rat().String())
		}
		r := x.rat() // arithmetic in place must not reach the words of the other part
		d := r.Denom().String()
		r.Num().Lsh(r.Num(), 100)
		require.Equal(t, d, r.Denom().String())
	})
}
