package network

import (
	"slices"

	"guardband/eval/bound"
)

// branch is q·I = p·(Va - Vb) - h, with the current I from a to b: a
// resistance R with an electromotive force E is p = 1, q = R, h = E. Nothing
// is ever divided by q, so a resistance may be 0.
type branch struct {
	a, b    int
	p, q, h bound.Reg // h is 0 where there is no source
}

// linear is a network of branches and current sources. Nodes with a known
// voltage cut it.
type linear struct {
	g      graph
	known  []bound.Reg // by node, 0 where it is sought
	inject []bound.Reg // current pushed into the node, 0 where there is none
	br     []branch
}

func (l *linear) clone() *linear {
	return &linear{g: l.g, known: slices.Clone(l.known), inject: slices.Clone(l.inject), br: slices.Clone(l.br)}
}

// push adds a current into a node.
func (l *linear) push(at int, i bound.Reg) { l.inject[at] = l.g.add(l.inject[at], i) }

// union is a forest of nodes.
type union []int

func newUnion(n int) union {
	u := make(union, n)
	for i := range u {
		u[i] = i
	}
	return u
}

func (u union) root(i int) int {
	for u[i] != i {
		i = u[i]
	}
	return i
}

// join unites two trees; false if they are one already.
func (u union) join(a, b int) bool {
	a, b = u.root(a), u.root(b)
	u[a] = b
	return a != b
}

// rigid tells that a branch holds a voltage whatever its current.
func (l *linear) rigid(x branch) bool { return l.g.is(x.q, 0) }

// contract replaces rigid branches: the node at one end is the other one and
// an offset. It wants no loop of rigid branches and known nodes.
func (l *linear) contract(target int) (offset bound.Reg, at int) {
	for {
		i := -1
		for k, x := range l.br {
			if l.rigid(x) {
				i = k
				break
			}
		}
		if i < 0 {
			return offset, target
		}
		x := l.br[i]
		l.br = append(l.br[:i:i], l.br[i+1:]...)
		// Va - Vb = e
		e := l.g.div(x.h, x.p)
		from, to := x.a, x.b // from is replaced by to + e
		if l.known[from] != 0 {
			from, to, e = x.b, x.a, l.g.neg(e)
		}
		if from == target {
			target, offset = to, l.g.add(offset, e)
		}
		for k := range l.br {
			y := &l.br[k]
			if y.a == from {
				// p(Vto + e - Vb) - h
				y.a, y.h = to, l.g.sub(y.h, l.g.mul(y.p, e))
			}
			if y.b == from {
				y.b, y.h = to, l.g.add(y.h, l.g.mul(y.p, e))
			}
		}
		l.push(to, l.inject[from])
		l.inject[from] = 0
		l.tidy()
	}
}

// tidy drops branches from a node to itself, which carry no current that
// moves any other voltage.
func (l *linear) tidy() {
	l.br = slices.DeleteFunc(slices.Clone(l.br), func(x branch) bool { return x.a == x.b || l.g.is(x.p, 0) })
}

// parallel merges branches between the same two nodes.
func (l *linear) parallel() {
	for i := 0; i < len(l.br); i++ {
		for j := len(l.br) - 1; j > i; j-- {
			x, y := &l.br[i], l.br[j]
			switch {
			case y.a == x.b && y.b == x.a:
				y.h = l.g.neg(y.h)
			case y.a != x.a || y.b != x.b:
				continue
			}
			h := l.g.add(l.g.mul(x.h, y.q), l.g.mul(y.h, x.q))
			p := l.g.add(l.g.mul(x.p, y.q), l.g.mul(y.p, x.q))
			*x = l.short(branch{x.a, x.b, p, l.g.mul(x.q, y.q), h})
			l.br = append(l.br[:j:j], l.br[j+1:]...)
		}
	}
}

// short keeps exact constants short: where a branch is made of them it is
// divided by its q.
func (l *linear) short(x branch) branch {
	_, p := l.g.ConstOf(x.p)
	_, h := l.g.ConstOf(l.g.number(x.h))
	if q, ok := l.g.ConstOf(x.q); ok && p && h && q.Sign() != 0 {
		x.p, x.h, x.q = l.g.div(x.p, x.q), l.g.div(x.h, x.q), l.g.one()
	}
	return x
}

// arm is a branch as seen from the node that is eliminated: current from far
// into it is (p·(Vfar - V) + e) / q.
type arm struct {
	far     int
	p, q, e bound.Reg
}

// arms lists the branches at a node; rest are the others.
func (l *linear) arms(k int) (arms []arm, rest []branch) {
	for _, x := range l.br {
		switch k {
		case x.a:
			arms = append(arms, arm{x.b, x.p, x.q, x.h})
		case x.b:
			arms = append(arms, arm{x.a, x.p, x.q, l.g.neg(x.h)})
		default:
			rest = append(rest, x)
		}
	}
	return arms, rest
}

// others is the product of the q of all arms but those named.
func (l *linear) others(arms []arm, but ...int) bound.Reg {
	out := bound.Reg(0)
	for i, x := range arms {
		switch {
		case slices.Contains(but, i):
		case out == 0:
			out = x.q
		default:
			out = l.g.mul(out, x.q)
		}
	}
	if out == 0 {
		return l.g.one()
	}
	return out
}

// weight is the sum over the arms of p times the other arms' q: the
// denominator that is 0 only where two of the resistances are.
func (l *linear) weight(arms []arm) bound.Reg {
	s := bound.Reg(0)
	for i, x := range arms {
		s = l.g.add(s, l.g.mul(x.p, l.others(arms, i)))
	}
	return s
}

// eliminate replaces a node by branches between its neighbours (star and
// mesh); the current pushed into it goes to them.
func (l *linear) eliminate(k int) {
	arms, rest := l.arms(k)
	l.br = rest
	j := l.inject[k]
	l.inject[k] = 0
	if len(arms) == 1 {
		l.push(arms[0].far, j)
		return
	}
	s := l.weight(arms)
	for i, x := range arms {
		for m := i + 1; m < len(arms); m++ {
			y := arms[m]
			o := l.others(arms, i, m)
			// from x.far to y.far: p(Vx - Vy) + (ex·py - ey·px)
			h := l.g.mul(l.g.sub(l.g.mul(y.e, x.p), l.g.mul(x.e, y.p)), o)
			l.br = append(l.br, l.short(branch{x.far, y.far, l.g.mul(l.g.mul(x.p, y.p), o), s, h}))
		}
		if j != 0 {
			l.push(x.far, l.g.div(l.g.mul(j, l.g.mul(x.p, l.others(arms, i))), s))
		}
	}
	l.tidy()
	l.parallel()
}

// potential is the voltage of a node, which must be joined to a known one.
func (l *linear) potential(target int) bound.Reg {
	if l.known[target] != 0 {
		return l.known[target]
	}
	l = l.clone()
	at, offset := l.reduce(target)
	if l.known[at] != 0 {
		return l.g.add(l.known[at], offset)
	}
	arms, _ := l.arms(at)
	if len(arms) == 1 {
		x := arms[0]
		more := l.g.add(x.e, l.g.mul(l.inject[at], x.q))
		return l.g.add(l.g.add(l.known[x.far], l.g.div(more, x.p)), offset)
	}
	return l.g.add(l.g.div(l.g.number(l.top(arms, l.inject[at], -1)), l.weight(arms)), offset)
}

// reduce eliminates every node but a target, which is at and an offset: what
// is left are its arms to known nodes. It changes the network.
func (l *linear) reduce(target int) (at int, offset bound.Reg) {
	offset, at = l.contract(target)
	if l.known[at] != 0 {
		return at, offset
	}
	l.near(at)
	l.parallel()
	for {
		k := l.next(at)
		if k < 0 {
			return at, offset
		}
		l.eliminate(k)
	}
}

// top is the numerator to weight: what the arms but those to one node, and the
// current pushed in, make of the voltage.
func (l *linear) top(arms []arm, inject bound.Reg, but int) bound.Reg {
	sum := l.g.mul(inject, l.others(arms))
	for i, x := range arms {
		v := x.e
		if x.far != but {
			v = l.g.add(l.g.mul(x.p, l.known[x.far]), x.e)
		}
		sum = l.g.add(sum, l.g.mul(v, l.others(arms, i)))
	}
	return sum
}

// near keeps what is joined to a node without passing a known one.
func (l *linear) near(at int) {
	in, _ := l.island(at)
	l.br = slices.DeleteFunc(slices.Clone(l.br), func(x branch) bool { return !in[x.a] && !in[x.b] })
	for k := range l.inject {
		if !in[k] {
			l.inject[k] = 0
		}
	}
}

// next is the unknown node but one with the fewest branches, -1 if there is
// none.
func (l *linear) next(but int) int {
	degree := make([]int, len(l.known))
	for _, x := range l.br {
		degree[x.a]++
		degree[x.b]++
	}
	best := -1
	for k, d := range degree {
		if d > 0 && k != but && l.known[k] == 0 && (best < 0 || d < degree[best]) {
			best = k
		}
	}
	return best
}

// island lists the nodes joined to a given one, and tells whether one of all of
// them is known.
func (l *linear) island(at int) (in []bool, known bool) {
	u := newUnion(len(l.known))
	for _, x := range l.br {
		if l.known[x.a] == 0 && l.known[x.b] == 0 {
			u.join(x.a, x.b)
		}
	}
	in = make([]bool, len(l.known))
	if l.known[at] != 0 {
		in[at] = true
		return in, true
	}
	for k := range in {
		in[k] = l.known[k] == 0 && u.root(k) == u.root(at)
	}
	for _, x := range l.br {
		known = known || in[x.a] && l.known[x.b] != 0 || in[x.b] && l.known[x.a] != 0
	}
	return in, known
}

// current is the current of branch i from a to b. The branch is taken out;
// what the rest would put across its ends, and through which resistance, gives
// the current without a division by the branch's own resistance.
func (l *linear) current(i int) bound.Reg {
	x, rest := l.br[i], l.clone()
	rest.br = slices.Delete(rest.br, i, i+1)
	inA, knownA := rest.island(x.a)
	inB, knownB := rest.island(x.b)
	switch {
	case !knownA && !inA[x.b]:
		return l.g.number(rest.pushed(inA))
	case !knownB && !inB[x.a]:
		return l.g.neg(rest.pushed(inB))
	}
	open := l.g.sub(rest.potential(x.a), rest.potential(x.b))
	top := l.g.sub(l.g.mul(x.p, open), x.h)
	return l.g.div(l.g.number(top), l.g.add(x.q, l.g.mul(x.p, rest.resistance(x.a, x.b))))
}

// pushed is all the current pushed into some nodes.
func (l *linear) pushed(in []bool) bound.Reg {
	sum := bound.Reg(0)
	for k, i := range l.inject {
		if in[k] {
			sum = l.g.add(sum, i)
		}
	}
	return sum
}

// resistance is what the network is between two nodes with its sources at 0,
// in ohms; 0 where both are known.
func (l *linear) resistance(a, b int) bound.Reg {
	if l.known[a] != 0 && l.known[b] != 0 {
		return 0
	}
	if l.known[a] != 0 {
		a, b = b, a
	}
	out := &linear{g: l.g, known: make([]bound.Reg, len(l.known)+1), inject: make([]bound.Reg, len(l.known)+1)}
	ground := len(l.known) // all known nodes as one
	at := func(k int) int {
		if l.known[k] != 0 {
			return ground
		}
		return k
	}
	for _, x := range l.br {
		out.br = append(out.br, branch{at(x.a), at(x.b), x.p, x.q, 0})
	}
	out.tidy()
	out.known[at(b)] = l.g.zero()
	out.inject[a] = l.g.one()
	r := out.potential(a)
	if l.g.is(r, 0) {
		return 0
	}
	return r
}
