package eval

import "strings"

// ledCurrent asks that light-emitting diodes, also those inside optocouplers,
// get a current they can bear and that is enough.
var ledCurrent = &builtin{
	name: "led",
	rule: "The current of each light-emitting diode (`in use: I_F = ...`, else as the circuit makes it, in every state of what drives it) stays within I_F of its note, and flows forwards in some state. " +
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

// series is the only other thing on a net, if it is a resistor.
func series(n *net, m *component) *component {
	if x := aloneOn(n, m); x != nil && x.sort() == "resistor" {
		return x
	}
	return nil
}

// aloneOn is the only other thing on a net, test points aside.
func aloneOn(n *net, m *component) *component {
	var found *component
	for _, j := range n.joined {
		if j.comp == m || j.comp.notFitted() || j.comp.sort() == "test point" {
			continue
		}
		if found != nil {
			return nil
		}
		found = j.comp
	}
	return found
}

func (c *compiler) led(b *builtin, m *component) {
	cl := c.builtClaim(b, m.ref, "The current of "+m.label()+" flows forward and stays within its rating.", m.entry)
	if a, k := m.ledPins(); (a == nil || k == nil) && m.useNamed("I_F") == "" {
		cl.lacks("no value", "the current through "+m.ref+" is not known: its pins A and K are not known", "state `in use: I_F = ...` in its row")
		return
	}
	text := c.useText(m, "I_F")
	limits := 0
	for _, section := range []string{"absmax", "operating"} {
		if n := m.part.factNamed(section, "I_F"); n != "" {
			limits++
			if c.openEnded(cl, m, section, n, "") {
				continue
			}
			c.askCurrent(cl, m, section, n, text)
		}
	}
	c.askForward(cl, m)
	if limits == 0 {
		cl.lacks("no fact", "no rated current is noted for part "+m.part.id, "note `absmax I_F = max ...`")
	}
}

// askCurrent asks that the current stays inside a limit: below its max in every
// state, above its min in one.
func (c *compiler) askCurrent(cl *claim, m *component, section, name, text string) {
	limit := m.ref + "." + section + "." + name
	y, _ := c.fact(m, section, name, "")
	if m.useNamed("I_F") != "" || y == nil || y.cols[0] == nil {
		c.try(cl, text+" inside "+limit)
		return
	}
	if y.cols[2] != nil {
		c.try(cl, text+" <= "+limit+".max")
	}
	if c.try(cl, text+" >= "+limit+".min") {
		cl.crit[len(cl.crit)-1].once = "no state of the circuit makes " + m.ref + " carry that current"
	}
}

// askForward asks that a light-emitting diode is the right way round: a current
// that flows backwards is inside every upper limit.
func (c *compiler) askForward(cl *claim, m *component) {
	if _, _, ok := m.poles(); !ok {
		return // two diodes back to back
	}
	if m.useNamed("I_F") == "" {
		if c.try(cl, m.ref+".use.I_F > 0 A") {
			cl.crit[len(cl.crit)-1].once = "no state of the circuit makes " + m.ref + " conduct: it is the wrong way round, or nothing feeds it"
		}
		return
	}
	for _, k := range m.row.InUse {
		if sameSymbol(k.Name, "I_F") && k.Flag == "" && k.Op != "<=" {
			c.try(cl, m.ref+".use."+k.Name+" >= 0 A")
		}
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
	text := c.useText(m, "I_F")
	if c.try(cl, m.ref+"."+m.part.factNamed("spec", "CTR")+" * ("+text+") >= "+strings.Join(pulls, " + ")) {
		cl.crit[len(cl.crit)-1].once = "no state of the circuit gives " + m.ref + " the current for that"
	}
}
