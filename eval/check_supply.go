package eval

// supplyRange asks that the voltage of every supply pin stays inside the
// operating range noted for it.
var supplyRange = &builtin{
	name:   "supply-range",
	rule:   "The voltage at each supply pin stays inside the recommended operating range of the pin.",
	source: "common practice; recommended operating conditions of the part's own sheet",
	run: func(c *compiler, b *builtin) {
		for _, m := range c.placedParts() {
			names, done := subjects(m), map[string]bool{}
			for _, q := range m.part.pins {
				n := m.pinNets[q]
				if q.row.Type != "supply" || n == nil {
					continue // a supply pin without a net is told by pin-map
				}
				name, ok := m.limitFor("operating", q)
				if !ok {
					name, ok = c.totalLimit(m, "operating", n)
				}
				if ok && seenBefore(done, name, n.name) {
					continue
				}
				cl := c.builtClaim(b, names[q], "The supply of "+m.label()+" at "+q.row.Name+" stays inside its operating range"+m.linkedBy(q)+".", q.entry)
				for _, l := range n.links {
					cl.entries = append(cl.entries, l.entry)
				}
				switch {
				case !ok:
					cl.lacks("no fact", "no operating range is noted for "+q.row.Name+" of part "+m.part.id, "note `operating "+q.obeys()+" = ...` from the recommended operating conditions")
				case !c.voltageTold(n):
					cl.lacks("no value", "the voltage of net "+n.name+" is not known", "give a value `"+n.name+" = ...`, or note the output voltage of the part that drives it")
				default:
					c.askPin(cl, n, m, "operating", name, q.row.Name)
				}
			}
		}
	},
}
