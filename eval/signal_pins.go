package eval

import (
	"slices"
	"strings"

	"guardband/eval/formula"
	"guardband/units"
)

// This file says what the noted pins do on a net: which drive it, which read
// it, which can only pull it. Nothing is guessed from a part's name.

func (q *pin) has(flag string) bool { return slices.Contains(q.row.Flags, flag) }

// drives says that a pin can set the level of its net.
func (q *pin) drives() bool {
	switch q.row.Type {
	case "output", "bidirectional":
		return true
	case "clock":
		return q.has("output")
	}
	return false
}

// brings says that a pin can put the voltage of its part's supply on its net.
func (q *pin) brings() bool { return q.drives() || q.row.Type == "analog output" }

// reads says that a pin takes a logic level from its net.
func (q *pin) reads() bool {
	switch q.row.Type {
	case "input", "bidirectional":
		return true
	case "clock":
		return !q.has("output")
	}
	return false
}

// onlyReads says that a pin is an input and nothing else.
func (q *pin) onlyReads() bool { return q.reads() && !q.drives() }

// onlyPullsLow says that a pin cannot drive its net high.
func (q *pin) onlyPullsLow() bool {
	return q.drives() && (q.has("open drain") || q.has("open collector"))
}

// pulledInside says that the sheet notes a pull at the pin.
func (q *pin) pulledInside() bool {
	return q.has("pull-up") || q.has("pull-down") || q.has("keeper")
}

// letsGo says that an output can leave its net alone.
func (q *pin) letsGo() bool {
	return q.has("open drain") || q.has("open collector") || q.has("open source") || q.has("three-state")
}

// isRail says that a net carries a supply or the common return, not a signal.
func (c *compiler) isRail(n *net) bool {
	rail, known := c.rails[n]
	if !known {
		rail = c.findRail(n)
		if c.rails == nil {
			c.rails = map[*net]bool{}
		}
		c.rails[n] = rail
	}
	return rail
}

func (c *compiler) findRail(n *net) bool {
	if isGround(n.name) || c.voltageKnown(n) {
		return true
	}
	for _, j := range n.joined {
		if j.pin != nil {
			switch j.pin.row.Type {
			case "supply", "supply output", "ground":
				return true
			}
		}
	}
	return false
}

// isReturn says that a net is the common return: by its name, or a ground pin
// of a part stands on it and no supply does.
func isReturn(n *net) bool {
	if isGround(n.name) {
		return true
	}
	ground := false
	for _, j := range n.joined {
		if j.pin != nil && j.pin.row.Type == "ground" {
			ground = true
		}
		if j.pin != nil && (j.pin.row.Type == "supply" || j.pin.row.Type == "supply output") {
			return false
		}
	}
	return ground
}

// signalNets are the nets that carry no supply, in the order they were named.
func (c *compiler) signalNets() []*net {
	var out []*net
	for _, n := range c.nets.list {
		if !c.isRail(n) {
			out = append(out, n)
		}
	}
	return out
}

// pinsOf are the noted pins that stand on a net, of parts that are fitted.
func (n *net) pinsOf() []joint {
	var out []joint
	for _, j := range n.joined {
		if j.pin != nil && !j.comp.notFitted() {
			out = append(out, j)
		}
	}
	return out
}

// resistor is one that joins a net to another.
type resistor struct {
	comp  *component
	other *net
}

// resistorsAt are the placed resistors on a net, with their far ends.
func (c *compiler) resistorsAt(n *net) []resistor {
	var out []resistor
	for _, j := range n.joined {
		if j.comp.notFitted() || !j.comp.isResistor() {
			continue
		}
		if far := j.comp.farEnd(n); far != nil && far != n {
			out = append(out, resistor{j.comp, far})
		}
	}
	return out
}

// isResistor says that a component is a resistor: of that kind, or a part of
// two pins that notes a resistance R.
func (m *component) isResistor() bool {
	if m.part == nil {
		return m.kind == "resistor"
	}
	return len(m.part.pins) == 2 && m.part.hasFact("R")
}

// farEnd is the net at the other end of a two-terminal component.
func (m *component) farEnd(n *net) *net {
	a, b := m.conns["1"], m.conns["2"]
	if m.part != nil && len(m.part.pins) == 2 {
		a, b = m.pinNets[m.part.pins[0]], m.pinNets[m.part.pins[1]]
	}
	if a == n {
		return b
	}
	return a
}

// pulls are the resistors from a signal net to a rail or to the return.
func (c *compiler) pulls(n *net) []resistor {
	var out []resistor
	for _, r := range c.resistorsAt(n) {
		if c.isRail(r.other) {
			out = append(out, r)
		}
	}
	return out
}

// ohms says that the resistance of a component is a known quantity.
func (c *compiler) ohms(m *component) bool {
	y := c.componentSymbol(m)
	if y == nil {
		return false
	}
	c.lower(y)
	return y.val.Class == formula.Number && y.val.Type.Dim == dimOhm
}

// dimensions, exponents in halves (metre, kilogram, second, ampere).
var (
	dimOhm    = units.Dim{4, 2, -6, -4}
	dimAmpere = units.Dim{0, 0, 0, 2}
	dimFarad  = units.Dim{-4, -2, 8, 4}
	dimSecond = units.Dim{0, 0, 2}
)

// pinFact finds the fact of a pin under one of the symbols the trade gives it,
// with the text that names it in a formula; nil where the notes have none.
func (c *compiler) pinFact(m *component, section string, q *pin, dim units.Dim, symbols ...string) (*symbol, string) {
	if m.part == nil {
		return nil, ""
	}
	y, text := c.pinFactAmong(m, section, q, dim, symbols)
	found := ""
	if y != nil {
		found = symbols[0]
	}
	m.part.asked.ask(m.part, section, found, symbols...)
	return y, text
}

func (c *compiler) pinFactAmong(m *component, section string, q *pin, dim units.Dim, symbols []string) (*symbol, string) {
	for _, s := range symbols {
		for _, f := range m.part.factOrder {
			if f.section != section || !sameSymbol(f.name, s) {
				continue
			}
			def, err := m.part.choose(section, f.name, q.row.Name)
			if def == nil || err != nil {
				continue
			}
			y, err := c.fact(m, section, f.name, q.row.Name)
			if y == nil || err != nil {
				continue
			}
			c.lower(y)
			if (y.val.Class == formula.Number || y.val.Class == formula.Set) && y.val.Type.Dim == dim {
				return y, factText(m, section, f.name, q.row.Name)
			}
		}
	}
	return nil, ""
}

// limitEnd names one end of a limit of a pin: `U6.operating.V_IH.min`; "" where
// it is not stated.
func (c *compiler) limitEnd(m *component, q *pin, dim units.Dim, column string, symbols ...string) string {
	y, text := c.pinFact(m, "operating", q, dim, symbols...)
	k := map[string]int{"min": 0, "max": 2}[column]
	if y == nil || y.cols[k] == nil {
		return ""
	}
	return text + "." + column
}

// leakage names the leakage of a pin, "" where the notes have none.
func (c *compiler) leakage(j joint) string {
	_, text := c.pinFact(j.comp, "spec", j.pin, dimAmpere, "I_LEAK", "I_LKG", "I_LI", "I_L", "I_CEO")
	return text
}

func pinNames(js []joint) string {
	var out []string
	for _, j := range js {
		out = append(out, j.name())
	}
	return strings.Join(out, ", ")
}

// levelSource says what gives a net its level when nothing else does, for a
// pin that reads it; "" where nothing on the net can.
func (c *compiler) levelSource(n *net, reader joint) string {
	if c.isRail(n) {
		return "tied to " + n.name
	}
	for _, j := range n.joined {
		if j.comp.notFitted() || j.comp.open() || j == reader {
			continue
		}
		if j.pin != nil {
			switch {
			case j.pin.drives(), j.pin.pulledInside():
				return j.name()
			case slices.Contains([]string{"passive", "analog", "analog output", "reserved"}, j.pin.row.Type) && !j.comp.isResistor():
				return j.name()
			}
			continue
		}
		if slices.Contains([]string{"switch", "jumper", "connector", "link", "wire", "transformer", "relay", "diode", "LED", "Zener diode", "thermistor", "ferrite bead", "inductor", "fuse"}, j.comp.kind) {
			return j.comp.ref
		}
	}
	for _, r := range c.resistorsAt(n) {
		if c.isRail(r.other) || len(r.other.joined) > 1 {
			return r.comp.ref
		}
	}
	return ""
}
