package network

import (
	"fmt"
	"strings"

	"guardband/eval/bound"
)

// solution is all cases of a group in one state of its drivers.
type solution struct {
	cases   []*Case
	refused string
}

// Case is one way the currents can run in one state: which piece each element
// is in, the guard under which it is, and the linear network that is left.
type Case struct {
	States []Pick
	Row    string   // name of the state row, "" outside rows
	Pieces []string // "D1 conducts"
	Guard  bound.Reg

	n      *Network
	state  state
	lin    *linear
	chosen map[*Element]*Piece
	branch map[*Element]int       // place in lin.br
	free   map[*Element]bound.Reg // currents that the network does not settle
	floats map[Node]bool
	done   map[asked]bound.Reg
}

// Floats tells that nothing joins a net to a known one in this case.
func (c *Case) Floats(at Node) bool { return c.floats[at] }

// solve finds the cases of a group in one state.
func (n *Network) solve(g *group, s state) *solution {
	key := fmt.Sprint(s)
	if have := g.solved[key]; have != nil {
		return have
	}
	out := &solution{}
	g.solved[key] = out
	if g.refused != "" {
		out.refused = g.refused
		return out
	}
	var active, choices []*Element
	product := 1
	for _, e := range g.elements {
		if e.A == e.B || !g.there(e, s) {
			continue
		}
		active = append(active, e)
		if len(e.Pieces) > 1 {
			choices = append(choices, e)
			product = min(product*len(e.Pieces), 1<<20)
		}
	}
	g.spent += product
	if g.spent > n.limits.Cases {
		out.refused = fmt.Sprintf("more than %d cases of states and junctions hang together here", n.limits.Cases)
		return out
	}
	pick := make(map[*Element]*Piece, len(active))
	var walk func(i int)
	walk = func(i int) {
		if i == len(choices) {
			c, why := n.build(g, s, active, pick)
			if why != "" {
				out.refused = why
			} else if c != nil {
				out.cases = append(out.cases, c)
			}
			return
		}
		for k := range choices[i].Pieces {
			pick[choices[i]] = &choices[i].Pieces[k]
			if walk(i + 1); out.refused != "" {
				return
			}
		}
	}
	for _, e := range active {
		if len(e.Pieces) == 0 {
			out.refused = e.Name + " has no piece"
			return out
		}
		pick[e] = &e.Pieces[0]
	}
	walk(0)
	if out.refused == "" && len(out.cases) == 0 {
		out.refused = "what is stated cannot be at once: " + g.stateText(s)
	}
	return out
}

func (g *group) there(e *Element, s state) bool {
	if e.driver == nil {
		return true
	}
	for i, d := range g.drivers {
		if d == e.driver {
			return s.at[i] == e.state
		}
	}
	return false
}

func (g *group) stateText(s state) string {
	var out []string
	for i, d := range g.drivers {
		out = append(out, d.Name+" "+d.States[s.at[i]].Name)
	}
	if len(out) == 0 {
		return "no operating point is left"
	}
	return "no operating point is left with " + strings.Join(out, ", ")
}

// settle gives the nets of a state their voltages.
func (n *Network) settle(g *group, s state, known []bound.Reg) string {
	for i := range n.nodes {
		known[i] = n.nodes[i].given
		if who := n.nodes[i].anyone; who != "" {
			known[i] = n.leaf(owner{at: Node(i)}, "voltage that "+who+" puts on "+n.nodes[i].name, n.nodes[i].name, Volt, bound.Input{})
		}
	}
	by := map[Node]string{}
	for i, d := range g.drivers {
		for _, v := range d.States[s.at[i]].gives {
			if was := by[v.at]; was != "" && known[v.at] != v.v {
				return was + " and " + d.Name + " both hold " + n.nodes[v.at].name
			}
			by[v.at], known[v.at] = d.Name, v.v
		}
	}
	if s.row >= 0 {
		for _, v := range n.rows[s.row].gives {
			known[v.at] = v.v
		}
	}
	return ""
}

// owner is the element or the net a fresh input belongs to: two of one name
// must not share one.
type owner struct {
	e  *Element
	at Node
}

type fresh struct {
	of   owner
	name string
}

// leaf is a fresh input, made once for each name of an owner.
func (n *Network) leaf(of owner, name, about string, unit Unit, in bound.Input) bound.Reg {
	key := fresh{of, name}
	if r, ok := n.fresh[key]; ok {
		return r
	}
	r := n.leaves.New(name, about, unit, in)
	n.fresh[key] = r
	return r
}

// build makes one case; nil where its guard is proven false.
func (n *Network) build(g *group, s state, active []*Element, pick map[*Element]*Piece) (*Case, string) {
	c := &Case{
		States: g.picks(s), n: n, state: s,
		lin:    &linear{g: n.g, known: make([]bound.Reg, len(n.nodes)), inject: make([]bound.Reg, len(n.nodes))},
		chosen: map[*Element]*Piece{}, branch: map[*Element]int{}, free: map[*Element]bound.Reg{},
		floats: map[Node]bool{}, done: map[asked]bound.Reg{},
	}
	if s.row >= 0 {
		c.Row = n.rows[s.row].Name
	}
	if why := n.settle(g, s, c.lin.known); why != "" {
		return nil, why
	}
	for _, e := range active {
		c.chosen[e] = pick[e]
		if len(e.Pieces) > 1 {
			c.Pieces = append(c.Pieces, e.Name+" "+pick[e].Name)
		}
	}
	c.relax(active)
	var guards []bound.Reg
	var tied []*Element // rigid loops: the voltage has to fit
	rigid := newUnion(len(n.nodes) + 1)
	for i, v := range c.lin.known {
		if v != 0 {
			rigid.join(i, len(n.nodes))
		}
	}
	for _, e := range active {
		p := c.chosen[e]
		a, b := int(e.A), int(e.B)
		x := branch{a: a, b: b, p: n.g.one(), q: n.g.zero()}
		switch p.Form {
		case Resists:
			x.q, x.h = p.Value, p.EMF
		case Holds:
			x.h = p.Value
		case Drives:
			c.lin.push(a, n.g.neg(p.Value))
			c.lin.push(b, p.Value)
			continue
		default:
			continue
		}
		if c.lin.rigid(x) && !rigid.join(a, b) {
			i := n.leaf(owner{e: e}, "current of "+e.Name+", which nothing limits", e.Name, Ampere, bound.Input{})
			c.free[e] = i
			c.lin.push(a, n.g.neg(i))
			c.lin.push(b, i)
			tied = append(tied, e)
			continue
		}
		c.branch[e] = len(c.lin.br)
		c.lin.br = append(c.lin.br, x)
	}
	for _, at := range g.nodes {
		in, known := c.lin.island(int(at))
		if known || c.lin.known[at] != 0 {
			continue
		}
		for k := range in {
			if in[k] {
				c.floats[Node(k)] = true
			}
		}
		if sum := c.lin.pushed(in); sum != 0 {
			guards = append(guards, n.g.equal(sum, 0))
		}
		name := n.nodes[at].name
		c.lin.known[at] = n.leaf(owner{at: at}, "voltage of "+name+" while it floats", name, Volt, bound.Input{})
	}
	for _, e := range tied {
		v := n.g.sub(c.potential(e.A), c.potential(e.B))
		p := c.chosen[e]
		want := p.EMF
		if p.Form == Holds {
			want = p.Value
		}
		guards = append(guards, n.g.equal(v, want))
	}
	for _, e := range active {
		if w := c.chosen[e].When; w != 0 {
			guards = append(guards, c.Put(w))
		}
	}
	c.Guard = n.g.True()
	for _, x := range guards {
		if n.refuted(x, 40) {
			return nil, ""
		}
		c.Guard = n.g.and(c.Guard, x)
	}
	if len(guards) > 1 && n.refuted(c.Guard, 400) {
		return nil, ""
	}
	return c, ""
}

// refuted tells that a predicate is proven false on all of W.
func (n *Network) refuted(r bound.Reg, boxes int) bool {
	p := n.g.Extract(n.g.not(r))
	return bound.Decide(p, 0, n.inputs(p), bound.Options{Boxes: boxes}).Outcome == bound.Proven
}

// potential is the voltage of a net in this case.
func (c *Case) potential(at Node) bound.Reg { return c.Value(c.n, asked{kind: qVoltage, at: at}) }

// Put replaces the quantities of the network in a formula by what they are in
// this case.
func (c *Case) Put(r bound.Reg) bound.Reg {
	sub := map[int]bound.Reg{}
	for _, k := range c.n.askedIn(r) {
		q := c.n.asked[k]
		sub[c.n.g.Vars(c.n.byAsked[q])[0]] = c.Value(c.n, q)
	}
	if len(sub) == 0 {
		return r
	}
	return c.n.g.Substitute(r, sub)
}

// Value is one quantity in this case.
func (c *Case) Value(n *Network, q asked) bound.Reg {
	if r, ok := c.done[q]; ok {
		return r
	}
	r := n.g.number(c.value(q))
	c.done[q] = r
	return r
}

func (c *Case) value(q asked) bound.Reg {
	g, e := c.n.g, q.e
	if q.kind == qVoltage {
		return c.lin.potential(int(q.at))
	}
	p := c.chosen[e]
	switch {
	case q.kind == qCurrent:
		return c.current(e, p)
	case q.kind == qAcross && p != nil && p.Form == Holds:
		return p.Value
	case q.kind == qAcross && p != nil && p.Form == Resists:
		return g.add(g.mul(p.Value, c.Value(c.n, asked{kind: qCurrent, e: e})), p.EMF)
	case q.kind == qAcross:
		return g.sub(c.potential(e.A), c.potential(e.B))
	}
	if p != nil && p.Form == Resists && p.EMF == 0 {
		return g.mul(p.Value, g.PowInt(c.Value(c.n, asked{kind: qCurrent, e: e}), 2))
	}
	return g.mul(c.Value(c.n, asked{kind: qAcross, e: e}), c.Value(c.n, asked{kind: qCurrent, e: e}))
}

func (c *Case) current(e *Element, p *Piece) bound.Reg {
	if p == nil || p.Form == Open {
		return 0
	}
	if i, ok := c.free[e]; ok {
		return i
	}
	if p.Form == Drives {
		return p.Value
	}
	return c.lin.current(c.branch[e])
}
