package eval

import (
	"strings"

	"guardband/units"
)

// coilPullIn asks that a relay pulls in when its coil is hot.
var coilPullIn = &builtin{
	name: "coil",
	rule: "A relay whose note has a pull-in voltage (V_OP, V_PULL_IN) and a coil resistance (R_COIL) gets that voltage at the temperature of its copper: V · (234.5 + T) / (234.5 + T₀), T₀ from `ref T = ...` of the fact (20 °C without). " +
		"T is `in use: T_COIL = ...`, else the surroundings and the coil's own heat V² / R_COIL · R_TH. The coil sees the voltage of its nets; a transistor at its lower end takes R_DSon or V_CEsat of it.",
	source: "IEC 60034-1 (resistance of copper); 234.5 for annealed copper, common practice",
	run: func(c *compiler, b *builtin) {
		for _, m := range c.placedParts() {
			op, r := m.part.factNamed("spec", "V_OP", "V_PULL_IN", "V_PI"), m.part.factNamed("spec", "R_COIL", "R_C")
			if op == "" || r == "" {
				continue
			}
			c.coil(b, m, op, r)
		}
	},
}

func (c *compiler) coil(b *builtin, m *component, op, resistance string) {
	cl := c.builtClaim(b, m.ref, "Relay "+m.label()+" pulls in with a hot coil at the lowest supply.", m.entry)
	v, lower := c.coilVoltage(m)
	if v == "" {
		cl.lacks("no value", "the voltage at the coil of "+m.ref+" is not known", "give the net of its upper end a value, and join its lower end to ground or to a transistor with a noted R_DSon or V_CEsat")
		return
	}
	r := m.ref + "." + resistance
	at := v
	if lower != nil {
		if across, ohms := lower.onDrop(); ohms {
			at = v + " * " + r + " / (" + r + " + " + lower.ref + "." + across + ")"
		} else {
			at = v + " - " + lower.ref + "." + across
			cl.presume("the base current of " + lower.label() + " is the one at which its V_CEsat is stated, for its collector current, or more")
		}
	}
	t := ""
	if use := m.useNamed("T_COIL"); use != "" {
		t = m.ref + ".use." + use
	} else if around := c.around(m); around == "" {
		cl.lacks("no value", "the temperature round the board is not stated", "`ambient: ...` in the design block, or `in use: T_COIL = ...`")
		return
	} else if heat := m.part.factNamed("spec", "R_TH", "R_TH_COIL", "R_θ"); heat != "" {
		t = "(" + around + " + (" + v + ")^2 / " + r + " * " + m.ref + "." + heat + ")"
	} else {
		cl.lacks("no fact", "no thermal resistance of the coil is noted for part "+m.part.id, "note `spec R_TH = ...`, or state `in use: T_COIL = ...`")
		return
	}
	ref, why := coilReference(m.part, op)
	if why != "" {
		cl.presume(why)
	}
	c.try(cl, at+" >= "+m.ref+"."+op+" * ("+t+" - -234.5 °C) / ("+ref+" - -234.5 °C)")
}

// coilReference is the temperature the pull-in voltage is stated for.
func coilReference(p *part, op string) (text, presumed string) {
	for _, e := range p.rowsOf("spec", op) {
		if e.RefName == "" {
			continue
		}
		t := strings.TrimSpace(e.RefValue.S)
		if q, err := units.ParseLiteral(t); err == nil && q.Type.Kind == units.Point {
			return t, ""
		}
	}
	return "20 °C", "the pull-in voltage of part " + p.id + " is stated for a coil at 20 °C (the note gives no `ref T`)"
}

// coilVoltage spells the supply of a coil and finds the transistor that
// switches its lower end, nil where that is joined to a known voltage.
func (c *compiler) coilVoltage(m *component) (text string, lower *component) {
	one, two := m.coilEnds()
	if one == nil || two == nil {
		return "", nil
	}
	for range 2 {
		if c.voltageKnown(one) && c.voltageKnown(two) {
			return c.across(one, two), nil
		}
		if c.voltageKnown(one) {
			for _, j := range two.joined {
				from, to := j.comp.channelEnds()
				if across, _ := j.comp.onDrop(); from == two && to != nil && isGround(to.name) && across != "" {
					return c.netText(one), j.comp
				}
			}
		}
		one, two = two, one
	}
	return "", nil
}

// onDrop names what a transistor that is on leaves between its ends: a
// resistance, or a voltage; "" where neither is noted.
func (m *component) onDrop() (fact string, ohms bool) {
	if m.part == nil || m.notFitted() {
		return "", false
	}
	if r := m.part.factNamed("spec", "R_DSon", "R_DS_on", "R_DSON", "R_ON"); r != "" {
		return r, true
	}
	return m.part.factNamed("spec", "V_CEsat", "V_CE_sat", "V_CE(sat)", "V_CE_SAT"), false
}
