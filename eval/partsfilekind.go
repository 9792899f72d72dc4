package eval

import (
	"math/big"
	"strings"

	"guardband/units"
)

// This file compares a line of a parts list with a component of a plain kind,
// which has no order code: by value, tolerance, rated voltage and chip size, as
// far as both sides state them.

// compareKind gives the differences, and what cannot be judged.
func compareKind(m *component, r tableRow, has map[string]bool) (bad []string, open []OpenPoint) {
	text, want := strings.TrimSpace(r.cells["value"]), strings.TrimSpace(m.row.Value.S)
	unclear := func(what, settle string) {
		open = append(open, OpenPoint{Reason: "no value", Text: m.ref + ": " + what, Settle: settle})
	}
	differs := func() { bad = append(bad, m.ref+" is "+orNone(text)+" in the file, "+want+" in the notes") }
	switch a, b := nominalOf(text, m.kind), nominalOf(want, m.kind); {
	case want == "", strings.EqualFold(text, want):
	case !has["value"]:
		open = append(open, OpenPoint{Reason: "no value", Text: "the file has no values to compare the plain parts by", Settle: "export the list with a column `value`"})
	case text == "":
		unclear("the file states no value", "export the list with its values")
	case b == nil:
		differs()
	case a == nil:
		unclear("the value `"+text+"` of the file is not understood", "write it with its unit, as "+want)
	case isDigitCode(text):
		unclear("`"+text+"` of the file may be a number or a code of digits", "write it with its unit, as "+want)
	case a.Type != b.Type || a.SI.Cmp(b.SI) != 0:
		differs()
	default:
		for _, o := range m.row.Options {
			want += " " + strings.TrimSpace(o.S)
		}
		if statesOther(text, want, "%") || statesOther(text, want, "V") {
			differs()
		}
	}
	if leftOff(text) {
		bad = append(bad, m.ref+" is fitted by the notes, and "+text+" in the file")
	}
	if size := m.chipCode(); r.cells["package"] != "" && size != "" {
		switch cell := r.cells["package"]; sameChip(cell, size) {
		case Failed:
			bad = append(bad, m.ref+" is of size "+cell+" in the file, "+size+" in the notes")
		case Open:
			unclear("whether the package `"+cell+"` of the file is of size "+size+" is not known", "write the size in the list as in the notes")
		}
	}
	return bad, open
}

// nominalOf reads the value a text starts with: "4k7 1%", "100n/16V", "2.2 µF
// ± 10 %"; of a resistor a bare number is ohms. nil where it is none.
func nominalOf(text, kind string) *units.Quantity {
	words := valueWords(text)
	if len(words) == 0 {
		return nil
	}
	for _, w := range []string{words[0], letterAsPoint(words[0])} {
		if q, err := units.ParseMarking(w, kind); err == nil && strings.Trim(w, "0123456789.") != "" {
			return &q
		}
	}
	if len(words) > 1 {
		if q, err := units.ParseLiteral(words[0] + " " + words[1]); err == nil && q.Type.Dim != (units.Dim{}) {
			return ofKind(&q, kind)
		}
	}
	if kind == "resistor" && strings.Trim(words[0], "0123456789.") == "" {
		words = []string{words[0] + " Ω"}
	}
	if q, err := units.ParseLiteral(words[0]); err == nil && q.Type.Dim != (units.Dim{}) {
		return ofKind(&q, kind)
	}
	return nil
}

// ofKind gives a quantity only if a component of the kind is measured in it:
// "01B" is a code, and no byte.
func ofKind(q *units.Quantity, kind string) *units.Quantity {
	if dim, ok := map[string]units.Dim{"resistor": dimOhm, "capacitor": dimFarad, "inductor": dimHenry}[kind]; ok && q.Type.Dim != dim {
		return nil
	}
	return q
}

func valueWords(text string) []string {
	return strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == '\u00a0' || r == '/' || r == ',' || r == '±' })
}

// isDigitCode says that a value is three or four bare digits: 100 may be
// 100 Ω, or 10 Ω by the codes of IEC 60062.
func isDigitCode(text string) bool {
	words := valueWords(text)
	w := words[0]
	return strings.Trim(w, "0123456789") == "" && (len(w) == 3 || len(w) == 4) && (len(words) == 1 || words[1] != "Ω" && !strings.EqualFold(words[1], "ohm"))
}

// statesOther says that two texts state one figure each in a unit, and another
// one: a tolerance in %, a rated voltage in V.
func statesOther(a, b, unit string) bool {
	x, y := figureIn(a, unit), figureIn(b, unit)
	return x != nil && y != nil && x.Cmp(y) != 0
}

// figureIn is the figure of a text in a unit; nil where there is none, or
// several, or one with a sign of its own.
func figureIn(text, unit string) *big.Rat {
	var found *big.Rat
	words := valueWords(text)
	for i, w := range words {
		number, glued := strings.CutSuffix(w, unit)
		if !glued || number == "" {
			if i+1 >= len(words) || words[i+1] != unit {
				continue
			}
			number = w
		}
		x, ok := new(big.Rat).SetString(number)
		if !ok || strings.Trim(number, "0123456789.") != "" {
			continue
		}
		if found != nil {
			return nil
		}
		found = x
	}
	return found
}

// leftOff says that the value of a line says that the part is not placed.
func leftOff(text string) bool {
	s := " " + strings.ToLower(strings.Join(valueWords(text), " ")) + " "
	for _, w := range []string{" dnp ", " do not populate ", " not fitted "} {
		if strings.Contains(s, w) {
			return true
		}
	}
	return false
}

// chipCode is the chip size that a row of a plain kind states, "" without one.
func (m *component) chipCode() string {
	for _, o := range m.row.Options {
		s := strings.TrimSpace(o.S)
		if _, ok := chipOf(s); ok || contains(chipOnly, s) {
			return s
		}
	}
	return ""
}

// metricChip are the metric codes of the chips whose imperial ones are read,
// from memory.
var metricChip = map[string]string{"0201": "0603", "0402": "1005", "0603": "1608", "0805": "2012", "1206": "3216", "1210": "3225", "2010": "5025", "2512": "6332"}

// sameChip compares a package of a list with a chip size: passed where it
// holds the code, failed where it holds another, open where it holds none, or
// one that is the metric code of the same chip.
func sameChip(cell, size string) Verdict {
	v := Open
	for _, w := range strings.FieldsFunc(cell, func(r rune) bool { return r < '0' || r > '9' }) {
		_, chip := chipOf(w)
		switch {
		case w == size:
			return Passed
		case w == metricChip[size]:
			return Open
		case chip || contains(chipOnly, w):
			v = Failed
		}
	}
	return v
}
