package checks

import (
	"strings"

	"guardband/eval"
	"guardband/eval/circuit"
)

// regulator asks of each part that makes a supply: that it has headroom, that
// its load is within its rating at the temperature of the use, and that it
// stays cool enough.
var regulator = &eval.Check{
	Name: "regulator",
	Rule: "A part with a supply output and a noted output voltage keeps its dropout voltage (V_DO, V_DROP) below what is left at its input, carries its load (`in use: I_OUT`, of several outputs `I_PIN`, else the peak of the output's budget) within its rated current (I_OUT, I_MAX, I_RATED, tables by temperature counted), and keeps its junction: " +
		"ambient + ((V_IN - V_OUT) · I_OUT + V_IN · I_GND) · R_θJA below T_J, for several outputs their losses added, for an output below 0 V with the signs turned. The thermal resistance is that of the test board of its sheet, so this is a screening figure.",
	Source: "common practice; JESD51-1 (thermal resistance)",
	Run: on(func(c *board, b *eval.Check) {
		for _, m := range c.PlacedParts() {
			if outs := outputsOf(c, b, m); len(outs) > 0 {
				for _, r := range outs {
					r.headroom()
					r.current()
				}
				heat(outs)
			}
		}
	}),
}

// regulating is one output of a regulator while its claims are made.
type regulating struct {
	c       *board
	b       *eval.Check
	m       *circuit.Component
	subject string
	in, out *circuit.Net // in is nil where the voltage is not known
	noInput string       // why
	load    string       // "" where the current is not known
	asks    string       // how to state it
	below   bool         // the output lies below 0 V
}

// outputsOf are the outputs of a part whose voltage is noted, one a net.
func outputsOf(c *board, b *eval.Check, m *circuit.Component) []*regulating {
	var pins []*circuit.Pin
	seen := map[*circuit.Net]bool{}
	for _, q := range m.Pins() {
		if n := m.PinNets[q]; q.Row.Type == "supply output" && n != nil && m.Part.OutputFact(q) != "" && !seen[n] {
			seen[n] = true
			pins = append(pins, q)
		}
	}
	in, why := c.InputOf(m)
	names := subjects(m)
	var out []*regulating
	for _, q := range pins {
		n := m.PinNets[q]
		r := &regulating{c: c, b: b, m: m, subject: m.Ref, in: in, noInput: why, out: n, below: c.Negative(n), asks: "I_OUT"}
		if len(pins) > 1 {
			r.subject, r.asks = names[q], "I_"+q.Row.Name
		}
		r.load = c.LoadOf(m, n, len(pins) > 1, q)
		out = append(out, r)
	}
	return out
}

func (r *regulating) claim(what, statement string) *eval.Claim {
	return r.c.Claim(r.b, r.subject+"."+what, statement, r.m.Entry)
}

// known opens a claim that cannot be worked out without the input voltage or
// the load; it says whether both are known.
func (r *regulating) known(cl *eval.Claim, in, load bool) bool {
	ok := true
	switch {
	case !in:
	case r.in == nil:
		settle := "give its net a value"
		if len(r.m.Supplies()) > 1 {
			settle = "name the pin VIN in its note, or give its row the name `V_IN`, and give its net a value"
		}
		cl.Lacks("no value", r.noInput, settle)
		ok = false
	case r.c.CrossesZero(r.in) || r.c.CrossesZero(r.out) || r.c.Negative(r.in) != r.below:
		cl.Lacks("no value", "input and output of "+r.m.Ref+
			" are not on one side of 0 V, so its loss is not (V_IN - V_OUT) · I_OUT",
			"claim it by the sheet's own formula, and skip this check with the reason")
		ok = false
	}
	if load && r.load == "" {
		cl.Lacks("no value", "the load of "+r.m.Ref+" is not stated", "state `in use: "+r.asks+" = ...` in its row, or write a budget of "+r.out.Name)
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
	return r.m.Part.FactNamed("spec", "V_DO", "V_DROP", "V_DROPOUT")
}

// linear says that a part without a noted dropout voltage is a linear regulator: by
// its title, or as it notes a current of its own and is no converter by its coil,
// its switching frequency or its title.
func linear(m *circuit.Component) bool {
	return m.Says("linear", "ldo", "low-dropout", "low dropout") || m.Part.FactNamed("spec", "I_GND", "I_Q") != "" &&
		!m.MakesVoltage() && !m.Says("converter", "buck", "boost", "switching", "step-down", "step-up", "charge pump", "charger",
		"module", "switch")
}

func (r *regulating) headroom() {
	drop := r.dropFact()
	if drop == "" && !linear(r.m) {
		return
	}
	says := "its input stays above its output by the dropout voltage"
	if r.below {
		says = "its input stays below its output by the dropout voltage"
	}
	cl := r.claim("headroom", "Regulator "+r.m.Label()+" has headroom: "+says+".")
	if drop == "" {
		cl.Lacks("no fact", "no dropout voltage is noted for part "+r.m.Part.ID, "note `spec V_DROP = max ... at I_OUT <= ...`")
		return
	}
	if !r.known(cl, true, false) {
		return
	}
	in, out := r.c.NetText(r.in), r.c.NetText(r.out)
	if r.below {
		r.c.Try(cl, in+" + "+r.amount(r.m.Ref+"."+drop)+" <= "+out)
		return
	}
	r.c.Try(cl, in+" - "+r.m.Ref+"."+drop+" >= "+out)
}

func (r *regulating) current() {
	p := r.m.Part
	limit := ""
	if n := p.FactNamed("operating", "I_OUT", "I_O", "I_LOAD", "I_MAX"); n != "" {
		limit = r.m.Ref + ".operating." + n + ".max"
	} else if n := p.FactNamed("spec", "I_MAX", "I_RATED", "I_OUT"); n != "" {
		limit = r.m.Ref + "." + n
	} else if n := p.FactNamed("absmax", "I_OUT", "I_O"); n != "" {
		limit = r.m.Ref + ".absmax." + n + ".max"
	}
	if r.subject != r.m.Ref { // a figure of this output counts before one of any
		for _, section := range []string{"operating", "spec", "absmax"} {
			n := p.FactNamed(section, r.asks)
			switch {
			case n == "":
				continue
			case section == "spec":
				limit = r.m.Ref + "." + n
			default:
				limit = r.m.Ref + "." + section + "." + n + ".max"
			}
			break
		}
	}
	cl := r.claim("current", "Supply "+r.m.Label()+" carries its load.")
	if limit == "" {
		cl.Lacks("no fact", "no output current is noted for part "+p.ID, "note `operating I_OUT = ...`, or `spec I_MAX = by T_A: ...`")
		return
	}
	if !r.known(cl, false, true) {
		if most := notedLoads(r.c, r.out); most != "" && !r.below { // more may be on it
			r.c.Try(cl, most+" <= "+limit)
		}
		return
	}
	r.c.Try(cl, r.amount(r.load)+" <= "+limit)
	if most, ok := strings.CutSuffix(limit, ".max"); ok && strings.Contains(most, ".operating.") {
		name := most[strings.LastIndexByte(most, '.')+1:]
		if y := r.c.Fact(r.m, "operating", name, ""); y != nil && y.Stated[0] { // it regulates from there on
			r.c.Try(cl, r.amount(r.load)+" >= "+most+".min")
		}
	}
}

// notedLoads is the sum of the supply currents that the parts on a net note, ""
// where none does.
func notedLoads(c *board, n *circuit.Net) string {
	var sum []string
	for _, j := range n.PinsOf() {
		if name := j.Comp.Part.FactNamed("spec", circuit.SupplyCurrents...); name != "" && j.Pin.Row.Type == "supply" && len(j.Comp.Supplies()) == 1 {
			if y := c.Fact(j.Comp, "spec", name, ""); y != nil && y.Stated[2] {
				sum = circuit.AddTo(sum, j.Comp.Ref+"."+name+".max")
			}
		}
	}
	return strings.Join(sum, " + ")
}

// heat asks that a part stays cool enough with all its outputs at work.
func heat(outs []*regulating) {
	r := outs[0]
	p, m := r.m.Part, r.m
	if r.dropFact() == "" && !linear(m) {
		return // a converter's loss is not (V_IN - V_OUT) · I_OUT
	}
	cl := r.c.Claim(r.b, m.Ref+".junction", "The junction of regulator "+m.Label()+" stays below its rating.", m.Entry)
	theta, junction, own := p.FactNamed("spec", "R_θJA", "θ_JA", "R_thJA", "R_TH_JA", "theta_JA"), p.FactNamed("absmax",
		"T_J", "T_JMAX"), p.FactNamed("spec", "I_GND", "I_Q")
	if theta == "" {
		cl.Lacks("no fact", "no thermal resistance is noted for part "+p.ID,
			"note `spec R_θJA = max ...`, or state `in use: R_θJA = ...` of this board")
	}
	if theta != "" {
		cl.Out.Statement += " (screening: its thermal resistance is that of a test board)"
	}
	if junction == "" {
		cl.Lacks("no fact", "no junction temperature is noted for part "+p.ID, "note `absmax T_J = ...`")
	}
	if own == "" {
		cl.Lacks("no fact", "no current of its own is noted for part "+p.ID+", which heats it too", "note `spec I_GND = max ...`")
	}
	around := around(r.c, m)
	if around == "" {
		cl.Lacks("no value", "the ambient temperature is not stated", "`ambient: -20 °C to 50 °C` in the design block")
	}
	ok := theta != "" && junction != "" && around != ""
	for i, x := range outs {
		ok = x.known(cl, i == 0 || x.below != r.below, true) && ok
	}
	if !ok {
		return
	}
	loss := lossOf(outs, own)
	resistance := m.Ref + "." + theta
	if use := m.UseNamed(theta); use != "" { // of the board that is built
		resistance = m.Ref + ".use." + use
	}
	r.c.Try(cl, around+" + ("+loss+") * "+resistance+" <= "+m.Ref+".absmax."+junction+".max")
	if n := p.FactNamed("absmax", "P_D", "P_TOT", "P"); n != "" {
		r.c.Try(cl, loss+" <= "+m.Ref+".absmax."+n+".max")
	}
}

// lossOf spells what a linear regulator turns into heat.
func lossOf(outs []*regulating, own string) string {
	var l []string
	first := outs[0]
	in := first.c.NetText(first.in)
	for _, r := range outs {
		drop := in + " - " + r.c.NetText(r.out)
		if r.below {
			drop = r.c.NetText(r.out) + " - " + in
		}
		l = append(l, "("+drop+") * "+r.amount(r.load))
	}
	if own != "" {
		l = append(l, first.amount(in)+" * "+first.amount(first.m.Ref+"."+own))
	}
	return strings.Join(l, " + ")
}

// around spells the temperature round a part, "" where nothing states it.
func around(c *board, m *circuit.Component) string {
	if use := m.UseNamed("T_A"); use != "" {
		return m.Ref + ".use." + use
	}
	if c.Ambient() {
		return "ambient"
	}
	return ""
}

// loadAt spells the current that a part delivers at one of its outputs.
func loadAt(c *board, m *circuit.Component, out *circuit.Net) string {
	var at *circuit.Pin
	nets := map[*circuit.Net]bool{}
	for _, q := range m.Pins() {
		if n := m.PinNets[q]; q.Row.Type == "supply output" && n != nil {
			if nets[n] = true; n == out {
				at = q
			}
		}
	}
	return c.LoadOf(m, out, len(nets) > 1 && at != nil, at)
}
