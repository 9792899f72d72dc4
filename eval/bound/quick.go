package bound

import "math/big"

// quick is the first pass: one evaluation over the whole set and, for numbers
// that are monotone in every input, one at the worst corner.
type quick struct {
	p     *Program
	in    []Input
	x, g  []ival
	r     []ival
	adj   []ival
	c     []ival // a corner
	highs []bool
}

// newQuick evaluates one root over the wide sets.
func newQuick(p *Program, root int, in []Input) *quick {
	n, m := len(in), p.ends[root]
	xs, rs := make([]ival, 2*n), make([]ival, 2*m)
	q := &quick{p: p, in: in, x: wideBox(in), g: xs[:n], c: xs[n:], r: rs[:m], adj: rs[m:], highs: make([]bool, n)}
	p.run(q.x, q.r)
	return q
}

// corner puts the worst corner of register d into c: lowest for side > 0, else
// highest. It fails unless d is monotone in every input it moves with and its
// worse ends are bounded; inputs that do not move it stand at an end.
func (q *quick) corner(d int32, side int) bool {
	if q.r[d].u {
		return false
	}
	q.p.gradient(d, q.r, q.adj, q.g)
	for i, g := range q.g {
		var high bool
		switch {
		case g.lo >= 0:
			high = side < 0
		case g.hi <= 0:
			high = side > 0
		default:
			return false
		}
		end := q.in[i].Lo
		if high {
			end = q.in[i].Hi
		}
		if end == nil {
			if g.lo != 0 || g.hi != 0 {
				return false
			}
			q.c[i] = q.x[i]
			continue
		}
		q.highs[i] = high
		q.c[i] = ivalOfRat(end)
	}
	return true
}

// point is the exact corner, of wide ends; nil where an input is unbounded.
func (q *quick) point() []*big.Rat {
	out := make([]*big.Rat, len(q.in))
	for i := range out {
		out[i] = q.in[i].Lo
		if q.highs[i] {
			out[i] = q.in[i].Hi
		}
	}
	return out
}

// decide settles a predicate that is a conjunction of one-sided comparisons of
// monotone numbers; ok is false if it takes more.
func (q *quick) decide(at int32) (d Decision, ok bool) {
	in := &q.p.code[at]
	switch v := q.r[at]; {
	case v.surelyTrue():
		return Decision{Outcome: Proven, Boxes: 1}, true
	case in.op == OpAnd:
		a, ok := q.decide(in.a)
		if !ok || a.Outcome == Broken {
			return a, ok
		}
		return q.decide(in.b)
	case in.op != opSign || v.u:
		return d, false
	}
	side := 0
	switch in.n {
	case signPos, signPos | signZero:
		side = 1
	case signNeg, signNeg | signZero:
		side = -1
	default:
		return d, false
	}
	if !q.corner(in.a, side) {
		return d, false
	}
	return q.judgeCorner(at, in)
}

// judgeCorner evaluates a comparison at the corner in c.
func (q *quick) judgeCorner(at int32, in *instr) (d Decision, ok bool) {
	v := q.cornerValue(in.a)
	t := signIs(v, in.n)
	if t.lo != t.hi || t.u { // a tie in float64
		point := q.point()
		for _, r := range point {
			if r == nil {
				return d, false
			}
		}
		t = q.p.evaluate(int(at)+1, point)[at].can
	}
	switch {
	case t.surelyTrue():
		return Decision{Outcome: Proven, Boxes: 2}, true
	case t.surelyFalse():
		return q.broken()
	}
	return d, false
}

// cornerValue evaluates one register at the corner, leaving r as it is.
func (q *quick) cornerValue(d int32) ival {
	r := q.adj[:d+1]
	q.p.run(q.c, r)
	return r[d]
}

// broken reports the corner as breaking point if it lies in the sure sets.
func (q *quick) broken() (d Decision, ok bool) {
	for i := range q.in {
		x := &q.in[i]
		end := x.Lo
		if q.highs[i] {
			end = x.Hi
		}
		if moved := q.g[i].lo != 0 || q.g[i].hi != 0; !moved {
			if !x.hasSure() {
				return d, false
			}
			continue
		}
		if !x.sureHas(end) {
			return d, false
		}
	}
	point := q.point()
	for i := range point {
		if q.g[i].lo == 0 && q.g[i].hi == 0 {
			point[i] = q.in[i].anySure()
		}
	}
	return Decision{Outcome: Broken, Point: point, Boxes: 2}, true
}
