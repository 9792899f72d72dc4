package network

import (
	"guardband/eval/bound"
)

// Short is a loop of sources without a resistance.
type Short struct {
	Elements []*Element // the loop, in order
	From, To Node       // the given nets it joins; the same where a cell closes it
	States   []Pick     // in which the elements are there
	// Sure: its resistance is 0 at a point of the sure sets, and the voltages
	// differ there. Else it may be 0.
	Sure bool
}

// Shorts lists loops of given nets and cells through elements that each may be
// 0 Ω, one for each element that closes one: those that are always there, and
// those of each state of one driver.
func (n *Network) Shorts() []Short {
	var out []Short
	seen := map[*Element]bool{}
	look := func(there func(*Element) bool, states []Pick) {
		for _, s := range n.loops(there) {
			last := s.Elements[len(s.Elements)-1]
			if !seen[last] {
				seen[last] = true
				s.States = states
				out = append(out, s)
			}
		}
	}
	look(func(e *Element) bool { return e.driver == nil }, nil)
	for _, d := range n.drivers {
		for k, s := range d.States {
			look(func(e *Element) bool { return e.driver == nil || e.driver == d && e.state == k }, []Pick{{d, s.Name}})
		}
	}
	return out
}

// zeroAble tells whether an element may be 0 Ω, and whether it surely may.
func (n *Network) zeroAble(e *Element) (may, sure bool) {
	if len(e.Pieces) != 1 || e.Pieces[0].Form != Resists || e.A == e.B {
		return false, false
	}
	r := e.Pieces[0].Value
	if c, ok := n.g.ConstOf(r); ok {
		return c.Sign() == 0, c.Sign() == 0
	}
	p := n.g.Extract(n.g.below(0, r))
	switch bound.Decide(p, 0, n.inputs(p), bound.Options{Boxes: 100}).Outcome {
	case bound.Proven:
		return false, false
	case bound.Broken:
		return true, true
	}
	return true, false
}

// loops finds what closes a loop of sources among some elements.
func (n *Network) loops(there func(*Element) bool) []Short {
	type step struct {
		e  *Element
		to Node
	}
	paths := map[Node][]step{} // the forest so far
	u := newUnion(len(n.nodes))
	fixed := n.alwaysGiven()
	// path lists the elements of the forest from one net to another.
	path := func(from, to Node) ([]*Element, bool) {
		came := map[Node]step{from: {}}
		queue := []Node{from}
		for len(queue) > 0 {
			k := queue[0]
			queue = queue[1:]
			for _, s := range paths[k] {
				if _, been := came[s.to]; !been {
					came[s.to] = step{s.e, k}
					queue = append(queue, s.to)
				}
			}
		}
		if _, ok := came[to]; !ok {
			return nil, false
		}
		var out []*Element
		for k := to; k != from; k = came[k].to {
			out = append(out, came[k].e)
		}
		return out, true
	}
	source := func(list []*Element) bool {
		for _, e := range list {
			if e.Pieces[0].EMF != 0 {
				return true
			}
		}
		return false
	}
	var out []Short
	add := func(list []*Element, from, to Node) {
		sure := true
		for _, e := range list {
			_, s := n.zeroAble(e)
			sure = sure && s
		}
		if from != to {
			sure = sure && n.differ(from, to)
		}
		out = append(out, Short{Elements: list, From: from, To: to, Sure: sure})
	}
	given := map[int][]Node{} // by tree: the given nets in it
	for i, g := range fixed {
		if g {
			given[i] = []Node{Node(i)}
		}
	}
	for _, e := range n.elements {
		if may, _ := n.zeroAble(e); !may || !there(e) {
			continue
		}
		a, b := u.root(int(e.A)), u.root(int(e.B))
		if a == b {
			if list, ok := path(e.A, e.B); ok && source(append(list, e)) {
				add(append(list, e), e.A, e.A)
			}
			continue
		}
		u.join(a, b)
		paths[e.A] = append(paths[e.A], step{e, e.B})
		paths[e.B] = append(paths[e.B], step{e, e.A})
		if len(given[a]) > 0 && len(given[b]) > 0 {
			from, to := given[a][0], given[b][0]
			list, _ := path(from, to)
			if source(list) || !n.same(from, to) {
				list = append(list, e)
				add(dedup(list), from, to)
			}
		}
		r := u.root(a)
		given[r] = append(append([]Node(nil), given[a]...), given[b]...)
	}
	return out
}

// dedup keeps the last of each element.
func dedup(list []*Element) []*Element {
	var out []*Element
	for i, e := range list {
		again := false
		for _, x := range list[i+1:] {
			again = again || x == e
		}
		if !again {
			out = append(out, e)
		}
	}
	return out
}

// same tells that two nets have one voltage in every state.
func (n *Network) same(a, b Node) bool {
	return n.nodes[a].given != 0 && n.nodes[a].given == n.nodes[b].given
}

// differ tells that two given nets have different voltages at a point of the
// sure sets.
func (n *Network) differ(a, b Node) bool {
	x, y := n.anyGiven(a), n.anyGiven(b)
	if x == 0 || y == 0 {
		return false
	}
	p := n.g.Extract(n.g.equal(x, y))
	return bound.Decide(p, 0, n.inputs(p), bound.Options{Boxes: 500}).Outcome == bound.Broken
}

// anyGiven is a voltage that is given to a net in some state.
func (n *Network) anyGiven(at Node) bound.Reg {
	if v := n.nodes[at].given; v != 0 {
		return v
	}
	for _, d := range n.drivers {
		for _, s := range d.States {
			for _, g := range s.gives {
				if g.at == at && g.v != 0 {
					return g.v
				}
			}
		}
	}
	return 0
}
