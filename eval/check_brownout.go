package eval

import "strings"

// brownOut asks that a reset threshold lies between what the guarded parts need
// and what the rail gives.
var brownOut = &builtin{
	name: "brown-out",
	rule: "The brown-out threshold (V_BOR, V_BO, or V_TH of a part with a reset output) is at or above the least supply of the part it resets and of the memories on the rail, " +
		"and at or below the lowest rail. A memory is one whose kind or title says so.",
	source: "common practice",
	run: func(c *compiler, b *builtin) {
		for _, m := range c.placedParts() {
			for _, q := range m.part.pins {
				if n := m.pinNets[q]; q.row.Type == "supply" && n != nil {
					c.brownOutOf(b, m, q, n)
					break
				}
			}
		}
	},
}

func (c *compiler) brownOutOf(b *builtin, m *component, q *pin, rail *net) {
	guarded := []*component{m}
	_, threshold := c.pinFact(m, "spec", q, volt.Dim, "V_BOR", "V_BO")
	if threshold == "" {
		if guarded = c.resets(m); len(guarded) == 0 {
			return
		}
		if _, threshold = c.pinFact(m, "spec", q, volt.Dim, "V_TH", "V_RST", "V_RESET"); threshold == "" {
			cl := c.builtClaim(b, m.ref, "The threshold of "+m.label()+" guards what it resets.", m.entry)
			cl.lacks("no fact", "the threshold of part "+m.part.id+" is not noted", "note `spec V_TH = min ..., max ...`")
			return
		}
	}
	cl := c.builtClaim(b, m.ref, "The brown-out threshold of "+m.label()+" lies between what the parts need and the lowest rail.", m.entry)
	for _, j := range rail.pinsOf() {
		if j.pin.row.Type == "supply" && j.comp.part.isMemory() && !holds(guarded, j.comp) {
			guarded = append(guarded, j.comp)
		}
	}
	for _, g := range guarded {
		switch s, on := c.leastSupply(g, rail); {
		case s != "":
			c.ask(cl, threshold+" >= "+s)
		case !on:
			cl.lacks("no fact", g.label()+" has no supply pin on "+rail.name+", whose voltage the threshold watches, so it is not known what guards it", "watch its supply too, or skip this check with the reason")
		default:
			cl.lacks("no fact", "the least supply of "+g.label()+" is not noted", "note `operating V_DD = min ...` in part "+g.part.id)
		}
	}
	if c.voltageKnown(rail) {
		c.ask(cl, threshold+" <= "+c.netText(rail))
	} else {
		cl.lacks("no value", "the voltage of net "+rail.name+" is not known", "give a value `"+rail.name+" = ...`")
	}
}

// resets are the parts whose reset input an output of m drives, where both are
// flagged or named so.
func (c *compiler) resets(m *component) []*component {
	var out []*component
	for _, q := range m.part.pins {
		n := m.pinNets[q]
		if n == nil || !q.drives() || q.row.Type == "bidirectional" || !(q.has("reset") || isResetName(q.row.Name)) {
			continue
		}
		for _, j := range n.pinsOf() {
			if j.comp != m && j.pin.reads() && (j.pin.has("reset") || isResetName(j.pin.row.Name)) && !holds(out, j.comp) {
				out = append(out, j.comp)
			}
		}
	}
	return out
}

// leastSupply names the lower end of a part's operating range at its pin on the
// rail, or on a net that rises and falls with it. A range at another rail says
// nothing of this one.
func (c *compiler) leastSupply(m *component, rail *net) (least string, onRail bool) {
	for _, q := range m.part.pins {
		if n := m.pinNets[q]; q.row.Type != "supply" || n == nil || n.standsAs() != rail.standsAs() {
			continue
		}
		onRail = true
		if name, ok := m.limitFor("operating", q); ok {
			if s := c.limitEnd(m, q, volt.Dim, "min", name); s != "" {
				return s, true
			}
		}
	}
	return "", onRail
}

// isMemory says that the notes call a part a memory.
func (p *part) isMemory() bool {
	t := strings.ToLower(p.title)
	if e := p.attrs["kind"]; e != nil {
		t = strings.ToLower(value(e))
	}
	for _, w := range []string{"memory", "eeprom", "flash"} {
		if strings.Contains(t, w) && !strings.Contains(t, "controller") {
			return true
		}
	}
	return false
}

func holds(ms []*component, m *component) bool {
	for _, x := range ms {
		if x == m {
			return true
		}
	}
	return false
}
