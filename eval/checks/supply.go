package checks

import "guardband/eval"

// supplyRange asks that the voltage of every supply pin stays inside the
// operating range noted for it.
var supplyRange = &eval.Check{
	Name:   "supply-range",
	Rule:   "The voltage at each supply pin stays inside the recommended operating range of the pin.",
	Source: "common practice; recommended operating conditions of the part's own sheet",
	Run: on(func(c *board, b *eval.Check) {
		for _, m := range c.PlacedParts() {
			names, done := subjects(m), map[string]bool{}
			for _, q := range m.Pins() {
				n := m.PinNets[q]
				if q.Row.Type != "supply" || n == nil {
					continue // a supply pin without a net is told by pin-map
				}
				name, ok := m.LimitFor("operating", q)
				if !ok {
					name, ok = totalLimit(c, m, "operating", n)
				}
				if ok && eval.SeenBefore(done, name, n.Name) {
					continue
				}
				cl := c.Claim(b, names[q], "The supply of "+m.Label()+" at "+q.Row.Name+
					" stays inside its operating range"+m.LinkedBy(q)+".", q.Entry)
				for _, l := range n.Links {
					cl.Entries = append(cl.Entries, l.Entry)
				}
				switch {
				case !ok:
					cl.Lacks("no fact", "no operating range is noted for "+q.Row.Name+" of part "+m.Part.ID,
						"note `operating "+q.Obeys()+" = ...` from the recommended operating conditions")
				case !c.VoltageTold(n):
					cl.Lacks("no value", "the voltage of net "+n.Name+" is not known", "give a value `"+n.Name+
						" = ...`, or note the output voltage of the part that drives it")
				default:
					askPin(c, cl, n, m, "operating", name, q.Row.Name)
				}
			}
		}
	}),
}
