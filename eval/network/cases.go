package network

import (
	"fmt"
	"math/big"
	"slices"
	"strings"

	"guardband/eval/bound"
)

// solution is all cases of a group in one state of its drivers.
type solution struct {
	cases      []*Case
	refused    string
	impossible bool // refused since every case is proven not to be there
}

// Case is one way the currents can run in one state: which piece each element
// is in, the guard under which it is, and the linear network that is left.
type Case struct {
	States []Pick
	Pieces []string // "D1 conducts"
	Guard  bound.Reg

	guards   []bound.Reg // what Guard is made of
	w        *narrowing
	place    map[*Element]int
	order    []*Element // those there, in the order entered
	cornered map[asked]span
	ends     map[int][2]*big.Rat // closed ranges of inputs without a sure set
	n        *Network
	state    state
	lin      *linear
	chosen   map[*Element]*Piece
	branch   map[*Element]int       // place in lin.br
	free     map[*Element]bound.Reg // currents that the network does not settle
	floats   map[Node]bool
	done     map[asked]bound.Reg
}

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
	var active []*Element
	for _, e := range g.elements {
		if e.A == e.B || !g.there(e, s) {
			continue
		}
		if len(e.Pieces) == 0 {
			out.refused = e.Name + " has no piece"
			return out
		}
		active = append(active, e)
	}
	known := make([]bound.Reg, len(n.nodes))
	if out.refused = n.settle(g, s, known); out.refused != "" {
		return out
	}
	pick := make(map[*Element]*Piece, len(active))
	var walk func(i int, w *narrowing)
	walk = func(i int, w *narrowing) {
		for i < len(active) && len(active[i].Pieces) == 1 {
			i++
		}
		switch {
		case i == len(active):
			if c := n.build(g, s, active, pick, w); c != nil {
				out.cases = append(out.cases, c)
			}
			return
		}
		for k := range active[i].Pieces {
			if g.spent++; g.spent > 8*n.limits.Cases || len(out.cases) > n.limits.Cases {
				out.refused = fmt.Sprintf("more than %d cases of states and junctions hang together here", n.limits.Cases)
				return
			}
			if n.tired() {
				out.refused = "what was asked of the circuits before has taken all the work that a design may cost"
				return
			}
			pick[active[i]] = &active[i].Pieces[k]
			x := w.copy()
			if x.run(pick); !x.empty {
				walk(i+1, x)
			}
		}
		delete(pick, active[i])
	}
	for _, e := range active {
		if len(e.Pieces) == 1 {
			pick[e] = &e.Pieces[0]
		}
	}
	w := n.narrowing(g, known, active)
	if w.run(pick); !w.empty {
		walk(0, w)
	}
	if n.tired() { // the next question has work of its own
		delete(g.solved, key)
	}
	if out.refused == "" && len(out.cases) == 0 {
		out.impossible = true
		out.refused = "what is stated cannot be at once: " + g.stateText(s)
	}
	return out
}

func (g *group) there(e *Element, s state) bool {
	switch {
	case slices.Contains(s.without, e.num):
		return false
	case e.driver == nil:
		return true
	}
	i := slices.Index(g.drivers, e.driver)
	return i >= 0 && s.at[i] == e.state
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
			known[i] = n.held(Node(i), who)
		}
	}
	by := map[Node]string{}
	for i, d := range g.drivers {
		for _, v := range d.States[s.at[i]].gives {
			if v.v == 0 {
				v.v = n.off(v.at)
			}
			if was := by[v.at]; was != "" && known[v.at] != v.v {
				return was + " and " + d.Name + " both hold " + n.nodes[v.at].name
			}
			by[v.at], known[v.at] = d.Name, v.v
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

// share is a fresh number from 0 to 1: where between two ends something lies.
func (n *Network) share(of owner, name, about string) bound.Reg {
	return n.leaf(of, name, about, Ratio, bound.Input{Lo: zero, Hi: one})
}

// floating is the voltage of a net that nothing joins to a known one: between
// those that what blocks leads to, where none of that can deliver anything.
func (c *Case) floating(at Node, active []*Element) bound.Reg {
	n, name := c.n, c.n.nodes[at].name
	u := newUnion(len(n.nodes))
	for _, e := range active {
		if c.lin.known[e.A] == 0 && c.lin.known[e.B] == 0 {
			u.join(int(e.A), int(e.B))
		}
	}
	low, high, lively, apart, one := bound.Reg(0), bound.Reg(0), false, false, bound.Reg(0)
	for _, e := range active {
		for _, end := range [][2]Node{{e.A, e.B}, {e.B, e.A}} {
			if c.lin.known[end[0]] != 0 || u.root(int(end[0])) != u.root(int(at)) {
				continue
			}
			lively = lively || n.delivers(e, c.chosen[e])
			if v := c.lin.known[end[1]]; v != 0 {
				low, high = n.extreme(bound.OpMin, low, v), n.extreme(bound.OpMax, high, v)
				apart, one = apart || one != 0 && one != v, v
			}
		}
	}
	if lively || !apart || !n.settles { // on one known net alone nothing feeds it that is noted
		return n.leaf(owner{at: at}, "voltage of "+name+" while it floats", name, Volt, bound.Input{})
	}
	share := n.share(owner{at: at}, "place of "+name+", which floats, between the nets round it", name)
	return n.g.add(low, n.g.mul(share, n.g.sub(high, low)))
}

// build makes one case; nil where its guard is proven false.
func (n *Network) build(g *group, s state, active []*Element, pick map[*Element]*Piece, w *narrowing) *Case {
	c := &Case{
		States: g.picks(s), n: n, state: s,
		lin:    &linear{g: n.g, known: make([]bound.Reg, len(n.nodes)), inject: make([]bound.Reg, len(n.nodes))},
		chosen: map[*Element]*Piece{}, branch: map[*Element]int{}, free: map[*Element]bound.Reg{},
		floats: map[Node]bool{}, done: map[asked]bound.Reg{}, cornered: map[asked]span{}, w: w, place: map[*Element]int{}, order: active,
	}
	n.settle(g, s, c.lin.known)
	for k, e := range active {
		c.chosen[e], c.place[e] = pick[e], k
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
		c.lin.known[at] = c.floating(at, active)
	}
	for _, e := range tied {
		v := n.g.sub(c.potential(e.A), c.potential(e.B))
		p := c.chosen[e]
		want := p.EMF
		if p.Form == Holds {
			want = p.Value
		}
		if in, turned, own := n.own(want); own { // it can be whatever fits
			if turned {
				v = n.g.neg(v)
			}
			l := Limit{}
			if in.Lo != nil {
				l.Lo = n.g.Const(in.Lo)
			}
			if in.Hi != nil {
				l.Hi = n.g.Const(in.Hi)
			}
			guards = append(guards, l.holds(n.g, n.g.number(v))...)
			continue
		}
		guards = append(guards, n.g.equal(v, want))
	}
	for _, e := range active {
		p := c.chosen[e]
		for _, l := range p.Limits {
			q := asked{kind: qCurrent, e: e}
			switch l.Of {
			case OwnVoltage:
				q.kind = qAcross
			case Base, Excess:
				q.e = l.Other
			}
			x := bound.Reg(0)
			if l.Of == Control {
				x = n.g.sub(c.potential(l.A), c.potential(l.B))
			} else {
				x = c.Value(q)
			}
			if l.Of == Excess {
				x = n.g.sub(n.g.mul(l.Gain, x), c.Value(asked{kind: qCurrent, e: e}))
			}
			guards = append(guards, l.holds(n.g, n.g.number(x))...)
		}
	}
	c.close()
	c.Guard = n.g.True()
	for _, x := range guards {
		if c.refuted(x, 20) {
			return nil
		}
		c.Guard = n.g.and(c.Guard, x)
	}
	c.guards = guards
	if len(guards) > 1 && c.refuted(c.Guard, 200) {
		return nil
	}
	return c
}

// close takes the ranges found for what a piece leaves free as those of its
// input, where that has no sure set.
func (c *Case) close() {
	c.ends = map[int][2]*big.Rat{}
	put := func(r bound.Reg, s span) {
		_, turned, own := c.n.own(r)
		if !own {
			return
		}
		if turned {
			s = s.flip()
		}
		lo, hi := s.rats()
		c.ends[c.n.g.Vars(r)[0]] = [2]*big.Rat{lo, hi}
	}
	for e, p := range c.chosen {
		i := c.w.i[c.place[e]]
		if r, ok := c.free[e]; ok {
			put(r, i)
		}
		switch p.Form {
		case Holds:
			u, _ := c.w.v[e.A].minus(c.w.v[e.B]).meet(c.n.spanOf(p.Value))
			put(p.Value, u)
		case Drives:
			put(p.Value, i)
		}
	}
	for at := range c.floats {
		if r := c.lin.known[at]; r != 0 {
			put(r, c.w.v[at])
		}
	}
}

// own tells that a value is one input without a sure set, or its negative:
// what a piece leaves free.
func (n *Network) own(r bound.Reg) (in bound.Input, turned, ok bool) {
	if r == 0 || len(n.g.Vars(r)) != 1 {
		return in, false, false
	}
	i := n.g.Vars(r)[0]
	v := n.g.Var(i)
	in, turned = n.input(i), r != v
	return in, turned, in.SureLo == nil && in.SureHi == nil && (r == v || r == n.g.neg(v))
}

// inputs are those of a program, with the ranges of this case.
func (c *Case) inputs(p *bound.Program) []bound.Input {
	in := c.n.inputs(p)
	for k, i := range p.Inputs() {
		if ends, ok := c.ends[i]; ok {
			in[k].Lo, in[k].Hi = tighter(in[k].Lo, ends[0], 1), tighter(in[k].Hi, ends[1], -1)
		}
	}
	return in
}

// tighter is the greater of two ends for sign 1, the lesser for -1; nil is no
// end.
func tighter(a, b *big.Rat, sign int) *big.Rat {
	if a == nil || b != nil && sign*b.Cmp(a) > 0 {
		return b
	}
	return a
}

// refuted tells that a predicate is proven false on all of W.
func (c *Case) refuted(r bound.Reg, boxes int) bool {
	p := c.n.g.Extract(c.n.g.not(r))
	return c.n.decide(p, c.inputs(p), bound.Options{Boxes: boxes, Explain: -1}).Outcome == bound.Proven
}
