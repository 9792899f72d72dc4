package eval

import (
	"math/big"
	"strings"

	"guardband/eval/bound"
	"guardband/eval/circuit"
	"guardband/eval/formula"
	"guardband/eval/network"
)

// This file puts transistors and what they switch into the network.

// active is a part with notes that is none of the plain kinds.
func (b *boardNet) active(m *circuit.Component) {
	g, d, s := m.End("G", "GATE"), m.End("D", "DRAIN"), m.End("S", "SOURCE")
	base, coll, em := m.End("B", "BASE"), m.End("C", "COLLECTOR"), m.End("E", "EMITTER")
	one, two := m.CoilEnds()
	switch {
	case g != nil && d != nil && s != nil && len(m.Supplies()) == 0:
		b.fieldEffect(m, g, d, s)
	case base != nil && coll != nil && em != nil && len(m.Supplies()) == 0 && !m.ByLight():
		b.bipolar(m, base, coll, em)
	case one != nil && two != nil:
		b.coil(m, one, two)
	case m.IsSuppressor(), m.ByLight():
		b.junction(m)
		from, to := m.NetworkEnds()
		var others []*circuit.Net
		for _, n := range b.here {
			if n != from && n != to {
				others = append(others, n)
			}
		}
		if len(m.Supplies()) == 0 { // a transistor that light opens
			b.passive(m, others)
			return
		}
		for _, n := range others {
			b.stranger(n, m.Ref)
		}
	case len(m.Supplies()) == 0 && strings.Contains(m.Part.Title, "resistive"):
		b.passive(m, b.here)
	default:
		b.pins(m)
	}
}

// coil is a relay or valve; its contacts are strangers.
func (b *boardNet) coil(m *circuit.Component, one, two *circuit.Net) {
	b.join(one, two)
	b.elements[m] = b.n.Resistor(m.Ref, b.at(one), b.at(two), b.ohmsOf(m))
	for _, n := range b.here {
		if n != one && n != two {
			b.stranger(n, m.Ref)
		}
	}
}

// fieldEffect is a field-effect transistor with its body diode.
func (b *boardNet) fieldEffect(m *circuit.Component, g, d, s *circuit.Net) {
	b.join(g, d, s)
	down, known := m.Channel()
	if !known {
		b.elements[m] = b.n.Resistor(m.Ref, b.at(d), b.at(s), 0)
		b.stranger(g, m.Ref+".G")
		return
	}
	gate, source, anode, cathode := g, s, s, d
	if down {
		gate, source, anode, cathode = s, g, d, s
	}
	b.statedGate(m, g, s)
	leak := bound.Reg(0)
	for _, r := range b.rows(m, nil, []string{"I_DSS", "I_LEAK"}, "~V_DS") {
		if r.max != 0 {
			leak, _ = b.magnitude(r.max)
		}
	}
	rows := b.turns(m)
	e := b.n.Channel(m.Ref, b.at(d), b.at(s), b.at(gate), b.at(source), b.threshold(m), rows, leak)
	b.elements[m] = e
	if at, i := b.turnsOn(m); at != 0 {
		sign := 1
		if down {
			sign = -1
		}
		if more := new(big.Rat).Add(b.size(at), big.NewRat(1, 2)); len(rows) > 0 && more.Cmp(b.size(rows[0].At)) < 0 {
			b.assume("half a volt above its greatest threshold " + m.Ref +
				" carries ten times the current at which that is stated (common practice)")
			at, i = b.c.b.Const(more), b.c.b.Const(new(big.Rat).Mul(b.size(i), rat(10)))
		}
		b.n.TurnsOn(e, at, i, sign)
	}
	body := network.Diode{NoLeak: true}
	for _, r := range b.rows(m, nil, []string{"V_SD", "V_F", "V_FSD"}, "I_S", "I_SD", "I_F", "~V_GS") {
		switch {
		case r.max != 0 && r.atHigh != 0: // its minimum says nothing of a smaller current
			body.Forward = append(body.Forward, network.Point{Max: r.max, At: r.atHigh})
		case r.max != 0 && !r.stated:
			body.Forward = append(body.Forward, network.Point{Max: r.max, At: b.c.b.Const(anyCurrent)})
		}
	}
	switch {
	case len(body.Forward) > 1:
		body.Forward = body.Forward[:1]
	case len(body.Forward) == 0 && !m.Says("gan", "gallium", "sic", "carbide"):
		body.Forward = b.siliconDiode(m)
	}
	b.bodies[m] = b.n.Junction(m.Ref+" body diode", b.at(anode), b.at(cathode), body)
	b.assume(settles)
	b.assume("the reverse voltage of the body diode of " + m.Ref + " stays below its breakdown")
	if gates := b.gateLeak(m); gates != 0 {
		b.n.Load(m.Ref+" gate", b.at(g), b.at(s), gates)
	} else {
		b.assume("the gate of " + m.Ref + " takes no current")
	}
}

// statedGate drives a gate on which nothing else stands by the voltage that the
// row states, and turns it off.
func (b *boardNet) statedGate(m *circuit.Component, g, s *circuit.Net) {
	use := m.UseNamed("V_GS")
	if use == "" || b.given(g) || len(g.Joined) > 1 {
		return
	}
	y := b.c.useSymbol(m, use)
	if b.c.lower(y); y.val.Class != formula.Number || y.val.Type.Dim != circuit.Volt.Dim {
		return
	}
	b.rest(y)
	d := b.n.Driver("the gate of "+m.Ref, "on", "off")
	d.In("on", b.n.Add(m.Ref+" gate drive", b.at(g), b.at(s), network.Piece{Form: network.Holds, Value: y.val.Reg}))
	d.In("off", b.n.Link(m.Ref+" gate off", b.at(g), b.at(s)))
}

// siliconDiode is what the diode inside a transistor of silicon drops, where no
// V_SD is noted.
func (b *boardNet) siliconDiode(m *circuit.Component) []network.Point {
	volts := func(num, den int64) bound.Reg { return b.c.b.Const(big.NewRat(num, den)) }
	b.assume("the body diode of " + m.Ref +
		", whose V_SD is not noted, drops 0.8 V at most up to 1 mA and 2 V beyond, as those of silicon do (common practice)")
	return []network.Point{{Max: volts(4, 5), At: volts(1, 1000)}, {Max: volts(2, 1), At: b.c.b.Const(anyCurrent)}}
}

// thresholds are the symbols of the trade for the threshold of a gate.
var thresholds = []string{"V_GS(th)", "V_GSth", "V_GS_th", "V_TH"}

// threshold is the least gate voltage at which a channel may conduct, as a
// magnitude; 0 where it is not noted.
func (b *boardNet) threshold(m *circuit.Component) bound.Reg {
	for _, r := range b.rows(m, nil, thresholds, "~I_D", "~V_DS") {
		low, high := b.signed(r.min), b.signed(r.max)
		switch {
		case low != nil && low.Sign() > 0:
			return r.min
		case high != nil && high.Sign() < 0:
			at, _ := b.magnitude(r.max)
			return at
		}
	}
	return 0
}

// turnsOn is the greatest threshold of a gate, as a magnitude, and the current
// at which it is stated; 0 where they are not noted.
func (b *boardNet) turnsOn(m *circuit.Component) (at, current bound.Reg) {
	for _, r := range b.rows(m, nil, thresholds, "I_D", "~V_DS") {
		most := r.max
		if high := b.signed(r.max); high == nil || high.Sign() < 0 {
			most = r.min
		}
		if i := b.size(r.atLow); i != nil && i.Sign() > 0 && r.atLow == r.atHigh && b.size(most) != nil {
			at, _ = b.magnitude(most)
			current, _ = b.magnitude(r.atLow)
			return at, current
		}
	}
	return 0, 0
}

// gateLeak is the current of a gate either way, 0 where it is not noted.
func (b *boardNet) gateLeak(m *circuit.Component) bound.Reg {
	for _, r := range b.rows(m, nil, []string{"I_GSS", "I_GSSF"}, "~V_GS") {
		if most, _ := b.magnitude(r.max); r.max != 0 {
			return b.either("the gate current of "+m.Ref, most)
		}
	}
	return 0
}

// turns are the rows of the resistance of a channel, in the order of the gate
// voltage at which they are stated.
func (b *boardNet) turns(m *circuit.Component) []network.Turn {
	var out []network.Turn
	for _, r := range b.rows(m, nil, []string{"R_DSon", "R_DS_on", "R_DSON", "R_ON"}, "V_GS", "~I_D") {
		at := r.atLow
		if x, y := b.size(r.atLow), b.size(r.atHigh); at == 0 || x != nil && y != nil && y.Cmp(x) < 0 {
			at = r.atHigh
		}
		at, v := b.magnitude(at)
		if v == nil || r.max == 0 {
			continue
		}
		k := 0
		for k < len(out) && b.size(out[k].At).Cmp(v) < 0 {
			k++
		}
		b.assume("R_DSon of " + m.Ref + " applies at every drain current that it has")
		out = append(out[:k:k], append([]network.Turn{{At: at, Min: r.min, Max: r.max}}, out[k:]...)...)
	}
	return out
}

// bipolar is a bipolar transistor: two junctions at its base and something
// passive between collector and emitter.
func (b *boardNet) bipolar(m *circuit.Component, base, coll, em *circuit.Net) {
	b.join(base, coll, em)
	up := !m.Says("pnp")
	names := []string{"V_BE", "V_BEon", "V_BE_on", "V_BEsat", "V_BE_sat"}
	held, points := b.curve(m, nil, names, "I_B", "~I_C", "~V_CE")
	threshold := bound.Reg(0)
	switch {
	case held != 0:
		row := b.rows(m, nil, names, "I_B", "~I_C", "~V_CE")[0]
		if threshold = row.min; b.signed(row.max) != nil && b.signed(row.max).Sign() < 0 {
			held, threshold = b.c.b.Unary(bound.OpNeg, held), b.c.b.Unary(bound.OpNeg, row.max)
		}
		b.assume("V_BE of " + m.Ref + " applies at every current that it has")
	case len(points) > 0:
		threshold = points[0].Min
	default:
		points = []network.Point{{Max: b.c.b.Const(big.NewRat(6, 5)), At: b.c.b.Const(anyCurrent)}}
		b.assume("V_BE of " + m.Ref + ", which is not noted, is 1.2 V at most, as that of silicon is (common practice)")
	}
	order := func(p, q network.Node) (network.Node, network.Node) {
		if !up {
			p, q = q, p
		}
		return p, q
	}
	inside := b.n.Node(m.Ref + " base")
	x, y := order(b.at(base), inside)
	drive := b.n.Link(m.Ref+" base lead", x, y)
	b.leads[m] = drive
	p, q := order(inside, b.at(em))
	in := b.n.Junction(m.Ref+" base", p, q, network.Diode{Held: held, Forward: points, NoLeak: true})
	x, y = order(inside, b.at(coll))
	b.n.Junction(m.Ref+" base to collector", x, y, network.Diode{NoLeak: true})
	x, y = order(b.at(coll), b.at(em))
	gain, most := b.saturation(m)
	b.elements[m] = b.n.Bipolar(m.Ref, x, y, in, drive, p, q, threshold, gain, most)
	b.assume("the junctions of " + m.Ref + " take no reverse current and stay below their breakdown")
}

// saturation is the row of V_CEsat of a bipolar transistor and the gain at which
// it holds; 0 where none is noted.
func (b *boardNet) saturation(m *circuit.Component) (gain bound.Reg, most network.Point) {
	names := []string{"V_CEsat", "V_CE_sat", "V_CE(sat)", "V_CE_SAT"}
	at, by := b.rows(m, nil, names, "I_C", "~I_B"), b.rows(m, nil, names, "I_B", "~I_C")
	for k, r := range at {
		up, size := b.magnitude(r.atHigh)
		drop, _ := b.magnitude(r.max)
		if r.max == 0 || r.atHigh == 0 || size == nil || size.Sign() == 0 {
			continue
		}
		most = network.Point{Max: drop, At: up}
		if base, i := b.magnitude(by[k].atHigh); by[k].atHigh != 0 && i != nil && i.Sign() > 0 {
			return b.c.b.Binary(bound.OpDiv, up, base), most
		}
		for _, h := range b.rows(m, nil, []string{"h_FE", "B", "β"}, "~I_C", "~V_CE") {
			if least := b.signed(h.min); least != nil && least.Sign() > 0 {
				b.assume("V_CEsat of " + m.Ref + " holds while its base takes three times what h_FE asks (common practice)")
				return b.c.b.Const(new(big.Rat).Quo(least, rat(3))), most
			}
		}
		b.assume("V_CEsat of " + m.Ref + " holds while its base takes a tenth of the collector current (common practice)")
		return b.c.b.Const(rat(10)), most
	}
	return 0, network.Point{}
}
