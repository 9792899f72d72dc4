package units

import (
	"strings"
	"unicode/utf8"
)

// ScanLiteral reads the longest quantity literal that starts at byte at of s:
// optional sign, number, unit, wave form ("-40 °C", "4.7 kΩ", "230 V rms",
// "10 %", "5", "4k7 ohm"). It returns the byte after it. ok is false where no
// number starts; a number that goes wrong is an *Error whose offsets count
// from the start of s. signed says whether a leading sign may belong to the
// literal.
//
// A tight "/", "·" or "*" continues the unit only if what follows is wholly a
// known unit: of "5 V/R1" the literal is "5 V". The numbers inside the result
// are shared and must not be changed.
func ScanLiteral(s string, at int, signed bool) (q Quantity, end int, ok bool, err *Error) {
	l := scanner{s: s}
	end, ok, err = l.literal(at, signed)
	if !ok || err != nil {
		return Quantity{}, end, ok, err
	}
	q = Quantity{SI: l.n.si(l.k), Type: l.k.unit.Type, Unit: l.k.unit, Text: s[at:l.end]}
	if bits := q.SI.Num().BitLen() - q.SI.Denom().BitLen(); (bits > maxBits || bits < -maxBits) && q.SI.Sign() != 0 {
		return Quantity{}, l.end, true, rangeError(l.start, l.numEnd)
	}
	q.Type.Wave = l.wave
	q.Unit.Type.Wave = l.wave
	q.Unit.Typed = l.typed()
	return q, l.end, true, nil
}

// literal reads sign, number, unit and wave form, and leaves them in l.
func (l *scanner) literal(at int, signed bool) (end int, ok bool, err *Error) {
	s := l.s
	if at < 0 || at >= len(s) {
		return at, false, nil
	}
	i, neg := at, false
	if signed {
		i, neg = scanSign(s, at)
	}
	if !isDigitAt(s, i) && !(i < len(s) && s[i] == '.' && isDigitAt(s, i+1)) {
		return at, false, nil
	}
	l.t, l.start = lookupTable(), i
	if l.n, l.numEnd, err = scanNumber(s, i); err != nil {
		return l.numEnd, true, err
	}
	if err := l.unit(); err != nil {
		return max(l.end, l.numEnd), true, err
	}
	l.n.neg = neg
	return l.end, true, nil
}

// typed is the unit as typed, "" where that is its symbol.
func (l *scanner) typed() string {
	if typed := l.s[l.unitAt:l.unitEnd]; typed != l.k.unit.Symbol {
		return typed
	}
	return ""
}

// scanSign reads a sign glued to what follows: "+", "-", the minus sign, or a
// leading en dash.
func scanSign(s string, i int) (end int, neg bool) {
	switch {
	case s[i] == '+':
		return i + 1, false
	case s[i] == '-':
		return i + 1, true
	case strings.HasPrefix(s[i:], "−"), strings.HasPrefix(s[i:], "–"):
		return i + len("−"), true
	}
	return i, false
}

// ParseLiteral reads a whole text as one literal; blanks round it are dropped.
func ParseLiteral(s string) (Quantity, *Error) {
	start, stop := trimmed(s)
	if start == stop {
		return Quantity{}, &Error{0, len(s), CodeNumberMissing, "a quantity is missing", "write e.g. 3.3 V"}
	}
	q, end, ok, err := ScanLiteral(s[:stop], start, true)
	switch {
	case err != nil:
		return Quantity{}, err
	case !ok:
		return Quantity{}, &Error{start, stop, CodeNumberMissing,
			"\"" + Clip(s[start:stop]) + "\" does not start with a number", "write e.g. 3.3 V"}
	case end != stop:
		return Quantity{}, restError(s, end, stop)
	}
	return q, nil
}

func restError(s string, end, stop int) *Error {
	rest := strings.TrimSpace(s[end:stop])
	e := &Error{stop - len(rest), stop, CodeLiteralRest, "\"" + Clip(rest) + "\" is left over after the quantity", ""}
	if rest == "in" {
		e.Hint = "the unit is written inch"
	}
	return e
}

// trimmed returns the byte range of s without blanks at its ends.
func trimmed(s string) (start, stop int) {
	left := strings.TrimLeft(s, " \t\u00a0\u202f\u2009")
	right := strings.TrimRight(left, " \t\u00a0\u202f\u2009")
	start = len(s) - len(left)
	return start, start + len(right)
}

// Clip keeps a text that a message quotes readable: 40 bytes of it at the most.
func Clip(s string) string {
	const most = 40
	if len(s) <= most {
		return s
	}
	cut := most
	for cut > 0 && !utf8.RuneStart(s[cut]) {
		cut--
	}
	return s[:cut] + "…"
}

// scanner reads what follows a number.
type scanner struct {
	t               *table
	s               string
	start, numEnd   int
	n               number
	k               *known
	wave            Wave
	unitAt, unitEnd int
	end             int
}

// unit decides whether a unit follows the number, and reads it.
func (l *scanner) unit() *Error {
	l.bare()
	at := l.numEnd
	if at >= len(l.s) {
		return nil
	}
	r, _ := utf8.DecodeRuneInString(l.s[at:])
	if unitStart(r) {
		if done, err := l.marking(); done || err != nil {
			return err
		}
		return l.readUnit(at, true)
	}
	if r == '_' {
		return l.unknown(at, true)
	}
	at = skipOneBlank(l.s, at)
	if at == l.numEnd || at >= len(l.s) {
		return nil
	}
	if r, _ = utf8.DecodeRuneInString(l.s[at:]); !unitStart(r) || stopWord(l.s, at) {
		return nil
	}
	return l.readUnit(at, false)
}

func (l *scanner) bare() {
	l.k, l.end, l.unitAt, l.unitEnd = l.t.one, l.numEnd, l.numEnd, l.numEnd
}

func (l *scanner) readUnit(at int, tight bool) *Error {
	k, end, ok, err := l.t.scanUnit(l.s, at)
	if err != nil {
		l.end = end
		return err
	}
	if !ok {
		if k, end = l.waveSuffix(at); k == nil {
			return l.unknown(at, tight)
		}
	}
	l.k, l.unitAt, l.unitEnd, l.end = k, at, end, end
	if err := l.form(); err != nil {
		return err
	}
	return l.after()
}

// waveSuffix reads "Vrms", "mVpp", "Apk": a unit with its wave form glued on.
func (l *scanner) waveSuffix(at int) (*known, int) {
	end := unitRun(l.s, at)
	for _, w := range [...]Wave{RMS, Peak, PeakToPeak} {
		unit, ok := strings.CutSuffix(l.s[at:end], w.String())
		if !ok {
			continue
		}
		if k := l.t.lookup(unit); k != nil && k.unit.Type.Kind == Plain && !k.unit.Type.Dim.IsZero() {
			l.wave = w
			return k, end
		}
	}
	return nil, end
}

// form reads the wave form after a blank: "rms", "pk", "pp".
func (l *scanner) form() *Error {
	at := skipOneBlank(l.s, l.end)
	if at == l.end || at >= len(l.s) || l.s[at] != 'r' && l.s[at] != 'p' {
		return nil
	}
	end := unitRun(l.s, at)
	word := l.s[at:end]
	for _, w := range [...]Wave{RMS, Peak, PeakToPeak} {
		if word != w.String() {
			continue
		}
		if t := l.k.unit.Type; t.Kind != Plain || t.Dim.IsZero() || l.wave != NoWave {
			return &Error{at, end, CodeTypeWave, "\"" + word + "\" cannot follow " + l.s[l.unitAt:l.unitEnd],
				"it states which value of an alternating quantity is meant, as in 230 V rms"}
		}
		l.wave, l.end = w, end
		return nil
	}
	return nil
}

// after refuses what may not follow a unit.
func (l *scanner) after() *Error {
	s, end := l.s, l.end
	if end >= len(s) {
		return nil
	}
	next := skipOneBlank(s, end)
	if next >= len(s) {
		return nil
	}
	r, w := rune(s[next]), 1
	if r >= utf8.RuneSelf {
		r, w = utf8.DecodeRuneInString(s[next:])
	}
	switch {
	case l.k.unit.Symbol == "%" && (r == '(' || nameRune(r) && !stopWord(s, next)):
		return &Error{l.start, next + w, CodeLiteralPercent, "\"%\" is percent and belongs to the number before it; there is no remainder",
			"write x * (1 + 5 %), or leave out what follows the %"}
	case r == '^' && next > end:
		return &Error{next, next + 1, CodeUnitPower, "space between a quantity and \"^\"",
			"write 2 A^2 for the unit, (2 A)^2 for the power"}
	case r == '/':
		return l.blankSlash(next)
	}
	return nil
}

// blankSlash refuses "1 A /V" and "1 A/ V", which could be a unit or a
// division.
func (l *scanner) blankSlash(slash int) *Error {
	before := slash > l.end
	at := skipOneBlank(l.s, slash+1)
	if before == (at > slash+1) || at >= len(l.s) {
		return nil
	}
	f, ok := l.t.factorAt(l.s, at)
	if !ok {
		return nil
	}
	return &Error{l.end, f.end, CodeUnitBlank, "a space on one side of \"/\" only",
		"write " + l.s[l.unitAt:l.unitEnd] + "/" + l.s[at:f.end] + " for the unit, spaces on both sides to divide"}
}

// stopWord reports whether a word of the language, not a unit, starts at i.
func stopWord(s string, i int) bool {
	switch s[i:unitRun(s, i)] {
	case "and", "or", "not", "inside", "in", "to", "at", "of", "for", "every", "from",
		"typ", "max", "if", "else", "let", "true", "false", "nil", "matches", "contains":
		return true
	case "min": // a minute after a number; a column word after a unit
		return s[i-1] == ' ' && !isDigitAt(s, i-2)
	}
	return false
}
