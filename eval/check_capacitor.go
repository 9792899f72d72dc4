package eval

// capacitorVoltage asks that no capacitor sees more than its rated voltage.
var capacitorVoltage = &builtin{
	name: "capacitor-voltage",
	rule: "The highest voltage that can stand across each capacitor stays within its rated voltage times the derating asked. " +
		"A net without a stated voltage is taken to stand anywhere between the voltages that feed it. The rating is the note's V_R, or an option of the row (16 V); `in use: V = ...` states what the capacitor sees where the net cannot tell.",
	source: "common practice; IEC 60384-1 (rated voltage)",
	run: func(c *compiler, b *builtin) {
		l := &unknowns{}
		for _, m := range c.comps.list {
			if m.notFitted() || m.sort() != "capacitor" {
				continue
			}
			limit, ok := m.rated(volt.Dim, "V_R", "V_RATED", "V_N", "V_DC", "V_AC", "V_C")
			if !ok {
				l.refs = append(l.refs, m.ref)
				continue
			}
			cl := c.builtClaim(b, m.ref, "Capacitor "+m.ref+" stays within its rated voltage.", m.entry)
			across, why := c.stress(m)
			if len(across) == 0 {
				cl.lacks("no value", "the voltage across "+m.ref+" is not known: "+why, "give the net a value, or state `in use: V = ...` in the row of "+m.ref)
			}
			for _, v := range across {
				c.try(cl, "abs("+v+") <= "+c.derating(m, "capacitor")+limit.text)
			}
		}
		l.tell(c, b, "rating", "Each capacitor states its rated voltage.", "no rated voltage is known of ", "note `absmax V_R` of the part, or give the row a rating: `capacitor 100 nF, 16 V`")
	},
}
