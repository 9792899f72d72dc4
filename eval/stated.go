package eval

import (
	"math/big"
	"strings"

	"guardband/notebook"
	"guardband/notebook/sheet"
	"guardband/units"
)

// statedNumbers are the numbers a right-hand side states, as a page would
// print them, with the column each stands for, and its tolerances.
func statedNumbers(rhs string) (out, tolerances []sheet.Number) {
	parts, err := units.Split(rhs)
	if err != nil {
		return nil, nil
	}
	add := func(l units.Leaf, column string) {
		if l.Present() {
			out = append(out, literals(rhs[l.Off:l.End], column)...)
		}
	}
	add(parts.Single, "")
	add(parts.Lo, "min")
	add(parts.Hi, "max")
	add(parts.Centre, "")
	add(parts.Min, "min")
	add(parts.Typ, "typ")
	add(parts.Max, "max")
	if parts.Shape == units.Range && len(out) == 2 && out[0].Unit == "" {
		out[0].Unit = out[1].Unit
		if parts.Unit.Present() {
			out[0].Unit, out[1].Unit = parts.Unit.Text(rhs), parts.Unit.Text(rhs)
		}
	}
	for _, l := range append(append([]units.Leaf{parts.MaxDev}, parts.Plus...), parts.Minus...) {
		if l.Present() {
			tolerances = append(tolerances, literals(strings.TrimLeft(l.Text(rhs), "±+-− "), "")...)
		}
	}
	return out, tolerances
}

// literals are the numbers in a text.
func literals(text, column string) (out []sheet.Number) {
	for i := 0; i < len(text); {
		if i > 0 && isNameByte(text[i-1]) {
			i++
			continue
		}
		q, end, ok, err := units.ScanLiteral(text, i, signLeads(text[:i]))
		if !ok || err != nil || end <= i {
			i++
			continue
		}
		out = append(out, numberOf(q, column))
		i = end
	}
	return out
}

// notedNumbers are the numbers that an entry takes from its pages: what it
// states, and beside it tolerances and conditions.
func notedNumbers(e *notebook.Entry) (numbers, aside []sheet.Number) {
	switch {
	case e.Kind == notebook.Definition:
		numbers, aside = statedNumbers(e.RHS.S)
	case e.Need != nil:
		for i := range e.Need.Needs {
			n, t := statedNumbers(e.Need.Needs[i].Value.S)
			if aside = append(aside, t...); e.Need.Needs[i].Name == "" {
				numbers = append(numbers, n...)
			} else { // the quoted words name the row of the value
				aside = append(aside, n...)
			}
		}
	case citedLabels[e.Label]:
		aside = literals(e.Value.S, "")
	}
	for i := range e.Conds {
		aside = append(aside, literals(e.Conds[i].Value.S, "")...)
	}
	return numbers, aside
}

// citedLabels are the attributes that state quantities.
var citedLabels = map[string]bool{
	"ambient": true, "usable": true, "self-discharge": true, "pitch": true, "body": true, "height": true, "criterion": true,
}

// signLeads says that a sign after this text belongs to a number: nothing
// stands before it that it could be taken from.
func signLeads(before string) bool {
	before = strings.TrimRight(before, " ")
	return before == "" || strings.ContainsRune(":,(", rune(before[len(before)-1]))
}

func isNameByte(b byte) bool {
	return b == '_' || b >= '0' && b <= '9' || b >= 'a' && b <= 'z' || b >= 'A' && b <= 'Z' || b >= 0x80
}

func numberOf(q units.Quantity, column string) sheet.Number {
	u := q.Unit.Typed
	if u == "" {
		u = q.Unit.Symbol
	}
	text := q.Text
	if u != "" {
		text, _, _ = strings.Cut(text, u) // what follows it is "rms" and the like
	}
	return sheet.Number{Text: strings.TrimSpace(text), Value: inUnit(q), Unit: u, Column: column}
}

// numberText is a number as findings name it.
func numberText(n sheet.Number) string { return strings.TrimSpace(n.Text + " " + n.Unit) }

// inUnit is the number of a quantity in the unit it was typed in.
func inUnit(q units.Quantity) float64 {
	v := new(big.Rat).Set(q.SI)
	if q.Unit.Offset != nil {
		v.Sub(v, q.Unit.Offset)
	}
	if q.Unit.Factor != nil && q.Unit.Factor.Sign() != 0 {
		v.Quo(v, q.Unit.Factor)
	}
	return units.Float(v)
}
