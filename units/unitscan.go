package units

import (
	"math/big"
	"strings"
	"unicode"
	"unicode/utf8"
)

// nameRune reports whether r can stand inside a name of the language.
func nameRune(r rune) bool {
	return r == '_' || r >= '0' && r <= '9' || r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' ||
		r >= utf8.RuneSelf && (unicode.IsLetter(r) || unicode.Is(unicode.Nd, r) || r >= '₀' && r <= '₉')
}

// unitStart reports whether a unit may start with r.
func unitStart(r rune) bool {
	switch r {
	case '°', 'º', '%', '‰', '√', '℃', '℉':
		return true
	}
	return r != '_' && !(r >= '0' && r <= '9') && nameRune(r)
}

// unitRun returns the end of the run that spells one unit at i: a sign such as
// "%" alone, a degree sign with the letters after it, or letters and digits.
func unitRun(s string, i int) int {
	r, w := utf8.DecodeRuneInString(s[i:])
	switch r {
	case '%', '‰', '℃', '℉':
		return i + w
	case '°', 'º':
		i += w
	}
	for i < len(s) {
		r, w := rune(s[i]), 1
		if r >= utf8.RuneSelf {
			r, w = utf8.DecodeRuneInString(s[i:])
		}
		if !nameRune(r) {
			break
		}
		i += w
	}
	return i
}

// folded replaces look-alikes: the Greek mu and the micro sign, the ohm,
// kelvin and ångström signs, the ordinal for the degree, "℃".
var folded = strings.NewReplacer("\u03bc", "µ", "\u2126", "Ω", "\u212a", "K", "\u212b", "Å", "º", "°", "℃", "°C", "℉", "°F", "⋅", "·")

// lookup finds a spelling; look-alikes are folded if it fails at first.
func (t *table) lookup(s string) *known {
	if k := t.spelled[s]; k != nil {
		return k
	}
	for i := 0; i < len(s); i++ {
		if s[i] >= utf8.RuneSelf {
			return t.spelled[folded.Replace(s)]
		}
	}
	return nil
}

// Limits on compound units. Within them dimensions fit their integers, and
// what is printed in any unit can be read again.
const (
	maxUnitPower = 60
	maxHalves    = 120
	maxUnitBits  = 300 // factor between 2^-300 and 2^300, about 1e±90
)

// reasonable reports whether the unit keeps within the limits.
func (c *compound) reasonable() bool {
	for _, h := range c.dim {
		if h > maxHalves || h < -maxHalves {
			return false
		}
	}
	bits := c.factor.Num().BitLen() - c.factor.Denom().BitLen()
	return bits <= maxUnitBits && bits >= -maxUnitBits
}

// factor is one factor of a compound unit.
type factor struct {
	k     *known
	run   string // as typed, without root and exponent
	power int    // as written; 1 without an exponent
	root  bool   // under "√"
	end   int
	bad   *Error // the unit is known, its exponent is malformed
}

// scanFactor reads ["√"] unit [exponent] at i; ok is false where no known unit
// is spelled there.
func (t *table) scanFactor(s string, i int) (f factor, ok bool) {
	start := i
	if strings.HasPrefix(s[i:], "√") {
		f.root = true
		i += len("√")
	}
	f.end = unitRun(s, i)
	f.k = t.lookup(s[i:f.end])
	if f.k == nil && !f.root && strings.HasPrefix(s[i:], "rt") && i+2 < len(s) {
		// "rtHz", the ASCII spelling of √Hz
		f.root = true
		f.end = unitRun(s, i+2)
		f.k = t.lookup(s[i+2 : f.end])
	}
	if f.k == nil {
		return f, false
	}
	f.run = s[i:f.end]
	if f.root {
		f.run = strings.TrimPrefix(f.run, "rt")
	}
	f.power = 1
	end, n, powered := scanPower(s, f.end)
	switch {
	case powered && (n == 0 || n > maxUnitPower || n < -maxUnitPower):
		f.bad = &Error{start, end, CodeUnitPower, "the exponent of a unit is a whole number from -60 to 60 and not 0", ""}
	case powered:
		f.power, f.end = n, end
	case f.end < len(s) && s[f.end] == '^':
		f.bad = &Error{f.end, f.end + 1, CodeUnitPower, "\"^\" after a unit takes a whole number",
			"write m^2, or put the quantity in parentheses: (2 A)^x"}
	}
	if f.bad == nil && f.end < len(s) {
		if r, _ := utf8.DecodeRuneInString(s[f.end:]); powered && nameRune(r) {
			f.bad = &Error{start, f.end, CodeLiteralProduct, "a name follows a unit directly", "put \" * \" between them"}
		}
	}
	return f, true
}

func (f factor) simple() bool { return f.power == 1 && !f.root }

// halves is the exponent in halves.
func (f factor) halves() int {
	if f.root {
		return f.power
	}
	return 2 * f.power
}

// compound gathers the factors of a unit such as V/√Hz.
type compound struct {
	symbol  strings.Builder
	dim     Dim
	factor  *big.Rat
	exact   bool
	step    bool // holds a decibel
	angle   bool // holds radians or degrees
	problem *Error
}

func (c *compound) add(f factor, sign int, at int) {
	u := f.k.unit
	halves := f.halves() * sign
	dim, ok := u.Type.Dim.Pow(halves, 2)
	switch {
	case f.bad != nil:
		c.fail(f.bad)
	case u.Type.Kind == Level || u.Type.Kind == LevelStep && (halves != 2 || c.step):
		c.fail(&Error{at, f.end, CodeUnitLevel, u.Symbol + " is logarithmic and cannot take part in this unit",
			"convert the level to a power or a voltage first"})
	case !ok:
		c.fail(&Error{at, f.end, CodeUnitPower, "the root of " + u.Symbol + " has no dimension here", ""})
	}
	c.step = c.step || u.Type.Kind == LevelStep
	c.angle = c.angle || halves == 2 && u.Type.Dim.IsZero() && (strings.HasSuffix(u.Symbol, "rad") || u.Symbol == "°")
	c.dim = c.dim.Mul(dim)
	c.exact = c.exact && f.k.exact
	if halves%2 == 0 {
		c.scale(u.Factor, halves/2)
		return
	}
	c.scaleRoot(f, halves, at)
}

// scaleRoot multiplies with the root of the factor, which must be a square:
// √Hz and √MHz are, √kHz is not and has no exact value.
func (c *compound) scaleRoot(f factor, halves, at int) {
	root, ok := exactRoot(f.k.unit.Factor)
	if !ok {
		c.fail(&Error{at, f.end, CodeUnitPower, "√" + f.k.unit.Symbol + " is not a rational multiple of the SI unit",
			"use a unit whose factor is a square, such as √Hz or √MHz"})
		return
	}
	c.scale(root, halves)
}

func (c *compound) fail(e *Error) {
	if c.problem == nil {
		c.problem = e
	}
}

func (c *compound) scale(r *big.Rat, power int) {
	if isOne(r) {
		return
	}
	inv := power < 0
	if inv {
		power = -power
	}
	for ; power > 0; power-- {
		if inv {
			c.factor.Quo(c.factor, r)
		} else {
			c.factor.Mul(c.factor, r)
		}
	}
}

func exactRoot(r *big.Rat) (*big.Rat, bool) {
	if r.Sign() < 0 {
		return nil, false
	}
	root := new(big.Rat).SetFrac(new(big.Int).Sqrt(r.Num()), new(big.Int).Sqrt(r.Denom()))
	return root, new(big.Rat).Mul(root, root).Cmp(r) == 0
}

// write appends the factor's canonical spelling, with its exponent as typed.
func (c *compound) write(f factor) {
	if f.root {
		c.symbol.WriteString("√")
	}
	symbol := f.k.unit.Symbol
	if strings.ContainsAny(symbol, "·/") {
		symbol = folded.Replace(f.run) // "Vs", whose symbol V·s would need parentheses here
	}
	c.symbol.WriteString(symbol)
	if f.power != 1 {
		c.symbol.WriteString(superscript(f.power))
	}
}

func (c *compound) known() *known {
	k := &known{exact: c.exact}
	k.unit = Unit{Symbol: c.symbol.String(), Type: Type{Dim: c.dim}, Factor: c.factor}
	if c.step {
		k.unit.Type.Kind = LevelStep
	}
	t := lookupTable()
	if row := t.spelled[k.unit.Symbol]; row != nil {
		k.unit.Type.Sense = row.unit.Type.Sense
	} else if c.angle && c.dim == t.spelled["Hz"].unit.Type.Dim {
		k.unit.Type.Sense = Angular
	}
	return k
}

func newCompound() *compound { return &compound{factor: big.NewRat(1, 1), exact: true} }
