package eval

import (
	"slices"

	"guardband/eval/bound"
	"guardband/eval/network"
	"guardband/eval/record"
)

// This file makes elements of the network out of placed parts, those with pins
// of a type aside (board_pins.go). What is not known here is a stranger on its
// nets: it may hold them anywhere.

// enter makes the elements of one placed part.
func (b *boardNet) enter(m *component) {
	b.here = nil
	seen := map[*net]bool{}
	put := func(n *net) {
		if n != nil && !seen[n] {
			seen[n] = true
			b.here = append(b.here, n)
		}
	}
	for _, n := range m.conns {
		put(n)
	}
	for _, n := range m.pinNets {
		put(n)
	}
	if m.unnoted() {
		b.strangers(m) // whatever kind it is said to be: which pin is which is not known
		return
	}
	switch kind := m.sort(); kind {
	case "capacitor", "crystal", "resonator", "test point":
	case "resistor", "thermistor", "ferrite bead", "fuse", "inductor", "link", "wire", "varistor":
		b.resistive(m)
	case "switch", "jumper":
		b.contact(m)
	case "diode", "LED", "Zener diode":
		b.junction(m)
	default:
		switch {
		case m.isConnector():
			b.plug(m)
		case m.part == nil || kind == "cell" || kind == "battery":
			b.strangers(m)
		default:
			b.active(m)
		}
	}
}

// strangers puts something unknown on every net of a part.
func (b *boardNet) strangers(m *component) {
	for _, n := range b.here {
		b.stranger(n, m.ref)
	}
}

// ohmsOf is the resistance of a part in the graph, 0 where it is not known.
func (b *boardNet) ohmsOf(m *component) bound.Reg {
	c := b.c
	y := c.componentSymbol(m)
	if !c.isOhm(y) || m.sort() == "ferrite bead" && m.part == nil { // what a bead is sold by is its impedance
		name := m.resistanceName()
		switch {
		case name == "":
			return 0
		case m.part != nil:
			y, _ = c.fact(m, "spec", name, "")
		default:
			if y = c.kindFact(m, name); y == nil {
				y = c.useSymbol(m, name)
			}
		}
		if !c.isOhm(y) {
			return 0
		}
	}
	b.rest(y)
	return y.val.Reg
}

// resistive is a part that resists, or is anything from 0 Ω up.
func (b *boardNet) resistive(m *component) {
	x, y, ok := m.ends()
	if !ok {
		b.strangers(m)
		return
	}
	b.join(x, y)
	r := bound.Reg(0)
	if m.sort() != "varistor" {
		r = b.ohmsOf(m)
	}
	if r == 0 {
		b.miss("the resistance of "+m.ref+" is not stated", "give its value in its row, or note `spec R_DC = ...`")
	}
	b.elements[m] = b.n.Resistor(m.ref, b.at(x), b.at(y), r)
	b.elements[m].Conducts = true
}

// contact is a switch or jumper: closed, open, or either.
func (b *boardNet) contact(m *component) {
	x, y, ok := m.ends()
	switch {
	case ok && len(b.here) <= 2:
		if m.open() {
			return
		}
		b.join(x, y)
		r := b.ohmsOf(m)
		if r == 0 && m.sort() == "jumper" {
			r = b.c.b.Const(zero)
		}
		if m.closed() {
			b.elements[m] = b.n.Resistor(m.ref, b.at(x), b.at(y), r)
			return
		}
		b.miss("it is not stated whether "+m.ref+" is closed", "give its row the option `closed` or `open`")
		d := b.n.Driver(m.ref, "open", "closed", "either")
		d.Release("open")
		d.In("closed", b.n.Resistor(m.ref+" closed", b.at(x), b.at(y), r))
		b.elements[m] = d.In("either", b.n.Resistor(m.ref, b.at(x), b.at(y), 0))
		b.drives = append(b.drives, &drive{d: d, what: aSwitch, comp: m})
	case m.part == nil: // which of several contacts are joined is not said
		b.passive(m, b.here)
	default:
		b.strangers(m)
	}
}

// passive joins nets by something of which only that is known.
func (b *boardNet) passive(m *component, nets []*net) {
	b.join(nets...)
	for i, x := range nets {
		for _, y := range nets[:i] {
			b.n.Resistor(m.ref, b.at(x), b.at(y), 0)
		}
	}
}

// plug is a connector: nothing is plugged in, or something unknown is.
func (b *boardNet) plug(m *component) {
	for _, n := range b.here {
		if b.given(n) {
			continue
		}
		far := b.n.Node(n.name)
		b.n.Anything(far, m.ref)
		i := b.about[b.island(n)]
		i.fed = true
		i.missing = addTo(i.missing, record.OpenPoint{Reason: "no fact", Text: m.ref + " is on " + n.name + ", and what is plugged in there is not known",
			Settle: "give a value `" + n.name + " = ...`, or state the quantity in the row of the part (`in use:`)"})
		d := b.n.Driver(m.ref+" on "+n.name, "free", "plugged")
		d.Release("free")
		d.In("plugged", b.n.Link(m.ref, far, b.nodes[n]))
		b.drives = append(b.drives, &drive{d: d, what: aPlug, comp: m, net: n})
	}
}

// junction is a diode, an LED, a Zener diode or a suppressor.
func (b *boardNet) junction(m *component) {
	from, to := m.networkEnds()
	if from == nil || to == nil {
		b.strangers(m)
		return
	}
	b.join(from, to)
	_, _, named := m.poles()
	if !named || m.part != nil && m.part.factNamed("operating", "V_RWN") != "" {
		b.miss("what "+m.ref+" conducts, and which way, is not noted", "place it as a part with its pins A and K and `spec V_F = ... at I_F = ...`")
		b.elements[m] = b.n.Resistor(m.ref, b.at(from), b.at(to), 0)
		return
	}
	d := b.diode(m)
	if m.breaksDown() && d.HeldBack == 0 && len(d.Breakdown) == 0 { // it may break down anywhere
		b.elements[m] = b.n.Resistor(m.ref, b.at(from), b.at(to), 0)
		return
	}
	if d.Held == 0 && len(d.Forward) == 0 {
		b.miss("the forward voltage of "+m.ref+" is not noted", "place it as a part with `spec V_F = ... at I_F = ...`")
	}
	b.elements[m] = b.n.Junction(m.ref, b.at(from), b.at(to), d)
	b.assume("the voltage of a junction rises with its current")
	b.assume(settles)
}

// settles is what network.Settle takes.
const settles = "a net that floats lies between those that what blocks leads to"

// breaksDown says that a diode is made to be used in breakdown.
func (m *component) breaksDown() bool {
	return m.sort() == "Zener diode" || m.part != nil && m.isSuppressor()
}

// diode is what the note of a part states of its junction.
func (b *boardNet) diode(m *component) network.Diode {
	d := network.Diode{}
	if m.part == nil {
		b.miss("the forward voltage of "+m.ref+" is not noted", "note it as a part with `spec V_F`")
		return d
	}
	if d.Held, d.Forward = b.curve(m, nil, []string{"V_F"}, "I_F", "I"); d.Held != 0 {
		b.assume("V_F of " + m.ref + " holds at every current that it has")
	}
	if d.Held == 0 && !slices.ContainsFunc(d.Forward, func(p network.Point) bool { return p.Min != 0 }) {
		b.miss("no min of V_F is noted for "+m.ref, "note `spec V_F = min ...` of part "+m.part.id)
	}
	if m.breaksDown() {
		if d.HeldBack, d.Breakdown = b.curve(m, nil, []string{"V_Z", "V_BR"}, "I_Z", "I_ZT", "I_T", "I_BR"); d.HeldBack != 0 {
			b.assume("V_Z of " + m.ref + " holds at every current that it has")
		}
	} else {
		b.assume("the reverse voltage of " + m.ref + " stays below its breakdown, which its own claim asks")
	}
	d.Leak, d.LeakUpTo = b.reverseLeak(m)
	return d
}

// reverseLeak is the reverse current of a junction and the voltage up to which
// it is stated, 0 where they are not noted.
func (b *boardNet) reverseLeak(m *component) (leak, upTo bound.Reg) {
	for _, r := range b.rows(m, nil, []string{"I_R", "I_RM", "I_DSS"}, "V_R", "V_RWM", "V_DS", "V_RM") {
		if r.max == 0 {
			continue
		}
		most, _ := b.magnitude(r.max)
		leak = b.between("the reverse current of "+m.ref, 0, most, stateUse)
		return leak, r.atHigh
	}
	return 0, 0
}

// anyCurrent is where a row counts that names no current: beyond all that flow.
var anyCurrent = rat(1e6)
