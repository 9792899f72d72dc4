package eval

import (
	"cmp"
	"slices"
	"strings"

	"guardband/eval/bound"
	"guardband/eval/circuit"
	"guardband/eval/formula"
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
	c.defineText(y, text)
	if y.text = "0 to " + text; y.val.Class != formula.Number {
		return
	}
	if y.val.Reg = c.upTo("share of "+y.name, y.val.Reg); down {
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
	q, n := pins[0], m.PinNets[pins[0]]
	own := c.SupplyOf(m, q)
	switch {
	case slices.ContainsFunc(pins, func(p *circuit.Pin) bool { return m.PinNets[p] != n }):
		return "", "several pins are named " + pin
	case !q.Drives(), c.IsRail(n):
		return "", ""
	case !low && (own == nil || !c.VoltageStated(own)):
		return "", "the supply of " + m.Ref + "." + pin + " is not known"
	}
	var pulls, leaks []string
	for _, j := range n.Joined {
		self := j.Comp == m && j.Pin == q
		switch kind := j.Comp.Sort(); {
		case j.Comp.Open(), kind == "capacitor", kind == "test point":
		case !self && j.Comp.IsResistor():
			from, far := own, j.Comp.Opposite(n)
			if low {
				from = far
			}
			r, _ := c.resistance(j.Comp)
			switch {
			case far == nil, far == n:
			case r == nil:
				return "", "the resistance of " + j.Comp.Ref + " is not stated"
			case !c.IsRail(far):
				return "", j.Comp.Ref + " leads on to " + far.Name
			case low && circuit.IsReturn(far): // it can only take current away
			case !c.VoltageStated(from):
				return "", "the voltage of " + from.Name + " is not known"
			default:
				pulls = append(pulls, c.NetText(from)+" / "+j.Comp.Ref)
			}
		case j.Pin == nil:
			return "", j.Name() + " is on " + n.Name
		case !self && circuit.Pushes(j.Pin):
			return "", j.Name() + " drives " + n.Name + " too"
		case bringsInside(j.Pin, low):
			return "", "the pull inside " + j.Name() + " is not known"
		case self, j.Pin.Row.Type == "not connected":
		case !j.Pin.Reads() && !j.Pin.Drives():
			return "", j.Name() + " is on " + n.Name
		default:
			l := c.leakage(j)
			if l == "" {
				return "", "the leakage of " + j.Name() + " is not noted"
			}
			leaks = append(leaks, "abs("+l+")")
		}
	}
	return cmp.Or(strings.Join(append(pulls, leaks...), " + "), "0 A"), ""
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
