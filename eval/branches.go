package eval

import (
	"slices"

	"guardband/eval/bound"
	"guardband/eval/circuit"
	"guardband/eval/formula"
	"guardband/eval/record"
	"guardband/units"
)

// This file is what the circuit itself takes from a supply and no row of its
// budget speaks of: resistors, diodes, coils and transistors between its nets
// and others. It is at most the voltage over the resistance of the way.

// branch is one such way.
type branch struct {
	refs   []string // of the parts it leads through, from the supply on
	ohms   bound.Reg
	all    bool // resistors alone, to the return: it takes all of that, always
	steady bool // nothing switches it
	reg    bound.Reg
}

// branches of a budget's nets, those that rows speak of left out.
func (c ledger) branches(b *budget, s *scope) (out []*branch) {
	nets := c.budgeted(b)
	for _, n := range nets {
		head := n // what feeds it drops by the current that is asked for
		for head.Feed != nil {
			head = head.Feed.From
		}
		v := c.netVoltage(head)
		if v == nil {
			continue
		}
		if c.lower(v); v.val.Class != formula.Number || v.val.Type != circuit.Volt {
			continue
		}
		for _, j := range n.Joined {
			far := across(j.Comp, n)
			if far == nil || slices.Contains(nets, far) || c.IsRail(far) && !circuit.IsReturn(far) {
				continue
			}
			x := &branch{all: head == n, steady: true}
			c.follow(x, j.Comp, far, s)
			if len(x.refs) == 0 || slices.ContainsFunc(x.refs, b.speaksOf) {
				continue
			}
			c.takes(b, x, v, s)
			out = append(out, x)
		}
	}
	return out
}

// across is the other end of what may take a current from a net.
func across(m *circuit.Component, n *circuit.Net) *circuit.Net {
	switch m.Sort() {
	case "resistor":
		return m.Opposite(n)
	case "LED", "diode", "Zener diode":
		if plus, minus, ok := m.Poles(); ok && plus == n { // turned round it takes nothing
			return minus
		}
		return nil
	case "inductor": // of a converter, which makes the supply
		return nil
	}
	one, two := m.WindingEnds()
	if m.IsTransistor() {
		one, two = m.ChannelEnds()
	}
	switch n {
	case one:
		return two
	case two:
		return one
	}
	return nil
}

// follow goes on from a part to the net behind it as long as one part alone
// takes the current there; what is behind a fork counts as at the return.
func (c ledger) follow(x *branch, m *circuit.Component, at *circuit.Net, s *scope) {
	x.refs = append(x.refs, m.Ref)
	if r, _ := c.resistance(m); r != nil {
		s.note(r)
		ohms := r.val.Reg
		if x.ohms != 0 {
			ohms = c.b.Binary(bound.OpAdd, x.ohms, ohms)
		}
		x.ohms = ohms
	}
	x.all = x.all && m.Sort() == "resistor"
	x.steady = x.steady && !m.IsTransistor()
	if circuit.IsReturn(at) {
		return
	}
	var on []circuit.Joint
	for _, j := range at.Joined {
		switch {
		case j.Comp == m || j.Comp.Sort() == "capacitor" || j.Pin != nil && (j.Pin.OnlyReads() ||
			j.Pin.Row.Type == "analog input") && !j.Comp.IsTransistor():
		case slices.Contains(x.refs, j.Comp.Ref): // a loop
			x.all = false
			return
		default:
			on = append(on, j)
		}
	}
	switch {
	case len(on) == 0: // inputs alone take nothing that counts
		x.refs = nil
		return
	case len(on) == 1:
		if far := across(on[0].Comp, at); far != nil {
			c.follow(x, on[0].Comp, far, s)
			return
		}
	}
	x.all = false
	x.steady = x.steady && !slices.ContainsFunc(on, func(j circuit.Joint) bool { return j.Comp.Sort() != "resistor" })
}

// takes is the current of a branch: of resistors to the return all of it, of
// others anything up to it.
func (c ledger) takes(b *budget, x *branch, v *symbol, s *scope) {
	s.note(v)
	typ := b.loads[0].value.Type
	settle := "add a row `" + x.refs[0] + "  on  ...`, or `from` another rail"
	if x.ohms == 0 {
		x.reg = c.unstated(b, s, x.refs[0], "the budget has no row for "+x.refs[0]+", which takes a current from "+b.block.ID+" too", settle, typ)
		return
	}
	x.reg = c.b.Binary(bound.OpDiv, c.b.Unary(bound.OpAbs, v.val.Reg), x.ohms)
	if !x.all {
		share := c.unstated(b, s, x.refs[0], "the current through "+joinWords(x.refs)+" from "+b.block.ID+" is not stated", settle, units.Type{})
		c.inputs[len(c.inputs)-1].in.Hi = one
		x.reg = c.b.Binary(bound.OpMul, share, x.reg)
	}
}

// withBranches adds what the circuit itself takes; steady: without what is
// switched, of which rows with a duty speak.
func (c ledger) withBranches(b *budget, sum bound.Reg, steady bool) bound.Reg {
	for _, x := range b.branches {
		if x.steady || !steady {
			sum = c.b.Binary(bound.OpAdd, sum, x.reg)
		}
	}
	return sum
}

// branchRows are the branches in the table of a budget.
func (c ledger) branchRows(b *budget) (out []record.Load) {
	for _, x := range b.branches {
		r := record.Load{Ref: joinWords(x.refs), State: "as placed"}
		e := c.rangeOver(x.reg, 0)
		r.Average, r.Text = finite(e.Hi), extentText(e, b.loads[0].value.Type, nil)
		if r.AverageText = r.Text; !x.steady {
			r.Average, r.AverageText = nil, "not stated"
		}
		out = append(out, r)
	}
	return out
}
