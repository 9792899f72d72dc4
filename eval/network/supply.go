package network

import (
	"slices"

	"guardband/eval/bound"
)

// off is the voltage of a supply net that nothing gives: from 0 V to the
// highest that reaches it through whatever elements there are.
func (n *Network) off(at Node) bound.Reg {
	high := bound.Reg(0)
	for _, v := range n.reaching(at) {
		high = n.extreme(bound.OpMax, high, v)
	}
	if high == 0 {
		return n.g.zero()
	}
	name := n.nodes[at].name
	share := n.share(owner{at: at}, "place of "+name+" below what reaches it while it is off", name)
	return n.g.mul(share, n.g.Binary(bound.OpMax, n.g.zero(), high))
}

// reaching lists the voltages of all nets that elements join to one, through
// given nets too, in any state. What is unknown reaches as an input without
// ends.
func (n *Network) reaching(at Node) []bound.Reg {
	u := newUnion(len(n.nodes))
	for _, e := range n.elements {
		u.join(int(e.A), int(e.B))
	}
	var out []bound.Reg
	add := func(k Node, v bound.Reg) {
		if k != at && v != 0 && u.root(int(k)) == u.root(int(at)) {
			out = append(out, v)
		}
	}
	for i := range n.nodes {
		k := Node(i)
		add(k, n.nodes[i].given)
		if who := n.nodes[i].anyone; who != "" {
			add(k, n.held(k, who))
		}
	}
	for _, d := range n.drivers {
		for _, s := range d.States {
			for _, v := range s.gives {
				add(v.at, v.v)
			}
		}
	}
	for _, e := range n.elements {
		if u.root(int(e.A)) != u.root(int(at)) {
			continue
		}
		if !n.passes(e) { // a source of its own may lie on top of what it hangs on
			name := "voltage to which " + e.Name + " may drive a net that is off"
			out = append(out, n.leaf(owner{e: e}, name, e.Name, Volt, bound.Input{}))
		}
	}
	return out
}

// held is the voltage of a net that something unknown holds.
func (n *Network) held(at Node, who string) bound.Reg {
	name := n.nodes[at].name
	return n.leaf(owner{at: at}, "voltage that "+who+" puts on "+name, name, Volt, bound.Input{})
}

// passes tells that current through the element runs from the higher to the
// lower voltage whatever piece it is in.
func (n *Network) passes(e *Element) bool {
	return !slices.ContainsFunc(e.Pieces, func(p Piece) bool { return n.delivers(e, &p) })
}
