package eval

import "strings"

// resistorStress asks that each resistor bears its power and its voltage.
var resistorStress = &builtin{
	name: "resistor",
	rule: "The power in each resistor, V²/R at the highest voltage that can stand across it, stays within its rated power, and the voltage within its limiting element voltage, both times the derating asked. " +
		"Where a net states no voltage the circuit tells them, in every state of what drives it. Above 70 °C the rating falls on a straight line to nothing at the end of the kind, unless the note states it by temperature. " +
		"Ratings come from the part's note (P, V_LIM), an option of its row (0.1 W, 50 V), else from the standard figure of its chip size, listed as assumed. " +
		"`in use: V = ...` or `P = ...` states what the resistor sees where the net cannot tell.",
	source: "common practice; EN 140401-802 (rated dissipation at 70 °C and limiting element voltage by size)",
	run: func(c *compiler, b *builtin) {
		l := &unknowns{}
		for _, m := range c.comps.list {
			if m.notFitted() || m.link || m.sort() != "resistor" {
				continue
			}
			if c.componentSymbol(m) == nil || m.row.Value.Empty() && m.part == nil {
				continue // a resistor without a value is told by its row
			}
			c.resistor(b, m, l)
		}
		l.tell(c, b, "rating", "Each resistor states what it may bear.", "no power rating is known of ", "note `P` of the part, or give the row a size or a rating: `resistor 10k ± 1 %, 0603`")
	},
}

// unknowns gathers what a check could not judge for one and the same reason,
// so that it is told once.
type unknowns struct{ refs []string }

// tell makes one open claim of what was gathered.
func (l *unknowns) tell(c *compiler, b *builtin, subject, statement, says, settle string) {
	if len(l.refs) > 0 {
		cl := c.builtClaim(b, subject, statement, nil)
		cl.lacks("no fact", says+strings.Join(l.refs, ", "), settle)
	}
}

func (c *compiler) resistor(b *builtin, m *component, l *unknowns) {
	power, hasPower := m.rated(watt.Dim, "P", "P_R", "P_70", "P_D")
	volts, hasVolts := m.rated(volt.Dim, "V_LIM", "V_MAX", "V_R")
	if s, ok := m.size(); ok {
		why := "thick-film resistors of size " + s.code + " are rated " + s.power + " at 70 °C and " + s.element + ", the figures of EN 140401-802"
		if !hasPower {
			power, hasPower = rating{s.power, why}, true
		}
		if !hasVolts {
			volts, hasVolts = rating{s.element, why}, true
		}
	}
	if !hasPower {
		l.refs = append(l.refs, m.ref)
		return
	}
	cl := c.builtClaim(b, m.ref, "Resistor "+m.ref+" bears its power and its voltage.", m.entry)
	k, curve := c.derating(m, "resistor")
	presume := func(r rating) {
		if r.presumed != "" {
			cl.presume(r.presumed)
		}
	}
	limit := k + power.text
	if !curve {
		limit = k + c.derated(cl, m, power)
	}
	presume(power)
	across := c.voltageOn(m)
	switch use := m.useNamed("P", "P_R"); {
	case use != "":
		c.try(cl, m.ref+".use."+use+" <= "+limit)
	case across == "":
		cl.lacks("no value", "the two nets of "+m.ref+" are not known", "state `in use: P = ...` in its row")
	case c.inSeries(m) != "":
		c.try(cl, c.inSeries(m)+"^2 * "+m.ref+" <= "+limit)
	case across == m.ref+".use.V" && !statesUse(m.row.InUse, "V"):
		c.try(cl, m.ref+".use.P <= "+limit)
	default:
		c.try(cl, "("+across+")^2 / "+m.ref+" <= "+limit)
	}
	if !hasVolts {
		return
	}
	if use := m.useNamed("V_LIM", "V_MAX"); use != "" {
		across = m.ref + ".use." + use
	}
	presume(volts)
	if across != "" {
		if curve { // of the power
			k = ""
		}
		c.try(cl, "abs("+across+") <= "+k+volts.text)
	}
}

// inSeries spells the current through a resistor that the row of a diode beside
// it states; "" where none does.
func (c *compiler) inSeries(m *component) string {
	a, b, _ := m.ends()
	for _, n := range []*net{a, b} {
		if n == nil || c.voltageStated(n) {
			continue
		}
		if d := aloneOn(n, m); d != nil && d.isJunction() && d.useNamed("I_F") != "" {
			return d.ref + ".use." + d.useNamed("I_F")
		}
	}
	return ""
}

// voltageOn spells the voltage across a part of two ends: what its row states,
// what its nets state, else what the circuit makes; "" where its ends are not
// known.
func (c *compiler) voltageOn(m *component) string {
	if use := m.useNamed("V", "V_R", "V_DC", "V_AC"); use != "" {
		return m.ref + ".use." + use
	}
	a, b, ok := m.ends()
	switch {
	case !ok:
		return ""
	case c.voltageStated(a) && c.voltageStated(b):
		return c.across(a, b)
	}
	return m.ref + ".use.V"
}
