package units

import (
	"math/big"
	"slices"
	"strings"
)

// markKind is a kind of part that carries marking codes: letters for the decimal
// mark and the multiple.
type markKind struct {
	name, unit string
	letters    string // what is read, separated by spaces
	usual      string // what is written, rising
}

// markKinds: resistors and capacitors follow IEC 60062:2016; for inductors, which
// it leaves out, the same letters with H are common practice.
var markKinds = []markKind{
	{"resistor", "Ω", "R k K M G T L m µ \u03bc u", "R, k, M, G, T"},
	{"capacitor", "F", "p n µ \u03bc u m F", "p, n, µ, m, F"},
	{"inductor", "H", "p n µ \u03bc u m H", "n, µ, m, H"},
}

func markKindOf(kind string) *markKind {
	if kind == "thermistor" {
		kind = "resistor"
	}
	for i := range markKinds {
		if markKinds[i].name == kind {
			return &markKinds[i]
		}
	}
	return nil
}

// ParseMarking reads a marking code without a unit, as it stands after the
// kind of a part in a circuit row: "4k7", "R47", "0R", "100n". kind is
// "resistor", "capacitor" or "inductor". Tolerance letters are not read.
func ParseMarking(text, kind string) (Quantity, *Error) {
	start, stop := trimmed(text)
	k := markKindOf(kind)
	if k == nil {
		return Quantity{}, &Error{start, stop, CodeMarkingKind, "a " + Clip(kind) + " has no marking code", "write the value with its unit"}
	}
	code := text[start:stop]
	at := strings.IndexFunc(code, func(r rune) bool { return r < '0' || r > '9' })
	if at < 0 || len(code) > 24 {
		return Quantity{}, k.bare(code, start, stop)
	}
	if whole, rest, ok := strings.Cut(code, "."); ok && allDigits(whole) { // "2.2u", as spoken
		if at := strings.IndexFunc(rest, func(r rune) bool { return r < '0' || r > '9' }); at > 0 {
			exp, w := codeLetter(rest[at:])
			if w > 0 && rest[at+w:] == "" && k.knows(rest[at:]) && len(whole)+at <= 18 {
				return k.quantity(whole+rest[:at], exp, at, code), nil
			}
		}
	}
	exp, w := codeLetter(code[at:])
	rest := code[at+w:]
	if w == 0 || !k.knows(code[at:]) || rest != "" && !allDigits(rest) || at == 0 && rest == "" || at+len(rest) > 18 {
		return Quantity{}, k.malformed(code, at, start, stop)
	}
	return k.quantity(code[:at]+rest, exp, len(rest), code), nil
}

func (k *markKind) quantity(digits string, exp, places int, code string) Quantity {
	u := lookupTable().spelled[prefixOfExp(exp)+k.unit]
	return Quantity{SI: codeNumber(digits, places).si(u), Type: u.unit.Type, Unit: u.unit, Text: code}
}

// codeNumber is the number of digits of which so many are behind the mark.
func codeNumber(digits string, places int) number {
	mant, _ := new(big.Int).SetString(digits, 10)
	return number{mant: mant, exp: -places}
}

func prefixOfExp(exp int) string {
	for _, p := range prefixes {
		if p.exp == exp && !p.binary {
			return p.symbol
		}
	}
	return ""
}

// bare complains about a code without a letter.
func (k *markKind) bare(code string, start, stop int) *Error {
	e := &Error{start, stop, CodeMarkingForm, "\"" + Clip(code) + "\" has no letter for the decimal mark and the multiple", ""}
	switch {
	case code == "":
		e.Msg, e.Hint = "the value of the "+k.name+" is missing", "write e.g. 4k7 or 4.7 kΩ"
	case k.name == "resistor":
		e.Hint = "write " + Clip(code) + "R for ohms; a code of three or four digits is not read"
	default:
		e.Hint = "write e.g. 100n or 100 n" + k.unit + "; a code of three digits is not read"
	}
	return e
}

func (k *markKind) malformed(code string, at, start, stop int) *Error {
	e := &Error{start, stop, CodeMarkingForm, "\"" + Clip(code) + "\" is not a marking code of a " + k.name, ""}
	if _, w := codeLetter(code[at:]); w > 0 && k.knows(code[at:at+w]) {
		rest := code[at+w:]
		if trailing := strings.TrimLeft(rest, "0123456789"); trailing != rest || rest == "" {
			e.Hint = "write the tolerance as ± 5 % after a value with its unit; tolerance letters are not read"
		} else {
			e.Hint = "write digits round one letter, e.g. 4" + code[at:at+w] + "7"
		}
		return e
	}
	for _, other := range markKinds {
		if other.name != k.name && other.knows(code[at:]) {
			e.Code = CodeMarkingKind
			e.Msg = "\"" + Clip(code) + "\" reads like the code of a " + other.name + ", and this is a " + k.name
			break
		}
	}
	e.Hint = "the letters of a " + k.name + " are " + k.usual
	return e
}

func (k *markKind) knows(s string) bool {
	return slices.ContainsFunc(strings.Fields(k.letters), func(l string) bool { return strings.HasPrefix(s, l) })
}
