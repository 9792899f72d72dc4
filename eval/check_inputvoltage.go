package eval

// inputAboveSupply asks that what reaches a pin from another supply stays
// inside the pin's own limits.
var inputAboveSupply = &builtin{
	name: "input-above-supply",
	rule: "The highest voltage that a driver, a pull-up or a divider on another supply puts on a logic or analog pin stays inside the pin's limit " +
		"(absmax of the pin, V_PIN, V_I or V_IO), or the current through a placed series resistor stays inside I_INJ. " +
		"A push-pull output is taken to reach its own supply.",
	source: "JEDEC JESD99 (maximum rating); Ohm's law; common practice",
	run: func(c *compiler, b *builtin) {
		c.eachExposed(func(p joint, n *net, subject string) { c.inputVoltage(b, p, n, subject) })
	},
}

// eachExposed visits the pins that can be harmed by a foreign supply: logic and
// analog pins of parts that have a supply, on a signal net.
func (c *compiler) eachExposed(visit func(p joint, n *net, subject string)) {
	for _, m := range c.placedParts() {
		if !m.part.hasSupply() {
			continue
		}
		names := subjects(m)
		for _, q := range m.part.pins {
			n := m.pinNets[q]
			if n == nil || isReturn(n) || !isExposed(q) {
				continue
			}
			visit(joint{comp: m, pin: q}, n, names[q])
		}
	}
}

func isExposed(q *pin) bool {
	switch q.row.Type {
	case "analog", "analog input", "analog output", "clock":
		return true
	}
	return q.reads() || q.drives()
}

// foreign is one way a voltage from another supply reaches a pin.
type foreign struct {
	from   string // what brings it, in words
	supply *net   // the supply behind it
	level  string // the highest voltage, in the language
	series string // the resistance placed between it and the pin, in the language; "" where none is
}

// foreigners are the voltages that reach a pin from supplies other than its
// own. unknown names the drivers whose supply nothing tells.
func (c *compiler) foreigners(p joint, n *net) (out []foreign, unknown []joint) {
	own := c.supplyOf(p.comp, p.pin)
	if c.isRail(n) {
		if n != own && c.voltageKnown(n) {
			out = append(out, foreign{from: n.name, supply: n, level: c.netText(n)})
		}
		return out, nil
	}
	add := func(d joint, by *resistor) {
		s := c.supplyOf(d.comp, d.pin)
		switch {
		case d.comp == p.comp || !d.comp.part.hasSupply() || d.pin.onlyPullsLow() || s != nil && s == own:
		case s == nil || !c.voltageKnown(s):
			unknown = append(unknown, d)
		case by == nil:
			out = append(out, foreign{from: d.name(), supply: s, level: c.netText(s)})
		default:
			level, par := c.divided(n, c.netText(s), *by)
			out = append(out, foreign{from: d.name(), supply: s, level: level, series: par})
		}
	}
	for _, d := range n.pinsOf() {
		if d.pin.drives() {
			add(d, nil)
		}
	}
	pulls := c.pulls(n)
	for _, r := range c.resistorsAt(n) {
		if c.isRail(r.other) || !c.ohms(r.comp) {
			continue
		}
		for _, d := range r.other.pinsOf() {
			if d.pin.drives() {
				add(d, &r)
			}
		}
	}
	out = append(out, c.foreignPulls(n, own, pulls)...)
	return out, unknown
}

// foreignPulls is what the resistors of a net bring from another supply: a
// divider to the return counts as a whole, a lone resistor as the series
// resistor of its supply.
func (c *compiler) foreignPulls(n, own *net, pulls []resistor) []foreign {
	other, divided := false, false
	for _, r := range pulls {
		if isReturn(r.other) {
			divided = true
			continue
		}
		if !c.voltageKnown(r.other) || !c.ohms(r.comp) {
			return nil // pull-up and strap say so
		}
		other = other || r.other != own
	}
	if !other {
		return nil
	}
	if divided {
		for _, r := range pulls {
			if !isReturn(r.other) && r.other != own {
				return []foreign{{from: "the divider " + refsOf(pulls), supply: r.other, level: c.pulledLevel(pulls), series: parallel(pulls)}}
			}
		}
	}
	var out []foreign
	for _, r := range pulls {
		if r.other != own {
			out = append(out, foreign{from: r.comp.ref, supply: r.other, level: c.netText(r.other), series: r.comp.ref})
		}
	}
	return out
}

func (c *compiler) inputVoltage(b *builtin, p joint, n *net, subject string) {
	if c.isRail(n) {
		if _, own := p.comp.limitFor("absmax", p.pin); own {
			return // absmax judges it
		}
	}
	fs, unknown := c.foreigners(p, n)
	if len(fs)+len(unknown) == 0 {
		return
	}
	cl := c.builtClaim(b, subject, "Nothing on "+n.name+" exceeds what pin "+p.pin.row.Name+" of "+p.comp.label()+" withstands.", p.pin.entry)
	for _, d := range unknown {
		cl.lacks("no value", "it is not known which supply "+d.name()+" is fed from, or at what voltage", "give the voltage of its supply, or name the supply in the pin's row")
	}
	limit := c.pinLimit(p)
	asked := map[string]bool{}
	for _, f := range fs {
		inj := c.injection(p, f)
		text := f.level + " inside " + limit
		switch {
		case limit == "" && inj == "":
			cl.lacksOnce(asked, "no fact", "the voltage that "+p.name()+" withstands is not noted; "+f.from+" brings that of "+f.supply.name, "note `absmax V_PIN = ...` from the maximum ratings of part "+p.comp.part.id)
			continue
		case limit == "":
			text = inj
		case inj != "":
			text += " or " + inj
		}
		if !seenBefore(asked, text) {
			c.ask(cl, text)
		}
	}
}

// pinLimit names the absolute limit of a pin's voltage: its own, else the one
// the sheet gives for pins in general.
func (c *compiler) pinLimit(p joint) string {
	if name, ok := p.comp.limitFor("absmax", p.pin); ok {
		return factText(p.comp, "absmax", name, p.pin.row.Name)
	}
	_, text := c.pinFact(p.comp, "absmax", p.pin, volt.Dim, "V_PIN", "V_I", "V_IO", "V_INPUT")
	return text
}

// injection asks that a series resistor holds the current into the pin's
// clamp inside the limit noted; "" without resistor, limit or supply voltage.
// The clamp's own voltage is left out where it is not noted, which only makes
// the current larger.
func (c *compiler) injection(p joint, f foreign) string {
	own := c.supplyOf(p.comp, p.pin)
	y, limit := c.pinFact(p.comp, "absmax", p.pin, dimAmpere, "I_INJ", "I_IK", "I_CLAMP")
	if f.series == "" || y == nil || y.cols[2] == nil || own == nil || !c.voltageKnown(own) {
		return ""
	}
	clamp := ""
	if v, t := c.pinFact(p.comp, "spec", p.pin, volt.Dim, "V_CLAMP", "V_F"); v != nil {
		clamp = " - " + t
	}
	return "(" + f.level + " - " + c.netText(own) + clamp + ") / " + f.series + " <= " + limit + ".max"
}
