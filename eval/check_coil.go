package eval

import (
	"strings"

	"guardband/eval/circuit"
	"guardband/units"
)

// coilPullIn asks that a relay pulls in when its coil is hot.
var coilPullIn = &builtin{
	name: "coil",
	rule: "A relay whose note has a pull-in voltage (V_OP, V_PULL_IN) and a coil resistance (R_COIL) gets that voltage at the temperature of its copper: V · (234.5 + T) / (234.5 + T₀), T₀ from `ref T = ...` of the fact (20 °C without). " +
		"T is `in use: T_COIL = ...`, else the surroundings and the coil's own heat V² / R_COIL · R_TH. The coil sees the voltage of its nets; a transistor at its lower end takes R_DSon or V_CEsat of it.",
	source: "IEC 60034-1 (resistance of copper); 234.5 for annealed copper, common practice",
	run: func(c *compiler, b *builtin) {
		for _, m := range c.PlacedParts() {
			op, r := m.Part.FactNamed("spec", "V_OP", "V_PULL_IN", "V_PI"), m.Part.FactNamed("spec", "R_COIL", "R_C")
			if op == "" || r == "" {
				continue
			}
			c.coil(b, m, op, r)
		}
	},
}

func (c *compiler) coil(b *builtin, m *circuit.Component, op, resistance string) {
	cl := c.builtClaim(b, m.Ref, "Relay "+m.Label()+" pulls in with a hot coil at the lowest supply.", m.Entry)
	v, lower := c.coilVoltage(m)
	if v == "" {
		cl.lacks("no value", "the voltage at the coil of "+m.Ref+" is not known", "give the net of its upper end a value, and join its lower end to ground or to a transistor with a noted R_DSon or V_CEsat")
		return
	}
	r := m.Ref + "." + resistance
	at := v
	if lower != nil {
		if across, ohms := onDrop(lower); ohms {
			at = v + " * " + r + " / (" + r + " + " + lower.Ref + "." + across + ")"
		} else {
			at = v + " - " + lower.Ref + "." + across
			cl.presume("the base current of " + lower.Label() + " is the one at which its V_CEsat is stated, for its collector current, or more")
		}
	}
	t := ""
	if use := m.UseNamed("T_COIL"); use != "" {
		t = m.Ref + ".use." + use
	} else if around := c.around(m); around == "" {
		cl.lacks("no value", "the temperature round the board is not stated", "`ambient: ...` in the design block, or `in use: T_COIL = ...`")
		return
	} else if heat := m.Part.FactNamed("spec", "R_TH", "R_TH_COIL", "R_θ"); heat != "" {
		t = "(" + around + " + (" + v + ")^2 / " + r + " * " + m.Ref + "." + heat + ")"
	} else {
		cl.lacks("no fact", "no thermal resistance of the coil is noted for part "+m.Part.ID, "note `spec R_TH = ...`, or state `in use: T_COIL = ...`")
		return
	}
	ref, why := coilReference(m.Part, op)
	if why != "" {
		cl.presume(why)
	}
	c.try(cl, at+" >= "+m.Ref+"."+op+" * ("+t+" - -234.5 °C) / ("+ref+" - -234.5 °C)")
}

// coilReference is the temperature the pull-in voltage is stated for.
func coilReference(p *circuit.Part, op string) (text, presumed string) {
	for _, e := range p.RowsOf("spec", op) {
		if e.RefName == "" {
			continue
		}
		t := strings.TrimSpace(e.RefValue.S)
		if q, err := units.ParseLiteral(t); err == nil && q.Type.Kind == units.Point {
			return t, ""
		}
	}
	return "20 °C", "the pull-in voltage of part " + p.ID + " is stated for a coil at 20 °C (the note gives no `ref T`)"
}

// coilVoltage spells the supply of a coil and finds the transistor that
// switches its lower end, nil where that is joined to a known voltage.
func (c *compiler) coilVoltage(m *circuit.Component) (text string, lower *circuit.Component) {
	one, two := m.CoilEnds()
	if one == nil || two == nil {
		return "", nil
	}
	for range 2 {
		if c.VoltageKnown(one) && c.VoltageKnown(two) {
			return c.Across(one, two), nil
		}
		if c.VoltageKnown(one) {
			for _, j := range two.Joined {
				from, to := j.Comp.ChannelEnds()
				if across, _ := onDrop(j.Comp); from == two && to != nil && circuit.IsGround(to.Name) && across != "" {
					return c.NetText(one), j.Comp
				}
			}
		}
		one, two = two, one
	}
	return "", nil
}

// onDrop names what a transistor that is on leaves between its ends: a
// resistance, or a voltage; "" where neither is noted.
func onDrop(m *circuit.Component) (fact string, ohms bool) {
	if m.Part == nil || m.NotFitted() {
		return "", false
	}
	if r := m.Part.FactNamed("spec", "R_DSon", "R_DS_on", "R_DSON", "R_ON"); r != "" {
		return r, true
	}
	return m.Part.FactNamed("spec", "V_CEsat", "V_CE_sat", "V_CE(sat)", "V_CE_SAT"), false
}
