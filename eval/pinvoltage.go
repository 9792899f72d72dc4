package eval

import (
	"guardband/eval/circuit"
	"guardband/eval/formula"
	"guardband/eval/record"
)

// This file finds the voltage that a name of a part's facts speaks of.

// pinVoltage is the voltage that a name of a part's facts speaks of: that of
// the pin so called, else of the pins whose rows say that they obey it. Where
// these stand on several nets nothing says which is meant.
func (c *compiler) pinVoltage(m *circuit.Component, name string) *symbol {
	if m.Part != nil {
		if y := c.totalVoltage(m, name); y != nil {
			return y
		}
	}
	nets := m.NetsNamed(name)
	var known []*circuit.Net
	for _, n := range nets {
		if c.netSymbol(n) != nil {
			known = append(known, n)
		}
	}
	switch {
	case len(known) == 0:
		return nil
	case len(nets) == 1:
		return c.netSymbol(known[0])
	}
	y := &symbol{name: m.Ref + "." + name, comp: m, entry: m.Entry}
	y.lacking = &record.OpenPoint{Reason: "no fact", Text: "several pins of " + m.Ref + " go by " + name +
		" and are on " + circuit.NetNames(nets) + ", so it is not known which voltage is meant",
		Settle: "give the pins names of their own, or state `in use: " + name + " = ...` in the row of " + m.Ref}
	y.define = func(y *symbol) {
		y.input = &input{sym: y, name: y.name, typ: circuit.Volt}
		y.val = formula.Value{Class: formula.Number, Type: circuit.Volt, Reg: c.newInput(y.input)}
	}
	return y
}
