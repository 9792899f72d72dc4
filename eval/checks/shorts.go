package checks

import (
	"slices"

	"guardband/eval"
	"guardband/eval/circuit"
	"guardband/eval/record"
)

// This file finds what a button, fuse, bead or link shorts: two supplies, a
// supply and the return, an output and either.

// shorts are the kinds of parts that join two nets with next to nothing between.
var shortKinds = []string{"switch", "jumper", "fuse", "ferrite bead", "link", "wire", "inductor"}

// shortedBy judges a part that joins two nets firmly.
func shortedBy(c *board, b *eval.Check, m *circuit.Component) {
	p, q, ok := m.Ends()
	if !ok || p == q || m.NotFitted() || m.Open() || m.Link || m.Feeds != nil ||
		!slices.Contains(shortKinds, m.Sort()) && !m.IsLink() || m.Part != nil && len(m.Pins()) != 2 {
		return
	}
	if circuit.IsReturn(p) || c.IsRail(p) && !c.IsRail(q) {
		p, q = q, p
	}
	if why, sure := shortsTwo(c, m, p, q); why != "" {
		cl := c.Claim(b, m.Ref, "Nothing is shorted by "+m.Ref+".", m.Entry)
		switch m.Sort() {
		case "switch":
			why += " while it is closed"
		case "jumper":
			why, sure = why+" if it is closed", sure && m.Closed()
		}
		if sure {
			cl.Settle(record.Failed, why)
		} else {
			cl.Lacks("no fact", why, "give its row the option `open`, or take it off")
		}
	}
}

// shortsTwo says what a part shorts between two nets, of which the second is the
// return if one is; sure is false where that is a question.
func shortsTwo(c *board, m *circuit.Component, p, q *circuit.Net) (why string, sure bool) {
	pushing := func(n *circuit.Net) string {
		for _, j := range n.PinsOf() {
			if circuit.Pushes(j.Pin) && !j.Pin.Has("power") && m.Sort() != "inductor" && !j.Comp.MakesVoltage() {
				return j.Name()
			}
		}
		return ""
	}
	above := func(n *circuit.Net) bool { return !circuit.IsReturn(n) && c.VoltageStated(n) && !c.CrossesZero(n) }
	fed := func(n *circuit.Net) bool { return len(circuit.SupplyOutputs(n)) > 0 }
	lo, hi := c.Between(p, q)
	switch {
	case circuit.IsReturn(p):
	case circuit.IsReturn(q) && above(p):
		return m.Ref + " joins " + p.Name + " to " + q.Name, true
	case above(p) && above(q) && (lo != nil && lo.Sign() > 0 || hi != nil && hi.Sign() < 0):
		return m.Ref + " joins " + p.Name + " to " + q.Name + ", which are at other voltages", true
	case above(p) && above(q) && m.IsLink() && fed(p) != fed(q):
		return m.Ref + " joins " + p.Name + " and " + q.Name + ", of which a part makes one and a value gives the other: two supplies", true
	case !c.IsRail(p) && c.IsRail(q) && (circuit.IsReturn(q) || above(q)) && pushing(p) != "":
		return m.Ref + " joins " + pushing(p) + " to " + q.Name, true
	case !c.IsRail(p) && !c.IsRail(q) && pushing(p) != "" && pushing(q) != "":
		return m.Ref + " joins the outputs " + pushing(p) + " and " + pushing(q), true
	}
	return "", false
}

// sinkContacts are contacts of receptacles that ask for a supply on a net: their
// CC contacts lead to ground by resistors.
func sinkContacts(c *board, n *circuit.Net) (out []circuit.Joint) {
	down := func(n *circuit.Net) bool {
		return n != nil && slices.ContainsFunc(c.ResistorsAt(n), func(r circuit.Resistor) bool { return circuit.IsReturn(r.Other) })
	}
	for _, j := range n.PinsOf() {
		if m := j.Comp; !m.Part.HasSupply() && down(m.End("CC1", "CC_1")) && down(m.End("CC2", "CC_2")) && !circuit.SamePart(out, j) {
			out = append(out, j)
		}
	}
	return out
}

// twins are outputs of one part that stand on one net with another of it.
func twins(n *circuit.Net) (out []circuit.Joint) {
	for _, j := range n.PinsOf() {
		if circuit.Pushes(j.Pin) && !j.Pin.Has("power") && slices.ContainsFunc(n.PinsOf(), func(k circuit.Joint) bool {
			return k.Comp == j.Comp && k.Pin.Row.Name != j.Pin.Row.Name && circuit.Pushes(k.Pin)
		}) {
			out = append(out, j)
		}
	}
	return out
}
