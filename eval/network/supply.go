package network

import (
	"fmt"
	"maps"
	"math"
	"strings"

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
	n.eachGive(func(v give) { add(v.at, v.v) })
	for _, e := range n.elements {
		if u.root(int(e.A)) != u.root(int(at)) {
			continue
		}
		for i := range e.Pieces {
			// A source of its own may lie on top of what it hangs on.
			if p := &e.Pieces[i]; n.delivers(e, p) {
				name := "voltage to which " + e.Name + " may bring a net that is off"
				out = append(out, n.leaf(owner{e: e}, name, e.Name, Volt, bound.Input{}))
				break
			}
		}
	}
	return out
}

// held is the voltage of a net that something unknown holds.
func (n *Network) held(at Node, who string) bound.Reg {
	name := n.nodes[at].name
	return n.leaf(owner{at: at}, "voltage that "+who+" puts on "+name, name, Volt, bound.Input{})
}

// lifted tells why a claim rests on a supply that may be lifted: more current
// may be pushed into its net than it surely takes. "" if none is.
func (n *Network) lifted(g *group, s Scope) string {
	seen := map[Node]bool{}
	for _, d := range g.drivers {
		for i, st := range d.States {
			if !s.allows(d, i) {
				continue
			}
			for _, v := range st.gives {
				if !v.supply || seen[v.at] {
					continue
				}
				seen[v.at] = true
				if why := n.mayLift(d, st.Name, v); why != "" {
					return why
				}
			}
		}
	}
	return ""
}

// looking marks a supply that is being looked at.
const looking = "?"

func (n *Network) mayLift(d *Driver, state string, v give) string {
	key := fmt.Sprint(v.at, d.num, state)
	if why, ok := n.lifting[key]; ok {
		return strings.TrimPrefix(why, looking)
	}
	n.lifting[key] = looking // taken not to be while its own currents are looked at
	low := n.least(v.v)
	pushed := bound.Reg(0)
	for _, e := range n.elements {
		if e.A == e.B || e.A != v.at && e.B != v.at {
			continue
		}
		other := e.A
		if e.A == v.at {
			other = e.B
		}
		if n.passes(e) && n.highest(other) <= low {
			continue // its other end is never higher: it takes, or nothing flows
		}
		in := n.Current(e)
		if e.A == v.at {
			in = n.g.neg(in)
		}
		pushed = n.g.add(pushed, in)
	}
	why := ""
	if pushed != 0 {
		if j, _ := n.ask(n.g.atMost(pushed, 0), Scope{Only: []Pick{{d, state}}}); j.out.Why != "" || !j.pass() {
			why = n.nodes[v.at].name + " may be lifted: more current may be pushed into it than it surely takes"
		}
	}
	if why != "" { // what was found while this was taken not to be is void
		maps.DeleteFunc(n.lifting, func(_, was string) bool { return was == "" })
	}
	n.lifting[key] = why
	return why
}

// passes tells that current through the element runs from the higher to the
// lower voltage whatever piece it is in.
func (n *Network) passes(e *Element) bool {
	for i := range e.Pieces {
		if n.delivers(e, &e.Pieces[i]) {
			return false
		}
	}
	return true
}

// least is a lower bound of a number, from outside.
func (n *Network) least(r bound.Reg) float64 {
	p := n.g.Extract(r)
	return bound.Range(p, 0, n.inputs(p), bound.Options{Boxes: 64, Ends: bound.LowEnd}).Lo.Outer
}

func (n *Network) most(r bound.Reg) float64 {
	p := n.g.Extract(r)
	return bound.Range(p, 0, n.inputs(p), bound.Options{Boxes: 64, Ends: bound.HighEnd}).Hi.Outer
}

// highest is an upper bound of the voltage of a net in all states: its own, or
// that of the known nets round it if only passive things lie between.
func (n *Network) highest(at Node) float64 {
	given := n.alwaysGiven()
	seen := map[Node]bool{at: true}
	queue, top := []Node{at}, math.Inf(-1)
	for len(queue) > 0 {
		k := queue[0]
		queue = queue[1:]
		top = math.Max(top, n.highestGiven(k))
		if given[k] {
			continue
		}
		for _, e := range n.elements {
			if e.A != k && e.B != k {
				continue
			}
			if !n.passes(e) {
				return math.Inf(1)
			}
			other := e.A + e.B - k
			if !seen[other] {
				seen[other] = true
				queue = append(queue, other)
			}
		}
	}
	if math.IsInf(top, -1) {
		return math.Inf(1)
	}
	return top
}

// highestGiven is the highest voltage that is given to a net in any state,
// -Inf where none is.
func (n *Network) highestGiven(at Node) float64 {
	if n.nodes[at].anyone != "" {
		return math.Inf(1)
	}
	top := math.Inf(-1)
	put := func(v give) {
		switch {
		case v.at != at:
		case v.v == 0:
			top = math.Max(top, n.most(n.off(at)))
		default:
			top = math.Max(top, n.most(v.v))
		}
	}
	if v := n.nodes[at].given; v != 0 {
		put(give{at: at, v: v})
	}
	n.eachGive(put)
	return top
}
