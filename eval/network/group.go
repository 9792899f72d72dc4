package network

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"

	"guardband/eval/bound"
)

// group is a part of the network that is solved at once: what hangs together
// without passing a net whose voltage is given in every state, and what the
// guards of its pieces look at.
type group struct {
	key      string
	nodes    []Node // whose voltage is sought in some state
	elements []*Element
	drivers  []*Driver
	solved   map[string]*solution // by state
	refused  string               // why it is not followed
	spent    int                  // cases built
}

// mostElements are those of one group: a formula over more is of no use.
const mostElements = 200

// alwaysGiven tells which nets have a voltage in every state.
func (n *Network) alwaysGiven() []bool {
	if n.always != nil {
		return n.always
	}
	out := make([]bool, len(n.nodes))
	n.always = out
	for i := range n.nodes {
		out[i] = n.nodes[i].given != 0 || n.nodes[i].anyone != ""
	}
	for _, d := range n.drivers {
		count := map[Node]int{}
		for _, s := range d.States {
			for _, g := range s.gives {
				count[g.at]++
				out[g.at] = out[g.at] || count[g.at] >= len(d.States)
			}
		}
	}
	return out
}

// mostSteps bound the products that solving a group once may take.
const mostSteps = 4000

// steps counts the products that it takes to eliminate the nets of a group,
// that with the fewest neighbours first, as linear does.
func (n *Network) steps(g *group, given []bool) (out int) {
	near := map[Node]map[Node]bool{}
	put := func(a, b Node) {
		if !given[a] && a != b {
			if near[a] == nil {
				near[a] = map[Node]bool{}
			}
			near[a][b] = true
		}
	}
	for _, e := range g.elements {
		put(e.A, e.B)
		put(e.B, e.A)
	}
	for len(near) > 0 {
		at, fewest := Node(0), math.MaxInt
		for k, l := range near {
			if len(l) < fewest || len(l) == fewest && k < at {
				at, fewest = k, len(l)
			}
		}
		for x := range near[at] {
			for y := range near[at] {
				put(x, y)
			}
			delete(near[x], at)
		}
		delete(near, at)
		out += fewest * fewest * fewest / 2
	}
	return out
}

// forest is the nodes and elements that hang together, by root, and which
// drivers give a node a voltage.
type forest struct {
	union
	nodes    map[int][]Node
	elements map[int][]*Element
	givers   map[Node][]*Driver
}

// parts finds the forest once.
func (n *Network) parts(given []bool) *forest {
	if n.forest != nil {
		return n.forest
	}
	u := newUnion(len(n.nodes) + len(n.elements))
	f := &forest{union: u, nodes: map[int][]Node{}, elements: map[int][]*Element{}, givers: map[Node][]*Driver{}}
	n.forest = f
	touch := func(e *Element, at Node) {
		if !given[at] {
			u.join(len(n.nodes)+e.num, int(at))
		}
	}
	for _, e := range n.elements {
		touch(e, e.A)
		touch(e, e.B)
		for _, p := range e.Pieces {
			for _, l := range p.Limits {
				switch l.Of {
				case Control:
					touch(e, l.A)
					touch(e, l.B)
				case Base, Excess:
					u.join(len(n.nodes)+e.num, len(n.nodes)+l.Other.num)
				}
			}
		}
	}
	for i := range n.nodes {
		if r := u.root(i); !given[i] {
			f.nodes[r] = append(f.nodes[r], Node(i))
		}
	}
	for _, e := range n.elements {
		r := u.root(len(n.nodes) + e.num)
		f.elements[r] = append(f.elements[r], e)
	}
	for _, d := range n.drivers {
		for _, s := range d.States {
			for _, v := range s.gives {
				f.givers[v.at] = append(f.givers[v.at], d)
			}
		}
	}
	return f
}

// groupOf is the group that holds all that is asked.
func (n *Network) groupOf(qs []asked) *group {
	given := n.alwaysGiven()
	u := n.parts(given)
	want, asksFor := map[int]bool{}, map[Node]bool{}
	for _, q := range qs {
		switch {
		case q.kind == qVoltage && given[q.at]:
			asksFor[q.at] = true
		case q.kind == qVoltage:
			want[u.root(int(q.at))] = true
		default:
			want[u.root(len(n.nodes)+q.e.num)] = true
		}
	}
	var names []string
	for r := range want {
		names = append(names, fmt.Sprint(r))
	}
	for at := range asksFor {
		names = append(names, fmt.Sprint("g", at))
	}
	sort.Strings(names)
	key := strings.Join(names, " ")
	if g := n.groups[key]; g != nil {
		return g
	}
	g := &group{key: key, solved: map[string]*solution{}}
	n.groups[key] = g
	for r := range want {
		g.nodes = append(g.nodes, u.nodes[r]...)
		g.elements = append(g.elements, u.elements[r]...)
	}
	switch {
	case len(g.nodes) > n.limits.Nodes:
		g.refused = fmt.Sprintf("%d nets hang together here, more than %d", len(g.nodes), n.limits.Nodes)
	case len(g.elements) > mostElements:
		g.refused = fmt.Sprintf("%d elements hang together here, more than %d", len(g.elements), mostElements)
	}
	if g.refused != "" {
		return g
	}
	if steps := n.steps(g, given); steps > mostSteps {
		g.refused = fmt.Sprintf("%d nets hang together too closely here", len(g.nodes))
		return g
	}
	slices.Sort(g.nodes)
	slices.SortFunc(g.elements, func(a, b *Element) int { return a.num - b.num })
	touched := asksFor
	for _, at := range g.nodes {
		touched[at] = true
	}
	junctions, drives := 0, map[*Driver]bool{}
	for _, e := range g.elements {
		touched[e.A], touched[e.B] = true, true
		if e.driver != nil {
			drives[e.driver] = true
		} else if len(e.Pieces) > 1 && !e.Apart {
			junctions++
		}
		for _, p := range e.Pieces {
			for _, l := range p.Limits {
				if l.Of == Control {
					touched[l.A], touched[l.B] = true, true
				}
			}
		}
	}
	for at := range touched {
		for _, d := range u.givers[at] {
			drives[d] = true
		}
	}
	for d := range drives {
		g.drivers = append(g.drivers, d)
	}
	slices.SortFunc(g.drivers, func(a, b *Driver) int { return a.num - b.num })
	if junctions > n.limits.Junctions {
		g.refused = fmt.Sprintf("%d junctions hang together here, more than %d", junctions, n.limits.Junctions)
	}
	return g
}

// state is one state of all drivers of a group.
type state struct {
	at      []int // by driver of the group
	without []int // elements taken out, by number
}

// Scope says which states a question speaks of. The zero Scope is all.
type Scope struct {
	// Only lists the states that are allowed; a driver without one may be in
	// any.
	Only []Pick
	// Without takes elements out: what a pin would see if it took nothing.
	Without []*Element
	// With puts elements in that are Apart, or among Without.
	With []*Element
	// Driven leaves out the cases in which a net that is asked about floats.
	Driven bool
}

// allows tells whether a driver may be in a state.
func (s Scope) allows(d *Driver, state int) bool {
	of := func(p Pick) bool { return p.Driver == d }
	return !slices.ContainsFunc(s.Only, of) || slices.ContainsFunc(s.Only, func(p Pick) bool { return of(p) && p.index() == state })
}

// states lists the states of a group that a scope speaks of; ok is false
// where there are too many.
func (n *Network) states(g *group, s Scope) (out []state, ok bool) {
	var without []int
	for _, e := range g.elements {
		if !slices.Contains(s.With, e) && (e.Apart || slices.Contains(s.Without, e)) {
			without = append(without, e.num)
		}
	}
	at := make([]int, len(g.drivers))
	var walk func(i int) bool
	walk = func(i int) bool {
		if i == len(g.drivers) {
			out = append(out, state{slices.Clone(at), without})
			return len(out) <= n.limits.Cases
		}
		for k := range g.drivers[i].States {
			if !s.allows(g.drivers[i], k) {
				continue
			}
			if at[i] = k; !walk(i + 1) {
				return false
			}
		}
		return true
	}
	if !walk(0) {
		return nil, false
	}
	return out, true
}

// picks names a state to a reader.
func (g *group) picks(s state) []Pick {
	var out []Pick
	for i, d := range g.drivers {
		out = append(out, Pick{d, d.States[s.at[i]].Name})
	}
	return out
}

// input is what is known of a graph input; nothing is of a placeholder.
func (n *Network) input(i int) bound.Input { return n.leaves.Input(i) }

// inputs are those of a program.
func (n *Network) inputs(p *bound.Program) []bound.Input {
	in := make([]bound.Input, len(p.Inputs()))
	for k, i := range p.Inputs() {
		in[k] = n.input(i)
	}
	return in
}
