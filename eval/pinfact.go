package eval

import (
	"guardband/eval/circuit"
	"guardband/eval/formula"
	"guardband/eval/record"
	"guardband/units"
)

// This file finds the facts of a pin under the symbols of the trade.

// pinFact finds the fact of a pin under one of the symbols the trade gives it,
// with the text that names it in a formula; nil where the notes have none.
func (c *compiler) pinFact(m *circuit.Component, section string, q *circuit.Pin, dim units.Dim, symbols ...string) (*symbol, string) {
	if m.Part == nil {
		return nil, ""
	}
	y, text := c.pinFactAmong(m, section, q, dim, symbols)
	found := ""
	if y != nil {
		found = symbols[0]
	}
	m.Part.Asked.Ask(m.Part, section, found, symbols...)
	return y, text
}

func (c *compiler) pinFactAmong(m *circuit.Component, section string, q *circuit.Pin, dim units.Dim, symbols []string) (*symbol, string) {
	for _, f := range m.Part.FactsFor(section, q.Row.Name, symbols...) {
		y, err := c.fact(m, section, f.Name, q.Row.Name)
		if y == nil || err != nil {
			continue
		}
		c.lower(y)
		if (y.val.Class == formula.Number || y.val.Class == formula.Set) && y.val.Type.Dim == dim {
			return y, c.FactText(m, section, f.Name, q.Row.Name)
		}
	}
	return nil, ""
}

// LimitEnd names one end of a limit of a pin: `U6.operating.V_IH.min`; "" where
// it is not stated.
func (c *compiler) LimitEnd(m *circuit.Component, q *circuit.Pin, dim units.Dim, column string, symbols ...string) string {
	y, text := c.pinFact(m, "operating", q, dim, symbols...)
	k := map[string]int{"min": 0, "max": 2}[column]
	if y == nil || y.cols[k] == nil {
		return ""
	}
	return text + "." + column
}

// leakage names the leakage of a pin, "" where the notes have none.
func (c *compiler) leakage(j circuit.Joint) string {
	_, text := c.pinFact(j.Comp, "spec", j.Pin, circuit.DimAmpere, "I_LEAK", "I_LKG", "I_LI", "I_L", "I_CEO")
	return text
}

// SinkPoint names a V_OL of a pin and the current at which it holds: those of
// the first row that states a most, or V_OL as a whole and a limit I_OL. The row
// is taken at its own current, not at that of the net, which it is to judge.
func (c answers) SinkPoint(cl *Claim, j circuit.Joint, low string) (level, most string, open *record.OpenPoint) {
	y, _ := c.pinFact(j.Comp, "spec", j.Pin, circuit.Volt.Dim, "V_OL")
	level = low + ".max"
	for _, r := range y.rows {
		if r.cols[2] == nil {
			continue
		}
		for _, d := range c.conditionsOf(y, r) {
			if d.flag == "" && circuit.SameSymbol(d.name, "I_OL") && d.hi != nil && d.hi.Type.Dim == circuit.DimAmpere {
				most = c.literal(d.hi)
				continue
			}
			if p := c.coversOne(y, d); p != nil {
				return "", "", p
			}
		}
		if text := c.literal(r.cols[2]); most != "" && text != "" {
			level = text
			cl.Entries = append(cl.Entries, r.entry)
		}
		break
	}
	if most == "" {
		most = c.LimitEnd(j.Comp, j.Pin, circuit.DimAmpere, "max", "I_OL")
	}
	if most == "" {
		return "", "", &record.OpenPoint{Reason: "no fact", Text: "the current at which " + y.name +
			" holds is not noted", Settle: "add `at I_OL <= ...` to its row"}
	}
	return level, most, nil
}

// literal prints an exact number so that a formula can hold it.
func (c *compiler) literal(v *formula.Value) string {
	x, ok := c.b.ConstOf(v.Reg)
	if !ok {
		return ""
	}
	return units.Format(x, v.Type, units.Style{Unit: v.Unit, Digits: 15})
}

// StatedAt is the current at which a level of a pin is stated, "" where it is
// stated without one.
func (c answers) StatedAt(j circuit.Joint, level, current string) string {
	y, _ := c.pinFact(j.Comp, "spec", j.Pin, circuit.Volt.Dim, level)
	if y == nil {
		return ""
	}
	for _, r := range y.rows {
		for _, d := range c.conditionsOf(y, r) {
			if d.flag == "" && circuit.SameSymbol(d.name, current) && d.hi != nil && d.hi.Type.Dim == circuit.DimAmpere {
				return c.literal(d.hi)
			}
		}
	}
	return ""
}
