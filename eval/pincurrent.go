package eval

import (
	"slices"
	"strings"

	"guardband/eval/bound"
	"guardband/eval/formula"
	"guardband/notebook"
)

// This file works out the current of an output from the resistors that pull
// its net, where the use of the part does not state it. When the output is low
// each resistor to a rail brings at most the rail's voltage over its value,
// and each pin on the net its leakage; when it is high each resistor takes at
// most the output's own supply over its value. Both hold as long as nothing
// else stands on the net.

// pinSymbols are the conditions of an output that its net can tell.
var pinSymbols = map[string]bool{"I_OL": true, "IOL": true, "I_OH": true, "IOH": true}

// asksPinCurrent says that a fact holds at a current of one pin, which is not
// stated for the part as a whole.
func (m *component) asksPinCurrent(f *factDef) bool {
	if m.virtual || f.section != "spec" {
		return false
	}
	for _, e := range f.rows {
		for _, k := range e.Conds {
			if k.Flag == "" && pinSymbols[k.Name] && !statesUse(m.row.InUse, k.Name) {
				return true
			}
		}
	}
	return false
}

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
func (c *compiler) pinCurrent(m *component, pin, name string, down bool) (y *symbol, why string) {
	key := useKey{m, name + "(" + pin + ")"}
	if down {
		key.name = "-" + key.name
	}
	if y, ok := c.uses[key]; ok {
		return y, c.whyNot[key]
	}
	text, why := c.pinCurrentText(m, pin, strings.HasSuffix(name, "L"))
	if text != "" {
		y = &symbol{name: m.ref + "." + name + "(" + pin + ")", derived: true, comp: m, entry: m.entry}
		y.define = func(y *symbol) { c.definePinCurrent(y, text, down) }
		if c.lower(y); y.val.Class != formula.Number || y.val.Type.Dim != dimAmpere {
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
	y.own().text, y.deps = "0 to "+text, s.used
	if y.val.Class != formula.Number {
		return
	}
	share := c.newInput(&input{name: "share of " + y.name, in: bound.Input{Lo: zero, Hi: one, SureLo: one, SureHi: one}})
	y.val.Reg = c.b.Binary(bound.OpMul, share, y.val.Reg)
	if down {
		y.own().text = "-(" + text + ") to 0"
		y.val.Reg = c.b.Unary(bound.OpNeg, y.val.Reg)
	}
}

// pinCurrentText words the largest current of an output, or says what stands
// in the way.
func (c *compiler) pinCurrentText(m *component, pin string, low bool) (text, why string) {
	pins := m.part.pinsNamed(pin)
	if len(pins) == 0 || m.pinNets[pins[0]] == nil {
		return "", ""
	}
	for _, q := range pins[1:] {
		if m.pinNets[q] != m.pinNets[pins[0]] {
			return "", "several pins are named " + pin
		}
	}
	q, n := pins[0], m.pinNets[pins[0]]
	own := c.supplyOf(m, q)
	switch {
	case !q.drives(), c.isRail(n):
		return "", ""
	case !low && (own == nil || !c.voltageStated(own)):
		return "", "the supply of " + m.ref + "." + pin + " is not known"
	}
	if why := othersOn(n, m, q, low); why != "" {
		return "", why
	}
	var sum []string
	for _, r := range c.resistorsAt(n) {
		switch {
		case !c.ohms(r.comp):
			return "", "the resistance of " + r.comp.ref + " is not stated"
		case !c.isRail(r.other):
			return "", r.comp.ref + " leads on to " + r.other.name
		case low && isReturn(r.other): // it can only take current away
		case !low:
			sum = append(sum, c.netText(own)+" / "+r.comp.ref)
		case !c.voltageStated(r.other):
			return "", "the voltage of " + r.other.name + " is not known"
		default:
			sum = append(sum, c.netText(r.other)+" / "+r.comp.ref)
		}
	}
	for _, j := range n.pinsOf() {
		if j.comp == m && j.pin == q || !j.pin.reads() && !j.pin.drives() {
			continue
		}
		l := c.leakage(j)
		if l == "" {
			return "", "the leakage of " + j.name() + " is not noted"
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
func othersOn(n *net, m *component, q *pin, low bool) string {
	for _, j := range n.joined {
		if j.comp.notFitted() || j.comp == m && j.pin == q || j.comp.open() || j.comp.isResistor() {
			continue
		}
		switch j.comp.sort() {
		case "capacitor", "test point":
			continue
		}
		switch {
		case j.pin == nil:
			return j.name() + " is on " + n.name
		case pushes(j.pin):
			return j.name() + " drives " + n.name + " too"
		case bringsInside(j.pin, low):
			return "the pull inside " + j.name() + " is not known"
		case j.pin.reads(), j.pin.drives(), j.pin.row.Type == "not connected":
		default:
			return j.name() + " is on " + n.name
		}
	}
	if bringsInside(q, low) {
		return "the pull inside " + m.ref + "." + q.row.Name + " is not known"
	}
	return ""
}

// bringsInside says that a pull inside a pin adds to the current of an output
// that is low, or high.
func bringsInside(q *pin, low bool) bool {
	return q.has("keeper") || q.has("pull-up") && low || q.has("pull-down") && !low
}

// pulledBy words the currents of a driver that are worked out from its net, for
// the sentence of a claim; "" where the use states them.
func (c *compiler) pulledBy(d joint) string {
	var out []string
	for _, f := range d.comp.part.factOrder {
		if f.section != "spec" || !sameSymbol(f.name, "V_OL") && !sameSymbol(f.name, "V_OH") || !d.comp.asksPinCurrent(f) {
			continue
		}
		if def, _ := d.comp.part.choose("spec", f.name, d.pin.row.Name); def != f {
			continue
		}
		for _, e := range f.rows {
			for _, k := range e.Conds {
				if !pinSymbols[k.Name] || statesUse(d.comp.row.InUse, k.Name) {
					continue
				}
				text, _ := c.pinCurrentText(d.comp, d.pin.row.Name, strings.HasSuffix(k.Name, "L"))
				if text = k.Name + " of " + d.name() + " is at most " + text; !strings.HasSuffix(text, " ") && !slices.Contains(out, text) {
					out = append(out, text)
				}
			}
		}
	}
	return strings.Join(out, " and ")
}
