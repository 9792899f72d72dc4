package network

import (
	"guardband/eval/bound"
)

// quantity is a kind of number the network can be asked for.
type quantity uint8

const (
	qVoltage quantity = iota
	qCurrent
	qAcross
	qPower
)

type asked struct {
	kind quantity
	at   Node
	e    *Element
}

// placeholder is an input that is replaced by a formula in each case. Nothing
// is known of it until then.
func (n *Network) placeholder(q asked, name, about string, unit Unit) bound.Reg {
	if r, ok := n.byAsked[q]; ok {
		return r
	}
	r := n.leaves.New(name, about, unit, bound.Input{})
	n.byAsked[q] = r
	n.byInput[n.g.Vars(r)[0]] = q
	return r
}

// Voltage is the voltage of a net against ground, in volts.
func (n *Network) Voltage(at Node) bound.Reg {
	if v := n.nodes[at].given; v != 0 && len(n.parts(n.alwaysGiven()).givers[at]) == 0 {
		return v
	}
	return n.placeholder(asked{kind: qVoltage, at: at}, "voltage of "+n.nodes[at].name, n.nodes[at].name, Volt)
}

// Between is the voltage from net a to net b, in volts.
func (n *Network) Between(a, b Node) bound.Reg { return n.g.sub(n.Voltage(a), n.Voltage(b)) }

// Current is the current of an element from A to B, in amperes; 0 in states in
// which the element is not there.
func (n *Network) Current(e *Element) bound.Reg {
	return n.placeholder(asked{kind: qCurrent, e: e}, "current of "+e.Name, e.Name, Ampere)
}

// Across is the voltage of an element from A to B, in volts.
func (n *Network) Across(e *Element) bound.Reg {
	return n.placeholder(asked{kind: qAcross, e: e}, "voltage across "+e.Name, e.Name, Volt)
}

// Power is the power that an element takes up, in watts.
func (n *Network) Power(e *Element) bound.Reg {
	return n.placeholder(asked{kind: qPower, e: e}, "power of "+e.Name, e.Name, Watt)
}

// Asks tells whether a formula depends on the network.
func (n *Network) Asks(r bound.Reg) bool { return len(n.askedIn(r)) > 0 }

// askedIn lists the placeholders a formula depends on.
func (n *Network) askedIn(r bound.Reg) (out []asked) {
	if r == 0 {
		return nil
	}
	for _, i := range n.g.Vars(r) {
		if k, ok := n.byInput[i]; ok {
			out = append(out, k)
		}
	}
	return out
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
