package units

import (
	"math/big"
	"strconv"
	"strings"
	"unicode/utf8"
)

func itoa(n int) string { return strconv.Itoa(n) }

// codeLetter returns the power of ten of a marking code's letter (IEC 60062)
// and its width in bytes; width 0 means that no such letter starts s.
func codeLetter(s string) (exp, width int) {
	for _, l := range codeLetters {
		if strings.HasPrefix(s, l.letter) {
			return l.exp, len(l.letter)
		}
	}
	return 0, 0
}

var codeLetters = []struct {
	letter string
	exp    int
}{
	{"R", 0}, {"F", 0}, {"H", 0}, {"k", 3}, {"K", 3}, {"M", 6}, {"G", 9}, {"T", 12},
	{"m", -3}, {"L", -3}, {"u", -6}, {"µ", -6}, {"\u03bc", -6}, {"n", -9}, {"p", -12},
}

// marking reads "4k7 ohm", "2R2 ohm", "100n F": a marking code with its unit.
// done is false where the text is no code, so that "5m" stays five metres.
func (l *scanner) marking() (done bool, err *Error) {
	exp, w := codeLetter(l.s[l.numEnd:])
	if w == 0 || l.s[l.numEnd] == 'H' || !allDigits(l.s[l.start:l.numEnd]) || l.numEnd-l.start > 18 {
		return false, nil
	}
	after := l.numEnd + w
	end := after
	for isDigitAt(l.s, end) {
		end++
	}
	unitAt := skipOneBlank(l.s, end)
	k, unitEnd := l.codeUnit(unitAt)
	if end == after && !(l.s[l.numEnd] == 'R' && k == nil) && (unitAt == end || !partUnit(k)) {
		return false, nil // "100nF" and "5m" are ordinary units
	}
	code := l.s[l.start:end]
	if k == nil && unitRun(l.s, l.numEnd) > end {
		return false, nil // "0RWh", "4k7x"
	}
	if k == nil {
		l.end = end
		return false, &Error{l.start, end, CodeLiteralMarking, "\"" + code + "\" is a marking code and needs its unit",
			"write " + code + " ohm or " + code + " F; without a unit it is read only after resistor or capacitor"}
	}
	digits := l.s[l.start:l.numEnd] + l.s[after:end]
	if len(digits) > 18 {
		return false, &Error{l.start, end, CodeNumberRange, "the marking code is too long", ""}
	}
	l.n = codeNumber(digits, end-after)
	if exp != 0 {
		k = l.t.spelled[prefixOfExp(exp)+k.unit.Symbol]
	}
	l.k, l.unitAt, l.unitEnd, l.end = k, unitAt, unitEnd, unitEnd
	if err := l.form(); err != nil {
		return true, err
	}
	return true, l.after()
}

// codeUnit reads the unit of a marking code: one without a multiple.
func (l *scanner) codeUnit(at int) (*known, int) {
	if at >= len(l.s) {
		return nil, at
	}
	if r, _ := utf8.DecodeRuneInString(l.s[at:]); !unitStart(r) {
		return nil, at
	}
	end := unitRun(l.s, at)
	k := l.t.lookup(l.s[at:end])
	if k == nil || k.unit.Type.Kind != Plain || l.t.spelled["k"+k.unit.Symbol] == nil || !isOne(k.unit.Factor) {
		return nil, at
	}
	return k, end
}

func isOne(r *big.Rat) bool { return r.IsInt() && r.Num().IsInt64() && r.Num().Int64() == 1 }

func partUnit(k *known) bool {
	if k == nil {
		return false
	}
	d := k.unit.Type.Dim
	return d == dimNames["Ω"] || d == dimNames["F"] || d == dimNames["H"]
}

func allDigits(s string) bool { return s != "" && strings.Trim(s, "0123456789") == "" }
