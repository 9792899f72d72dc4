package eval

import (
	"slices"
	"strings"

	"guardband/eval/formula"
	"guardband/eval/record"
)

// This file finds the voltage that a name of a part's facts speaks of.

// pinVoltage is the voltage that a name of a part's facts speaks of: that of
// the pin so called, else of the pins whose rows say that they obey it. Where
// these stand on several nets nothing says which is meant.
func (c *compiler) pinVoltage(m *component, name string) *symbol {
	if m.part != nil {
		if y := c.totalVoltage(m, name); y != nil {
			return y
		}
	}
	nets := m.netsNamed(name)
	var known []*net
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
	y := &symbol{name: m.ref + "." + name, comp: m, entry: m.entry}
	y.own().lacking = &record.OpenPoint{Reason: "no fact", Text: "several pins of " + m.ref + " go by " + name + " and stand on " + netNames(nets) + ", so it is not known which voltage is meant",
		Settle: "give the pins names of their own, or state `in use: " + name + " = ...` in the row of " + m.ref}
	y.define = func(y *symbol) {
		y.input = &input{sym: y, name: y.name, typ: volt}
		y.val = formula.Value{Class: formula.Number, Type: volt, Reg: c.newInput(y.input)}
	}
	return y
}

// netsNamed are the nets of the pins that a name of the facts speaks of.
func (m *component) netsNamed(name string) []*net {
	if m.part == nil {
		return nil
	}
	var own, obeying []*net
	for _, q := range m.part.pins {
		n := m.pinNets[q]
		switch {
		case n == nil:
		case sameSymbol(q.row.Name, name):
			own = addNet(own, n)
		case sameSymbol(q.obeys(), name):
			obeying = addNet(obeying, n)
		}
	}
	if len(own) > 0 {
		return own
	}
	return obeying
}

func addNet(l []*net, n *net) []*net {
	if slices.Contains(l, n) {
		return l
	}
	return append(l, n)
}

func netNames(l []*net) string {
	var out []string
	for _, n := range l {
		out = append(out, n.name)
	}
	return strings.Join(out, " and ")
}
