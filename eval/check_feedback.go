package eval

import (
	"fmt"

	"guardband/eval/record"
	"guardband/notebook"
)

// feedbackDivider asks that the divider of an adjustable regulator makes the
// voltage that the rest of the board counts on.
var feedbackDivider = &builtin{
	name: "feedback",
	rule: "What the two resistors at the feedback pin of an adjustable regulator or converter (a part that notes V_FB, V_REF or V_ADJ of a pin FB or ADJ) make of its output, V_FB · (1 + R_1 / R_2) + I_FB · R_1, lies within the voltage that is stated of that net, else within the supply range of what stands on it. " +
		"Of a part without a ground pin the reference stands across the upper resistor. A converter (a part that notes f_SW) has a capacitor from that output to ground.",
	source: "Kirchhoff's laws; common practice",
	run: func(c *compiler, b *builtin) {
		for _, m := range c.placedParts() {
			for _, q := range m.part.pins {
				name := bareName(q.row.Name)
				if n := m.pinNets[q]; n != nil && !c.isRail(n) && (name == "FB" || name == "VFB" || name == "ADJ" || name == "VADJ") {
					c.feedbackAt(b, joint{m, q}, n)
				}
			}
		}
	},
}

func (c *compiler) feedbackAt(b *builtin, p joint, n *net) {
	m := p.comp
	ref := m.part.factNamed("spec", "V_FB", "V_REF", "V_ADJ")
	var upper, lower []*component
	var out *net
	other := ""
	for _, j := range n.joined {
		switch o := j.comp.opposite(n); {
		case j.comp == m || j.comp.notFitted() || j.comp.sort() == "capacitor" || j.comp.sort() == "test point":
		case !j.comp.isResistor() || o == nil:
			other = j.name()
		case isReturn(o):
			lower = append(lower, j.comp)
		default:
			out, upper = o, append(upper, j.comp)
		}
	}
	if ref == "" || len(upper) == 0 || len(lower) == 0 {
		return // a fixed output, or a current that is sensed
	}
	cl := c.builtClaim(b, subjects(m)[p.pin], "The divider at "+p.pin.row.Name+" of "+m.label()+" makes the voltage that "+out.name+" is to have.", m.entry)
	if other != "" || len(upper) > 1 || len(lower) > 1 {
		cl.lacks("no fact", fmt.Sprintf("more than two resistors stand at the feedback of %s, and what they make is not worked out", p.name()), "claim the output yourself, and skip this check with the reason")
		return
	}
	up, low := upper[0].ref, lower[0].ref
	text := m.ref + ".spec." + ref + " * (1 + " + up + " / " + low + ")"
	bias, across := m.part.factNamed("spec", "I_FB", "I_ADJ"), up
	if len(m.grounds()) == 0 {
		text, across = m.ref+".spec."+ref+" * (1 + "+low+" / "+up+")", low
	}
	if bias != "" {
		text += " + " + m.ref + ".spec." + bias + " * " + across
	} else {
		cl.presume("the feedback pin of " + m.ref + " takes no current (none is noted)")
	}
	c.madeOf(cl, text, out)
	if m.part.factNamed("spec", "f_SW", "f_OSC") != "" && !c.hasCapacitor(out) {
		cl.settle(record.Failed, "no capacitor stands from "+out.name+", the output of "+m.ref+", to ground")
	}
}

// madeOf asks that a voltage worked out agrees with what is stated of its net,
// or suits what stands on it.
func (c *compiler) madeOf(cl *claim, text string, out *net) {
	if y := c.netVoltage(out); y != nil && c.voltageStated(out) {
		if y.derived {
			c.try(cl, "abs("+text+" - "+c.netText(out)+") <= 0.01 * abs("+c.netText(out)+")")
			return
		}
		u := &coverage{c: c, cl: cl, y: y, what: "the voltage of " + out.name}
		c.lowerText(notebook.Text{S: text}, &scope{c: c}) // what it rests on has its conditions settled too
		c.late = append(c.late, func() { u.ask(told{text, false}) })
		return
	}
	asked := false
	for _, j := range out.pinsOf() {
		if limit, ok := j.comp.limitFor("operating", j.pin); ok && j.pin.row.Type == "supply" {
			asked = true
			c.try(cl, text+" inside "+factText(j.comp, "operating", limit, j.pin.row.Name))
		}
	}
	if !asked {
		cl.lacks("no value", "it is not stated what "+out.name+" is to be; the divider makes "+text, "give a value `"+out.name+" = ...`")
	}
}

// hasCapacitor says that a capacitor leads from a net to the return, what ties
// join to it included.
func (c *compiler) hasCapacitor(n *net) bool {
	for _, at := range c.lineOf(n) {
		for _, j := range at.joined {
			if o := j.comp.opposite(at); j.comp.sort() == "capacitor" && !j.comp.notFitted() && o != nil && isReturn(o) {
				return true
			}
		}
	}
	return false
}
