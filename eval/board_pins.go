package eval

import (
	"slices"

	"guardband/eval/bound"
	"guardband/eval/circuit"
	"guardband/eval/formula"
	"guardband/eval/network"
)

// This file makes elements of the network out of the pins of a part with
// supplies. A pin of such a part is joined to its part's supplies and grounds
// and to nothing else, so what is not stated of it is something passive to
// each of them; a part that makes voltages of its own is a stranger instead.

// pins makes the elements of a part's pins.
func (b *boardNet) pins(m *circuit.Component) {
	x := &pinsOf{b: b, m: m, supplies: m.Supplies(), grounds: m.Grounds(), makes: m.MakesVoltage()}
	for _, q := range m.Pins() {
		if n := m.PinNets[q]; n != nil {
			b.here = []*circuit.Net{n}
			b.ofPin[circuit.Joint{Comp: m, Pin: q}] = x.enters(func() { x.enter(q, n) })
		}
	}
	x.load()
}

// pinsOf is a part while its pins are entered.
type pinsOf struct {
	b                 *boardNet
	m                 *circuit.Component
	supplies, grounds []*circuit.Net
	makes             bool
}

func (x *pinsOf) enter(q *circuit.Pin, n *circuit.Net) {
	b, name := x.b, x.m.Ref+"."+q.Row.Name
	switch t := q.Row.Type; {
	case t == "not connected" || t == "do not connect" || t == "supply" || t == "ground" || t == "thermal pad":
	case t == "supply output" && b.given(n):
	case t == "supply output" && b.c.lost[n]:
		b.assume(name + " takes nothing while it is off")
	case t == "supply output" && x.m.Part.FactNamed("spec", "R_ON", "R_DSon") != "":
		x.rails(name, n, x.supplies, nil) // a load switch
	case t == "supply output", t == "passive", t == "reserved":
		b.stranger(n, name)
	case x.idle(q, n, name):
	case q.Drives():
		x.output(q, n, name)
	case q.Reads(), t == "analog input":
		x.input(q, n, name, nil)
	case t == "analog" && x.leak(q) != 0:
		x.input(q, n, name, nil)
	case x.makes || len(x.supplies) == 0:
		b.stranger(n, name)
	default: // analog, analog output: anywhere between its rails
		b.miss("the voltage at "+name+" is not noted", "give a value `"+n.Name+" = ...`")
		x.rails(name, n, x.supplies, nil)
	}
}

// idle enters a pin that nothing but other pins, and perhaps a connector, is
// joined to, of a part whose supply is to be found: it lies between its rails,
// and what it takes from them counts with the supply current of the part.
func (x *pinsOf) idle(q *circuit.Pin, n *circuit.Net, name string) bool {
	b, own := x.b, x.own(q)
	tied := circuit.IsReturn(n) || slices.Contains(own, n)
	if len(own) == 0 || x.fed(own) || x.makes || !tied && (b.given(n) || !circuit.PinsAlone(n)) {
		return false
	}
	b.assume("the supply current noted of " + x.m.Ref + " counts what its pins take")
	if tied {
		return true
	}
	for _, e := range x.enters(func() { x.rails(name, n, own, nil) }) {
		e.OneWay = true
	}
	if slices.ContainsFunc(n.Joined, func(j circuit.Joint) bool { return j.Comp.IsConnector() }) {
		b.plugged = append(b.plugged, func() { // what is plugged in may feed the part
			for _, d := range b.drives {
				for _, s := range own {
					if d.What == APlug && d.Net == n {
						d.d.In("plugged", b.n.Resistor(name+" to "+s.Name, b.at(n), b.at(s), 0))
					}
				}
			}
		})
	}
	return true
}

// rails joins a net to supplies and grounds by something passive, in one state
// of a driver or in all.
func (x *pinsOf) rails(name string, n *circuit.Net, supplies []*circuit.Net, in func(*network.Element)) {
	all := append(append([]*circuit.Net(nil), supplies...), x.grounds...)
	if len(all) < 2 {
		e := x.b.n.Load(name, x.b.at(n), x.b.ground, 0)
		if in != nil {
			in(e)
		}
		return
	}
	for _, s := range all {
		if s == n {
			continue
		}
		x.b.join(n, s)
		e := x.b.n.Resistor(name+" to "+s.Name, x.b.at(n), x.b.at(s), 0)
		if in != nil {
			in(e)
		}
	}
}

// own are the supplies that a pin may be fed from.
func (x *pinsOf) own(q *circuit.Pin) []*circuit.Net {
	if s := x.b.c.SupplyOf(x.m, q); s != nil {
		return []*circuit.Net{s}
	}
	return x.supplies
}

// leak is the leakage of a pin either way, 0 where it is not noted.
func (x *pinsOf) leak(q *circuit.Pin) bound.Reg {
	names := []string{"I_LEAK", "I_LKG", "I_LI", "I_L", "I_OZ", "I_IN", "I_BIAS", "I_B"}
	if q.IsFeedback() {
		names = append(names, "I_FB", "I_ADJ")
	}
	for _, r := range x.b.rows(x.m, q, names, "~V_I", "~V_IN", "~V_PIN") {
		most, size := x.b.magnitude(r.max)
		if r.max == 0 {
			continue
		}
		if low := x.b.signed(r.min); low != nil && low.Sign() < 0 {
			if v, l := x.b.magnitude(r.min); size != nil && l.Cmp(size) > 0 {
				most = v
			}
		}
		return x.b.either("the leakage of "+x.m.Ref+"."+q.Row.Name, most)
	}
	return 0
}

// input is a pin that reads: its leakage and its clamps where the leakage is
// noted, else anything its rails can do; put enters an element that is there
// only while the pin lets go.
func (x *pinsOf) input(q *circuit.Pin, n *circuit.Net, name string, put func(*network.Element)) {
	b, at := x.b, circuit.Joint{Comp: x.m, Pin: q}
	if slices.Contains(x.own(q), n) {
		return // what it takes is in the supply current of its part
	}
	x.pull(q, n, name, put)
	leak := x.leak(q)
	// Its clamps may bring anything; and what leakage makes where pins alone are
	// on the net lies between its rails.
	if own := x.own(q); leak != 0 && len(own) > 0 && (!x.fed(own) || circuit.PinsAlone(n) && !b.pulledInside(n)) {
		x.rails(name, n, own, put)
		return
	}
	if leak == 0 {
		b.miss("the leakage of "+name+" is not noted", "note `spec I_LEAK = ...` of the pin in part "+x.m.Part.ID)
		for _, e := range x.enters(func() { x.rails(name, n, x.own(q), put) }) {
			e.Slight = true
			b.vague[at] = append(b.vague[at], e)
		}
		for _, e := range x.protect(q, n, name) {
			e.Apart = true
		}
		return
	}
	e := b.n.Load(name, b.at(n), b.ground, leak)
	if put != nil {
		put(e)
	}
	x.protect(q, n, name)
}

// pulledInside says that a pull whose resistance is noted stands on a net.
func (b *boardNet) pulledInside(n *circuit.Net) bool {
	return slices.ContainsFunc(n.PinsOf(), func(j circuit.Joint) bool {
		return j.Pin.PulledInside() && b.c.isOhm(b.factOf(j.Comp, j.Pin, []string{"R_PU", "R_PD", "R_PULL"}))
	})
}

// protect enters the clamps of a pin.
func (x *pinsOf) protect(q *circuit.Pin, n *circuit.Net, name string) []*network.Element {
	all, at := x.enters(func() { x.clamps(q, n, name) }), circuit.Joint{Comp: x.m, Pin: q}
	x.b.takes[at] = append(x.b.takes[at], all...)
	x.b.clamps = append(x.b.clamps, all...)
	return all
}

// enters are the elements that a function enters.
func (x *pinsOf) enters(enter func()) []*network.Element {
	before := len(x.b.n.Elements())
	enter()
	return slices.Clone(x.b.n.Elements()[before:])
}

// clamps are the protection of a pin to its rails.
func (x *pinsOf) clamps(q *circuit.Pin, n *circuit.Net, name string) {
	b := x.b
	held, points := b.curve(x.m, q, []string{"V_CLAMP"}, "I_INJ", "I_CLAMP", "I")
	clamp := func(name string, anode, cathode *circuit.Net) {
		if anode == cathode {
			return
		}
		b.join(anode, cathode)
		if held == 0 && len(points) == 0 { // may conduct anywhere, and must nowhere
			b.n.Clamp(name, b.at(anode), b.at(cathode), 0, 0)
			return
		}
		b.n.Junction(name, b.at(anode), b.at(cathode), network.Diode{Held: held, Forward: points, NoLeak: true})
	}
	if !q.Has("tolerant") {
		for _, s := range x.own(q) {
			clamp("the clamp of "+name+" to "+s.Name, n, s)
		}
	}
	for _, g := range x.grounds {
		clamp("the clamp of "+name+" to "+g.Name, g, n)
	}
}

// pull is a pull inside a pin.
func (x *pinsOf) pull(q *circuit.Pin, n *circuit.Net, name string, put func(*network.Element)) {
	b := x.b
	join := func(to []*circuit.Net, symbols ...string) {
		r := bound.Reg(0)
		if y := b.factOf(x.m, q, symbols); b.c.isOhm(y) && len(to) == 1 {
			b.rest(y)
			r = y.val.Reg
		} else {
			b.miss("the resistance of the pull inside "+name+" is not noted", "note `spec "+symbols[0]+" = ...` in part "+x.m.Part.ID)
		}
		for _, s := range to {
			if s == n {
				continue
			}
			b.join(n, s)
			if e := b.n.Resistor(name+" pull to "+s.Name, b.at(n), b.at(s), r); put != nil && r == 0 {
				put(e)
			}
		}
	}
	if q.Has("pull-up") {
		join(x.own(q), "R_PU", "R_PULL")
	}
	if q.Has("pull-down") {
		join(x.grounds, "R_PD", "R_PULL")
	}
	if q.Has("keeper") {
		x.rails(name+" keeper", n, x.own(q), put)
	}
}

// output is a pin that drives: low, high, or let go, as far as it can.
func (x *pinsOf) output(q *circuit.Pin, n *circuit.Net, name string) {
	b, own := x.b, x.own(q)
	if x.makes || len(own) == 0 || len(x.grounds) == 0 {
		b.stranger(n, name)
		return
	}
	if !x.fed(own) {
		x.rails(name, n, own, nil)
		return
	}
	var states []string
	if !q.Has("open source") {
		states = append(states, "low")
	}
	if !q.OnlyPullsLow() {
		states = append(states, "high")
	}
	off := q.LetsGo() || q.AsNoted().Row.Type == "bidirectional" // until firmware gives it its role
	if off {
		states = append(states, "off")
	}
	rows := x.lowRows(q)
	if sinks := len(rows) > 0 && states[0] == "low"; sinks {
		states = append(states, Sinking)
	}
	d := b.n.Driver(name, states...)
	dr := &Drive{d: d, What: AnOutput, At: circuit.Joint{Comp: x.m, Pin: q}, Net: n}
	b.drives = append(b.drives, dr)
	g := x.grounds[0]
	if slices.Contains(states, "low") {
		b.join(n, g)
		dr.low = d.In("low", b.n.Pull(name+" low", b.at(n), b.at(g), rows))
	}
	if slices.Contains(states, Sinking) {
		within, beyond := network.Limit{Hi: rows[0].At}, network.Limit{Lo: rows[0].At, OpenLo: true}
		dr.sink = d.In(Sinking, b.n.Add(name+" at its low level", b.at(n), b.at(g),
			network.Piece{Name: "stays within its row", Form: network.Holds, Value: rows[0].Max, Limits: []network.Limit{within}},
			network.Piece{Name: "is beyond its row", Form: network.Holds, Value: rows[0].Max, Limits: []network.Limit{beyond}}))
		dr.sink.TakesOnly = true
	}
	if slices.Contains(states, "high") {
		for _, s := range own {
			b.join(n, s)
			if len(own) > 1 {
				d.In("high", b.n.Resistor(name+" high", b.at(s), b.at(n), 0))
				continue
			}
			rows := x.highRows(q, s)
			if rows == nil {
				b.miss("V_OH of "+name+" is not noted", "note `spec V_OH = ...` and its current in part "+x.m.Part.ID)
			}
			dr.high = d.In("high", b.n.Pull(name+" high", b.at(s), b.at(n), rows))
			if !off {
				b.takes[dr.At] = append(b.takes[dr.At], dr.high)
			}
		}
	}
	if !off {
		return
	}
	d.Release("off")
	x.input(q, n, name, func(e *network.Element) { d.In("off", e) })
}

// Sinking is the state of an output that is asked for alone: it stands at the
// level of its row of V_OL, so that what its net then gives is what it has to sink.
const Sinking = "sinking"

// fed says that supplies have a stated voltage.
func (x *pinsOf) fed(supplies []*circuit.Net) bool {
	for _, s := range supplies {
		if !x.b.given(s) {
			return false
		}
	}
	return true
}

// lowRows are the points of V_OL.
func (x *pinsOf) lowRows(q *circuit.Pin) []network.Point {
	return upper(x.b.points(x.m, q, []string{"V_OL"}, "I_OL", "I"))
}

// highRows are the points of what an output drops from its supply.
func (x *pinsOf) highRows(q *circuit.Pin, supply *circuit.Net) []network.Point {
	y := x.b.c.netVoltage(supply)
	g := x.grounds[0]
	if y == nil || !x.b.given(supply) || !x.b.given(g) {
		return nil
	}
	own := y.val.Reg // what a level is stated against
	if z := x.b.c.netVoltage(g); !circuit.IsGround(g.Name) {
		own = x.b.c.b.Binary(bound.OpSub, own, z.val.Reg)
	}
	var out []network.Point
	for _, p := range x.b.points(x.m, q, []string{"V_OH"}, "I_OH", "I") {
		if p.Min != 0 {
			drop := network.Point{Max: x.b.c.b.Binary(bound.OpSub, own, p.Min), At: p.At}
			if p.SureMin == p.Min {
				drop.SureMax = drop.Max
			}
			out = append(out, drop)
		}
	}
	return out
}

// points are those of a curve; a fact that names no current holds at none.
func (b *boardNet) points(m *circuit.Component, q *circuit.Pin, names []string, at ...string) []network.Point {
	_, points := b.curve(m, q, names, at...)
	return points
}

// upper keeps the maxima of a curve.
func upper(points []network.Point) (out []network.Point) {
	for _, p := range points {
		if p.Max != 0 {
			out = append(out, network.Point{Max: p.Max, At: p.At, SureMax: p.SureMax})
		}
	}
	return out
}

// load is what the part draws from its supplies and gives back to its ground.
func (x *pinsOf) load() {
	b, to := x.b, b0(x.grounds)
	makes := x.m.Part.HasSupplyOutput()
	for _, s := range x.supplies {
		if s == to {
			continue
		}
		b.here = []*circuit.Net{s, to}
		if to == nil {
			b.here = b.here[:1]
		}
		b.join(b.here...)
		name := "the supply current of " + x.m.Ref
		if len(x.supplies) > 1 {
			name += " at " + s.Name
		}
		if i := x.drawn(name, makes); i != 0 {
			b.n.Load(x.m.Ref+" at "+s.Name, b.at(s), b.at(to), i).TakesOnly = true
			continue
		}
		if makes { // its own current is not all that it takes
			b.miss("the current into "+x.m.Ref+", with what it passes on, is not noted", "note `spec I_IN = max ...` of part "+x.m.Part.ID)
		} else {
			b.miss(name+" is not noted", "note `spec I_DD = max ...` of part "+x.m.Part.ID)
		}
		b.n.Resistor(x.m.Ref+" at "+s.Name, b.at(s), b.at(to), 0)
	}
}

func b0(l []*circuit.Net) *circuit.Net {
	if len(l) == 0 {
		return nil
	}
	return l[0]
}

// drawn is a current from nothing to what the note states; 0 where it states
// none or the part passes a current on: then it takes what it likes.
func (x *pinsOf) drawn(name string, passesOn bool) bound.Reg {
	b := x.b
	names := circuit.SupplyCurrents
	if passesOn {
		if i := x.passedOn(name); i != 0 {
			return i
		}
		names = []string{"I_IN"}
	}
	for _, r := range b.rows(x.m, nil, names) {
		if r.max != 0 && b.signed(r.max) != nil {
			return b.c.upTo(name+" as a share of its maximum", r.max)
		}
	}
	return 0
}

// passedOn is what a linear regulator draws: the current stated of its output
// and its own; 0 where they are not stated.
func (x *pinsOf) passedOn(name string) bound.Reg {
	b, m := x.b, x.m
	own := b.rows(m, nil, []string{"I_GND", "I_Q"}, "~I_OUT", "~V_IN")
	if m.Part.FactNamed("spec", "V_DROP", "V_DO") == "" || len(own) == 0 || own[0].max == 0 {
		return 0
	}
	y := b.c.budgetedLoad(m, "I_OUT")
	if use := m.UseNamed("I_OUT", "I_LOAD"); use != "" {
		y = b.c.useSymbol(m, use)
	}
	if y == nil {
		return 0
	}
	if b.c.lower(y); y.val.Class != formula.Number || y.val.Type.Dim != circuit.DimAmpere {
		return 0
	}
	b.rest(y)
	return b.c.upTo(name+" as a share of its maximum", b.c.b.Binary(bound.OpAdd, y.val.Reg, own[0].max))
}
