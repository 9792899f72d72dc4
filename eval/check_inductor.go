package eval

import "slices"

// inductorPeak asks that the inductor of a step-down converter does not
// saturate.
var inductorPeak = &builtin{
	name: "inductor",
	rule: "An inductor with a noted saturation current (I_SAT) between a converter (a part that notes its switching frequency f_SW) and its output carries at its peak at most four fifths of it: " +
		"I_OUT + (V_IN - V_OUT) · V_OUT / (2 · V_IN · f_SW · L). `in use: I_PK = ...` states the peak where the circuit is another.",
	source: "common practice (volt-second balance, continuous conduction)",
	run: func(c *compiler, b *builtin) {
		for _, m := range c.placedParts() {
			sat := m.part.factNamed("spec", "I_SAT")
			if sat == "" || m.part.sort() != "inductor" {
				continue
			}
			cl := c.builtClaim(b, m.ref, "Inductor "+m.label()+" does not saturate.", m.entry)
			if use := m.useNamed("I_PK", "I_PEAK"); use != "" {
				c.try(cl, m.ref+".use."+use+" <= 0.8 * "+m.ref+"."+sat)
				continue
			}
			if text, why := c.buckPeak(m); text != "" {
				c.try(cl, text+" <= 0.8 * "+m.ref+"."+sat)
			} else {
				cl.lacks("no value", "the peak current of "+m.ref+" is not known: "+why, "state `in use: I_PK = ...` in its row")
			}
		}
	},
}

// buckPeak spells the peak current of the inductor of a step-down converter.
func (c *compiler) buckPeak(m *component) (text, why string) {
	a, b, ok := m.ends()
	if !ok {
		return "", "its nets are not known"
	}
	for _, side := range [][2]*net{{a, b}, {b, a}} {
		sw, out := side[0], side[1]
		for _, j := range sw.joined {
			if j.pin == nil || j.comp.part.factNamed("spec", "f_SW") == "" || !c.voltageKnown(out) {
				continue
			}
			u := j.comp
			if slices.Contains(u.supplies(), out) {
				return "", "it stands at the input of " + u.ref + ", so that is no step-down converter"
			}
			f := u.ref + "." + u.part.factNamed("spec", "f_SW")
			s := u.supplies()
			load := c.loadAt(u, out)
			switch {
			case m.part.factNamed("spec", "L") == "":
				return "", "no inductance is noted for part " + m.part.id
			case len(s) == 0 || !c.voltageKnown(s[0]):
				return "", "the voltage at the input of " + u.ref + " is not known"
			case load == "":
				return "", "the load of " + u.ref + " is not stated (`in use: I_OUT = ...`)"
			}
			in, v := c.netText(s[0]), c.netText(out)
			return load + " + (" + in + " - " + v + ") * " + v + " / (2 * " + in + " * " + f + " * " + m.ref + ")", ""
		}
	}
	return "", "no converter with a noted f_SW and an output of known voltage stands at it"
}
