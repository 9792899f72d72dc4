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

// Range bounds a number over quantities of the network, over all states of a
// scope and for each by itself; a sum over circuits apart is that of its terms.
func (n *Network) Range(r bound.Reg, s Scope) Extent {
	if terms := n.apart(r); terms != nil {
		sum := n0()
		for _, t := range terms {
			e := n.Range(t, s)
			if e.Why != "" {
				return e
			}
			sum = sum.plus(span{lo: e.Lo, hi: e.Hi})
		}
		return Extent{Lo: sum.lo, Hi: sum.hi}
	}
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

// rangeIn is the range in a case by what is found for each quantity alone.
func (n *Network) rangeIn(c *Case, r bound.Reg) (lo, hi float64) {
	lo, hi = math.Inf(-1), math.Inf(1)
	p := n.g.Extract(r)
	in := c.inputs(p)
	for k, i := range p.Inputs() {
		if q, ok := n.byInput[i]; ok {
			in[k].Lo, in[k].Hi = c.bounds(q).rats()
		}
	}
	if e := bound.Range(p, 0, in, bound.Options{Boxes: 50}); !e.Empty {
		lo, hi = e.Lo.Outer, e.Hi.Outer
	}
	return lo, hi
}
