package eval

import "strings"

// regulator asks of each part that makes a supply: that it has headroom, that
// its load is within its rating at the temperature of the use, and that it
// stays cool enough.
var regulator = &builtin{
	name: "regulator",
	rule: "A part with a supply output and a noted output voltage keeps its dropout voltage (V_DO, V_DROP) below what is left at its input, carries its load (`in use: I_OUT`, of several outputs `I_PIN`, else the peak of the output's budget) within its rated current (I_OUT, I_MAX, I_RATED, tables by temperature counted), and keeps its junction: " +
		"ambient + ((V_IN - V_OUT) · I_OUT + V_IN · I_GND) · R_θJA below T_J, for several outputs their losses added, for an output below 0 V with the signs turned. The thermal resistance is that of the test board of its sheet, so this is a screening figure.",
	source: "common practice; JESD51-1 (thermal resistance)",
	run: func(c *compiler, b *builtin) {
		for _, m := range c.placedParts() {
			if outs := c.outputsOf(b, m); len(outs) > 0 {
				for _, r := range outs {
					r.headroom()
					r.current()
				}
				heat(outs)
			}
		}
	},
}

// regulating is one output of a regulator while its claims are made.
type regulating struct {
	c       *compiler
	b       *builtin
	m       *component
	subject string
	in, out *net   // in is nil where the voltage is not known
	noInput string // why
	load    string // "" where the current is not known
	asks    string // how to state it
	below   bool   // the output lies below 0 V
}

// outputsOf are the outputs of a part whose voltage is noted, one a net.
func (c *compiler) outputsOf(b *builtin, m *component) []*regulating {
	var pins []*pin
	seen := map[*net]bool{}
	for _, q := range m.part.pins {
		if n := m.pinNets[q]; q.row.Type == "supply output" && n != nil && m.part.outputFact(q) != "" && !seen[n] {
			seen[n] = true
			pins = append(pins, q)
		}
	}
	in, why := c.inputOf(m)
	names := subjects(m)
	var out []*regulating
	for _, q := range pins {
		n := m.pinNets[q]
		r := &regulating{c: c, b: b, m: m, subject: m.ref, in: in, noInput: why, out: n, below: c.negative(n), asks: "I_OUT"}
		if len(pins) > 1 {
			r.subject, r.asks = names[q], "I_"+q.row.Name
		}
		r.load = c.loadOf(m, n, len(pins) > 1, q)
		out = append(out, r)
	}
	return out
}

// inputOf is the net that a regulator takes its current from: its only supply,
// of several the one called an input. Where that is not known it says why.
func (c *compiler) inputOf(m *component) (in *net, why string) {
	s := m.supplies()
	if len(s) > 1 {
		named := m.netsNamed("V_IN")
		if len(named) == 0 {
			named = m.netsNamed("IN")
		}
		if s = named; len(s) != 1 {
			return nil, "which of the supplies of " + m.ref + " feeds its output is not noted"
		}
	}
	if len(s) == 0 || !c.voltageTold(s[0]) {
		return nil, "the voltage at the input of " + m.ref + " is not known"
	}
	return s[0], ""
}

// loadOf spells the current a supply delivers at a net; of a part with several
// outputs the current of the pin.
func (c *compiler) loadOf(m *component, out *net, several bool, q *pin) string {
	use, b := m.useNamed(loadNames(q, several)...), c.budgetOf(out)
	switch {
	case use == "" && b == nil:
		return ""
	case use == "":
		return budgetText(b) + ".peak"
	case b == nil || m.stated(use) == budgetText(b)+".peak":
		return m.ref + ".use." + use
	case c.negative(out):
		return "max(abs(" + m.ref + ".use." + use + "), abs(" + budgetText(b) + ".peak))"
	}
	return "max(" + m.ref + ".use." + use + ", " + budgetText(b) + ".peak)"
}

// stated is what a row states of a use, as typed.
func (m *component) stated(use string) string {
	for _, k := range m.row.InUse {
		if k.Flag == "" && k.Name == use {
			return strings.TrimSpace(k.Value.S)
		}
	}
	return ""
}

// loadNames are the symbols of what a supply delivers; of a part with several
// outputs those of the pin.
func loadNames(q *pin, several bool) []string {
	if several {
		return []string{"I_" + q.row.Name, "I_" + q.obeys()}
	}
	return []string{"I_OUT", "I_O", "I_LOAD", "I_L"}
}

func (r *regulating) claim(what, statement string) *claim {
	return r.c.builtClaim(r.b, r.subject+"."+what, statement, r.m.entry)
}

// known opens a claim that cannot be worked out without the input voltage or
// the load; it says whether both are known.
func (r *regulating) known(cl *claim, in, load bool) bool {
	ok := true
	switch {
	case !in:
	case r.in == nil:
		settle := "give its net a value"
		if len(r.m.supplies()) > 1 {
			settle = "name the pin VIN in its note, or give its row the name `V_IN`, and give its net a value"
		}
		cl.lacks("no value", r.noInput, settle)
		ok = false
	case r.c.crossesZero(r.in) || r.c.crossesZero(r.out) || r.c.negative(r.in) != r.below:
		cl.lacks("no value", "input and output of "+r.m.ref+" do not lie on one side of 0 V, so its loss is not (V_IN - V_OUT) · I_OUT", "claim it by the sheet's own formula, and skip this check with the reason")
		ok = false
	}
	if load && r.load == "" {
		cl.lacks("no value", "the load of "+r.m.ref+" is not stated", "state `in use: "+r.asks+" = ...` in its row, or write a budget of "+r.out.name)
		ok = false
	}
	return ok
}

// amount is a current or voltage without the sign that one below 0 V may have.
func (r *regulating) amount(text string) string {
	if r.below {
		return "abs(" + text + ")"
	}
	return text
}

func (r *regulating) dropFact() string {
	return r.m.part.factNamed("spec", "V_DO", "V_DROP", "V_DROPOUT")
}

func (r *regulating) headroom() {
	drop := r.dropFact()
	if drop == "" {
		return // no linear regulator, or one whose note does not speak of it
	}
	says := "its input stays above its output by the dropout voltage"
	if r.below {
		says = "its input stays below its output by the dropout voltage"
	}
	cl := r.claim("headroom", "Regulator "+r.m.label()+" has headroom: "+says+".")
	if !r.known(cl, true, false) {
		return
	}
	in, out := r.c.netText(r.in), r.c.netText(r.out)
	if r.below {
		r.c.try(cl, in+" + "+r.amount(r.m.ref+"."+drop)+" <= "+out)
		return
	}
	r.c.try(cl, in+" - "+r.m.ref+"."+drop+" >= "+out)
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
	if r.subject != r.m.ref { // a figure of this output counts before one of any
		for _, section := range []string{"operating", "spec", "absmax"} {
			n := p.factNamed(section, r.asks)
			switch {
			case n == "":
				continue
			case section == "spec":
				limit = r.m.ref + "." + n
			default:
				limit = r.m.ref + "." + section + "." + n + ".max"
			}
			break
		}
	}
	cl := r.claim("current", "Supply "+r.m.label()+" carries its load.")
	if limit == "" {
		cl.lacks("no fact", "no output current is noted for part "+p.id, "note `operating I_OUT = ...`, or `spec I_MAX = by T_A: ...`")
		return
	}
	if r.known(cl, false, true) {
		r.c.try(cl, r.amount(r.load)+" <= "+limit)
	}
}

// heat asks that a part stays cool enough with all its outputs at work.
func heat(outs []*regulating) {
	r := outs[0]
	p, m := r.m.part, r.m
	if r.dropFact() == "" {
		return // a converter's loss is not (V_IN - V_OUT) · I_OUT
	}
	cl := r.c.builtClaim(r.b, m.ref+".junction", "The junction of regulator "+m.label()+" stays below its rating.", m.entry)
	theta, junction, own := p.factNamed("spec", "R_θJA", "θ_JA", "R_thJA", "R_TH_JA", "theta_JA"), p.factNamed("absmax", "T_J", "T_JMAX"), p.factNamed("spec", "I_GND", "I_Q")
	if theta == "" {
		cl.lacks("no fact", "no thermal resistance is noted for part "+p.id, "note `spec R_θJA = max ...`, or state `in use: R_θJA = ...` of this board")
	}
	if theta != "" {
		cl.out.Statement += " (screening: its thermal resistance is that of a test board)"
	}
	if junction == "" {
		cl.lacks("no fact", "no junction temperature is noted for part "+p.id, "note `absmax T_J = ...`")
	}
	if own == "" {
		cl.lacks("no fact", "no current of its own is noted for part "+p.id+", which heats it too", "note `spec I_GND = max ...`")
	}
	around := r.c.around(m)
	if around == "" {
		cl.lacks("no value", "the temperature round the board is not stated", "`ambient: -20 °C to 50 °C` in the design block")
	}
	ok := theta != "" && junction != "" && around != ""
	for i, x := range outs {
		ok = x.known(cl, i == 0 || x.below != r.below, true) && ok
	}
	if !ok {
		return
	}
	loss := lossOf(outs, own)
	resistance := m.ref + "." + theta
	if use := m.useNamed(theta); use != "" { // of the board that is built
		resistance = m.ref + ".use." + use
	}
	r.c.try(cl, around+" + ("+loss+") * "+resistance+" <= "+m.ref+".absmax."+junction+".max")
	if n := p.factNamed("absmax", "P_D", "P_TOT", "P"); n != "" {
		r.c.try(cl, loss+" <= "+m.ref+".absmax."+n+".max")
	}
}

// lossOf spells what a linear regulator turns into heat.
func lossOf(outs []*regulating, own string) string {
	var l []string
	first := outs[0]
	in := first.c.netText(first.in)
	for _, r := range outs {
		drop := in + " - " + r.c.netText(r.out)
		if r.below {
			drop = r.c.netText(r.out) + " - " + in
		}
		l = append(l, "("+drop+") * "+r.amount(r.load))
	}
	if own != "" {
		l = append(l, first.amount(in)+" * "+first.amount(first.m.ref+"."+own))
	}
	return strings.Join(l, " + ")
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

// loadAt spells the current that a part delivers at one of its outputs.
func (c *compiler) loadAt(m *component, out *net) string {
	var at *pin
	nets := map[*net]bool{}
	for _, q := range m.part.pins {
		if n := m.pinNets[q]; q.row.Type == "supply output" && n != nil {
			if nets[n] = true; n == out {
				at = q
			}
		}
	}
	return c.loadOf(m, out, len(nets) > 1 && at != nil, at)
}
