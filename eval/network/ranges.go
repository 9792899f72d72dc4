package network

import (
	"math"
	"slices"

	"guardband/eval/bound"
)

// Extent is the range of a number over the states of a scope.
type Extent struct {
	Lo, Hi float64 // outer bounds, SI units
	States []StateExtent
	Why    string // not followed: then the ends are infinite
}

// StateExtent is the range in one state of the drivers.
type StateExtent struct {
	States []Pick
	Lo, Hi float64
}

// Range bounds a number over quantities of the network, over all and for each
// state by itself.
func (n *Network) Range(r bound.Reg, s Scope) Extent {
	out := Extent{Lo: math.Inf(1), Hi: math.Inf(-1)}
	var last *Case
	_, _, why := n.cases(r, s, func(c *Case) bool {
		if last == nil || !slices.Equal(last.state.at, c.state.at) {
			out.States = append(out.States, StateExtent{States: c.States, Lo: math.Inf(1), Hi: math.Inf(-1)})
		}
		last = c
		x := &out.States[len(out.States)-1]
		l, h := n.rangeIn(c, r)
		x.Lo, x.Hi = math.Min(x.Lo, l), math.Max(x.Hi, h)
		out.Lo, out.Hi = math.Min(out.Lo, l), math.Max(out.Hi, h)
		return true
	})
	if why != "" {
		return Extent{Lo: math.Inf(-1), Hi: math.Inf(1), Why: why}
	}
	return out
}

// Bounds is Range by what is found for each quantity alone: wider, and quick.
// A sum over circuits apart is that of its terms.
func (n *Network) Bounds(r bound.Reg, s Scope) Extent {
	m := *n
	m.quick = true
	terms := n.apart(r)
	if terms == nil {
		return m.Range(r, s)
	}
	sum := n0()
	for _, t := range terms {
		e := m.Range(t, s)
		if e.Why != "" {
			return e
		}
		sum = sum.plus(span{lo: e.Lo, hi: e.Hi})
	}
	return Extent{Lo: sum.lo, Hi: sum.hi}
}

// rangeIn is the range where the guard of a case holds: what the corners and
// the guards give, and a short search.
func (n *Network) rangeIn(c *Case, r bound.Reg) (lo, hi float64) {
	lo, hi = math.Inf(-1), math.Inf(1)
	if !n.quick {
		if lo, hi = n.searched(c, r); lo > hi {
			return lo, hi
		}
	}
	p := n.g.Extract(r)
	in := c.inputs(p)
	for k, i := range p.Inputs() {
		if q, ok := n.byInput[i]; ok {
			in[k].Lo, in[k].Hi = c.bounds(q).rats()
		}
	}
	if e := bound.Range(p, 0, in, bound.Options{Boxes: 50}); !e.Empty {
		lo, hi = math.Max(lo, e.Lo.Outer), math.Min(hi, e.Hi.Outer)
	}
	return lo, hi
}

// searched is the range in a case by a search.
func (n *Network) searched(c *Case, r bound.Reg) (lo, hi float64) {
	nowhere := n.g.Binary(bound.OpDiv, n.g.one(), n.g.zero())
	p := n.g.Extract(n.g.If(c.Guard, c.Put(r), nowhere))
	e := bound.Range(p, 0, c.inputs(p), bound.Options{Boxes: 200})
	if e.Empty {
		return math.Inf(1), math.Inf(-1)
	}
	return e.Lo.Outer, e.Hi.Outer
}
