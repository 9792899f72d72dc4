package units

import (
	"fmt"
	"maps"
	"math/big"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// spellings lists every spelling with its multiples in a fixed order.
func spellings() []string {
	return slices.Sorted(maps.Keys(lookupTable().spelled))
}

var (
	anySpelling = rapid.SampledFrom(spellings())
	anyNumber   = rapid.Custom(func(t *rapid.T) string {
		n := fmt.Sprint(rapid.Int64Range(0, 1<<62).Draw(t, "n") >> rapid.IntRange(0, 61).Draw(t, "shift"))
		if rapid.Bool().Draw(t, "point") {
			n += "." + strings.Repeat("0", rapid.IntRange(0, 9).Draw(t, "zeros")) + fmt.Sprint(rapid.IntRange(0, 999999999).Draw(t, "frac"))
		}
		if rapid.Bool().Draw(t, "exponent") {
			n += fmt.Sprintf("e%d", rapid.IntRange(-30, 30).Draw(t, "exp"))
		}
		if rapid.Bool().Draw(t, "minus") {
			n = "-" + n
		}
		return n
	})
	anyQuantity = rapid.Custom(func(t *rapid.T) Quantity {
		s := anyNumber.Draw(t, "number") + rapid.SampledFrom([]string{" ", "\u00a0"}).Draw(t, "blank") + anySpelling.Draw(t, "unit")
		q, err := ParseLiteral(s)
		if err != nil {
			t.Fatalf("%q: %v", s, err)
		}
		return q
	})
	// anyRat covers decimals and fractions over the range of a design.
	anyRat = rapid.Custom(func(t *rapid.T) *big.Rat {
		r := big.NewRat(rapid.Int64Range(-1e12, 1e12).Draw(t, "num"), rapid.Int64Range(1, 1e9).Draw(t, "den"))
		return r.Mul(r, pow10(rapid.IntRange(-20, 12).Draw(t, "exp")))
	})
	anyType = rapid.Custom(func(t *rapid.T) Type { return anyQuantity.Draw(t, "typed as").Type })
)

// What is printed as typed parses back to the same value, type and text.
func TestParsePrintIdentity(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := anyQuantity.Draw(t, "q")
		again, err := ParseLiteral(q.String())
		if err != nil {
			t.Fatalf("%q printed as %q: %v", q.Text, q.String(), err)
		}
		if again.SI.Cmp(q.SI) != 0 || again.Type != q.Type || again.String() != q.String() {
			t.Fatalf("%q printed as %q: %s, %v became %s, %v", q.Text, q.String(), q.SI, q.Type, again.SI, again.Type)
		}
	})
}

// A number glued to its unit reads the same.
func TestBlankMeansNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, u := anyNumber.Draw(t, "n"), anySpelling.Draw(t, "u")
		if u == "e" {
			return // "5e" is an exponent without digits
		}
		a, err := ParseLiteral(n + " " + u)
		require.Nil(t, err)
		b, err := ParseLiteral(n + u)
		require.Nil(t, err)
		require.Zero(t, a.SI.Cmp(b.SI))
		require.Equal(t, a.Type, b.Type)
	})
}

// What Format prints parses back: rounded down it is not above the value,
// rounded up not below, to the nearest within half a unit of the last digit;
// exact decimals come back as they were. The type comes back too, save that
// a number alone has none.
func TestFormatRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v, typ := anyRat.Draw(t, "v"), anyType.Draw(t, "type")
		if typ.Kind == Kelvin {
			typ.Kind = Plain
		}
		st := Style{
			ASCII:  rapid.Bool().Draw(t, "ascii"),
			Digits: rapid.IntRange(0, 14).Draw(t, "digits"),
			Round:  rapid.SampledFrom([]Rounding{Nearest, Down, Up}).Draw(t, "round"),
		}
		if rapid.Bool().Draw(t, "asked") {
			u := anyQuantity.Draw(t, "unit").Unit
			typ = u.Type
			st.Unit = &u
			if typ.Kind == Kelvin {
				typ.Kind = Plain
			}
		}
		text := Format(v, typ, st)
		q, err := ParseLiteral(text)
		if err != nil {
			t.Fatalf("%s: %v", text, err)
		}
		if got := q.Type; got.Dim != typ.Dim || got.Wave != typ.Wave || got.Ref != typ.Ref || logarithmic(got) != logarithmic(typ) {
			t.Fatalf("%s: %v became %v", text, typ, got)
		}
		switch c := q.SI.Cmp(v); {
		case st.Round == Down && c > 0, st.Round == Up && c < 0:
			t.Fatalf("%s is on the wrong side of %s", text, v.RatString())
		case st.Round == Nearest && c != 0:
			far := new(big.Rat).Sub(q.SI, v)
			x := new(big.Rat).Set(v)
			if typ.Kind == Point {
				u := rat("273.15")
				if st.Unit != nil {
					u = st.Unit.Offset
				}
				x.Sub(x, u)
			}
			// |printed - v| <= |x| * 10^(1-digits) / 2
			bound := new(big.Rat).Abs(x)
			bound.Mul(bound, pow10(1-st.digits()))
			bound.Mul(bound, big.NewRat(1, 2))
			if far.Abs(far).Cmp(bound) > 0 {
				t.Fatalf("%s is too far from %s", text, v.RatString())
			}
		}
	})
}

// The printed number stands to the printed limit as the value to the limit.
func TestFormatAgainstAgrees(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		limit, typ := anyRat.Draw(t, "limit"), Type{Dim: mustDim("V")}
		v := new(big.Rat).Set(limit)
		if rapid.Bool().Draw(t, "apart") {
			v.Add(v, new(big.Rat).Mul(limit, anyRat.Draw(t, "by")))
		}
		if leadable := limit.Sign() == 0 || v.Sign() == 0; leadable {
			return
		}
		st := Style{Digits: rapid.IntRange(0, 8).Draw(t, "digits")}
		a, err := ParseLiteral(FormatAgainst(v, limit, typ, st))
		require.Nil(t, err)
		b, err := ParseLiteral(FormatAgainst(limit, v, typ, st))
		require.Nil(t, err)
		plain, err := ParseLiteral(Format(limit, typ, st))
		require.Nil(t, err)
		want := v.Cmp(limit)
		require.Equal(t, want, a.SI.Cmp(b.SI), "%s against %s", a.Text, b.Text)
		if v.Cmp(plain.SI) == want {
			require.Equal(t, want, a.SI.Cmp(plain.SI), "%s against the limit %s", a.Text, plain.Text)
		}
	})
}

// Conversion keeps order: of two numbers in one unit the larger has the larger
// SI value, scales with an offset included.
func TestConversionIsMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := anySpelling.Draw(t, "u")
		a, err := ParseLiteral(anyNumber.Draw(t, "a") + " " + u)
		require.Nil(t, err)
		b, err := ParseLiteral(anyNumber.Draw(t, "b") + " " + u)
		require.Nil(t, err)
		numA, _ := ParseLiteral(strings.Fields(a.Text)[0])
		numB, _ := ParseLiteral(strings.Fields(b.Text)[0])
		require.Equal(t, numA.SI.Cmp(numB.SI), a.SI.Cmp(b.SI))
	})
}

// Dimensions form a group under multiplication; Combine on plain types is
// commutative, associative and has the inverse it should.
func TestDimensionLaws(t *testing.T) {
	plain := rapid.Map(anyQuantity, func(q Quantity) Type { return Type{Dim: q.Type.Dim} })
	mul := func(t *rapid.T, op string, a, b Type) Type {
		c, err := Combine(op, a, b, "a", "b")
		require.Nil(t, err)
		return c
	}
	rapid.Check(t, func(t *rapid.T) {
		a, b, c := plain.Draw(t, "a"), plain.Draw(t, "b"), plain.Draw(t, "c")
		require.Equal(t, mul(t, "*", a, b), mul(t, "*", b, a))
		require.Equal(t, mul(t, "*", mul(t, "*", a, b), c), mul(t, "*", a, mul(t, "*", b, c)))
		require.Equal(t, a, mul(t, "/", mul(t, "*", a, b), b))
		require.Equal(t, a, mul(t, "*", a, Type{}))
		require.True(t, mul(t, "/", a, a).Dim.IsZero())
		sq, ok := a.Dim.Pow(2, 1)
		require.True(t, ok)
		root, ok := sq.Pow(1, 2)
		require.True(t, ok)
		require.Equal(t, a.Dim, root)
		require.Equal(t, a.Dim, mustDim(dimText(a.Dim)))
	})
}

func dimText(d Dim) string {
	out := ""
	for i, s := range baseSymbols {
		if d[i] != 0 {
			out += fmt.Sprintf("%s%d/2 ", s, d[i])
		}
	}
	return out
}

// Exact values keep the ring laws through parsing and printing: a sum of two
// literals, printed and read, is the sum.
func TestRingLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		read := func(name string) *big.Rat {
			q, err := ParseLiteral(anyNumber.Draw(t, name) + " mV")
			require.Nil(t, err)
			return q.SI
		}
		a, b, c := read("a"), read("b"), read("c")
		left := new(big.Rat).Mul(a, new(big.Rat).Add(b, c))
		right := new(big.Rat).Add(new(big.Rat).Mul(a, b), new(big.Rat).Mul(a, c))
		require.Zero(t, left.Cmp(right))
		sum := Quantity{SI: new(big.Rat).Add(a, b), Type: Type{Dim: mustDim("V")}, Unit: lookupTable().spelled["V"].unit}
		q, err := ParseLiteral(sum.String())
		require.Nil(t, err)
		require.Zero(t, q.SI.Cmp(sum.SI))
	})
}

// Deviate encloses its centre and is symmetric where the amounts are.
func TestDeviateEncloses(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := anyNumber.Draw(t, "centre")
		pct := fmt.Sprintf("%d %%", rapid.IntRange(0, 99).Draw(t, "percent"))
		v, err := ParseValue(n + " V ± (" + pct + " + 3 mV)")
		require.Nil(t, err)
		require.LessOrEqual(t, v.Min.SI.Cmp(v.Typ.SI), 0)
		up := new(big.Rat).Sub(v.Max.SI, v.Typ.SI)
		down := new(big.Rat).Sub(v.Typ.SI, v.Min.SI)
		require.Zero(t, up.Cmp(down))
		require.GreaterOrEqual(t, up.Cmp(rat("0.003")), 0)
	})
}

// Preferred values bracket, are members, and the nearest is one of the two.
func TestPreferredLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := new(big.Rat).Abs(anyRat.Draw(t, "v"))
		if v.Sign() == 0 {
			return
		}
		series := rapid.SampledFrom([]string{"E3", "E6", "E12", "E24", "E48", "E96", "E192"}).Draw(t, "series")
		lo, err := PreferredBelow(v, series)
		require.Nil(t, err)
		hi, err := PreferredAbove(v, series)
		require.Nil(t, err)
		near, err := NearestPreferred(v, series)
		require.Nil(t, err)
		require.LessOrEqual(t, lo.Cmp(v), 0)
		require.GreaterOrEqual(t, hi.Cmp(v), 0)
		require.True(t, near.Cmp(lo) == 0 || near.Cmp(hi) == 0)
		for _, m := range []*big.Rat{lo, hi} {
			again, err := PreferredBelow(m, series)
			require.Nil(t, err)
			require.Zero(t, again.Cmp(m))
		}
	})
}
