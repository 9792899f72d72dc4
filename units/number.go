package units

import (
	"math/big"
	"slices"
	"strings"
	"unicode/utf8"
)

// Limits on what a number may be: far beyond any quantity, and small enough
// that no text of a user makes the exact arithmetic slow.
const (
	maxDigits   = 100
	maxExponent = 400 // as typed
	maxBits     = 998 // in SI, about 1e±300; the rest is room for printing in any unit
)

// number is a numeral before its unit: mant*10^exp.
type number struct {
	mant *big.Int
	exp  int
	neg  bool
}

// si returns the number in SI base units: n*factor + offset, exactly.
func (n number) si(k *known) *big.Rat {
	r := new(big.Rat).SetInt(n.mant)
	if n.exp != 0 {
		r.Mul(r, pow10(n.exp))
	}
	r.Mul(r, k.unit.Factor)
	if n.neg {
		r.Neg(r)
	}
	if k.unit.Offset != nil {
		r.Add(r, k.unit.Offset)
	}
	return r
}

// scanDigits is the state of reading the digits of a numeral.
type scanDigits struct {
	s      string
	i      int
	count  int // significant digits
	frac   int // digits after the point
	point  bool
	digits []byte
}

// scanNumber reads a numeral that starts at i: a digit, or "." and a digit.
func scanNumber(s string, i int) (n number, end int, err *Error) {
	if strings.HasPrefix(s[i:], "0x") || strings.HasPrefix(s[i:], "0X") {
		return scanHex(s, i)
	}
	d := scanDigits{s: s, i: i}
	d.run()
	n = d.number()
	end = d.i
	if err := checkDigits(s, i, end, d.count); err != nil {
		return n, end, err
	}
	end, exp, err := scanExponent(s, i, end)
	n.exp += exp
	if err == nil && n.mant.Sign() != 0 && (n.exp+d.count > maxExponent || n.exp+d.count < -maxExponent) {
		err = rangeError(i, end)
	}
	return n, end, err
}

func rangeError(start, end int) *Error {
	return &Error{start, end, CodeNumberRange, "the number is beyond 1e±300", ""}
}

// run takes digits, one decimal point and blanks that group by three.
func (d *scanDigits) run() {
	group := 0 // digits since the last group blank or the point
	grouped := false
	for d.i < len(d.s) {
		c := d.s[d.i]
		switch {
		case c >= '0' && c <= '9':
			d.add(c)
			d.i++
			group++
		case c == '.' && !d.point && isDigitAt(d.s, d.i+1):
			d.point = true
			d.i++
			group, grouped = 0, false
		case c >= utf8.RuneSelf:
			w := groupBlank(d.s[d.i:])
			if w == 0 || !threeDigits(d.s[d.i+w:]) || group == 0 || group > 3 || (grouped || d.point) && group != 3 {
				return
			}
			d.i += w
			group, grouped = 0, true
		default:
			return
		}
	}
}

func (d *scanDigits) add(c byte) {
	if d.point {
		d.frac++
	}
	if c != '0' || d.count > 0 {
		d.count++
	}
	if d.count <= maxDigits {
		d.digits = append(d.digits, c)
	}
}

func (d *scanDigits) number() number {
	n, _ := new(big.Int).SetString(string(d.digits), 10)
	return number{mant: n, exp: -d.frac}
}

// leading is the width of the first of some texts that s starts with; 0 if it
// starts with none.
func leading(s string, texts ...string) int {
	for _, t := range texts {
		if strings.HasPrefix(s, t) {
			return len(t)
		}
	}
	return 0
}

// groupBlank returns the width of a blank that may group digits: no-break
// U+00A0, narrow no-break U+202F, thin U+2009; 0 if s starts with none.
func groupBlank(s string) int { return leading(s, "\u00a0", "\u202f", "\u2009") }

func threeDigits(s string) bool {
	return len(s) >= 3 && isDigitAt(s, 0) && isDigitAt(s, 1) && isDigitAt(s, 2) && !isDigitAt(s, 3)
}

func isDigitAt(s string, i int) bool { return i >= 0 && i < len(s) && s[i] >= '0' && s[i] <= '9' }

// checkDigits refuses what looks like a numeral and is none of ours.
func checkDigits(s string, start, end, count int) *Error {
	switch {
	case count > maxDigits:
		return &Error{start, end, CodeNumberRange, "the number has more than 100 digits", ""}
	case end < len(s) && s[end] == ',' && isDigitAt(s, end+1):
		return commaError(s, start, end)
	case end < len(s) && s[end] == '.' && isDigitAt(s, end+1):
		return &Error{start, end + 1, CodeNumberPoint, "the number has two decimal points", ""}
	case end < len(s) && s[end] == ' ' && threeDigits(s[end+1:]) && end-start <= 3:
		return &Error{start, end + 4, CodeNumberGrouping, "a plain space cannot group digits",
			"write " + s[start:end] + s[end+1:end+4] + ", or group with a no-break or thin space"}
	}
	return nil
}

func commaError(s string, start, end int) *Error {
	stop := end + 1
	for isDigitAt(s, stop) {
		stop++
	}
	hint := "write " + s[start:end] + "." + s[end+1:stop] + "; in a list put a space after the comma"
	if threeDigits(s[end+1:]) {
		hint = "write " + s[start:end] + "." + s[end+1:stop] + " for a decimal, " + s[start:end] + s[end+1:stop] + " for thousands"
	}
	return &Error{start, stop, CodeNumberComma, "the decimal mark is a point", hint}
}

// scanExponent reads "e-6", "E3", "×10^-6", "×10⁻⁶" and " × 10^-6".
func scanExponent(s string, start, end int) (stop, exp int, err *Error) {
	if end >= len(s) {
		return end, 0, nil
	}
	c := s[end]
	if c == 'e' || c == 'E' {
		return scanLetterExponent(s, start, end)
	}
	if c == ' ' || c >= utf8.RuneSelf {
		if stop, exp, ok := scanTimesTen(s, end); ok {
			return stop, exp, nil
		}
	}
	return end, 0, nil
}

func scanLetterExponent(s string, start, end int) (stop, exp int, err *Error) {
	i, neg := minus(s, end+1)
	if !neg && strings.HasPrefix(s[i:], "+") {
		i++
	}
	if !isDigitAt(s, i) {
		if r, _ := utf8.DecodeRuneInString(s[end+1:]); nameRune(r) {
			return end, 0, nil // "5eV": a unit
		}
		return end, 0, &Error{start, i, CodeNumberExponent, "the exponent after \"" + s[end:end+1] + "\" has no digits",
			"write the power of ten, e.g. " + s[start:end] + "e3"}
	}
	stop, exp = scanInt(s, i)
	if neg {
		exp = -exp
	}
	return stop, exp, nil
}

// minus passes a minus sign.
func minus(s string, i int) (end int, found bool) {
	w := leading(s[i:], "-", "−")
	return i + w, w > 0
}

// scanInt reads decimal digits; a number too large to matter saturates.
func scanInt(s string, i int) (end, n int) {
	for ; isDigitAt(s, i); i++ {
		if n = n*10 + int(s[i]-'0'); n > 1<<20 {
			n = 1 << 20
		}
	}
	return i, n
}

// scanTimesTen reads "×10^n" with at most one blank on each side of the cross.
func scanTimesTen(s string, i int) (end, exp int, ok bool) {
	i = skipOneBlank(s, i)
	if !strings.HasPrefix(s[i:], "×") {
		return 0, 0, false
	}
	i = skipOneBlank(s, i+len("×"))
	if !strings.HasPrefix(s[i:], "10") || isDigitAt(s, i+2) {
		return 0, 0, false
	}
	end, exp, ok = scanPower(s, i+2)
	return end, exp, ok
}

// scanPower reads a tight exponent: "^-3" or "⁻³".
func scanPower(s string, i int) (end, n int, ok bool) {
	if i >= len(s) || s[i] != '^' && s[i] < utf8.RuneSelf {
		return i, 0, false
	}
	if s[i] != '^' {
		return scanSuperscript(s, i)
	}
	i, neg := minus(s, i+1)
	if !isDigitAt(s, i) {
		return i, 0, false
	}
	end, n = scanInt(s, i)
	if neg {
		n = -n
	}
	return end, n, true
}

func scanSuperscript(s string, i int) (end, n int, ok bool) {
	neg := false
	if strings.HasPrefix(s[i:], "⁻") {
		neg = true
		i += len("⁻")
	}
	for i < len(s) {
		r, w := utf8.DecodeRuneInString(s[i:])
		v := superscriptValue(r)
		if v < 0 {
			break
		}
		if n = n*10 + v; n > 1<<20 {
			n = 1 << 20
		}
		ok = true
		i += w
	}
	if neg {
		n = -n
	}
	return i, n, ok
}

func superscriptValue(r rune) int { return slices.Index(superDigits[:], string(r)) }

func scanHex(s string, i int) (n number, end int, err *Error) {
	end = len(s) - len(strings.TrimLeft(s[i+2:], "0123456789abcdefABCDEF"))
	switch {
	case end == i+2:
		return n, end, &Error{i, end, CodeNumberHex, "no hexadecimal digits after " + s[i:end], "write e.g. 0x1F"}
	case end-i-2 > 64:
		return n, end, &Error{i, end, CodeNumberRange, "the number has more than 64 hexadecimal digits", ""}
	}
	n.mant, _ = new(big.Int).SetString(s[i+2:end], 16)
	return n, end, nil
}

// skipOneBlank passes one plain, no-break or thin blank.
func skipOneBlank(s string, i int) int {
	if i < len(s) && s[i] == ' ' {
		return i + 1
	}
	if i < len(s) && s[i] >= utf8.RuneSelf {
		return i + groupBlank(s[i:])
	}
	return i
}
