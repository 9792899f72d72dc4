package eval

import "strings"

// resistorStress asks that each resistor bears its power and its voltage.
var resistorStress = &builtin{
	name: "resistor",
	rule: "The power in each resistor, V²/R at the highest voltage that can stand across it, stays within its rated power, and the voltage within its limiting element voltage, both times the derating asked. " +
		"Beside a diode it is what the diode leaves. Above 70 °C the rating falls on a straight line to nothing at the end of the kind, unless the note states it by temperature. " +
		"A net without a stated voltage is taken to stand anywhere between the voltages that feed it. Ratings come from the part's note (P, V_LIM), an option of its row (0.1 W, 50 V), else from the standard figure of its chip size, listed as assumed. " +
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
	k := c.derating(m, "resistor")
	presume := func(r rating) {
		if r.presumed != "" {
			cl.presume(r.presumed)
		}
	}
	limit := k + c.derated(cl, m, power)
	across, unsure, why := c.stress(m)
	if use := m.useNamed("P", "P_R"); use != "" {
		presume(power)
		c.try(cl, m.ref+".use."+use+" <= "+limit)
	} else if len(across) == 0 {
		cl.lacks("no value", "the voltage across "+m.ref+" is not known: "+why, "give the net a value, or state `in use: V = ...` in the row of "+m.ref)
	} else {
		presume(power)
		for _, v := range across {
			c.askPower(cl, m, v, limit, unsure)
		}
	}
	if !hasVolts {
		return
	}
	if use := m.useNamed("V_LIM", "V_MAX"); use != "" {
		across, unsure = []string{m.ref + ".use." + use}, nil
	}
	presume(volts)
	if len(across) == 0 && m.useNamed("P", "P_R") != "" {
		cl.lacks("no value", "the voltage across "+m.ref+" is not known: "+why, "give the net a value, or state `in use: V = ...` in the row of "+m.ref)
	}
	for _, v := range across {
		c.tryUnsure(cl, "abs("+v+") <= "+k+volts.text, unsure)
	}
}

// stress spells every voltage that can stand across a two-terminal part: what
// its row states, else the differences of the voltages that feed its nets;
// unsure says that it may be less.
func (c *compiler) stress(m *component) (across []string, unsure *OpenPoint, why string) {
	if use := m.useNamed("V", "V_R", "V_DC", "V_AC"); use != "" {
		return []string{m.ref + ".use." + use}, nil, ""
	}
	a, b, ok := m.ends()
	if !ok {
		return nil, nil, "its two nets are not known"
	}
	pairs, unsure, why := c.pairs(m, a, b)
	done := map[netPair]bool{}
	for _, p := range pairs {
		if k := pairOf(p.from, p.to); !done[k] {
			done[k] = true
			across = append(across, c.across(p.from, p.to))
		}
	}
	return across, unsure, why
}
