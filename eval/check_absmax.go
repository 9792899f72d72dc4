package eval

// absoluteMaximum asks that whatever the notes state of a part's use lies
// inside its absolute maximum ratings.
var absoluteMaximum = &builtin{
	name:   "absmax",
	rule:   "What a part is exposed to stays inside its absolute maximum ratings. Staying inside them is no permission to operate there.",
	source: "JEDEC JESD99 (maximum rating); common practice",
	run: func(c *compiler, b *builtin) {
		c.limitsOfUse(b, "absmax", "stays inside the absolute maximum rating")
	},
}

// limitsOfUse makes a claim for each limit of a section whose subject the
// notes state: the voltage of a pin's net, the ambient temperature, a
// condition of use.
func (c *compiler) limitsOfUse(b *builtin, section, says string) {
	for _, m := range c.placedParts() {
		done := map[string]bool{}
		for _, f := range m.part.factOrder {
			if f.section != section || seenBefore(done, f.name, selectorKey(f)) {
				continue
			}
			if len(f.selectors) > 0 {
				c.limitOfPins(b, m, f, says)
				continue
			}
			c.limitOfUse(b, m, f, says, done)
		}
	}
}

func selectorKey(f *factDef) string {
	s := ""
	for _, x := range f.selectors {
		s += x + ","
	}
	return s
}

// limitOfUse judges a limit of the part as a whole.
func (c *compiler) limitOfUse(b *builtin, m *component, f *factDef, says string, done map[string]bool) {
	pins := 0
	for _, q := range m.part.pins {
		if name, ok := m.limitFor(f.section, q); !ok || name != f.name {
			continue
		}
		pins++
		n := m.pinNets[q]
		supply, conditions := q.row.Type == "supply", b.name == "conditions"
		brought := conditions && isExposed(q) && !q.drives() && n != nil && c.fedFrom(n)
		if n == nil || !c.voltageKnown(n) && !(supply && c.voltageTold(n)) && !brought ||
			conditions && supply || seenBefore(done, f.name, "net", n.name) {
			continue
		}
		cl := c.builtClaim(b, subjects(m)[q], "The voltage at "+q.row.Name+" of "+m.label()+" "+says+".", f.rows[0])
		if c.voltageKnown(n) || supply {
			c.askPin(cl, n, m, f.section, f.name, q.row.Name)
		} else {
			c.askFed(cl, n, joint{comp: m, pin: q}, f.section, f.name)
		}
	}
	if pins > 0 {
		return
	}
	y := c.useSymbol(m, f.name)
	if y == nil {
		c.limitOfStress(b, m, f, says)
		return
	}
	use := m.ref + ".use." + f.name
	if y == c.ambient() {
		use = "ambient"
	}
	cl := c.builtClaim(b, m.ref+"."+f.name, f.name+" of "+m.label()+" "+says+".", f.rows[0])
	c.askInside(cl, use, m, f.section, f.name, "")
	if all := c.toldOf(m, f.name); use != "ambient" { // the wider of both
		for _, t := range all {
			if t.text == "ambient" {
				c.askInside(cl, t.text, m, f.section, f.name, "")
			} else if peak := c.toldLoad(m, f.name); peak != "" && m.stated(f.name) != peak {
				c.askInside(cl, peak, m, f.section, f.name, "")
			}
		}
	}
}

// limitOfPins judges a limit of a pin group at every pin it speaks of.
func (c *compiler) limitOfPins(b *builtin, m *component, f *factDef, says string) {
	names := subjects(m)
	for _, q := range m.part.pins {
		n := m.pinNets[q]
		if n == nil || !c.voltageKnown(n) {
			continue
		}
		if def, _ := m.part.choose(f.section, f.name, q.row.Name); def != f {
			continue
		}
		cl := c.builtClaim(b, names[q], "The voltage at "+q.row.Name+" of "+m.label()+" "+says+".", f.rows[0])
		c.askPin(cl, n, m, f.section, f.name, q.row.Name)
	}
}
