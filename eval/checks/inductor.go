package checks

import (
	"cmp"
	"slices"

	"guardband/eval"
	"guardband/eval/circuit"
	"guardband/eval/record"
)

// inductorPeak asks that the inductor of a step-down converter does not
// saturate.
var inductorPeak = &eval.Check{
	Name: "inductor",
	Rule: "An inductor with a noted saturation current (I_SAT) between a converter (a part that notes its switching frequency f_SW) and its output carries at its peak at most four fifths of it: " +
		"I_OUT + (V_IN - V_OUT) · V_OUT / (2 · V_IN · f_SW · L). `in use: I_PK = ...` states the peak where the circuit is another. " +
		"A converter with a pin SW or LX has an inductor there, and the budget of its output is within its I_OUT.",
	Source: "common practice (volt-second balance, continuous conduction)",
	Run: on(func(c *board, b *eval.Check) {
		for _, m := range c.PlacedParts() {
			withoutCoil(c, b, m)
			sat := m.Part.FactNamed("spec", "I_SAT")
			peak, why := buckPeak(c, m)
			if m.Part.Sort() != "inductor" || sat == "" && peak == "" {
				continue
			}
			cl := c.Claim(b, m.Ref, "Inductor "+m.Label()+" does not saturate.", m.Entry)
			if sat == "" {
				cl.Lacks("no fact", "no saturation current is noted for part "+m.Part.ID, "note `spec I_SAT = ...`")
				continue
			}
			if use := m.UseNamed("I_PK", "I_PEAK"); use != "" {
				k, _ := derating(c, cl, m, "inductor")
				c.Try(cl, m.Ref+".use."+use+" <= "+cmp.Or(k, "0.8 * ")+m.Ref+"."+sat)
				continue
			}
			if peak != "" {
				k, _ := derating(c, cl, m, "inductor")
				c.Try(cl, peak+" <= "+cmp.Or(k, "0.8 * ")+m.Ref+"."+sat)
			} else {
				cl.Lacks("no value", "the peak current of "+m.Ref+" is not known: "+why, "state `in use: I_PK = ...` in its row")
			}
		}
	}),
}

// withoutCoil judges a converter by what is on its switching output: a coil, which
// leads to an output whose load is within the converter's own.
func withoutCoil(c *board, b *eval.Check, m *circuit.Component) {
	sw := m.End("SW", "LX", "SW1")
	if m.Part.FactNamed("spec", "f_SW") == "" || sw == nil {
		return
	}
	coil, outside := (*circuit.Component)(nil), false
	for _, j := range sw.Joined {
		if k := j.Comp.Sort(); k == "inductor" || k == "transformer" {
			coil = j.Comp
		}
		outside = outside || j.Comp.IsConnector() || j.Comp.Unnoted()
	}
	if coil == nil && !outside {
		c.Claim(b, m.Ref, "Converter "+m.Label()+" has its coil.", m.Entry).Settle(record.Failed,
			"no inductor is on "+sw.Name+", the switching output of "+m.Ref)
		return
	}
	limit := m.Part.FactNamed("operating", "I_OUT", "I_O", "I_LOAD")
	if coil == nil || limit == "" || m.UseNamed("I_OUT", "I_LOAD") != "" {
		return
	}
	if out := coil.Opposite(sw); out != nil && !slices.Contains(m.Supplies(), out) && c.Peak(out) != "" {
		cl := c.Claim(b, m.Ref, "Converter "+m.Label()+" carries the load of "+out.Name+".", m.Entry)
		c.Try(cl, c.Peak(out)+" <= "+m.Ref+".operating."+limit+".max")
	}
}

// buckPeak spells the peak current of the inductor of a step-down converter.
func buckPeak(c *board, m *circuit.Component) (text, why string) {
	a, b, ok := m.Ends()
	if !ok {
		return "", "its nets are not known"
	}
	for _, side := range [][2]*circuit.Net{{a, b}, {b, a}} {
		sw, out := side[0], side[1]
		for _, j := range sw.Joined {
			if j.Pin == nil || j.Comp.Part.FactNamed("spec", "f_SW") == "" || !c.VoltageKnown(out) {
				continue
			}
			u := j.Comp
			if slices.Contains(u.Supplies(), out) {
				return "", "it is at the input of " + u.Ref + ", so that is not a step-down converter"
			}
			f := u.Ref + "." + u.Part.FactNamed("spec", "f_SW")
			s := u.Supplies()
			load := loadAt(c, u, out)
			switch {
			case m.Part.FactNamed("spec", "L") == "":
				return "", "no inductance is noted for part " + m.Part.ID
			case len(s) == 0 || !c.VoltageKnown(s[0]):
				return "", "the voltage at the input of " + u.Ref + " is not known"
			case load == "":
				return "", "the load of " + u.Ref + " is not stated (`in use: I_OUT = ...`)"
			}
			in, v := c.NetText(s[0]), c.NetText(out)
			return load + " + (" + in + " - " + v + ") * " + v + " / (2 * " + in + " * " + f + " * " + m.Ref + ")", ""
		}
	}
	return "", "no converter with a noted f_SW and an output of known voltage is connected to it"
}
