package network

import (
	"fmt"
	"math/big"

	"guardband/eval/bound"
)

// Point is one row of a curve: at the current At, the voltage lies from Min to
// Max. What is not noted is 0.
type Point struct{ Min, Max, At bound.Reg }

// Resistor joins two nets by a resistance in ohms, which may be 0. Not noted,
// it is anything from 0 to infinity.
func (n *Network) Resistor(name string, a, b Node, r Value) *Element {
	e := n.Add(name, a, b, Piece{Form: Resists, Value: r.Reg})
	if !r.Noted() {
		e.Pieces[0] = Piece{Form: Passive}
	}
	e.TakesOnly = true
	return e
}

// Link joins two nets by 0 Ω.
func (n *Network) Link(name string, a, b Node) *Element {
	return n.Resistor(name, a, b, Value{Reg: n.g.zero()})
}

// Load draws a current in amperes from net a to net b: the supply current of
// a part, the leakage of an input. Not noted, it is any current either way.
func (n *Network) Load(name string, a, b Node, i Value) *Element {
	e := n.Add(name, a, b, Piece{Form: Drives, Value: i.Reg})
	if !i.Noted() {
		e.Pieces[0].Value = n.leaf(owner{e: e}, "leakage of "+name+", which nobody noted", name, Ampere, bound.Input{})
	}
	return e
}

// Cell is a voltage behind a resistance, both ways.
func (n *Network) Cell(name string, plus, minus Node, v, r bound.Reg) *Element {
	return n.Add(name, plus, minus, Piece{Form: Resists, Value: n.g.number(r), EMF: v})
}

// Ideal is a junction with one voltage at all currents: it conducts from A to
// B at v and blocks below.
func (n *Network) Ideal(name string, anode, cathode Node, v bound.Reg) *Element {
	e := n.Add(name, anode, cathode)
	e.TakesOnly = true
	u, i := n.Between(anode, cathode), n.Current(e)
	e.Pieces = []Piece{
		{Name: "blocks", Form: Open, When: n.g.atMost(u, v)},
		{Name: "conducts", Form: Holds, Value: v, When: n.g.atMost(0, i)},
	}
	return e
}

// rising adds the pieces of a curve that rises from 0 V, 0 A through rows
// sorted by current: up to a row its maximum counts, beyond it its minimum.
// sign -1 turns both voltage and current round (breakdown); from is where the
// first piece starts, in volts and in amperes.
func (n *Network) rising(e *Element, name string, sign int, rows []Point, from Point) []Piece {
	g := n.g
	turn := func(r bound.Reg) bound.Reg {
		if sign < 0 {
			return g.neg(r)
		}
		return r
	}
	i := turn(n.Current(e))
	var out []Piece
	low, start := from.Min, from.At
	for k := 0; k <= len(rows); k++ {
		when := g.atMost(start, i)
		if k > 0 {
			when = g.below(start, i)
		}
		p := Piece{Name: name, Form: Holds}
		var high bound.Reg
		if k < len(rows) {
			when = g.and(when, g.atMost(i, rows[k].At))
			high, start = rows[k].Max, rows[k].At
		} else if k > 0 {
			p.Name = name + " beyond its rows"
		}
		p.Value, p.When = turn(n.within(e, name, k, low, high)), when
		out = append(out, p)
		if k < len(rows) && rows[k].Min != 0 {
			low = rows[k].Min
		}
	}
	return out
}

// within is a voltage between two ends, of which nothing else is known. An
// absent low end is 0.
func (n *Network) within(e *Element, what string, piece int, low, high bound.Reg) bound.Reg {
	name := e.Name + " " + what
	if piece > 0 {
		name += fmt.Sprint(" beyond row ", piece)
	}
	share := func() bound.Reg {
		return n.leaf(owner{e: e}, "place of "+name+" on its curve", e.Name, Ratio, bound.Input{Lo: zero, Hi: one})
	}
	lo, fixedLow := n.constant(low)
	hi, fixedHigh := n.constant(high)
	switch {
	case high != 0 && fixedLow && fixedHigh && lo.Cmp(hi) <= 0:
		return n.leaf(owner{e: e}, "voltage of "+name, e.Name, Volt, bound.Input{Lo: lo, Hi: hi})
	case high != 0:
		return n.g.add(low, n.g.mul(share(), n.g.sub(high, low)))
	case fixedLow:
		return n.leaf(owner{e: e}, "voltage of "+name, e.Name, Volt, bound.Input{Lo: lo})
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
	Forward   []Point // V_F
	Breakdown []Point // V_Z, as positive voltages and currents
	Leak      Value   // I_R, positive
	// LeakUpTo is the reverse voltage at which Leak is stated; 0: it holds at
	// all that does not break down.
	LeakUpTo bound.Reg
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
	u := n.Between(anode, cathode)
	n.Assume("the voltage of a junction rises with its current")
	block := Piece{Name: "blocks", Form: Open, When: g.atMost(u, 0)}
	if !d.NoLeak {
		leak := d.Leak.Reg
		if leak == 0 {
			leak = n.leaf(owner{e: e}, "reverse current of "+name+", which nobody noted", name, Ampere, bound.Input{Lo: zero})
		}
		block.Form, block.Value = Drives, g.neg(leak)
	}
	if len(d.Breakdown) == 0 {
		n.Assume("the reverse voltage of " + name + " stays below its breakdown")
		e.Pieces = append(e.Pieces, block)
	} else {
		e.Pieces = n.breaking(e, d, u, block)
	}
	e.Pieces = append(e.Pieces, n.rising(e, "conducts", 1, d.Forward, Point{})...)
	return e
}

// breaking adds the reverse side of a junction that breaks down.
func (n *Network) breaking(e *Element, d Diode, u bound.Reg, block Piece) []Piece {
	g, first := n.g, d.Breakdown[0]
	out := n.rising(e, "breaks down", -1, d.Breakdown, Point{})
	if first.Min == 0 {
		return out // from 0 V on, with any current up to that of the row
	}
	// Below its minimum it takes less than the first row has.
	out[0].Value = g.neg(n.within(e, "breaks down", 0, first.Min, first.Max))
	over := g.atMost(g.neg(first.Min), u)
	little := block
	little.When = g.and(block.When, over)
	if d.NoLeak {
		return append(out, little)
	}
	if d.Leak.Noted() && d.LeakUpTo != 0 {
		near := g.atMost(g.neg(d.LeakUpTo), u)
		block.When = g.and(block.When, near)
		out = append(out, block)
		little.When = g.and(little.When, g.not(near))
	}
	share := n.leaf(owner{e: e}, "place of the reverse current of "+e.Name, e.Name, Ratio, bound.Input{Lo: zero, Hi: one})
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
	n.Assume("the drop of an output rises with its current")
	e.Pieces = n.rising(e, "holds", 1, rows, Point{})
	back := n.leaf(owner{e: e}, "voltage of "+name+" driven backwards", name, Volt, bound.Input{Lo: zero})
	e.Pieces = append(e.Pieces, Piece{
		Name: "is driven backwards", Form: Holds, Value: n.g.neg(back), When: n.g.below(n.Current(e), 0),
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
		block.When = n.g.atMost(n.Between(anode, cathode), high)
	}
	on := Piece{
		Name: "conducts", Form: Holds, Value: n.within(e, "clamp", 0, low, 0), When: n.g.below(0, n.Current(e)),
	}
	e.Pieces = []Piece{block, on}
	return e
}

// Source holds a net at v volts above ground while it gives current; where the
// net lies higher it takes none. What may lift it can be asked: Lifted.
func (n *Network) Source(name string, net, ground Node, v bound.Reg) *Element {
	e := n.Add(name, ground, net)
	i, u := n.Current(e), n.Between(net, ground)
	e.Pieces = []Piece{
		{Name: "gives", Form: Holds, Value: n.g.neg(v), When: n.g.atMost(0, i)},
		{Name: "is lifted", Form: Open, When: n.g.atMost(v, u)},
	}
	return e
}

// Charger gives up to v volts and up to i amperes, whichever is first.
func (n *Network) Charger(name string, net, ground Node, v, i bound.Reg) *Element {
	e := n.Source(name, net, ground, v)
	out, u := n.Current(e), n.Between(net, ground)
	e.Pieces[0].When = n.g.and(e.Pieces[0].When, n.g.atMost(out, i))
	e.Pieces = append(e.Pieces, Piece{Name: "limits its current", Form: Drives, Value: i, When: n.g.atMost(u, v)})
	return e
}

// Turn is one row of a transistor: with a control voltage of at least At volts
// its channel is at most Max ohms (and at least Min).
type Turn struct{ At, Min, Max bound.Reg }

// Channel is what a transistor does between two nets: on where control (volts,
// from source to gate turned so that more is more on) lies in a row, off below
// threshold, 0 Ω to infinity between. Leak is the current when off.
func (n *Network) Channel(name string, a, b Node, control, threshold bound.Reg, rows []Turn, leak Value) *Element {
	g := n.g
	e := n.Add(name, a, b)
	e.TakesOnly = !leak.Noted()
	between := Piece{Name: "is neither on nor off", Form: Passive}
	for _, r := range rows {
		on := g.atMost(r.At, control)
		e.Pieces = append(e.Pieces, Piece{Name: "is on", Form: Resists, Value: n.ohms(e, r), When: on})
		between.When = g.and(between.When, g.not(on))
	}
	if threshold != 0 {
		off := Piece{Name: "is off", Form: Open, When: g.atMost(control, threshold)}
		if leak.Noted() {
			either := bound.Input{Lo: big.NewRat(-1, 1), Hi: one}
			share := n.leaf(owner{e: e}, "share of the leakage of "+name, name, Ratio, either)
			off.Form, off.Value = Drives, g.mul(leak.Reg, share)
		}
		e.Pieces = append(e.Pieces, off)
		between.When = g.and(between.When, g.below(threshold, control))
	}
	e.Pieces = append(e.Pieces, between)
	return e
}

// ohms is the resistance of a channel that is on.
func (n *Network) ohms(e *Element, r Turn) bound.Reg {
	if r.Min == r.Max {
		return n.g.number(r.Max)
	}
	share := n.leaf(owner{e: e}, "place of the resistance of "+e.Name, e.Name, Ratio, bound.Input{Lo: zero, Hi: one})
	return n.g.add(r.Min, n.g.mul(share, n.g.sub(r.Max, r.Min)))
}
