package lists

import (
	"math/big"
	"slices"
	"strconv"
	"strings"

	"guardband/units"
)

// This file reads the value cell of an exported list as a bag of words: value,
// tolerance, voltage, size and further words in any order, "RES 4.7K 1%
// 1/16W 0402" as well as "0402, 4k7" and "4,7 kOhm".

// Value is what the words of a cell say.
type Value struct {
	Nominal     *big.Rat // in the unit of the kind; nil where none is found, or several
	Unsure      bool     // it may be read in two ways: 10m of a resistor, 4,700
	Bare        bool     // Nominal is a number without a letter or unit
	Spread      bool     // it states how far it may be off, whether that is read or not
	Digits      bool     // and one of three or four digits, which may be a code of IEC 60062
	Tol, Rating *big.Rat // tolerance in %, rated voltage in V; nil where none or several
}

// HasValue says that lists state the value of a kind.
func HasValue(kind string) bool { return valueUnits[kind] != nil }

// valueUnits are the units of the kinds whose values lists state, folded.
var valueUnits = map[string][]string{"resistor": {"OHMS", "OHM", "Ω", "R"}, "capacitor": {"F"}, "inductor": {"H"}}

// valuePrefix is what a letter multiplies by, as lists write it in either case.
// k is kilo; of m and M see unsurePrefix.
var valuePrefix = map[string]map[string]int{
	"resistor":  {"": 0, "k": 3, "K": 3, "M": 6, "MEG": 6, "Meg": 6, "meg": 6, "G": 9, "m": -3},
	"capacitor": {"": 0, "p": -12, "P": -12, "n": -9, "N": -9, "u": -6, "U": -6, "µ": -6, "m": -3, "M": -6},
	"inductor":  {"": 0, "n": -9, "N": -9, "u": -6, "U": -6, "µ": -6, "m": -3, "M": -3},
}

// unsurePrefix says that a letter is milli or mega, or micro or milli, as the
// writer liked: m alone of a resistor, MOHM and MH in capitals, MF.
func unsurePrefix(kind, prefix, unit string) bool {
	switch kind {
	case "resistor":
		return prefix == "m" && unit == "" || prefix == "M" && len(unit) > 2 && unit == strings.ToUpper(unit)
	case "capacitor":
		return prefix == "M" || prefix == "m"
	}
	return prefix == "M" || prefix == "m" && unit == ""
}

// ReadValue reads a cell for a component of a kind.
func ReadValue(text, kind string) Value {
	var v Value
	var found, tols, volts []*big.Rat
	words := listWords(text)
	next := func(i int) string {
		if i+1 < len(words) {
			return words[i+1]
		}
		return ""
	}
	for i, w := range words {
		v.Spread = v.Spread || strings.ContainsAny(w, "%±+-")
		if _, unit := cutUnit(next(i), kind); kind == "resistor" && unit != "" && strings.EqualFold(w, "zero") {
			w = "0" // "zero ohm jumper"
		}
		f, ok := readFigure(w)
		switch {
		case strings.Contains(w, "?"), i > 0 && isGroup(words[i-1], f):
			v.Unsure = true
		case !ok || i > 0 && words[i-1] == "/" || next(i) == "/":
		case f.rest == "%" || f.rest == "" && next(i) == "%":
			tols = append(tols, f.number(0))
		case isVolts(f.point + f.rest), f.point+f.rest == "" && isVolts(next(i)):
			volts = append(volts, f.number(0))
		case i > 0 && words[i-1] == "±", f.signed, f.rest == "" && isChip(w):
		default:
			x, unsure := f.of(kind, next(i))
			v.Unsure = v.Unsure || unsure
			if x != nil {
				found = append(found, x)
			}
		}
	}
	v.Tol, v.Rating = only(tols), only(volts)
	v.Nominal = only(found)
	if len(found) == 0 && !v.Unsure && kind == "resistor" && len(words) > 0 {
		if f, ok := readFigure(words[0]); ok && f.rest == "" && !isChip(words[0]) && standsAlone(next(0)) {
			v.Nominal, v.Bare = f.number(0), true
			v.Digits = (len(words[0]) == 3 || len(words[0]) == 4) && strings.Trim(words[0], "0123456789") == ""
		}
	}
	return v
}

// isGroup says that a figure is the second group of thousands, 1 000 pF.
func isGroup(before string, f figure) bool {
	return len(f.digits) == 3 && f.places == 0 && len(before) <= 3 && strings.Trim(before, "0123456789") == "" &&
		!f.signed
}

// standsAlone says that a bare number ends before a word: it is the last one,
// or a tolerance, rating or size follows.
func standsAlone(next string) bool {
	f, ok := readFigure(next)
	return next == "" || next == "±" || ok && f.rest != "" || isChip(next)
}

// only is the one value of a list; nil where there is none, or several.
func only(list []*big.Rat) *big.Rat {
	if len(list) == 0 || slices.ContainsFunc(list, func(x *big.Rat) bool { return x.Cmp(list[0]) != 0 }) {
		return nil
	}
	return list[0]
}

func isVolts(unit string) bool {
	return strings.EqualFold(unit, "V") || strings.EqualFold(unit, "VDC") || strings.EqualFold(unit, "volt")
}

// figure is a number at the start of a word: its digits, how many of them stand
// behind the point, the letter that stands for the point in 4k7, and the rest.
type figure struct {
	digits      string
	places      int
	point, rest string
	signed      bool
}

// readFigure reads "4.7k", "4k7", "R47", "10", "-20%".
func readFigure(w string) (figure, bool) {
	var f figure
	if t := strings.TrimLeft(w, "+-<>≤≥~"); t != w {
		f.signed, w = strings.ContainsAny(w[:len(w)-len(t)], "+-"), t
	}
	digits := func(s string) int { return len(s) - len(strings.TrimLeft(s, "0123456789")) }
	n := digits(w)
	f.digits, f.rest = w[:n], w[n:]
	if k := digits(strings.TrimPrefix(f.rest, ".")); k > 0 && strings.HasPrefix(f.rest, ".") {
		f.digits, f.places, f.rest = f.digits+f.rest[1:k+1], k, f.rest[k+1:]
		return f, f.ended()
	}
	for _, letter := range []string{"MEG", "meg", "R", "r", "k", "K", "M", "G", "m", "µ", "u", "U", "n", "N", "p",
		"P", "V", "v", "F", "H"} {
		if after, ok := strings.CutPrefix(f.rest, letter); ok && digits(after) > 0 &&
			(n > 0 || letter == "R" || letter == "r") {
			k := digits(after)
			f.digits, f.places, f.point, f.rest = f.digits+after[:k], k, letter, after[k:]
			break
		}
	}
	return f, len(f.digits) > 0 && len(f.digits) < 19 && f.ended()
}

// ended says that no digit follows the letters behind a figure, as in a code.
func (f figure) ended() bool { return !strings.ContainsAny(f.rest, "0123456789.-") }

// number is the figure times a power of ten.
func (f figure) number(exp int) *big.Rat {
	x, _ := new(big.Rat).SetString(f.digits + "e" + strconv.Itoa(exp-f.places))
	return x
}

// of is the figure as a value of a kind; next is the word behind it. nil where
// it is none; unsure where its letter can be read in two ways.
func (f figure) of(kind, next string) (x *big.Rat, unsure bool) {
	letters := f.point + f.rest
	if f.rest == "" && f.point == "" {
		letters = next // "4.7 kOhm"
	} else if _, unit := cutUnit(next, kind); unit == next && next != "" && f.point == "" {
		letters += next // "4.7K OHM"
	}
	if isVolts(f.point) {
		return nil, false
	}
	prefix, unit := cutUnit(letters, kind)
	if f.point == "R" || f.point == "r" {
		if unit = f.rest; kind != "resistor" || unit != "" && !slices.Contains(valueUnits[kind], strings.ToUpper(unit)) {
			return nil, kind == "inductor" && f.rest == "" // 4R7 is µH to some
		}
		return f.number(0), false
	}
	exp, known := valuePrefix[kind][prefix]
	switch {
	case !known, prefix == "" && unit == "":
		return nil, false
	case unsurePrefix(kind, prefix, unit):
		return nil, true
	}
	return f.number(exp), false
}

// cutUnit takes the unit of a kind off letters such as kOhm.
func cutUnit(letters, kind string) (prefix, unit string) {
	for _, u := range valueUnits[kind] {
		if k := len(letters) - len(u); k >= 0 && strings.EqualFold(letters[k:], u) {
			return letters[:k], letters[k:]
		}
	}
	return letters, ""
}

// listWords splits a cell. A comma between digits is a decimal comma, unless
// what stands before it is a size; with three digits behind it, it may as well
// part thousands, and the word gets a "?" that no number has. A slash between
// digits is a word of its own, so that 1/16W is no number.
func listWords(text string) []string {
	text = strings.NewReplacer("\u2126", "Ω", "\u03bc", "µ", "，", ",", "−", "-", "+/-", " ± ", "+-", " ± ", "±",
		" ± ", "％", "%").Replace(text)
	isDigit := func(i int) bool { return i >= 0 && i < len(text) && text[i] >= '0' && text[i] <= '9' }
	var b strings.Builder
	for i := 0; i < len(text); i++ {
		between := isDigit(i-1) && isDigit(i+1)
		switch c := text[i]; {
		case c == ',' && between:
			b.WriteString(commaAs(text, i))
		case c == '/' && between:
			b.WriteString(" / ")
		case strings.IndexByte(",;|()[]_@=:/\"", c) >= 0:
			b.WriteByte(' ')
		default:
			b.WriteByte(c)
		}
	}
	var words []string
	for _, w := range strings.Fields(b.String()) {
		first, _, dashed := strings.Cut(w, "-")
		if f, ok := readFigure(first); dashed && ok && f.point+f.rest != "" { // 2.2K-5%, but not 2-6pF
			words = append(words, strings.FieldsFunc(w, func(r rune) bool { return r == '-' })...)
		} else {
			words = append(words, w)
		}
	}
	return words
}

// commaAs says what a comma between digits is: a point, a gap, or not known.
func commaAs(text string, i int) string {
	start, stop := i, i+1
	for start > 0 && text[start-1] >= '0' && text[start-1] <= '9' {
		start--
	}
	for stop < len(text) && text[stop] >= '0' && text[stop] <= '9' {
		stop++
	}
	before := text[start:i]
	glued := start > 0 && !strings.ContainsRune(" \t,;|()[]_@=:/\"±+-<>~", rune(text[start-1]))
	third := start > 1 && text[start-1] == ',' && text[start-2] >= '0' && text[start-2] <= '9'
	switch {
	case isChip(before), isChip(text[i+1 : stop]), glued, len(before) > 1 && before[0] == '0':
		return " "
	case third, stop < len(text) && text[stop] == ',', stop-i-1 == 3 && before != "0":
		return "?"
	}
	return "."
}

// ReadQuantity reads the one quantity of a type in a cell, "8 MHz" or
// "500mA", for kinds without letters of their own.
func ReadQuantity(text string, as units.Type) *big.Rat {
	var found []*big.Rat
	words := listWords(text)
	for i, w := range words {
		q, err := units.ParseLiteral(w)
		if err != nil || q.Type != as {
			if q, err = units.ParseLiteral(strings.Join(words[i:min(i+2, len(words))], " ")); err != nil ||
				q.Type != as {
				continue
			}
		}
		found = append(found, q.SI)
	}
	return only(found)
}

// NotedValue is the value a row of the notes starts with: "4k7 ± 1 %", "10 µF";
// of a resistor a bare number is ohms. nil where it is none.
func NotedValue(text, kind string) *units.Quantity {
	words := strings.Fields(text)
	if len(words) == 0 {
		return nil
	}
	if q, err := units.ParseMarking(words[0], kind); err == nil && strings.Trim(words[0], "0123456789.") != "" {
		return &q
	}
	if len(words) > 1 {
		if q, err := units.ParseLiteral(words[0] + " " + words[1]); err == nil && q.Type.Dim != (units.Dim{}) {
			return &q
		}
	}
	if kind == "resistor" && strings.Trim(words[0], "0123456789.") == "" {
		words[0] += " Ω"
	}
	if q, err := units.ParseLiteral(words[0]); err == nil && q.Type.Dim != (units.Dim{}) {
		return &q
	}
	return nil
}
