package network

import (
	"math"

	"guardband/eval/bound"
)

// Released is the network at the instant at which a coil is switched off: the
// coil is a source of the current it had, in amperes from its A to its B, and
// the elements that fed it are open. Quantities of the network that it was
// made from keep meaning that one: ask the new one with its own elements,
// which have the same numbers.
//
// Where nothing can take over the current, every claim about it stays open
// with "no operating point is left"; see TakenOver.
func (n *Network) Released(coil *Element, current bound.Reg, opened ...*Element) *Network {
	out := New(n.g.Builder, n.leaves, n.limits)
	out.nodes = append([]node(nil), n.nodes...)
	out.forbidden, out.rows, out.assumed = n.forbidden, n.rows, n.assumed
	out.drivers = n.drivers
	out.fresh = map[fresh]bound.Reg{}
	for _, e := range n.elements {
		c := *e
		out.elements = append(out.elements, &c)
	}
	for _, e := range out.elements {
		pieces := append([]Piece(nil), e.Pieces...)
		for i := range pieces {
			pieces[i].Limits = append([]Limit(nil), pieces[i].Limits...)
			for k := range pieces[i].Limits {
				if o := pieces[i].Limits[k].Other; o != nil {
					pieces[i].Limits[k].Other = out.elements[o.num]
				}
			}
		}
		e.Pieces = pieces
	}
	it := out.elements[coil.num]
	it.Pieces, it.TakesOnly = []Piece{{Form: Drives, Value: current}}, false
	for _, e := range opened {
		out.elements[e.num].Pieces = []Piece{{Form: Open}}
	}
	return out
}

// Twin is the element of this network that was made from one of another.
func (n *Network) Twin(e *Element) *Element { return n.elements[e.num] }

// TakenOver tells whether something takes over the current of a released coil:
// Failed where no way is left for it in any state, Passed where one is in all.
// current must be above 0.
func (n *Network) TakenOver(coil *Element, s Scope) Judgement {
	coil = n.Twin(coil)
	g, why := n.groupFor(n.Current(coil))
	if why != "" {
		return Judgement{Why: why}
	}
	states, ok := n.states(g, s)
	if !ok || len(states) == 0 {
		return Judgement{Why: "no states, or too many"}
	}
	left, none := 0, 0
	for _, at := range states {
		switch sol := n.solve(g, at); {
		case sol.refused == "":
			left++
		case sol.impossible:
			none++
		default:
			return Judgement{Why: "not followed: " + sol.refused}
		}
	}
	switch {
	case none == len(states):
		return Judgement{Verdict: Failed, Why: "nothing takes over the current of " + coil.Name}
	case none > 0:
		return Judgement{Why: "nothing takes over the current of " + coil.Name + " in some states"}
	}
	if x := n.Range(n.Across(coil), s); math.IsInf(x.Lo, 0) || math.IsInf(x.Hi, 0) {
		return Judgement{Why: "nothing limits the voltage of " + coil.Name + " as it is switched off"}
	}
	return Judgement{Verdict: Passed, Cases: left}
}

// Settled is the formula of a number that has one case in a scope and no guard
// there: the current of a coil before it is switched off.
func (n *Network) Settled(r bound.Reg, s Scope) (bound.Reg, bool) {
	g, why := n.groupFor(r)
	if why != "" {
		return 0, false
	}
	states, ok := n.states(g, s)
	if !ok || len(states) != 1 {
		return 0, false
	}
	sol := n.solve(g, states[0])
	if sol.refused != "" || len(sol.cases) != 1 {
		return 0, false
	}
	return sol.cases[0].Put(r), true
}

// Sole is the one case of what a formula asks, where there is but one state in
// a scope and nothing to decide in it: resistances, loads and known voltages.
// Its Put gives the formula itself. nil elsewhere.
func (n *Network) Sole(r bound.Reg, s Scope) *Case {
	g, why := n.groupFor(r)
	if why != "" {
		return nil
	}
	states, ok := n.states(g, s)
	if !ok || len(states) != 1 {
		return nil
	}
	sol := n.solve(g, states[0])
	if sol.refused != "" || len(sol.cases) != 1 || sol.cases[0].Guard != n.g.True() {
		return nil
	}
	return sol.cases[0]
}
