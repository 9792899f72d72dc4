package eval

import (
	"strings"

	"guardband/eval/circuit"
	"guardband/eval/formula"
	"guardband/units"
)

// This file says what the noted pins do on a net: which drive it, which read
// it, which can only pull it. Nothing is guessed from a part's name.

// ohms says that the resistance of a component is a known quantity.
func (c *compiler) ohms(m *circuit.Component) bool {
	y := c.componentSymbol(m)
	if y == nil {
		return false
	}
	c.lower(y)
	return y.val.Class == formula.Number && y.val.Type.Dim == circuit.DimOhm
}

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
	for _, s := range symbols {
		for _, f := range m.Part.FactOrder {
			if f.Section != section || !circuit.SameSymbol(f.Name, s) {
				continue
			}
			def, ok := m.Part.Choose(section, f.Name, q.Row.Name)
			if def == nil || !ok {
				continue
			}
			y, err := c.fact(m, section, f.Name, q.Row.Name)
			if y == nil || err != nil {
				continue
			}
			c.lower(y)
			if (y.val.Class == formula.Number || y.val.Class == formula.Set) && y.val.Type.Dim == dim {
				return y, c.FactText(m, section, f.Name, q.Row.Name)
			}
		}
	}
	return nil, ""
}

// limitEnd names one end of a limit of a pin: `U6.operating.V_IH.min`; "" where
// it is not stated.
func (c *compiler) limitEnd(m *circuit.Component, q *circuit.Pin, dim units.Dim, column string, symbols ...string) string {
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

func pinNames(js []circuit.Joint) string {
	var out []string
	for _, j := range js {
		out = append(out, j.Name())
	}
	return strings.Join(out, ", ")
}
