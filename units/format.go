package units

import (
	"math"
	"math/big"
	"strconv"
	"strings"
)

// Style says how a quantity is printed.
type Style struct {
	Unit   *Unit    // asked for; nil chooses a unit with an engineering prefix
	Digits int      // significant digits at most; 0 means 6, and exact decimals of up to 12 digits in full
	ASCII  bool     // uA, kohm, degC, m^2 instead of µA, kΩ, °C, m²
	Round  Rounding // Down and Up keep a printed bound true
}

const (
	defaultDigits = 6
	exactDigits   = 12
)

// Format prints the SI value v of type t: "62.1 µA", "-40 °C", "16.7 %". What
// is printed parses back to the value, or to a neighbour in the direction of
// st.Round. A unit of another dimension than t is ignored. The point stands
// for the decimal mark; digits are not grouped.
func Format(v *big.Rat, t Type, st Style) string {
	sh := show(t, st)
	sh.number(v, st)
	return sh.text(st.ASCII)
}

// FormatFloat prints a float64 in SI. An infinity prints as "unbounded", a NaN
// as "undefined".
func FormatFloat(v float64, t Type, st Style) string {
	switch {
	case math.IsInf(v, 0):
		return "unbounded"
	case math.IsNaN(v):
		return "undefined"
	}
	sh := show(t, st)
	if st.Round == Nearest && sh.one && sh.offset == nil {
		sh.d = floatDec(v, st.digits())
		return sh.text(st.ASCII)
	}
	sh.number(new(big.Rat).SetFloat64(v), st)
	return sh.text(st.ASCII)
}

// floatDec rounds v to n significant digits.
func floatDec(v float64, n int) dec {
	mantissa, power, _ := strings.Cut(strconv.FormatFloat(math.Abs(v), 'e', n-1, 64), "e")
	exp, _ := strconv.Atoi(power)
	digits := strings.Replace(mantissa, ".", "", 1)
	return newDec(v < 0, digits, exp-len(digits)+1)
}

func (st Style) digits() int {
	if st.Digits > 0 {
		return st.Digits
	}
	return defaultDigits
}

// shown is a quantity on its way to text: d in the unit of symbol, before the
// prefix is chosen.
type shown struct {
	d      dec
	symbol string
	factor *big.Rat
	offset *big.Rat
	one    bool // factor is 1
	wave   Wave
	auto   *display // nil: the unit was asked for, no prefix is chosen
}

func show(t Type, st Style) shown {
	if st.Unit != nil && fits(*st.Unit, t) {
		u := *st.Unit
		if u.Offset != nil && t.Kind == Plain {
			u = kelvinDifference(u) // a difference is never printed on a scale
		}
		return shown{symbol: u.Symbol, factor: u.Factor, offset: u.Offset, wave: t.Wave}
	}
	d := displayOf(t)
	return shown{symbol: d.symbol, factor: d.factor, offset: d.offset, one: d.one, wave: t.Wave, auto: d}
}

func fits(u Unit, t Type) bool {
	return u.Factor != nil && u.Type.Dim == t.Dim && logarithmic(u.Type) == logarithmic(t) && u.Type.Ref == t.Ref &&
		(u.Type.Sense == Angular) == (t.Sense == Angular)
}

// number works the digits out.
func (sh *shown) number(v *big.Rat, st Style) {
	x := v
	if sh.offset != nil {
		x = new(big.Rat).Sub(x, sh.offset)
	}
	if !sh.one {
		x = new(big.Rat).Quo(x, sh.factor)
	}
	if st.Digits == 0 {
		if d, ok := exactDec(x, exactDigits); ok {
			sh.d = d
			return
		}
	}
	sh.d = roundDec(x, st.digits(), st.Round)
}

// value is what the printed text stands for, in SI.
func (sh *shown) value() *big.Rat {
	r := sh.d.rat()
	if sh.factor != nil {
		r.Mul(r, sh.factor)
	}
	if sh.offset != nil {
		r.Add(r, sh.offset)
	}
	return r
}

func (sh *shown) text(ascii bool) string {
	var buf [48]byte
	b := buf[:0]
	symbol, shift := sh.symbol, 0
	prefix := ""
	if sh.auto != nil {
		symbol, prefix, shift = sh.auto.choose(sh.d)
	}
	b = appendDec(b, sh.d, shift)
	if symbol != "" {
		b = append(b, ' ')
		if ascii {
			b = append(b, asciiUnit(prefix+symbol)...)
		} else {
			b = append(append(b, prefix...), symbol...)
		}
	}
	if sh.wave != NoWave && symbol != "" {
		b = append(append(b, ' '), sh.wave.String()...)
	}
	return string(b)
}

// asciiSigns spells the signs of units with ASCII that ParseUnit reads back.
var asciiSigns = map[rune]string{'µ': "u", 'Ω': "ohm", '°': "deg", '√': "rt", '·': "*", '‰': "permille", 'Å': "angstrom", 'Φ': "flux", '₀': "quantum"}

func asciiUnit(s string) string {
	var b strings.Builder
	raised := false
	for _, r := range s {
		v := superscriptValue(r)
		up := v >= 0 || r == '⁻'
		if up && !raised {
			b.WriteByte('^')
		}
		raised = up
		switch sign, known := asciiSigns[r]; {
		case v >= 0:
			b.WriteByte(byte('0' + v))
		case r == '⁻':
			b.WriteByte('-')
		case known:
			b.WriteString(sign)
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}

// String prints the quantity in the unit it was typed in, spelled canonically.
// A decimal number is printed in full, so that the text parses back to the
// same value; any other is rounded to 12 digits.
func (q Quantity) String() string {
	if q.SI == nil {
		return q.Text
	}
	sh := shown{symbol: q.Unit.Symbol, factor: q.Unit.Factor, offset: q.Unit.Offset, wave: q.Type.Wave}
	x := q.SI
	if sh.offset != nil {
		x = new(big.Rat).Sub(x, sh.offset)
	}
	if sh.factor != nil {
		x = new(big.Rat).Quo(x, sh.factor)
	}
	d, ok := exactDec(x, maxDigits+10)
	if !ok {
		d = roundDec(x, exactDigits, Nearest)
	}
	sh.d = d
	return sh.text(false)
}
