package network

import (
	"math"
	"math/big"

	"guardband/eval/bound"
)

// A voltage or current of a linear network is a quotient of two polynomials
// that are of first degree in each resistance and in each source: for the other
// values held fixed it is monotone in each, so over a box it is most at a
// corner (the bilinear theorem of network theory). In which direction may
// depend on the others, so corners are used only where the sign of each
// derivative is proven on the whole box; else the formula is searched.

// part is one value of the linear network of a case, with its range.
type part struct {
	e      *Element // nil: the voltage of a known net
	at     int
	emf    bool // the source of the element, else its resistance or current
	lo, hi *big.Rat
	sign   int // of the derivative: 1, -1, 0 not proven
}

// corner bounds a quantity of a case over all its values, whatever the guard
// says.
func (c *Case) corner(q asked) span {
	if q.kind == qPower || q.kind != qVoltage && c.chosen[q.e] == nil {
		return everything()
	}
	s, known := c.cornered[q]
	if !known {
		if s = c.findCorner(q); s.low == nil {
			s = c.spanIn(c.Value(q), 100)
		}
		c.cornered[q] = s
	}
	return s
}

// findCorner is the range between two corners; everything where a direction is
// not proven.
func (c *Case) findCorner(q asked) span {
	if q.kind == qCurrent {
		if _, ok := c.branch[q.e]; !ok {
			return everything() // driven, free or open
		}
	}
	parts := c.parts(q)
	if parts == nil {
		return everything()
	}
	for i := range parts {
		if p := &parts[i]; p.lo.Cmp(p.hi) != 0 {
			if p.sign = c.direction(q, *p); p.sign == 0 {
				return everything()
			}
		}
	}
	lo, hi := c.atCorner(q, parts, -1), c.atCorner(q, parts, 1)
	if lo == nil || hi == nil { // no value there
		return everything()
	}
	return exactly(lo, hi)
}

// parts lists the values near a quantity; nil where one has no ends.
func (c *Case) parts(q asked) []part {
	near := make([]bool, len(c.lin.known))
	mark := func(at Node) {
		in, _ := c.lin.island(int(at))
		for k := range in {
			near[k] = near[k] || in[k]
		}
	}
	if q.kind == qVoltage {
		mark(q.at)
	} else {
		mark(q.e.A)
		mark(q.e.B)
	}
	out, seen := []part{}, map[int]bool{}
	ok := true
	put := func(p part, s span) {
		if p.lo, p.hi = s.rats(); p.lo == nil || p.hi == nil {
			ok = false
		}
		out = append(out, p)
	}
	for _, e := range c.order {
		p := c.chosen[e]
		a, b := int(e.A), int(e.B)
		if !(near[a] && c.lin.known[a] == 0 || near[b] && c.lin.known[b] == 0 || e == q.e) {
			continue
		}
		for _, k := range []int{a, b} {
			if c.lin.known[k] != 0 && !seen[k] {
				seen[k] = true
				s, _ := c.n.spanOf(c.lin.known[k]).meet(c.w.v[k])
				put(part{at: k}, s)
			}
		}
		i := c.w.i[c.place[e]]
		_, free := c.free[e]
		switch {
		case free && p.Form != Passive:
			put(part{e: e}, i)
		case p.Form == Drives:
			s, _ := c.n.spanOf(p.Value).meet(i)
			put(part{e: e}, s)
		case p.Form == Holds:
			s, _ := c.n.spanOf(p.Value).meet(c.w.v[e.A].minus(c.w.v[e.B]))
			put(part{e: e, emf: true}, s)
		case p.Form == Resists:
			put(part{e: e}, c.n.spanOf(p.Value))
			ok = ok && out[len(out)-1].lo.Sign() >= 0 // else a denominator may vanish
			if p.EMF != 0 {
				put(part{e: e, emf: true}, c.n.spanOf(p.EMF))
			}
		}
	}
	if q.kind == qVoltage && c.lin.known[q.at] != 0 || !ok || len(out) > 60 {
		return nil
	}
	return out
}

// direction is the proven sign of the derivative of a quantity by one value.
func (c *Case) direction(q asked, p part) int {
	z := &linear{g: c.n.g, known: make([]bound.Reg, len(c.lin.known)), inject: make([]bound.Reg, len(c.lin.known))}
	for k, v := range c.lin.known {
		if v != 0 {
			z.known[k] = z.g.zero()
		}
	}
	for _, x := range c.lin.br {
		z.br = append(z.br, branch{x.a, x.b, x.p, x.q, 0})
	}
	sign := 1
	switch b, isBranch := c.branch[p.e]; {
	case p.e == nil:
		z.known[p.at] = z.g.one()
	case isBranch:
		z.br[b].h = z.g.one()
		if !p.emf { // a little more resistance is a source of its current
			// Without a guard the ranges found are those of the whole box.
			if sign = signOf(c.w.i[c.place[p.e]]); sign == 0 || len(c.guards) > 0 {
				sign = signOf(c.spanIn(c.Value(asked{kind: qCurrent, e: p.e}), 8))
			}
			if sign == 0 {
				return 0
			}
		}
	default:
		z.push(int(p.e.A), z.g.neg(z.g.one()))
		z.push(int(p.e.B), z.g.one())
	}
	return sign * signOf(c.spanIn(z.g.number(z.quantity(c, q)), 8))
}

// quantity is a number of a linear network.
func (l *linear) quantity(c *Case, q asked) bound.Reg {
	switch q.kind {
	case qVoltage:
		return l.potential(int(q.at))
	case qCurrent:
		return l.current(c.branch[q.e])
	}
	return l.g.sub(l.potential(int(q.e.A)), l.potential(int(q.e.B)))
}

// spanIn is the range of a formula over the inputs of a case, by a short search.
func (c *Case) spanIn(r bound.Reg, boxes int) span {
	p := c.n.g.Extract(r)
	e := bound.Range(p, 0, c.inputs(p), bound.Options{Boxes: boxes})
	if e.Empty || e.Undefined != nil {
		return everything()
	}
	return span{lo: e.Lo.Outer, hi: e.Hi.Outer, low: e.Lo.Exact, top: e.Hi.Exact}
}

func signOf(s span) int {
	switch {
	case s.lo >= 0:
		return 1
	case s.hi <= 0:
		return -1
	}
	return 0
}

// atCorner is a quantity with every value at one end: for side 1 the end that
// makes it most, for -1 least.
func (c *Case) atCorner(q asked, parts []part, side int) *big.Rat {
	g := graph{bound.NewBuilder()}
	value := map[*Element][2]bound.Reg{}
	l := &linear{g: g, known: make([]bound.Reg, len(c.lin.known)), inject: make([]bound.Reg, len(c.lin.known))}
	for k, v := range c.lin.known {
		if v != 0 {
			l.known[k] = g.zero() // what is not near does not matter
		}
	}
	for _, p := range parts {
		v := p.lo
		if p.sign*side > 0 {
			v = p.hi
		}
		r := g.Const(v)
		switch {
		case p.e == nil:
			l.known[p.at] = r
		default:
			x := value[p.e]
			if p.emf {
				x[1] = r
			} else {
				x[0] = r
			}
			value[p.e] = x
		}
	}
	place := map[*Element]int{}
	for _, e := range c.order {
		x, near := value[e]
		if !near {
			continue
		}
		if _, isBranch := c.branch[e]; !isBranch {
			l.push(int(e.A), g.neg(x[0]))
			l.push(int(e.B), x[0])
			continue
		}
		place[e] = len(l.br)
		l.br = append(l.br, branch{int(e.A), int(e.B), g.one(), g.number(x[0]), x[1]})
	}
	v, ok := g.ConstOf(g.number(l.quantity(&Case{branch: place}, q)))
	if !ok {
		return nil
	}
	return v
}

// bounds is all that is known of a quantity without a search.
func (c *Case) bounds(q asked) span {
	s, _ := c.span(q).meet(c.corner(q))
	if q.kind == qPower {
		if e := q.e; c.chosen[e] != nil {
			u, i := c.bounds(asked{kind: qAcross, e: e}), c.bounds(asked{kind: qCurrent, e: e})
			s = u.product(i)
		}
	}
	return s
}

// product is the range of a product.
func (s span) product(o span) span {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, x := range []float64{s.lo, s.hi} {
		for _, y := range []float64{o.lo, o.hi} {
			v := x * y
			if math.IsNaN(v) {
				v = 0
			}
			lo, hi = math.Min(lo, v), math.Max(hi, v)
		}
	}
	return outwards(lo, hi)
}
