package eval

import (
	"math/big"
	"slices"
	"strings"
	"unicode"

	"guardband/eval/circuit"
	"guardband/eval/record"
)

// This file compares a line of a parts list with a component of a plain kind,
// which has no order code: by value, tolerance, rated voltage and chip size, as
// far as both sides state them.

// compareKind gives the differences, and what cannot be judged.
func compareKind(m *circuit.Component, r tableRow, l listHabits) (bad []string, open []record.OpenPoint) {
	text, want := strings.TrimSpace(r.cells["value"]), strings.TrimSpace(m.Row.Value.S)
	unclear := func(what, settle string) {
		open = append(open, record.OpenPoint{Reason: "no value", Text: m.Ref + ": " + what, Settle: settle})
	}
	noted := notedValue(want, m.Kind)
	var v listValue
	switch {
	case noted == nil:
	case valueUnits[m.Kind] != nil:
		v = readListValue(text, m.Kind)
	default:
		v.nominal = readListLiteral(text, noted.Type)
	}
	switch {
	case want == "", text == want:
	case !l.has["value"]:
		open = append(open, record.OpenPoint{Reason: "no value",
			Text: "the file has no values to compare the plain parts by", Settle: "export the list with a column `value`"})
	case text == "":
		unclear("the file states no value", "export the list with its values")
	case noted == nil:
		unclear("whether `"+text+"` of the file is "+want+" is not known", "write it in the list as in the notes")
	case v.nominal == nil || v.unsure:
		unclear("the value `"+text+"` of the file is not understood", "write it with its unit, as "+want)
	case v.digits && !l.ohms:
		unclear("`"+text+"` of the file may be a number or a code of digits", "write it with its unit, as "+want)
	case v.nominal.Cmp(noted.SI) != 0 || v.states(m):
		bad = append(bad, m.Ref+" is "+text+" in the file, "+want+" in the notes")
	}
	if size := chipCode(m); r.cells["package"] != "" && size != "" {
		switch cell := r.cells["package"]; sameChip(cell, size) {
		case record.Failed:
			bad = append(bad, m.Ref+" is of size "+cell+" in the file, "+size+" in the notes")
		case record.Open:
			unclear("whether the package `"+cell+"` of the file is of size "+size+" is not known", "write the size in the list as in the notes")
		}
	}
	return bad, open
}

// states says that a cell states another tolerance or rated voltage than the
// row of the notes.
func (v listValue) states(m *circuit.Component) bool {
	noted := readListValue(m.Row.Value.S, m.Kind)
	for _, o := range m.Row.Options {
		if x := readListValue(o.S, m.Kind); x.rating != nil {
			noted.rating = x.rating
		}
	}
	other := func(a, b *big.Rat) bool { return a != nil && b != nil && a.Cmp(b) != 0 }
	return other(v.tol, noted.tol) || other(v.rating, noted.rating)
}

// listHabits are what a list shows as a whole.
type listHabits struct {
	has  map[string]bool // columns
	ohms bool            // it writes some resistor with k, M or R, so three bare digits are ohms and no code
}

// habits looks at the values of a list.
func (c reader) habits(t table, at map[string]tableRow) listHabits {
	l := listHabits{has: t.has}
	for _, m := range c.Comps.List {
		if r, ok := at[m.Ref]; ok && m.Part == nil && m.Kind == "resistor" {
			v := readListValue(r.cells["value"], m.Kind)
			l.ohms = l.ohms || v.nominal != nil && !v.bare
		}
	}
	return l
}

// offWords say that a part is left off the board.
var offWords = []string{"dnp", "dnf", "dni", "dnm", "no pop", "no populate", "no fit", "no load"}

// leftOff says that a text says that a part is left off: one of offWords, or
// "not", "do not" before a word of fitting.
func leftOff(text string) bool {
	words := strings.FieldsFunc(strings.ToLower(text),
		func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	s := " " + strings.Join(words, " ") + " "
	for _, w := range offWords {
		if strings.Contains(s, " "+w+" ") {
			return true
		}
	}
	for i, w := range words[:max(0, len(words)-1)] {
		if w == "not" {
			for _, stem := range []string{"populat", "fit", "plac", "install", "mount", "load", "assembl", "solder",
				"stuff", "used"} {
				if strings.HasPrefix(words[i+1], stem) {
					return true
				}
			}
		}
	}
	return strings.HasPrefix(strings.ToLower(strings.TrimSpace(text)), "na(")
}

// isLeftOff says that a line of a list is of a part that is not on the board;
// unsure names the cell that may say so, or not.
func (r tableRow) isLeftOff() (off bool, unsure string) {
	if cell := r.cells["not fitted"]; leftOff(cell) || saysYes(cell) {
		return true, ""
	} else if cell != "" && !saysNo(cell) && !saysFitted(cell) {
		return false, "`" + cell + "`"
	}
	if cell, has := r.cells["fitted"]; leftOff(cell) || saysNo(cell) {
		return true, ""
	} else if has && !saysYes(cell) && !saysFitted(cell) {
		return false, "`" + cell + "` under fitted"
	}
	v := r.cells["value"]
	switch {
	case r.leftOff, leftOff(v):
		return true, ""
	case strings.EqualFold(v, "na"), strings.EqualFold(v, "n/a"), strings.EqualFold(v, "nc"), strings.EqualFold(v,
		"nf"), strings.EqualFold(v, "np"):
		return false, "the value `" + v + "`"
	}
	return false, ""
}

func saysYes(s string) bool {
	return slices.Contains([]string{"y", "yes", "x", "true", "1"}, strings.ToLower(s))
}

func saysNo(s string) bool {
	return slices.Contains([]string{"n", "no", "false", "0", "-"}, strings.ToLower(s))
}

func saysFitted(s string) bool {
	return slices.Contains([]string{"fit", "fitted", "place", "placed", "populate", "populated", "mount", "mounted",
		"install", "installed"}, strings.ToLower(s))
}

// offText is how a line says that its part is left off.
func (r tableRow) offText() string {
	if v := r.cells["value"]; leftOff(v) {
		return v
	}
	return "not fitted"
}

// chipCode is the chip size that a row of a plain kind states, "" without one.
func chipCode(m *circuit.Component) string {
	for _, o := range m.Row.Options {
		s := strings.TrimSpace(o.S)
		if _, ok := circuit.ChipOf(s); ok || slices.Contains(circuit.ChipOnly, s) {
			return s
		}
	}
	return ""
}

// metricChip are the metric codes of the chips whose imperial ones are read,
// from memory.
var metricChip = map[string]string{"0201": "0603", "0402": "1005", "0603": "1608", "0805": "2012", "1206": "3216",
	"1210": "3225", "2010": "5025", "2512": "6332"}

// sameChip compares a package of a list with a chip size: passed where it
// holds the code, or the metric one said to be metric; failed where it holds
// another; open where it holds none, both, or what may be either.
func sameChip(cell, size string) record.Verdict {
	same, other, unsure := false, false, false
	words := strings.FieldsFunc(strings.ToUpper(cell),
		func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	for i, w := range words {
		code := strings.TrimLeft(w, "ABCDEFGHIJKLMNOPQRSTUVWXYZ")
		before := w[:len(w)-len(code)]
		end := strings.IndexFunc(code+"X", func(r rune) bool { return !unicode.IsDigit(r) })
		after := code[end:]
		code = code[:end]
		metric := strings.HasPrefix(after, "METRIC") || after == "" && i+1 < len(words) && words[i+1] == "METRIC" ||
			slices.Contains([]string{"CAPC", "RESC", "INDC", "LEDC", "FUSC"}, before) // IPC-7351
		switch {
		case metric:
			same, other = same || code == metricChip[size], other || code != metricChip[size]
		case code == size:
			same = true
		case code == metricChip[size]:
			unsure = true
		case isChip(code):
			other = true
		}
	}
	switch {
	case same && !other:
		return record.Passed
	case other && !same && !unsure:
		return record.Failed
	}
	return record.Open
}
