package network

import (
	"guardband/eval/bound"
)

// This file is what a quantity comes to in a case.

// potential is the voltage of a net in this case.
func (c *Case) potential(at Node) bound.Reg { return c.Value(asked{kind: qVoltage, at: at}) }

// Put replaces the quantities of the network in a formula by what they are in
// this case.
func (c *Case) Put(r bound.Reg) bound.Reg {
	sub := map[int]bound.Reg{}
	for _, q := range c.n.askedIn(r) {
		sub[c.n.g.Vars(c.n.byAsked[q])[0]] = c.Value(q)
	}
	if len(sub) == 0 {
		return r
	}
	return c.n.g.Substitute(r, sub)
}

// Value is one quantity in this case.
func (c *Case) Value(q asked) bound.Reg {
	if r, ok := c.done[q]; ok {
		return r
	}
	r := c.n.g.number(c.value(q))
	c.done[q] = r
	return r
}

func (c *Case) value(q asked) bound.Reg {
	g, e := c.n.g, q.e
	if q.kind == qVoltage {
		return c.lin.potential(int(q.at))
	}
	p := c.chosen[e]
	switch {
	case q.kind == qCurrent:
		return c.current(e, p)
	case q.kind == qAcross && p != nil && p.Form == Holds:
		return p.Value
	case q.kind == qAcross && p != nil && p.Form == Resists:
		return g.add(g.mul(p.Value, c.Value(asked{kind: qCurrent, e: e})), p.EMF)
	case q.kind == qAcross:
		return g.sub(c.potential(e.A), c.potential(e.B))
	}
	if p != nil && p.Form == Resists && p.EMF == 0 {
		return g.mul(p.Value, g.PowInt(c.Value(asked{kind: qCurrent, e: e}), 2))
	}
	return g.mul(c.Value(asked{kind: qAcross, e: e}), c.Value(asked{kind: qCurrent, e: e}))
}

func (c *Case) current(e *Element, p *Piece) bound.Reg {
	if p == nil || p.Form == Open {
		return 0
	}
	if i, ok := c.free[e]; ok {
		return i
	}
	if p.Form == Drives {
		return p.Value
	}
	return c.lin.current(c.branch[e])
}
