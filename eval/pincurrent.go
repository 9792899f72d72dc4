package eval

import (
	"slices"
	"strings"

	"guardband/eval/bound"
	"guardband/eval/circuit"
	"guardband/eval/formula"
	"guardband/notebook"
)

// This file works out the current of an output from the resistors that pull
// its net, where the use of the part does not state it. When the output is low
// each resistor to a rail brings at most the rail's voltage over its value,
// and each pin on the net its leakage; when it is high each resistor takes at
// most the output's own supply over its value. Both hold as long as nothing
// else stands on the net.

// countsDown says that a row counts a current out of the pin as negative, as
// many sheets do with I_OH: one of its ends lies below zero.
func (c *compiler) countsDown(d condition) bool {
	for _, v := range []*formula.Value{d.lo, d.hi} {
		if v == nil {
			continue
		}
		if x, ok := c.b.ConstOf(v.Reg); ok && x.Sign() < 0 {
			return true
		}
	}
	return false
}

// pinCurrent is the current of an output pin under the name that a condition
// gives it: anything from nothing to the most its net can bring, as the net
// may well bring less; down counts it as negative. Where the net cannot tell
// it the symbol is nil and the text says why.
func (c *compiler) pinCurrent(m *circuit.Component, pin, name string, down bool) (y *symbol, why string) {
	key := useKey{m, name + "(" + pin + ")"}
	if down {
		key.name = "-" + key.name
	}
	if y, ok := c.uses[key]; ok {
		return y, c.whyNot[key]
	}
	text, why := c.PinCurrent(m, pin, strings.HasSuffix(name, "L"))
	if text != "" {
		y = &symbol{name: m.Ref + "." + name + "(" + pin + ")", derived: true, comp: m, entry: m.Entry}
		y.define = func(y *symbol) { c.definePinCurrent(y, text, down) }
		if c.lower(y); y.val.Class != formula.Number || y.val.Type.Dim != circuit.DimAmpere {
			y, why = nil, text+" cannot be worked out"
		}
	}
	c.uses[key] = y
	if why != "" {
		if c.whyNot == nil {
			c.whyNot = map[useKey]string{}
		}
		c.whyNot[key] = why
	}
	return y, why
}

// definePinCurrent makes a current that may be anything from nothing to the
// most that a formula gives.
func (c *compiler) definePinCurrent(y *symbol, text string, down bool) {
	s := &scope{c: c}
	y.val, _, y.expr = c.lowerText(notebook.Text{S: text}, s)
	y.text, y.deps = "0 to "+text, s.used
	if y.val.Class != formula.Number {
		return
	}
	share := c.newInput(&input{name: "share of " + y.name, in: bound.Input{Lo: zero, Hi: one, SureLo: one, SureHi: one}})
	y.val.Reg = c.b.Binary(bound.OpMul, share, y.val.Reg)
	if down {
		y.text = "-(" + text + ") to 0"
		y.val.Reg = c.b.Unary(bound.OpNeg, y.val.Reg)
	}
}

// PinCurrent words the largest current of an output, or says what stands
// in the way.
func (c *compiler) PinCurrent(m *circuit.Component, pin string, low bool) (text, why string) {
	pins := m.PinsNamed(pin)
	if len(pins) == 0 || m.PinNets[pins[0]] == nil {
		return "", ""
	}
	for _, q := range pins[1:] {
		if m.PinNets[q] != m.PinNets[pins[0]] {
			return "", "several pins are named " + pin
		}
	}
	q, n := pins[0], m.PinNets[pins[0]]
	own := c.SupplyOf(m, q)
	switch {
	case !q.Drives(), c.IsRail(n):
		return "", ""
	case !low && (own == nil || !c.VoltageStated(own)):
		return "", "the supply of " + m.Ref + "." + pin + " is not known"
	}
	if why := othersOn(n, m, q, low); why != "" {
		return "", why
	}
	var sum []string
	for _, r := range c.ResistorsAt(n) {
		switch {
		case !c.ohms(r.Comp):
			return "", "the resistance of " + r.Comp.Ref + " is not stated"
		case !c.IsRail(r.Other):
			return "", r.Comp.Ref + " leads on to " + r.Other.Name
		case low && circuit.IsReturn(r.Other): // it can only take current away
		case !low:
			sum = append(sum, c.NetText(own)+" / "+r.Comp.Ref)
		case !c.VoltageStated(r.Other):
			return "", "the voltage of " + r.Other.Name + " is not known"
		default:
			sum = append(sum, c.NetText(r.Other)+" / "+r.Comp.Ref)
		}
	}
	for _, j := range n.PinsOf() {
		if j.Comp == m && j.Pin == q || !j.Pin.Reads() && !j.Pin.Drives() {
			continue
		}
		l := c.leakage(j)
		if l == "" {
			return "", "the leakage of " + j.Name() + " is not noted"
		}
		sum = append(sum, "abs("+l+")")
	}
	if len(sum) == 0 {
		return "0 A", ""
	}
	return strings.Join(sum, " + "), ""
}

// othersOn names what on a net may bring or take current besides resistors
// and the leakage of logic pins.
func othersOn(n *circuit.Net, m *circuit.Component, q *circuit.Pin, low bool) string {
	for _, j := range n.Joined {
		if j.Comp.NotFitted() || j.Comp == m && j.Pin == q || j.Comp.Open() || j.Comp.IsResistor() {
			continue
		}
		switch j.Comp.Sort() {
		case "capacitor", "test point":
			continue
		}
		switch {
		case j.Pin == nil:
			return j.Name() + " is on " + n.Name
		case circuit.Pushes(j.Pin):
			return j.Name() + " drives " + n.Name + " too"
		case bringsInside(j.Pin, low):
			return "the pull inside " + j.Name() + " is not known"
		case j.Pin.Reads(), j.Pin.Drives(), j.Pin.Row.Type == "not connected":
		default:
			return j.Name() + " is on " + n.Name
		}
	}
	if bringsInside(q, low) {
		return "the pull inside " + m.Ref + "." + q.Row.Name + " is not known"
	}
	return ""
}

// bringsInside says that a pull inside a pin adds to the current of an output
// that is low, or high.
func bringsInside(q *circuit.Pin, low bool) bool {
	return q.Has("keeper") || q.Has("pull-up") && low || q.Has("pull-down") && !low
}

// PulledBy words the currents of a driver that are worked out from its net, for
// the sentence of a claim; "" where the use states them.
func (c answers) PulledBy(d circuit.Joint) string {
	var out []string
	for _, f := range d.Comp.Part.FactOrder {
		if f.Section != "spec" || !circuit.SameSymbol(f.Name, "V_OL") && !circuit.SameSymbol(f.Name, "V_OH") || !d.Comp.AsksPinCurrent(f) {
			continue
		}
		if def, _ := d.Comp.Part.Choose("spec", f.Name, d.Pin.Row.Name); def != f {
			continue
		}
		for _, e := range f.Rows {
			for _, k := range e.Conds {
				if !circuit.PinSymbols[k.Name] || circuit.StatesUse(d.Comp.Row.InUse, k.Name) {
					continue
				}
				text, _ := c.PinCurrent(d.Comp, d.Pin.Row.Name, strings.HasSuffix(k.Name, "L"))
				if text = k.Name + " of " + d.Name() + " is at most " + text; !strings.HasSuffix(text, " ") && !slices.Contains(out, text) {
					out = append(out, text)
				}
			}
		}
	}
	return strings.Join(out, " and ")
}
