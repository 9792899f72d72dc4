package units

import (
	"strconv"
	"strings"
)

// Positions of the base dimensions in a Dim.
const (
	dimLength = iota
	dimMass
	dimTime
	dimCurrent
	dimTemperature
	dimAmount
	dimLight
)

// IsZero reports whether d is the dimension of a plain number.
func (d Dim) IsZero() bool { return d == Dim{} }

// Mul returns the dimension of a product.
func (d Dim) Mul(e Dim) Dim {
	for i := range d {
		d[i] = saturate(int(d[i]) + int(e[i]))
	}
	return d
}

// Div returns the dimension of a quotient.
func (d Dim) Div(e Dim) Dim { return d.Mul(e.inverse()) }

// Pow returns the dimension of the power num/den. ok is false where the
// result has an exponent that is no multiple of one half, or one too large to
// hold, or where den is 0.
func (d Dim) Pow(num, den int) (p Dim, ok bool) {
	if den == 0 {
		return Dim{}, false
	}
	const most = 1 << 20
	if num > most || num < -most {
		return Dim{}, d.IsZero()
	}
	for i := range d {
		n := int(d[i]) * num
		if n%den != 0 {
			return Dim{}, false
		}
		n /= den
		if n != int(saturate(n)) {
			return Dim{}, false
		}
		p[i] = int8(n)
	}
	return p, true
}

func (d Dim) inverse() Dim {
	for i := range d {
		d[i] = saturate(-int(d[i]))
	}
	return d
}

// saturate keeps an exponent inside int8. A dimension that far out (exponent
// 63) belongs to no quantity; it only has to stay unequal to real ones.
func saturate(n int) int8 {
	switch {
	case n > 127:
		return 127
	case n < -128:
		return -128
	}
	return int8(n)
}

// temperature is the dimension of °C, °F and K alone.
var temperature = Dim{dimTemperature: 2}

// baseSymbols are the SI base units in the order of Dim.
var baseSymbols = [7]string{"m", "kg", "s", "A", "K", "mol", "cd"}

// dimNames are the symbols that mustDim understands: SI base units and the
// derived units with a name of their own (SI Brochure, 9th ed., tables 2, 4).
var dimNames = map[string]Dim{
	"m": {2}, "kg": {0, 2}, "s": {0, 0, 2}, "A": {0, 0, 0, 2}, "K": {0, 0, 0, 0, 2},
	"mol": {0, 0, 0, 0, 0, 2}, "cd": {0, 0, 0, 0, 0, 0, 2},
	"Hz": {0, 0, -2}, "N": {2, 2, -4}, "Pa": {-2, 2, -4}, "J": {4, 2, -4}, "W": {4, 2, -6},
	"C": {0, 0, 2, 2}, "V": {4, 2, -6, -2}, "F": {-4, -2, 8, 4}, "Ω": {4, 2, -6, -4},
	"S": {-4, -2, 6, 4}, "Wb": {4, 2, -4, -2}, "T": {0, 2, -4, -2}, "H": {4, 2, -4, -4},
}

// mustDim reads a dimension of the tables in this package: unit symbols with
// exponents, "V m-1", "V s1/2", parted by blanks. It panics on anything else,
// which the tests of the tables show at once.
func mustDim(s string) (d Dim) {
	for _, f := range strings.Fields(s) {
		at := strings.IndexAny(f, "-0123456789")
		name, num, den := f, 1, 1
		if at >= 0 {
			name = f[:at]
			top, bottom, half := strings.Cut(f[at:], "/")
			num = mustInt(top)
			if half {
				den = mustInt(bottom)
			}
		}
		base, known := dimNames[name]
		p, ok := base.Pow(num, den)
		if !known || !ok {
			panic("units: bad dimension " + s)
		}
		d = d.Mul(p)
	}
	return d
}

func mustInt(s string) int {
	n, err := strconv.Atoi(s)
	if err != nil {
		panic("units: bad number " + s)
	}
	return n
}

// String writes d with SI base units, "kg·m²·s⁻³·A⁻¹"; "1" for a plain number.
func (d Dim) String() string {
	if d.IsZero() {
		return "1"
	}
	var b strings.Builder
	for _, i := range [7]int{dimMass, dimLength, dimTime, dimCurrent, dimTemperature, dimAmount, dimLight} {
		if d[i] == 0 {
			continue
		}
		if b.Len() > 0 {
			b.WriteString("·")
		}
		b.WriteString(powerOf(baseSymbols[i], int(d[i])))
	}
	return b.String()
}

// powerOf writes symbol to the power halves/2: "m", "m²", "s⁻¹", "√s" (one
// half). Odd halves beyond one have no spelling in a unit; they are written
// "√s³", which reads as the root of the cube.
func powerOf(symbol string, halves int) string {
	switch {
	case halves == 2:
		return symbol
	case halves%2 == 0:
		return symbol + superscript(halves/2)
	case halves == 1:
		return "√" + symbol
	}
	return "√" + symbol + superscript(halves)
}

var superDigits = [10]string{"⁰", "¹", "²", "³", "⁴", "⁵", "⁶", "⁷", "⁸", "⁹"}

func superscript(n int) string {
	var b strings.Builder
	for _, c := range strconv.Itoa(n) {
		if c == '-' {
			b.WriteString("⁻")
			continue
		}
		b.WriteString(superDigits[c-'0'])
	}
	return b.String()
}
