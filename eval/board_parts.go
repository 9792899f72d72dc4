package eval

import (
	"cmp"
	"maps"
	"slices"

	"guardband/eval/bound"
	"guardband/eval/circuit"
	"guardband/eval/network"
	"guardband/eval/record"
)

// This file makes elements of the network out of placed parts, those with pins
// of a type aside (board_pins.go). What is not known here is a stranger on its
// nets: it may hold them anywhere.

// enter makes the elements of one placed part.
func (b *boardNet) enter(m *circuit.Component) {
	b.here = slices.AppendSeq(slices.Collect(maps.Values(m.Conns)), maps.Values(m.PinNets))
	b.here = slices.DeleteFunc(b.here, func(n *circuit.Net) bool { return n == nil })
	slices.SortFunc(b.here, func(x, y *circuit.Net) int { return cmp.Compare(x.Name, y.Name) }) // maps have no order
	b.here = slices.Compact(b.here)
	if m.Unnoted() {
		b.strangers(m) // whatever kind it is said to be: which pin is which is not known
		return
	}
	switch kind := m.Sort(); kind {
	case "capacitor", "crystal", "resonator", "test point":
	case "resistor", "thermistor", "ferrite bead", "fuse", "inductor", "link", "wire", "varistor":
		b.resistive(m)
	case "switch", "jumper":
		b.contact(m)
	case "diode", "LED", "Zener diode":
		b.junction(m)
	default:
		switch {
		case m.IsConnector():
			b.plug(m)
		case m.Part == nil || kind == "cell" || kind == "battery":
			b.strangers(m)
		default:
			b.active(m)
		}
	}
}

// strangers puts something unknown on every net of a part.
func (b *boardNet) strangers(m *circuit.Component) {
	for _, n := range b.here {
		b.stranger(n, m.Ref)
	}
}

// ohmsOf is the resistance of a part in the graph, 0 where it is not known.
func (b *boardNet) ohmsOf(m *circuit.Component) bound.Reg {
	y, _ := b.c.resistance(m)
	if y == nil {
		return 0
	}
	b.rest(y)
	return y.val.Reg
}

// resistive is a part that resists, or is anything from 0 Ω up.
func (b *boardNet) resistive(m *circuit.Component) {
	x, y, ok := m.Ends()
	if !ok {
		b.strangers(m)
		return
	}
	b.join(x, y)
	r := bound.Reg(0)
	if m.Sort() != "varistor" {
		r = b.ohmsOf(m)
	}
	if r == 0 {
		b.miss("the resistance of "+m.Ref+" is not stated", "give its value in its row, or note `spec R_DC = ...`")
	}
	b.elements[m] = b.n.Resistor(m.Ref, b.at(x), b.at(y), r)
	b.elements[m].Conducts = true
}

// contact is a switch or jumper: closed, open, or either.
func (b *boardNet) contact(m *circuit.Component) {
	x, y, ok := m.Ends()
	switch {
	case ok && len(b.here) <= 2:
		if m.Open() {
			return
		}
		b.join(x, y)
		r := b.ohmsOf(m)
		if r == 0 && m.Sort() == "jumper" {
			r = b.c.b.Const(zero)
		}
		if m.Closed() {
			b.elements[m] = b.n.Resistor(m.Ref, b.at(x), b.at(y), r)
			return
		}
		b.miss("it is not stated whether "+m.Ref+" is closed", "give its row the option `closed` or `open`")
		d := b.n.Driver(m.Ref, "open", "closed", "either")
		d.Release("open")
		if r == 0 {
			share := b.c.newInput(&input{name: "the resistance of " + m.Ref + " while it is closed",
				in: bound.Input{Lo: zero, Hi: one, SureLo: zero, SureHi: zero}})
			b.tells(share, record.OpenPoint{Reason: "no fact", Text: "the resistance of " + m.Ref + " is not known",
				Settle: "give its row the option `R_CONTACT ...`"})
			r = b.c.b.Binary(bound.OpMul, share, b.c.b.Const(rat(100)))
			b.assume("a contact that is closed has 100 Ω at most (common practice)")
		}
		d.In("closed", b.n.Resistor(m.Ref+" closed", b.at(x), b.at(y), r))
		b.elements[m] = d.In("either", b.n.Resistor(m.Ref, b.at(x), b.at(y), 0))
		b.drives = append(b.drives, &Drive{d: d, What: ASwitch, Comp: m})
	case m.Part == nil: // which of several contacts are joined is not said
		b.passive(m, b.here)
	default:
		b.strangers(m)
	}
}

// passive joins nets by something of which only that is known.
func (b *boardNet) passive(m *circuit.Component, nets []*circuit.Net) {
	b.join(nets...)
	for i, x := range nets {
		for _, y := range nets[:i] {
			b.n.Resistor(m.Ref, b.at(x), b.at(y), 0)
		}
	}
}

// plug is a connector: nothing is plugged in, or something unknown is.
func (b *boardNet) plug(m *circuit.Component) {
	for _, n := range b.here {
		if b.given(n) {
			continue
		}
		far := b.n.Node(n.Name)
		b.n.Anything(far, m.Ref)
		i := b.about[b.island(n)]
		i.fed = true
		i.missing = circuit.AddTo(i.missing, record.OpenPoint{Reason: "no fact", Text: m.Ref + " is on " + n.Name +
			", and what is plugged in there is not known",
			Settle: "give a value `" + n.Name + " = ...`, or state the quantity in the row of the part (`in use:`)"})
		d := b.n.Driver(m.Ref+" on "+n.Name, "free", "plugged")
		d.Release("free")
		d.In("plugged", b.n.Link(m.Ref, far, b.nodes[n]))
		b.drives = append(b.drives, &Drive{d: d, What: APlug, Comp: m, Net: n})
	}
}

// junction is a diode, an LED, a Zener diode or a suppressor.
func (b *boardNet) junction(m *circuit.Component) {
	from, to := m.NetworkEnds()
	if from == nil || to == nil {
		b.strangers(m)
		return
	}
	b.join(from, to)
	_, _, named := m.Poles()
	if !named || m.Part != nil && m.Part.FactNamed("operating", "V_RWN") != "" {
		b.miss("what "+m.Ref+" conducts, and which way, is not noted", "place it as a part with its pins A and K and `spec V_F = ... at I_F = ...`")
		b.elements[m] = b.n.Resistor(m.Ref, b.at(from), b.at(to), 0)
		return
	}
	d := b.diode(m)
	if m.BreaksDown() && d.HeldBack == 0 && len(d.Breakdown) == 0 { // it may break down anywhere
		b.elements[m] = b.n.Resistor(m.Ref, b.at(from), b.at(to), 0)
		return
	}
	if d.Held == 0 && len(d.Forward) == 0 {
		b.miss("the forward voltage of "+m.Ref+" is not noted", "place it as a part with `spec V_F = ... at I_F = ...`")
	}
	b.elements[m] = b.n.Junction(m.Ref, b.at(from), b.at(to), d)
	b.assume("the voltage of a junction rises with its current")
	b.assume(settles)
}

// settles is what network.Settle takes.
const settles = "a floating net is between nets that a blocking element connects"

// diode is what the note of a part states of its junction.
func (b *boardNet) diode(m *circuit.Component) network.Diode {
	d := network.Diode{}
	if m.Part == nil {
		b.miss("the forward voltage of "+m.Ref+" is not noted", "note it as a part with `spec V_F`")
		return d
	}
	if d.Held, d.Forward = b.curve(m, nil, []string{"V_F"}, "I_F", "I"); d.Held != 0 {
		b.assume("V_F of " + m.Ref + " applies at every current that it has")
	}
	if d.Held == 0 && !slices.ContainsFunc(d.Forward, func(p network.Point) bool { return p.Min != 0 }) {
		b.miss("no min of V_F is noted for "+m.Ref, "note `spec V_F = min ...` of part "+m.Part.ID)
	}
	if m.BreaksDown() {
		if d.HeldBack, d.Breakdown = b.curve(m, nil, []string{"V_Z", "V_BR"}, "I_Z", "I_ZT", "I_T", "I_BR"); d.HeldBack != 0 {
			b.assume("V_Z of " + m.Ref + " applies at every current that it has")
		}
	} else {
		b.assume("the reverse voltage of " + m.Ref + " stays below its breakdown, which its own claim asks")
	}
	if d.Leak, d.LeakUpTo = b.reverseLeak(m); d.Leak == 0 {
		d.Leak = b.usualLeak(m)
	}
	return d
}

// usualLeak bounds a reverse current that is not noted by the rated forward
// current, 0 where that is not noted either.
func (b *boardNet) usualLeak(m *circuit.Component) bound.Reg {
	name := m.Part.FactNamed("absmax", "I_F", "I_F_AV", "I_FAV")
	if name == "" {
		return 0
	}
	y, _ := b.c.fact(m, "absmax", name, "")
	if y == nil {
		return 0
	}
	if b.c.lower(y); y.cols[2] == nil || b.size(y.cols[2].Reg) == nil {
		return 0
	}
	b.assume("the reverse current of " + m.Ref + ", which is not noted, is a twentieth of its rated I_F at most (common practice)")
	most := b.c.b.Binary(bound.OpDiv, y.cols[2].Reg, b.c.b.Const(rat(20)))
	return b.between("the reverse current of "+m.Ref, 0, most, "note `spec I_R = max ... at V_R <= ...` of part "+m.Part.ID)
}

// reverseLeak is the reverse current of a junction and the voltage up to which
// it is stated, 0 where they are not noted.
func (b *boardNet) reverseLeak(m *circuit.Component) (leak, upTo bound.Reg) {
	for _, r := range b.rows(m, nil, []string{"I_R", "I_RM", "I_DSS"}, "V_R", "V_RWM", "V_DS", "V_RM") {
		if r.max == 0 {
			continue
		}
		most, _ := b.magnitude(r.max)
		leak = b.between("the reverse current of "+m.Ref, 0, most, stateUse)
		return leak, r.atHigh
	}
	return 0, 0
}

// anyCurrent is where a row counts that names no current: beyond all that flow.
var anyCurrent = rat(1e6)
