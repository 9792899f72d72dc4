package checks

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"guardband/eval"
	"guardband/eval/circuit"
	"guardband/eval/record"
)

// feedbackDivider asks that the divider of an adjustable regulator makes the
// voltage that the rest of the board counts on.
var feedbackDivider = &eval.Check{
	Name: "feedback",
	Rule: "What the two resistors at the feedback pin of an adjustable regulator or converter (a part that notes " +
		"V_FB, V_REF or V_ADJ of a pin FB or ADJ) make of its output, V_FB · (1 + R_1 / R_2) + I_FB · R_1, is " +
		"within the voltage that is stated of that net, else within the supply range of what is on it. " +
		"Of a part without a ground pin the reference is across the upper resistor. A converter (a part that " +
		"notes f_SW) has a capacitor from that output to ground. What leads back from the output of an amplifier " +
		"leads to its inverting input, not to the other alone.",
	Source: "Kirchhoff's laws; common practice",
	Run: on(func(c *board, b *eval.Check) {
		for _, m := range c.PlacedParts() {
			amplifiers(c, b, m)
			for _, q := range m.Pins() {
				if n := m.PinNets[q]; n != nil && !c.IsRail(n) && q.IsFeedback() {
					feedbackAt(c, b, circuit.Joint{Comp: m, Pin: q}, n)
				}
			}
		}
	}),
}

var (
	amplifierPin = regexp.MustCompile(`(?i)^V?(?:([12ABCD]?)IN([12ABCD]?)_?([-+PMN])|([-+])IN([12ABCD]?)|(?:OUT|V?O)([12ABCD]?)|([12ABCD])?OUT)$`)
	comparing    = []string{"comparator", "schmitt", "oscillator", "timer", "latch", "hysteresis"}
)

// amplifiers asks of each amplifier of a part that what leads back from its output
// leads to the inverting input, which a comparator need not do.
func amplifiers(c *board, b *eval.Check, m *circuit.Component) {
	type pins struct{ out, plus, minus *circuit.Pin }
	units, order := map[string]*pins{}, []string(nil)
	for _, q := range m.Pins() {
		g := amplifierPin.FindStringSubmatch(q.Row.Name)
		if g == nil || m.PinNets[q] == nil {
			continue
		}
		key := strings.ToUpper(g[1] + g[2] + g[5] + g[6] + g[7])
		if units[key] == nil {
			units[key], order = &pins{}, append(order, key)
		}
		switch u := units[key]; g[3] + g[4] {
		case "+", "P", "p":
			u.plus = q
		case "":
			u.out = q
		default:
			u.minus = q
		}
	}
	for _, key := range order {
		u := units[key]
		if u.out == nil || u.plus == nil || u.minus == nil || u.out.OnlyPullsLow() || m.Says(comparing...) || !m.Part.HasSupply() {
			continue
		}
		out := m.PinNets[u.out]
		back := c.ReachOf(out).Nets
		if slices.Contains(back, m.PinNets[u.plus]) && !slices.Contains(back, m.PinNets[u.minus]) &&
			!hasCapacitorTo(out, m.PinNets[u.minus]) {
			c.Claim(b, subjects(m)[u.out], "What leads back from "+u.out.Row.Name+" of "+m.Label()+" leads to its inverting input.",
				u.out.Entry).Settle(record.Failed, out.Name+" leads back to "+u.plus.Row.Name+" alone, and not to "+u.minus.Row.Name+
				": the inputs are exchanged, or its title does not say that it is a comparator")
		}
	}
}

func hasCapacitorTo(n, to *circuit.Net) bool {
	return slices.ContainsFunc(n.Joined, func(j circuit.Joint) bool { return j.Comp.Sort() == "capacitor" && j.Comp.Opposite(n) == to })
}

func feedbackAt(c *board, b *eval.Check, p circuit.Joint, n *circuit.Net) {
	m := p.Comp
	ref := m.Part.FactNamed("spec", "V_FB", "V_REF", "V_ADJ")
	var upper, lower []*circuit.Component
	var out *circuit.Net
	other := ""
	for _, j := range n.Joined {
		switch o := j.Comp.Opposite(n); {
		case j.Comp == m || j.Comp.Sort() == "capacitor" || j.Comp.Sort() == "test point":
		case !j.Comp.IsResistor() || o == nil:
			other = j.Name()
		case circuit.IsReturn(o):
			lower = append(lower, j.Comp)
		default:
			out, upper = o, append(upper, j.Comp)
		}
	}
	if len(upper) == 0 || len(lower) == 0 {
		return // a fixed output, or a current that is sensed
	}
	cl := c.Claim(b, subjects(m)[p.Pin], "The divider at "+p.Pin.Row.Name+" of "+m.Label()+" makes the voltage that "+
		out.Name+" is to have.", m.Entry)
	if ref == "" {
		cl.Lacks("no fact", "the voltage at the feedback of "+p.Name()+" is not noted", "note `spec V_FB = ...` of part "+m.Part.ID)
		return
	}
	if other != "" || len(upper) > 1 || len(lower) > 1 {
		cl.Lacks("no fact", fmt.Sprintf("more than two resistors are at the feedback of %s, and the output they set is not worked out",
			p.Name()), "claim the output yourself, and skip this check with the reason")
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
		cl.Presume("the feedback pin of " + m.Ref + " takes no current (none is noted)")
	}
	madeOf(c, cl, text, out)
	if m.Part.FactNamed("spec", "f_SW", "f_OSC") != "" && !hasCapacitor(c, out) {
		cl.Settle(record.Failed, "there is no capacitor from "+out.Name+", the output of "+m.Ref+", to ground")
	}
}

// madeOf asks that a voltage worked out agrees with what is stated of its net,
// or suits what stands on it.
func madeOf(c *board, cl *eval.Claim, text string, out *circuit.Net) {
	if y := c.Voltage(out); y != nil && c.VoltageStated(out) {
		if y.Given {
			c.Try(cl, "abs("+text+" - "+c.NetText(out)+") <= 0.01 * abs("+c.NetText(out)+")")
			return
		}
		u := &coverage{c: c, cl: cl, y: y, what: "the voltage of " + out.Name}
		c.Later(text, func() { u.ask(told{text: text}) })
		return
	}
	asked := false
	for _, j := range out.PinsOf() {
		if limit, ok := j.Comp.LimitFor("operating", j.Pin); ok && j.Pin.Row.Type == "supply" {
			asked = true
			c.Try(cl, text+" inside "+c.FactText(j.Comp, "operating", limit, j.Pin.Row.Name))
		}
	}
	if !asked {
		cl.Lacks("no value", "it is not stated what "+out.Name+" is to be; the divider makes "+text, "give a value `"+out.Name+" = ...`")
	}
}

// hasCapacitor says that a capacitor leads from a net to the return, what ties
// join to it included.
func hasCapacitor(c *board, n *circuit.Net) bool {
	for _, at := range lineOf(c, n) {
		for _, j := range at.Joined {
			if o := j.Comp.Opposite(at); j.Comp.Sort() == "capacitor" && o != nil && circuit.IsReturn(o) {
				return true
			}
		}
	}
	return false
}
