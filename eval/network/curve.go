package network

import (
	"fmt"
	"math/big"

	"guardband/eval/bound"
)

// Point is one row of a curve: at the current At, the voltage lies from Min to
// Max. What is not noted is 0. SureMin and SureMax are what one row prints for
// all currents from the point before up to At; there they are the sure set.
type Point struct{ Min, Max, At, SureMin, SureMax bound.Reg }

// Resistor joins two nets by a resistance in ohms, which may be 0. Not noted,
// it is anything from 0 to infinity.
func (n *Network) Resistor(name string, a, b Node, r bound.Reg) *Element {
	e := n.Add(name, a, b, Piece{Form: Passive})
	if r != 0 {
		if n.spanOf(r).lo < 0 {
			r = n.g.Binary(bound.OpMax, r, n.g.zero()) // whatever is not known of it
		}
		e.Pieces[0] = Piece{Form: Resists, Value: r}
	}
	e.TakesOnly = true
	return e
}

// Link joins two nets by 0 Ω.
func (n *Network) Link(name string, a, b Node) *Element {
	return n.Resistor(name, a, b, n.g.zero())
}

// Load draws a current in amperes from net a to net b: the supply current of
// a part, the leakage of an input. Not noted, it is any current either way.
func (n *Network) Load(name string, a, b Node, i bound.Reg) *Element {
	e := n.Add(name, a, b, Piece{Form: Drives, Value: i})
	if i == 0 {
		e.Pieces[0].Value = n.leaf(owner{e: e}, "leakage of "+name+", which nobody noted", name, Ampere, bound.Input{})
	}
	return e
}

// rising is the pieces of a curve that rises from 0 V, 0 A through rows sorted
// by current: up to a row its maximum counts, beyond it its minimum. sign -1
// turns both voltage and current round (breakdown). low is where the first
// piece starts, in volts.
func (n *Network) rising(e *Element, name string, sign int, rows []Point, low bound.Reg) []Piece {
	g := n.g
	var out []Piece
	start := g.zero()
	for k := 0; k <= len(rows); k++ {
		l := Limit{Of: OwnCurrent, Lo: start, OpenLo: k > 0}
		p := Piece{Name: name, Form: Holds}
		var high bound.Reg
		if k < len(rows) {
			l.Hi, start = rows[k].At, rows[k].At
			for _, r := range rows[k:] { // a later maximum holds below its current too
				if high == 0 {
					high = r.Max
				}
			}
		} else if k > 0 {
			p.Name = name + " beyond its rows"
		}
		sure := Point{}
		if k < len(rows) {
			sure = rows[k]
		}
		if p.Value = n.within(e, name, k, low, high, sure); sign < 0 {
			p.Value, l = g.neg(p.Value), l.turned(g)
		}
		p.Limits = []Limit{l}
		out = append(out, p)
		if k < len(rows) && rows[k].Min != 0 {
			low = rows[k].Min
		}
	}
	return out
}

// within is a voltage between two ends, of which nothing else is known but the
// sure set of a row that covers the piece. An absent low end is 0.
func (n *Network) within(e *Element, what string, piece int, low, high bound.Reg, sure Point) bound.Reg {
	name := e.Name + " " + what
	if piece > 0 {
		name += fmt.Sprint(" beyond row ", piece)
	}
	lo, fixedLow := n.constant(low)
	hi, fixedHigh := n.constant(high)
	atLow, atHigh := sure.SureMin != 0 && sure.SureMin == low, sure.SureMax != 0 && sure.SureMax == high
	// surely is an input from a to z with its sure end or ends.
	surely := func(a, z *big.Rat) bound.Input {
		in := bound.Input{Lo: a, Hi: z}
		switch {
		case atLow && atHigh:
			in.SureLo, in.SureHi = a, z
		case atLow:
			in.SureLo, in.SureHi = a, a
		case atHigh:
			in.SureLo, in.SureHi = z, z
		}
		return in
	}
	switch {
	case high != 0 && fixedLow && fixedHigh && lo.Cmp(hi) <= 0:
		return n.leaf(owner{e: e}, "voltage of "+name, e.Name, Volt, surely(lo, hi))
	case high != 0:
		share := n.leaf(owner{e: e}, "place of "+name+" on its curve", e.Name, Ratio, surely(zero, one))
		return n.g.add(low, n.g.mul(share, n.g.sub(high, low)))
	case fixedLow:
		return n.leaf(owner{e: e}, "voltage of "+name, e.Name, Volt, surely(lo, nil))
	}
	return n.g.add(low, n.leaf(owner{e: e}, "voltage of "+name+" above its minimum", e.Name, Volt, bound.Input{Lo: zero}))
}

// constant is the value of a register that is an exact constant; an absent one
// is 0.
func (n *Network) constant(r bound.Reg) (*big.Rat, bool) {
	if r == 0 {
		return zero, true
	}
	return n.g.ConstOf(r)
}

// Diode says what is stated of a junction. Forward and Breakdown are sorted by
// current. Leak is the reverse current in amperes; not noted, it is anything.
type Diode struct {
	Forward   []Point   // V_F
	Breakdown []Point   // V_Z, as positive voltages and currents
	Leak      bound.Reg // I_R, positive
	// LeakUpTo is the reverse voltage at which Leak is stated; 0: it holds at
	// all that does not break down.
	LeakUpTo bound.Reg
	// Held is V_F where it is stated for every current, HeldBack V_Z so.
	Held, HeldBack bound.Reg
	// NoLeak takes the reverse current as 0.
	NoLeak bool
}

// Junction joins two nets by a diode, an LED, a Zener, a suppressor or a body
// diode. Without a breakdown row it blocks at every reverse voltage, which is
// listed as assumed.
func (n *Network) Junction(name string, anode, cathode Node, d Diode) *Element {
	g := n.g
	e := n.Add(name, anode, cathode)
	e.TakesOnly = true
	block := Piece{Name: "blocks", Form: Open, Limits: []Limit{{Of: OwnVoltage, Hi: g.zero()}}}
	if !d.NoLeak {
		leak := d.Leak
		if leak == 0 {
			leak = n.leaf(owner{e: e}, "reverse current of "+name+", which nobody noted", name, Ampere, bound.Input{Lo: zero})
		}
		block.Form, block.Value = Drives, g.neg(leak)
	}
	switch {
	case d.HeldBack != 0:
		down := g.neg(d.HeldBack)
		block.Limits[0].Lo = down
		e.Pieces = append(e.Pieces, block, Piece{
			Name: "breaks down", Form: Holds, Value: down, Limits: []Limit{{Of: OwnCurrent, Hi: g.zero()}},
		})
	case len(d.Breakdown) > 0:
		e.Pieces = n.breaking(e, d, block)
	default:
		if d.LeakUpTo != 0 && d.Leak != 0 { // beyond, its leakage is not noted
			more := block
			block.Limits = []Limit{{Of: OwnVoltage, Lo: g.neg(d.LeakUpTo), Hi: g.zero()}}
			more.Limits = []Limit{{Of: OwnVoltage, Hi: g.neg(d.LeakUpTo), OpenHi: true}}
			more.Value = g.neg(n.leaf(owner{e: e}, "reverse current of "+name+" beyond its row", name, Ampere, bound.Input{Lo: zero}))
			e.Pieces = append(e.Pieces, more)
		}
		e.Pieces = append(e.Pieces, block)
	}
	if d.Held != 0 {
		e.Pieces = append(e.Pieces,
			Piece{Name: "is below its voltage", Form: Open, Limits: []Limit{{Of: OwnVoltage, Lo: g.zero(), Hi: d.Held}}},
			Piece{Name: "conducts", Form: Holds, Value: d.Held, Limits: []Limit{{Of: OwnCurrent, Lo: g.zero()}}})
		return e
	}
	e.Pieces = append(e.Pieces, n.rising(e, "conducts", 1, d.Forward, 0)...)
	return e
}

// breaking is the reverse side of a junction that breaks down.
func (n *Network) breaking(e *Element, d Diode, block Piece) []Piece {
	g, first := n.g, d.Breakdown[0]
	out := n.rising(e, "breaks down", -1, d.Breakdown, first.Min)
	if first.Min == 0 {
		return out // from 0 V on, with any current up to that of the row
	}
	// Below its minimum it takes less than the first row has.
	little := block
	little.Limits = []Limit{{Of: OwnVoltage, Lo: g.neg(first.Min), Hi: g.zero()}}
	if d.NoLeak {
		return append(out, little)
	}
	if d.Leak != 0 && d.LeakUpTo != 0 {
		near := g.neg(d.LeakUpTo)
		block.Limits = []Limit{{Of: OwnVoltage, Lo: near, Hi: g.zero()}}
		out = append(out, block)
		little.Limits[0].Hi, little.Limits[0].OpenHi = near, true
	}
	share := n.share(owner{e: e}, "place of the reverse current of "+e.Name, e.Name)
	little.Name, little.Value = "leaks", g.neg(g.mul(share, first.At))
	return append(out, little)
}

// Pull is an output that pulls net a towards net b with a positive current
// from a to b: a low output from its pin to ground, a high one from its supply
// to its pin. While the current stays within a row the drop is at most the
// row's maximum; beyond it is anything; what is pushed the other way makes it
// negative.
func (n *Network) Pull(name string, a, b Node, rows []Point) *Element {
	e := n.Add(name, a, b)
	e.TakesOnly = true
	e.Pieces = n.rising(e, "holds", 1, rows, 0)
	back := n.leaf(owner{e: e}, "voltage of "+name+" driven backwards", name, Volt, bound.Input{Lo: zero})
	e.Pieces = append(e.Pieces, Piece{
		Name: "is driven backwards", Form: Holds, Value: n.g.neg(back),
		Limits: []Limit{{Of: OwnCurrent, Hi: n.g.zero(), OpenHi: true}},
	})
	return e
}

// Clamp is the protection from anode to cathode inside a pin: it may conduct
// at any forward voltage and must at none. With a stated range (spec V_CLAMP)
// it conducts only from low and surely beyond high.
func (n *Network) Clamp(name string, anode, cathode Node, low, high bound.Reg) *Element {
	e := n.Add(name, anode, cathode)
	e.TakesOnly = true
	block := Piece{Name: "blocks", Form: Open}
	if high != 0 {
		block.Limits = []Limit{{Of: OwnVoltage, Hi: high}}
	}
	on := Piece{
		Name: "conducts", Form: Holds, Value: n.within(e, "clamp", 0, low, 0, Point{}),
		Limits: []Limit{
			{Of: OwnCurrent, Lo: n.g.zero(), OpenLo: true},
			{Of: OwnVoltage, Lo: n.g.zero(), OpenLo: true},
		},
	}
	e.Pieces = []Piece{block, on}
	return e
}

// Turn is one row of a transistor: with a control voltage of at least At volts
// its channel is at most Max ohms (and at least Min).
type Turn struct{ At, Min, Max bound.Reg }

// Channel is what a transistor does between two nets: on where the control
// voltage from net gate to net source (exchanged for a p-channel one) reaches
// a row, off up to threshold, 0 Ω to infinity between. Rows are sorted by
// control voltage, rising. leak is the current when off.
func (n *Network) Channel(name string, a, b, gate, source Node,
	threshold bound.Reg, rows []Turn, leak bound.Reg,
) *Element {
	g := n.g
	e := n.Add(name, a, b)
	e.TakesOnly = true
	control := Limit{Of: Control, A: gate, B: source}
	between := control
	for k, r := range rows {
		on := control
		if on.Lo = r.At; k+1 < len(rows) {
			on.Hi = rows[k+1].At
		}
		e.Pieces = append(e.Pieces, Piece{Name: "is on", Form: Resists, Value: n.ohms(e, r), Limits: []Limit{on}})
	}
	if len(rows) > 0 {
		between.Hi, between.OpenHi = rows[0].At, true
	}
	if threshold != 0 {
		off := control
		off.Hi = threshold
		p := Piece{Name: "is off", Form: Open, Limits: []Limit{off}}
		if leak != 0 {
			either := bound.Input{Lo: big.NewRat(-1, 1), Hi: one}
			share := n.leaf(owner{e: e}, "share of the leakage of "+name, name, Ratio, either)
			p.Form, p.Value = Drives, g.mul(leak, share)
		}
		e.Pieces = append(e.Pieces, p)
		between.Lo, between.OpenLo = threshold, true
	}
	e.Pieces = append(e.Pieces, Piece{Name: "is neither on nor off", Form: Passive, Limits: []Limit{between}})
	return e
}

// TurnsOn says from which control voltage on a channel conducts at least so much
// current: the greatest threshold and the current at which it is stated. With
// less across it than the threshold it is a resistance of at most their ratio,
// as its current rises ever less with the voltage. sign is -1 where the current
// runs from B to A.
func (n *Network) TurnsOn(e *Element, threshold, current bound.Reg, sign int) {
	g := n.g
	between := &e.Pieces[len(e.Pieces)-1]
	on := between.Limits[0]
	if on.Hi != 0 && n.spanOf(g.sub(on.Hi, threshold)).lo <= 0 {
		return // a row of its resistance holds from there on
	}
	between.Limits[0].Hi, between.Limits[0].OpenHi = threshold, true
	on.Lo, on.OpenLo = threshold, false
	near, far := Limit{Of: OwnVoltage, Hi: threshold}, Limit{Of: OwnVoltage, Lo: threshold, OpenLo: true}
	drawn := n.leaf(owner{e: e}, "current of "+e.Name+" above its threshold", e.Name, Ampere, bound.Input{Lo: zero})
	drawn = g.add(current, drawn)
	if sign < 0 {
		near, far, drawn = near.turned(g), far.turned(g), g.neg(drawn)
	}
	e.Pieces = append(e.Pieces,
		Piece{Name: "is on a little", Form: Resists, Value: n.ohms(e, Turn{Max: g.div(threshold, current)}), Limits: []Limit{on, near}},
		Piece{Name: "carries its threshold current", Form: Drives, Value: drawn, Limits: []Limit{on, far}})
}

// Bipolar is the collector side of a transistor: base is its base junction, an
// element of its own. It blocks where no base current flows or the base voltage
// (from net control to net emitter, exchanged for pnp) is below threshold.
// While the current of drive, all that the base takes, times gain is no less than
// its own it drops at most most.Max volts up to most.At amperes; else it is
// anything passive. a is the more positive
// end of the collector path. Give the base junction a row with threshold as its
// minimum, else it may take its current below it.
func (n *Network) Bipolar(name string, a, b Node, base, drive *Element, control, emitter Node,
	threshold, gain bound.Reg, most Point,
) *Element {
	e := n.Add(name, a, b)
	e.TakesOnly = true
	none := n.g.zero()
	on := Limit{Of: Base, Other: base, Lo: none, OpenLo: true}
	e.Pieces = []Piece{{Name: "blocks", Form: Open, Limits: []Limit{{Of: Base, Other: base, Hi: none}}}}
	onward := []Limit{on}
	if threshold != 0 {
		off := Limit{Of: Control, A: control, B: emitter, Hi: threshold, OpenHi: true}
		e.Pieces = append(e.Pieces, Piece{Name: "is off", Form: Open, Limits: []Limit{off}})
		onward = append(onward, Limit{Of: Control, A: control, B: emitter, Lo: threshold})
	}
	part := func(name string, form Form, more ...Limit) {
		p := Piece{Name: name, Form: form, Limits: append(append([]Limit(nil), onward...), more...)}
		if form == Holds {
			p.Value = n.within(e, "saturated", 0, most.Min, most.Max, most)
		}
		e.Pieces = append(e.Pieces, p)
	}
	if gain == 0 || most.Max == 0 || most.At == 0 {
		part("conducts", Passive)
		return e
	}
	over := Limit{Of: Excess, Other: drive, Gain: gain}
	driven, not := over, over
	driven.Lo, not.Hi, not.OpenHi = none, none, true
	part("saturates", Holds, driven, Limit{Of: OwnCurrent, Lo: none, Hi: most.At})
	part("conducts beyond its row", Passive, driven, Limit{Of: OwnCurrent, Lo: most.At, OpenLo: true})
	part("conducts backwards", Passive, Limit{Of: OwnCurrent, Hi: none, OpenHi: true})
	part("conducts in part", Passive, not, Limit{Of: OwnCurrent, Lo: none})
	return e
}

// ohms is the resistance of a channel that is on. Without a stated minimum it
// is taken as at least a millionth of its maximum: at exactly 0 Ω a current
// would have no value.
func (n *Network) ohms(e *Element, r Turn) bound.Reg {
	if r.Min == r.Max {
		return n.g.number(r.Max)
	}
	low := r.Min
	if n.spanOf(low).lo <= 0 {
		low = n.g.mul(r.Max, n.g.Const(big.NewRat(1, 1e6)))
	}
	share := n.share(owner{e: e}, "place of the resistance of "+e.Name, e.Name)
	return n.g.add(low, n.g.mul(share, n.g.sub(r.Max, low)))
}
