package eval

import (
	"math/big"
	"strings"

	"guardband/notebook/sheet"
	"guardband/units"
)

// statedNumbers are the numbers a right-hand side states, as a page would
// print them, with the column each stands for.
func statedNumbers(rhs string) []sheet.Number {
	parts, err := units.Split(rhs)
	if err != nil {
		return nil
	}
	var out []sheet.Number
	add := func(l units.Leaf, column string) {
		if !l.Present() {
			return
		}
		text := rhs[l.Off:l.End]
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
	}
	return out
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
	text := strings.TrimSpace(strings.TrimSuffix(q.Text, u))
	return sheet.Number{Text: text, Value: inUnit(q), Unit: u, Column: column}
}

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
