package eval

// diodeStress asks that a diode bears its reverse voltage and its current.
var diodeStress = &builtin{
	name: "diode",
	rule: "The reverse voltage of each diode stays within V_R (V_RRM) and its current within I_F, both times the derating asked. A diode across a relay's coil or an inductor that a transistor switches sees the supply of the coil in reverse and takes over the current of the coil; " +
		"elsewhere the nets or `in use: V_R = ...; I_F = ...` tell.",
	source: "common practice",
	run: func(c *compiler, b *builtin) {
		l := &unknowns{}
		for _, m := range c.comps.list {
			switch {
			case m.notFitted() || m.sort() != "diode":
			case m.part == nil:
				l.refs = append(l.refs, m.ref)
			default:
				c.diode(b, m)
			}
		}
		l.tell(c, b, "rating", "Each diode states what it may bear.", "no ratings are known of ", "note it as a part with `absmax V_R` and `absmax I_F`")
	},
}

func (c *compiler) diode(b *builtin, m *component) {
	reverse, hasV := m.rated(volt.Dim, "V_R", "V_RRM", "V_RM")
	forward, hasI := m.rated(currentDim, "I_F", "I_FAV", "I_O")
	cl := c.builtClaim(b, m.ref, "Diode "+m.label()+" bears its reverse voltage and its current.", m.entry)
	if !hasV && !hasI {
		cl.lacks("no fact", "neither V_R nor I_F is noted for part "+m.part.id, "note `absmax V_R` and `absmax I_F`")
		return
	}
	k := c.derating(m, "diode")
	coil := c.coilAcross(m)
	if hasV {
		if use := m.useNamed("V_R"); use != "" {
			c.try(cl, m.ref+".use."+use+" <= "+k+reverse.text)
		} else if coil != nil {
			if v, _ := c.coilVoltage(coil); v != "" {
				c.try(cl, "abs("+v+") <= "+k+reverse.text)
			} else {
				cl.lacks("no value", "the supply of the coil of "+coil.ref+" is not known", "state `in use: V_R = ...` in the row of "+m.ref)
			}
		} else if across, why := c.stress(m); len(across) > 0 {
			for _, v := range across {
				c.try(cl, "abs("+v+") <= "+k+reverse.text)
			}
		} else {
			cl.lacks("no value", "the reverse voltage of "+m.ref+" is not known: "+why, "state `in use: V_R = ...` in its row")
		}
	}
	if !hasI {
		return
	}
	if use := m.useNamed("I_F"); use != "" {
		c.try(cl, m.ref+".use."+use+" <= "+k+forward.text)
		return
	}
	if coil != nil && coil.part != nil {
		if r := coil.part.factNamed("spec", "R_COIL", "R_C"); r != "" {
			if v, _ := c.coilVoltage(coil); v != "" {
				c.try(cl, "abs("+v+") / "+coil.ref+"."+r+" <= "+k+forward.text)
				return
			}
		}
	}
	cl.lacks("no value", "the current through "+m.ref+" is not known", "state `in use: I_F = ...` in its row")
}

// coilAcross is the relay whose coil a diode stands across, nil without one.
func (c *compiler) coilAcross(m *component) *component {
	a, b, ok := m.ends()
	if !ok {
		return nil
	}
	for _, j := range a.joined {
		if j.pin != nil && j.comp != m && j.comp.on(b) && j.comp.part.factNamed("spec", "R_COIL", "R_C") != "" {
			return j.comp
		}
	}
	return nil
}
