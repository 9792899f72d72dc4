package eval

import (
	"fmt"

	"guardband/eval/circuit"
	"guardband/eval/record"
)

// feedbackDivider asks that the divider of an adjustable regulator makes the
// voltage that the rest of the board counts on.
var feedbackDivider = &builtin{
	name: "feedback",
	rule: "What the two resistors at the feedback pin of an adjustable regulator or converter (a part that notes V_FB, V_REF or V_ADJ of a pin FB or ADJ) make of its output, V_FB · (1 + R_1 / R_2) + I_FB · R_1, lies within the voltage that is stated of that net, else within the supply range of what stands on it. " +
		"Of a part without a ground pin the reference stands across the upper resistor. A converter (a part that notes f_SW) has a capacitor from that output to ground.",
	source: "Kirchhoff's laws; common practice",
	run: func(c *compiler, b *builtin) {
		for _, m := range c.PlacedParts() {
			for _, q := range m.Part.Pins {
				name := circuit.BareName(q.Row.Name)
				if n := m.PinNets[q]; n != nil && !c.IsRail(n) && (name == "FB" || name == "VFB" || name == "ADJ" || name == "VADJ") {
					c.feedbackAt(b, circuit.Joint{Comp: m, Pin: q}, n)
				}
			}
		}
	},
}

func (c *compiler) feedbackAt(b *builtin, p circuit.Joint, n *circuit.Net) {
	m := p.Comp
	ref := m.Part.FactNamed("spec", "V_FB", "V_REF", "V_ADJ")
	var upper, lower []*circuit.Component
	var out *circuit.Net
	other := ""
	for _, j := range n.Joined {
		switch o := j.Comp.Opposite(n); {
		case j.Comp == m || j.Comp.NotFitted() || j.Comp.Sort() == "capacitor" || j.Comp.Sort() == "test point":
		case !j.Comp.IsResistor() || o == nil:
			other = j.Name()
		case circuit.IsReturn(o):
			lower = append(lower, j.Comp)
		default:
			out, upper = o, append(upper, j.Comp)
		}
	}
	if ref == "" || len(upper) == 0 || len(lower) == 0 {
		return // a fixed output, or a current that is sensed
	}
	cl := c.builtClaim(b, subjects(m)[p.Pin], "The divider at "+p.Pin.Row.Name+" of "+m.Label()+" makes the voltage that "+out.Name+" is to have.", m.Entry)
	if other != "" || len(upper) > 1 || len(lower) > 1 {
		cl.lacks("no fact", fmt.Sprintf("more than two resistors stand at the feedback of %s, and what they make is not worked out", p.Name()), "claim the output yourself, and skip this check with the reason")
		return
	}
	up, low := upper[0].Ref, lower[0].Ref
	text := m.Ref + ".spec." + ref + " * (1 + " + up + " / " + low + ")"
	bias, across := m.Part.FactNamed("spec", "I_FB", "I_ADJ"), up
	if len(m.Grounds()) == 0 {
		text, across = m.Ref+".spec."+ref+" * (1 + "+low+" / "+up+")", low
	}
	if bias != "" {
		text += " + " + m.Ref + ".spec." + bias + " * " + across
	} else {
		cl.presume("the feedback pin of " + m.Ref + " takes no current (none is noted)")
	}
	c.madeOf(cl, text, out)
	if m.Part.FactNamed("spec", "f_SW", "f_OSC") != "" && !c.hasCapacitor(out) {
		cl.settle(record.Failed, "no capacitor stands from "+out.Name+", the output of "+m.Ref+", to ground")
	}
}

// madeOf asks that a voltage worked out agrees with what is stated of its net,
// or suits what stands on it.
func (c *compiler) madeOf(cl *claim, text string, out *circuit.Net) {
	if y := c.Voltage(out); y != nil && c.voltageStated(out) {
		if y.Given {
			c.try(cl, "abs("+text+" - "+c.NetText(out)+") <= 0.01 * abs("+c.NetText(out)+")")
			return
		}
		u := &coverage{c: c, cl: cl, y: y, what: "the voltage of " + out.Name}
		c.Later(text, func() { u.ask(told{text, false}) })
		return
	}
	asked := false
	for _, j := range out.PinsOf() {
		if limit, ok := j.Comp.LimitFor("operating", j.Pin); ok && j.Pin.Row.Type == "supply" {
			asked = true
			c.try(cl, text+" inside "+c.FactText(j.Comp, "operating", limit, j.Pin.Row.Name))
		}
	}
	if !asked {
		cl.lacks("no value", "it is not stated what "+out.Name+" is to be; the divider makes "+text, "give a value `"+out.Name+" = ...`")
	}
}

// hasCapacitor says that a capacitor leads from a net to the return, what ties
// join to it included.
func (c *compiler) hasCapacitor(n *circuit.Net) bool {
	for _, at := range c.lineOf(n) {
		for _, j := range at.Joined {
			if o := j.Comp.Opposite(at); j.Comp.Sort() == "capacitor" && !j.Comp.NotFitted() && o != nil && circuit.IsReturn(o) {
				return true
			}
		}
	}
	return false
}
