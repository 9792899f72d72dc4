package circuit

import (
	"slices"
	"strings"

	"guardband/notebook"
)

// NetText names a net's voltage in a formula.
func (c *Circuit) NetText(n *Net) string {
	if n.spelled == "" {
		n.spelled = `net("` + n.Name + `")`
		if c.Values.IsName(n.Name) && !c.hasPart(n.Name) {
			n.spelled = n.Name
		}
	}
	return n.spelled
}

func (c *Circuit) hasPart(name string) bool {
	_, a := c.Comps.Get(name)
	_, b := c.Parts.Get(name)
	return a || b
}

// FactText names a fact of a placed part, for one pin where its rows differ by pin.
func (c *Circuit) FactText(m *Component, section, name, pin string) string {
	s := m.Ref + "." + section + "." + name
	if def, _ := m.Part.Choose(section, name, pin); def != nil && (len(def.Selectors) > 0 || m.AsksPinCurrent(def)) {
		if c.Values.IsName(pin) {
			return s + "(" + pin + ")"
		}
		return s + `("` + pin + `")`
	}
	return s
}

// LimitFor finds the limit a pin obeys: under the name its row gives, its own
// name, either with or without the underscore of the symbol.
func (m *Component) LimitFor(section string, q *Pin) (name string, ok bool) {
	name, ok = m.limitAmong(section, q)
	m.Part.Asked.Ask(m.Part, section, name, "V_"+strings.TrimPrefix(SymbolKey(q.Obeys()), "V"))
	return name, ok
}

func (m *Component) limitAmong(section string, q *Pin) (name string, ok bool) {
	for _, f := range m.Part.FactOrder {
		if f.Section == section && (SameSymbol(f.Name, q.Obeys()) || SameSymbol(f.Name, q.Row.Name) || SameSymbol(f.Name, "V_"+q.Obeys())) {
			if def, _ := m.Part.Choose(section, f.Name, q.Row.Name); def != nil {
				return f.Name, true
			}
		}
	}
	return "", false
}

// FactsFor are the facts that speak of a pin, "" for the part as a whole, under
// one of several names, those of an earlier name first.
func (p *Part) FactsFor(section, pin string, names ...string) (out []*Fact) {
	for _, s := range names {
		for _, f := range p.FactOrder {
			if f.Section != section || !SameSymbol(f.Name, s) {
				continue
			}
			if def, ok := p.Choose(section, f.Name, pin); def != nil && ok {
				out = append(out, f)
			}
		}
	}
	return out
}

// FactFor is the symbol of the first of them for a pin, "" without.
func (p *Part) FactFor(section string, q *Pin, names ...string) string {
	if l := p.FactsFor(section, q.Row.Name, names...); len(l) > 0 {
		return l[0].Name
	}
	return ""
}

// VoltageKnown says whether the voltage of a net is stated or driven.
func (c *Circuit) VoltageKnown(n *Net) bool { return n != nil && c.Values.VoltageKnown(n) }

// PlacedParts are the placed components that are parts with notes, and that are on.
func (c *Circuit) PlacedParts() []*Component {
	return slices.DeleteFunc(slices.Clone(c.Comps.List), func(m *Component) bool {
		return m.Part == nil || m.NotFitted() || m.Asleep || m.Part.Generic
	})
}

// Label names a part in a sentence: U1 (TQK, controller).
func (m *Component) Label() string {
	if m.Part == nil {
		return m.Ref
	}
	return m.Ref + " (" + m.Part.ID + ")"
}

// RowsOf are the entries a fact stands in.
func (p *Part) RowsOf(section, name string) []*notebook.Entry {
	var out []*notebook.Entry
	for _, f := range p.FactOrder {
		if f.Section == section && f.Name == name {
			out = append(out, f.Rows...)
		}
	}
	return out
}

// VoltageTold says that the voltage of a net is known, or that a diode or
// transistor alone leads to it from a supply whose voltage is.
func (c *Circuit) VoltageTold(n *Net) bool {
	return c.VoltageKnown(n) || n != nil && !FedFromOutside(n) && slices.ContainsFunc(n.Joined, func(j Joint) bool {
		from, to := j.Comp.NetworkEnds()
		if from == n {
			from = to
		}
		return (j.Comp.IsJunction() || j.Comp.IsTransistor()) &&
			from != nil && from != n && !IsReturn(from) && c.VoltageKnown(from)
	})
}
