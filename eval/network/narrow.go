package network

import (
	"math"
	"math/big"
	"slices"

	"guardband/eval/bound"
)

// Before anything is proven about a case, what its elements and Kirchhoff's
// laws say of each other narrows the ranges of its voltages and currents. It
// shows most impossible cases at once, closes the ranges of inputs that have
// none, and often settles a claim.

// spanOf is the range of a formula of the caller's inputs.
func (n *Network) spanOf(r bound.Reg) span {
	if r == 0 {
		return span{low: zero, top: zero}
	}
	if s, ok := n.spans[r]; ok {
		return s
	}
	s := everything()
	if c, ok := n.g.ConstOf(r); ok {
		s = exactly(c, c)
	} else if vars := n.g.Vars(r); len(vars) == 1 && r == n.g.Var(vars[0]) {
		if _, placed := n.byInput[vars[0]]; !placed {
			in := n.leaves.Input(vars[0])
			s = exactly(in.Lo, in.Hi)
		}
	} else if len(vars) == 1 && r == n.g.neg(n.g.Var(vars[0])) {
		s = n.spanOf(n.g.Var(vars[0])).flip()
	} else if len(n.askedIn(r)) == 0 {
		p := n.g.Extract(r)
		e := bound.Range(p, 0, n.inputs(p), bound.Options{Boxes: 32})
		if !e.Empty && e.Undefined == nil {
			s = span{lo: e.Lo.Outer, hi: e.Hi.Outer, low: e.Lo.Exact, top: e.Hi.Exact}
		}
	}
	n.spans[r] = s
	return s
}

// between is the range that two ends leave; 0 is no end.
func (n *Network) between(lo, hi bound.Reg) span {
	out := everything()
	if lo != 0 {
		s := n.spanOf(lo)
		out.lo, out.low = s.lo, s.low
	}
	if hi != 0 {
		s := n.spanOf(hi)
		out.hi, out.top = s.hi, s.top
	}
	return out
}

// narrowing is the ranges of one case, complete or not.
type narrowing struct {
	n       *Network
	g       *group
	active  []*Element
	known   []bool
	at      [][]int  // by node: places of its elements in active
	v       []span   // by node
	i       []span   // by place
	beside  []int    // by place: of what joins the same two nets, the first place, -1 where that is alone
	across  []span   // by place of the first: the voltage across them
	borders []border // of sets of nets, see cuts
	size    int      // elements and crossings looked at in a round
	empty   bool
}

func (n *Network) narrowing(g *group, known []bound.Reg, active []*Element) *narrowing {
	w := &narrowing{n: n, g: g, active: active, known: make([]bool, len(known)), at: make([][]int, len(known)),
		v: make([]span, len(known)), i: make([]span, len(active)), across: make([]span, len(active)), beside: make([]int, len(active))}
	for k, r := range known {
		w.v[k] = everything()
		if r != 0 {
			w.known[k], w.v[k] = true, n.spanOf(r)
		}
	}
	pairs := map[[2]Node]int{}
	for k, e := range active {
		w.i[k], w.across[k], w.beside[k] = everything(), everything(), -1
		pair := [2]Node{min(e.A, e.B), max(e.A, e.B)}
		if first, found := pairs[pair]; found {
			w.beside[first], w.beside[k] = first, first
		} else {
			pairs[pair] = k
		}
		w.at[e.A] = append(w.at[e.A], k)
		if !e.OneWay {
			w.at[e.B] = append(w.at[e.B], k)
		}
	}
	w.size = len(active)
	for _, set := range w.cuts() {
		b := w.border(set)
		w.borders = append(w.borders, b)
		w.size += len(b)
	}
	w.hull()
	return w
}

// hull starts every net that a resistance joins to a known one between the
// lowest and the highest known one, widened by what the currents of loads can
// make of it: each moves it by at most itself times all resistances. That
// holds where nothing else delivers power.
func (w *narrowing) hull() {
	u := newUnion(len(w.v) + 1)
	all := span{lo: math.Inf(1), hi: math.Inf(-1)}
	for k, known := range w.known {
		if known {
			u.join(k, len(w.v))
		}
	}
	ohms, amperes := 0.0, 0.0
	for _, e := range w.active {
		for _, k := range []Node{e.A, e.B} {
			if s := w.v[k]; w.known[k] {
				if s.lo < all.lo {
					all.lo, all.low = s.lo, s.low
				}
				if s.hi > all.hi {
					all.hi, all.top = s.hi, s.top
				}
			}
		}
		p := &e.Pieces[0]
		switch single := len(e.Pieces) == 1; {
		case single && p.Form == Resists && !w.n.delivers(e, p):
			u.join(int(e.A), int(e.B))
			ohms += w.n.spanOf(p.Value).hi
		case single && p.Form == Drives && !e.TakesOnly:
			s := w.n.spanOf(p.Value)
			amperes += math.Max(math.Abs(s.lo), math.Abs(s.hi))
		case !w.n.passes(e):
			return
		}
	}
	if amperes > 0 {
		d := ohms * amperes * (1 + 1e-9)
		all = all.plus(span{lo: -d, hi: d})
	}
	for k := range w.v {
		if !w.known[k] && len(w.at[k]) > 0 && u.root(k) == u.root(len(w.v)) && all.lo <= all.hi {
			w.v[k], _ = w.v[k].meet(all)
		}
	}
}

func (w *narrowing) copy() *narrowing {
	out := *w
	out.v, out.i, out.across = slices.Clone(w.v), slices.Clone(w.i), slices.Clone(w.across)
	return &out
}

func (w *narrowing) meet(at *span, o span) bool {
	var changed bool
	*at, changed = at.meet(o)
	if nothing(*at) {
		w.empty = true
	}
	return changed
}

// run narrows until nothing changes, or 30 rounds. pick has the pieces chosen
// so far.
func (w *narrowing) run(pick map[*Element]*Piece) {
	for range 30 {
		if w.n.work.done += w.size; w.n.tired() {
			return // what was found so far holds
		}
		changed := false
		for k, e := range w.active {
			if p := pick[e]; p != nil {
				changed = w.element(k, e, p) || changed
			}
			if w.empty {
				return
			}
		}
		for _, b := range w.borders {
			changed = w.kirchhoff(b) || changed
			if w.empty {
				return
			}
		}
		if !changed {
			return
		}
	}
}

// element narrows by one piece.
func (w *narrowing) element(k int, e *Element, p *Piece) bool {
	n := w.n
	u := w.v[e.A].minus(w.v[e.B])
	first, turned := w.beside[k], false
	if first >= 0 {
		if turned = w.active[first].A != e.A; turned {
			u, _ = u.meet(w.across[first].flip())
		} else {
			u, _ = u.meet(w.across[first])
		}
	}
	changed := false
	switch p.Form {
	case Open:
		changed = w.meet(&w.i[k], n.spanOf(0))
	case Drives:
		changed = w.meet(&w.i[k], n.spanOf(p.Value))
	case Holds:
		u, _ = u.meet(n.spanOf(p.Value))
	case Resists:
		r, emf := n.spanOf(p.Value), n.spanOf(p.EMF)
		changed = w.meet(&w.i[k], u.minus(emf).over(r))
		u, _ = u.meet(w.i[k].times(r).plus(emf))
	case Passive: // current runs from the higher to the lower voltage
		if u.lo > 0 {
			changed = w.meet(&w.i[k], span{lo: 0, hi: math.Inf(1), low: zero})
		}
		if u.hi < 0 {
			changed = w.meet(&w.i[k], span{lo: math.Inf(-1), hi: 0, top: zero})
		}
	}
	for _, l := range p.Limits {
		s := n.between(l.Lo, l.Hi)
		switch l.Of {
		case OwnCurrent:
			changed = w.meet(&w.i[k], s) || changed
			w.empty = w.empty || l.shuts(w.i[k], s)
		case Base:
			if m := slices.Index(w.active, l.Other); m >= 0 {
				changed = w.meet(&w.i[m], s) || changed
				w.empty = w.empty || l.shuts(w.i[m], s)
			}
		case Excess:
			if m := slices.Index(w.active, l.Other); m >= 0 {
				changed = w.meet(&w.i[k], w.i[m].times(n.spanOf(l.Gain)).minus(s)) || changed
			}
		case OwnVoltage:
			u, _ = u.meet(s)
			w.empty = w.empty || l.shuts(u, s)
		case Control:
			d, _ := w.v[l.A].minus(w.v[l.B]).meet(s)
			w.empty = w.empty || l.shuts(d, s)
			changed = w.voltages(int(l.A), int(l.B), d) || changed
		}
	}
	if first >= 0 {
		x := u
		if turned {
			x = u.flip()
		}
		changed = w.meet(&w.across[first], x) || changed
	}
	return w.voltages(int(e.A), int(e.B), u) || changed
}

// shuts tells that what is left of a quantity is at most an end that the limit
// leaves out. Only an exact end is one.
func (l Limit) shuts(x, s span) bool {
	// most is not above end
	under := func(most float64, exact *big.Rat, end *big.Rat) bool {
		if end == nil || math.IsInf(most, 0) {
			return false
		}
		if exact == nil {
			exact = new(big.Rat).SetFloat64(most)
		}
		return exact.Cmp(end) <= 0
	}
	y, e := x.flip(), s.flip()
	return l.OpenLo && under(x.hi, x.top, s.low) || l.OpenHi && under(y.hi, y.top, e.low)
}

// voltages narrows two nets by the voltage between them.
func (w *narrowing) voltages(a, b int, u span) bool {
	if nothing(u) {
		w.empty = true
		return false
	}
	x := w.meet(&w.v[a], w.v[b].plus(u))
	y := w.meet(&w.v[b], w.v[a].minus(u))
	return x || y
}

// cuts lists the sets of nets whose currents sum to 0: each net, two nets that
// an element joins, and all that hang together.
func (w *narrowing) cuts() (out [][]int) {
	u := newUnion(len(w.known))
	free := func(k Node) bool { return !w.known[k] }
	for k := range w.at {
		if !w.known[k] && len(w.at[k]) > 0 {
			out = append(out, []int{k})
		}
	}
	single := len(out)
	for _, e := range w.active {
		if free(e.A) && free(e.B) && u.join(int(e.A), int(e.B)) && single > 2 {
			out = append(out, []int{int(e.A), int(e.B)})
		}
	}
	whole := map[int][]int{}
	for _, k := range out[:single] {
		r := u.root(k[0])
		whole[r] = append(whole[r], k[0])
	}
	for _, k := range out[:single] {
		if set := whole[k[0]]; len(set) > 1 {
			out = append(out, set)
		}
	}
	return out
}

// border is what crosses the border of a set of nets.
type border []crossing

type crossing struct {
	k       int  // place of the element
	outward bool // its current counts as leaving the set
}

func (w *narrowing) border(set []int) (out border) {
	seen := map[int]bool{}
	for _, at := range set {
		for _, k := range w.at[at] {
			e := w.active[k]
			a, b := slices.Contains(set, int(e.A)), !e.OneWay && slices.Contains(set, int(e.B))
			if a != b && !seen[k] {
				seen[k] = true
				out = append(out, crossing{k, a})
			}
		}
	}
	return out
}

// kirchhoff narrows each current that leaves a set of nets by the sum of the
// others.
func (w *narrowing) kirchhoff(b border) bool {
	leaving := func(x crossing) span {
		if x.outward {
			return w.i[x.k]
		}
		return w.i[x.k].flip()
	}
	below, above := 0, 0 // how many have no end
	for _, x := range b {
		s := leaving(x)
		if math.IsInf(s.lo, -1) {
			below++
		}
		if math.IsInf(s.hi, 1) {
			above++
		}
	}
	if below > 1 && above > 1 {
		return false
	}
	after := make([]span, len(b)+1) // sums of those behind
	after[len(b)] = n0()
	for m := len(b) - 1; m >= 0; m-- {
		after[m] = after[m+1].plus(leaving(b[m]))
	}
	changed, before := false, n0()
	for m, x := range b {
		own := leaving(x)
		s := before.plus(after[m+1]).flip()
		before = before.plus(own)
		if !x.outward {
			s = s.flip()
		}
		changed = w.meet(&w.i[x.k], s) || changed
	}
	return changed
}
