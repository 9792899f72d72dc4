package network

import "guardband/eval/bound"

// relax takes the passive things of which nothing else is known out of a case.
// A net at one of them lies between the known nets that its island hangs on,
// whatever their resistances are; its voltage is then such a number, and the
// network is cut there.
//
// That a net lies between holds since no net of the island can be the highest
// or the lowest: what is joined to it takes current out of the highest one.
// It needs an island of passive things alone, and a way for current from each
// such net to a known one: else nothing is known of the voltage.
func (c *Case) relax(active []*Element) {
	n := c.n
	var vague []*Element
	joined := map[Node]int{}
	for _, e := range active {
		joined[e.A], joined[e.B] = joined[e.A]+1, joined[e.B]+1
	}
	for _, e := range active {
		leadsOn := func(at Node) bool { return joined[at] > 1 || c.lin.known[at] != 0 }
		switch {
		case c.chosen[e].Form != Passive:
		case !e.Conducts || leadsOn(e.A) && leadsOn(e.B):
			vague = append(vague, e)
		default: // no current: both ends have one voltage
			c.chosen[e] = &Piece{Form: Resists, Value: n.g.zero(), Limits: c.chosen[e].Limits}
		}
	}
	if len(vague) == 0 {
		return
	}
	island, way := newUnion(len(n.nodes)), newUnion(len(n.nodes)+1)
	ends := func(e *Element) (a, b int, known bool) {
		a, b = int(e.A), int(e.B)
		return a, b, c.lin.known[a] != 0 || c.lin.known[b] != 0
	}
	for i, v := range c.lin.known {
		if v != 0 {
			way.join(i, len(n.nodes))
		}
	}
	for _, e := range active {
		a, b, known := ends(e)
		p := c.chosen[e]
		if !known {
			island.join(a, b)
		}
		if p.Form == Passive || p.Form == Resists {
			way.join(a, b)
		}
	}
	lively := map[int]bool{}
	lows, highs := map[int]bound.Reg{}, map[int]bound.Reg{}
	for _, e := range active {
		a, b, _ := ends(e)
		for _, end := range [][2]int{{a, b}, {b, a}} {
			in, other := end[0], end[1]
			if c.lin.known[in] != 0 {
				continue
			}
			r := island.root(in)
			lively[r] = lively[r] || n.delivers(e, c.chosen[e])
			if v := c.lin.known[other]; v != 0 {
				lows[r], highs[r] = n.extreme(bound.OpMin, lows[r], v), n.extreme(bound.OpMax, highs[r], v)
			}
		}
	}
	found := map[int]bound.Reg{}
	for _, e := range vague {
		name := "current of " + e.Name + ", of which no resistance is stated"
		c.free[e] = n.leaf(owner{e: e}, name, e.Name, Ampere, bound.Input{})
		for _, end := range []int{int(e.A), int(e.B)} {
			if c.lin.known[end] != 0 || found[end] != 0 || e.OneWay && end == int(e.B) {
				continue
			}
			r, name := island.root(end), n.nodes[end].name
			if lively[r] || lows[r] == 0 || way.root(end) != way.root(len(n.nodes)) {
				found[end] = n.leaf(owner{at: Node(end)}, "voltage of "+name+", which nothing settles", name, Volt, bound.Input{})
				continue
			}
			share := n.share(owner{at: Node(end)}, "place of "+name+" between the nets round it", name)
			found[end] = n.g.add(lows[r], n.g.mul(share, n.g.sub(highs[r], lows[r])))
		}
	}
	for at, v := range found {
		c.lin.known[at] = v
	}
}

func (n *Network) extreme(op bound.Op, a, b bound.Reg) bound.Reg {
	if a == 0 {
		return b
	}
	return n.g.Binary(op, a, b)
}
