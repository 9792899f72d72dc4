package eval

// regulator asks of each part that makes a supply: that it has headroom, that
// its load is within its rating at the temperature of the use, and that it
// stays cool enough.
var regulator = &builtin{
	name: "regulator",
	rule: "A part with a supply output and a noted output voltage keeps its dropout voltage (V_DO, V_DROP) below what is left at its input, carries its load (`in use: I_OUT`, else the peak of the output's budget) within its rated current (I_OUT, I_MAX, I_RATED, tables by temperature counted), and keeps its junction: " +
		"ambient + ((V_IN - V_OUT) · I_OUT + V_IN · I_GND) · R_θJA below T_J. The thermal resistance is that of the test board of its sheet, so this is a screening figure.",
	source: "common practice; JESD51-1 (thermal resistance)",
	run: func(c *compiler, b *builtin) {
		for _, m := range c.placedParts() {
			for _, q := range m.part.pins {
				if q.row.Type != "supply output" || m.pinNets[q] == nil || m.part.outputFact(q) == "" {
					continue
				}
				r := &regulating{c: c, b: b, m: m, out: m.pinNets[q], load: c.loadOf(m, m.pinNets[q])}
				if s := m.supplies(); len(s) > 0 && c.voltageKnown(s[0]) {
					r.in = s[0]
				}
				r.headroom()
				r.current()
				r.heat()
				break
			}
		}
	},
}

// regulating is one regulator while its claims are made.
type regulating struct {
	c       *compiler
	b       *builtin
	m       *component
	in, out *net   // in is nil where the voltage is not known
	load    string // "" where the current is not known
}

// loadOf spells the current a supply delivers.
func (c *compiler) loadOf(m *component, out *net) string {
	if use := m.useNamed("I_OUT", "I_O", "I_LOAD", "I_L"); use != "" {
		return m.ref + ".use." + use
	}
	for _, x := range c.budgets {
		if out.goesBy(x.block.ID) {
			return budgetText(x) + ".peak"
		}
	}
	return ""
}

func (r *regulating) claim(what, statement string) *claim {
	return r.c.builtClaim(r.b, r.m.ref+"."+what, statement, r.m.entry)
}

// needIn opens a claim that cannot be worked out without the input voltage or
// the load; it says whether both are known.
func (r *regulating) known(cl *claim, in, load bool) bool {
	ok := true
	if in && r.in == nil {
		cl.lacks("no value", "the voltage at the input of "+r.m.ref+" is not known", "give its net a value")
		ok = false
	}
	if load && r.load == "" {
		cl.lacks("no value", "the load of "+r.m.ref+" is not stated", "state `in use: I_OUT = ...` in its row, or write a budget of "+r.out.name)
		ok = false
	}
	return ok
}

func (r *regulating) headroom() {
	drop := r.m.part.factNamed("spec", "V_DO", "V_DROP", "V_DROPOUT")
	if drop == "" {
		return // no linear regulator, or one whose note does not speak of it
	}
	cl := r.claim("headroom", "Regulator "+r.m.label()+" has headroom: its input stays above its output by the dropout voltage.")
	if r.known(cl, true, false) {
		r.c.try(cl, r.c.netText(r.in)+" - "+r.m.ref+"."+drop+" >= "+r.c.netText(r.out))
	}
}

func (r *regulating) current() {
	p := r.m.part
	limit := ""
	if n := p.factNamed("operating", "I_OUT", "I_O", "I_LOAD", "I_MAX"); n != "" {
		limit = r.m.ref + ".operating." + n + ".max"
	} else if n := p.factNamed("spec", "I_MAX", "I_RATED", "I_OUT"); n != "" {
		limit = r.m.ref + "." + n
	} else if n := p.factNamed("absmax", "I_OUT", "I_O"); n != "" {
		limit = r.m.ref + ".absmax." + n + ".max"
	}
	cl := r.claim("current", "Supply "+r.m.label()+" carries its load.")
	if limit == "" {
		cl.lacks("no fact", "no output current is noted for part "+p.id, "note `operating I_OUT = ...`, or `spec I_MAX = by T_A: ...`")
		return
	}
	if r.known(cl, false, true) {
		r.c.try(cl, r.load+" <= "+limit)
	}
}

func (r *regulating) heat() {
	p := r.m.part
	if p.factNamed("spec", "V_DO", "V_DROP", "V_DROPOUT") == "" {
		return // a converter's loss is not (V_IN - V_OUT) · I_OUT
	}
	cl := r.claim("junction", "The junction of regulator "+r.m.label()+" stays below its rating.")
	theta, junction := p.factNamed("spec", "R_θJA", "θ_JA", "R_thJA", "R_TH_JA", "theta_JA"), p.factNamed("absmax", "T_J", "T_JMAX")
	if theta == "" {
		cl.lacks("no fact", "no thermal resistance is noted for part "+p.id, "note `spec R_θJA = ...`")
	}
	if junction == "" {
		cl.lacks("no fact", "no junction temperature is noted for part "+p.id, "note `absmax T_J = ...`")
	}
	around := r.c.around(r.m)
	if around == "" {
		cl.lacks("no value", "the temperature round the board is not stated", "`ambient: -20 °C to 50 °C` in the design block")
	}
	if !r.known(cl, true, true) || theta == "" || junction == "" || around == "" {
		return
	}
	in, out := r.c.netText(r.in), r.c.netText(r.out)
	loss := "(" + in + " - " + out + ") * " + r.load
	if g := p.factNamed("spec", "I_GND", "I_Q"); g != "" {
		loss += " + " + in + " * " + r.m.ref + "." + g
	}
	r.c.try(cl, around+" + ("+loss+") * "+r.m.ref+"."+theta+" <= "+r.m.ref+".absmax."+junction+".max")
	if n := p.factNamed("absmax", "P_D", "P_TOT", "P"); n != "" {
		r.c.try(cl, loss+" <= "+r.m.ref+".absmax."+n+".max")
	}
}

// around spells the temperature round a part, "" where nothing states it.
func (c *compiler) around(m *component) string {
	if use := m.useNamed("T_A"); use != "" {
		return m.ref + ".use." + use
	}
	if c.ambient() != nil {
		return "ambient"
	}
	return ""
}
