package eval

import "strings"

// ledCurrent asks that light-emitting diodes, also those inside optocouplers,
// get a current they can bear and that is enough.
var ledCurrent = &builtin{
	name: "led",
	rule: "The current of each light-emitting diode (`in use: I_F = ...`, else (V - V_F) / R of the one resistor in series, V and V_F at their ends) stays within I_F of its note and does not flow backwards. " +
		"An optocoupler whose output has a pull-up also sinks it: least transfer ratio CTR times least current reaches V / R of the pull-up; CTR counts as noted, so age is in it only if the note has it in.",
	source: "common practice; Ohm's law",
	run: func(c *compiler, b *builtin) {
		for _, m := range c.comps.list {
			switch {
			case m.notFitted():
			case m.part == nil && m.kind == "LED":
				cl := c.builtClaim(b, m.ref, "The current of "+m.ref+" stays within its rating.", m.entry)
				cl.lacks("no fact", "forward voltage and rated current of "+m.ref+" are not noted", "note it as a part with `spec V_F` and `absmax I_F`")
			case m.part == nil:
			case m.part.factNamed("spec", "CTR") != "":
				c.led(b, m)
				c.opto(b, m)
			case m.sort() == "LED":
				c.led(b, m)
			}
		}
	},
}

// ledPins are the nets of anode and cathode.
func (m *component) ledPins() (a, k *net) {
	if a, k, ok := m.poles(); ok {
		return a, k
	}
	return m.end("A", "A1", "AN", "ANODE", "+"), m.end("K", "A2", "C1", "CA", "CATHODE", "-")
}

// ledText spells the current through a diode in forward direction; path is the
// voltage that drives it, where the row does not state the current.
func (c *compiler) ledText(m *component) (text string, path *pair, why string) {
	if use := m.useNamed("I_F"); use != "" {
		return m.ref + ".use." + use, nil, ""
	}
	return c.ledFrom(m)
}

// ledFrom spells the current that the nets of a diode and the resistor in
// series make.
func (c *compiler) ledFrom(m *component) (text string, path *pair, why string) {
	vf := m.part.factNamed("spec", "V_F")
	if vf == "" {
		return "", nil, "no forward voltage is noted for part " + m.part.id
	}
	a, k := m.ledPins()
	if a == nil || k == nil {
		return "", nil, "its pins A and K are not known"
	}
	r, from, to := "", a, k
	for _, n := range []*net{a, k} {
		if c.voltageKnown(n) {
			continue
		}
		s := series(n, m)
		if s == nil {
			return "", nil, "net " + n.name + " has no stated voltage and no single resistor in series"
		}
		if r != "" {
			return "", nil, "both sides have a resistor"
		}
		r = s.ref
		o := s.opposite(n)
		if !c.voltageKnown(o) {
			return "", nil, "the voltage of net " + o.name + " is not known"
		}
		if n == a {
			from = o
		} else {
			to = o
		}
	}
	if r == "" {
		return "", nil, "no resistor stands in series"
	}
	return "(" + c.difference(from, to) + " - " + m.ref + "." + vf + ") / " + r, &pair{from, to}, ""
}

// askForward asks that a light-emitting diode stands the right way round: a
// current that flows backwards is inside every upper limit.
func (c *compiler) askForward(cl *claim, m *component, path *pair) {
	if _, _, ok := m.poles(); !ok {
		return // two diodes back to back
	}
	if path != nil {
		c.try(cl, c.difference(path.from, path.to)+" >= 0 V")
		return
	}
	for _, k := range m.row.InUse {
		if sameSymbol(k.Name, "I_F") && k.Flag == "" && k.Op != "<=" {
			c.try(cl, m.ref+".use."+k.Name+" >= 0 A")
		}
	}
}

// series is the only other thing on a net, if it is a resistor.
func series(n *net, m *component) *component {
	var found *component
	for _, j := range n.joined {
		if j.comp == m || j.comp.notFitted() || j.comp.sort() == "test point" {
			continue
		}
		if found != nil || j.comp.sort() != "resistor" {
			return nil
		}
		found = j.comp
	}
	return found
}

func (c *compiler) led(b *builtin, m *component) {
	cl := c.builtClaim(b, m.ref, "The current of "+m.label()+" flows forward and stays within its rating.", m.entry)
	text, path, why := c.ledText(m)
	if text == "" {
		cl.lacks("no value", "the current through "+m.ref+" is not known: "+why, "state `in use: I_F = ...` in its row")
		return
	}
	limits := 0
	for _, section := range []string{"absmax", "operating"} {
		if n := m.part.factNamed(section, "I_F"); n != "" {
			limits++
			if c.openEnded(cl, m, section, n, "") {
				continue
			}
			c.try(cl, text+" inside "+m.ref+"."+section+"."+n)
		}
	}
	c.askForward(cl, m, path)
	if limits == 0 {
		cl.lacks("no fact", "no rated current is noted for part "+m.part.id, "note `absmax I_F = max ...`")
	}
}

// opto asks that an optocoupler's output pulls its load down.
func (c *compiler) opto(b *builtin, m *component) {
	out := m.end("C", "COL", "OUT", "VO")
	if out == nil {
		return
	}
	cl := c.builtClaim(b, m.ref+".output", "The output of optocoupler "+m.label()+" sinks its pull-up.", m.entry)
	var pulls []string
	for _, j := range out.joined {
		if j.comp.notFitted() || j.comp.sort() != "resistor" {
			continue
		}
		if o := j.comp.opposite(out); o != nil && c.voltageKnown(o) && !isGround(o.name) {
			pulls = append(pulls, c.netText(o)+" / "+j.comp.ref)
		}
	}
	if len(pulls) == 0 {
		cl.lacks("no value", "no pull-up to a known voltage stands at "+out.name, "place it, or skip this check with the reason")
		return
	}
	text, _, why := c.ledText(m)
	if text == "" {
		cl.lacks("no value", "the current through "+m.ref+" is not known: "+why, "state `in use: I_F = ...` in its row")
		return
	}
	c.try(cl, m.ref+"."+m.part.factNamed("spec", "CTR")+" * ("+text+") >= "+strings.Join(pulls, " + "))
}
