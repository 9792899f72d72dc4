package network

import (
	"fmt"
	"slices"

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
	seen := map[string]bool{}
	look := func(there func(*Element) bool, states []Pick) {
		for _, s := range n.loops(there) {
			key := fmt.Sprint(s.Elements)
			if !seen[key] {
				seen[key] = true
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
	switch n.decide(p, n.inputs(p), bound.Options{Boxes: 100}).Outcome {
	case bound.Proven:
		return false, false
	case bound.Broken:
		return true, true
	}
	return true, false
}

// loops finds the elements that close a loop of sources with those before them.
func (n *Network) loops(there func(*Element) bool) (out []Short) {
	fixed := n.alwaysGiven()
	var list []*Element
	// way is the shortest chain of list from a net to one that is wanted.
	way := func(from Node, wanted func(Node) bool) (chain []*Element, to Node, ok bool) {
		came, queue := map[Node]*Element{from: nil}, []Node{from}
		for len(queue) > 0 {
			k := queue[0]
			if queue = queue[1:]; wanted(k) {
				for to = k; k != from; {
					e := came[k]
					chain, k = append(chain, e), e.A+e.B-k
				}
				slices.Reverse(chain)
				return chain, to, true
			}
			for _, e := range list {
				if e.A != k && e.B != k {
					continue
				}
				if other := e.A + e.B - k; other != from && came[other] == nil {
					came[other] = e
					queue = append(queue, other)
				}
			}
		}
		return nil, 0, false
	}
	source := func(chain []*Element) bool {
		return slices.ContainsFunc(chain, func(e *Element) bool { return e.Pieces[0].EMF != 0 })
	}
	given := func(k Node) bool { return fixed[k] }
	for _, e := range n.elements {
		if may, _ := n.zeroAble(e); !may || !there(e) {
			continue
		}
		left, from, a := way(e.A, given)
		right, to, b := way(e.B, given)
		round, _, closed := way(e.A, func(k Node) bool { return k == e.B })
		list = append(list, e)
		slices.Reverse(left)
		chain := append(append(left, e), right...)
		switch {
		case a && b && from != to && (source(chain) || !n.same(from, to)):
		case closed && source(append(round, e)):
			chain, from, to = append(round, e), e.A, e.A
		case a && b && from == to && source(chain):
		default:
			continue
		}
		sure := from == to || n.differ(from, to)
		for _, x := range chain {
			_, s := n.zeroAble(x)
			sure = sure && s
		}
		out = append(out, Short{Elements: chain, From: from, To: to, Sure: sure})
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
	return n.decide(p, n.inputs(p), bound.Options{Boxes: 500}).Outcome == bound.Broken
}

// anyGiven is a voltage that is given to a net in some state.
func (n *Network) anyGiven(at Node) bound.Reg {
	v := n.nodes[at].given
	n.eachGive(func(g give) {
		if g.at == at && v == 0 {
			v = g.v
		}
	})
	return v
}
