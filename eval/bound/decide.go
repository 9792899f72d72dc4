package bound

import (
	"math"
	"math/big"
	"slices"
)

const defaultBoxes = 20000

func (o Options) boxes() int {
	if o.Boxes > 0 {
		return o.Boxes
	}
	return defaultBoxes
}

// usualCode is the number of operations up to which a box counts as one.
const usualCode = 128

// boxesOf is the budget for a program of so many operations: the boxes of a long
// one cost more and are fewer, so that the work has a bound too.
func (o Options) boxesOf(code int) int {
	return max(o.boxes()/(1+code/usualCode), 16)
}

// Work is what boxes of a root cost, in boxes of a usual program.
func (p *Program) Work(root, boxes int) int { return boxes * (1 + p.ends[root]/usualCode) }

// Decide proves or breaks a predicate over the inputs' sets. in has one entry
// per program input. The same arguments always give the same answer.
func Decide(p *Program, root int, in []Input, opt Options) Decision {
	if bad := contradictory(in); bad != nil {
		return Decision{Cause: CauseContradiction, Lacking: bad, Gap: math.NaN()}
	}
	limit := opt.boxesOf(p.ends[root])
	if opt.Explain == 0 {
		opt.Explain = 4
	}
	d := decider{p: p, in: in, left: limit, told: opt.Explain * limit}
	return d.review(root, d.decide(p.roots[root]))
}

// review looks at the point without a value that an answer names: an operation
// may lack a value there and the whole still have one, by the other side of an
// `and` or `or`. Where the whole is false the point breaks it.
func (d *decider) review(root int, out Decision) Decision {
	if out.Undefined == nil || out.Undefined.At == nil {
		return out
	}
	if slices.Contains(out.Undefined.At, nil) {
		return out
	}
	truth, decided := Holds(d.p, root, out.Undefined.At)
	if !decided {
		return out
	}
	if !truth && !someWithoutSure(d.in) {
		inside := true
		for i, at := range out.Undefined.At {
			inside = inside && d.in[i].sureHas(at)
		}
		if inside {
			return Decision{Outcome: Broken, Point: out.Undefined.At, Boxes: out.Boxes}
		}
	}
	without := *out.Undefined
	without.At = nil
	out.Undefined = &without
	return out
}

// decider answers one question within one budget of boxes.
type decider struct {
	p     *Program
	in    []Input
	left  int
	spent int
	told  int // boxes left for saying why it is open
}

// openPart is a statement that was neither proven nor broken.
type openPart struct {
	part
	found
	sure found // the same over the sure sets
}

// prove searches a set. Where a statement with tables withstands a quarter of
// the budget it is cut at their knots, and searched on as a whole only after that.
func (d *decider) prove(p part, in []Input) found {
	limit := max(d.left, 1)
	if p.knotted() {
		limit = max(limit/4, 1)
	}
	f := newSearch(p, in).prove(limit, 0)
	spent := f.boxes
	if p.knotted() && !f.proven && f.counter == nil && !f.crossed && (f.undefined == nil || f.undefined.At == nil) {
		g := byKnots(p, in, limit, 0)
		spent += g.boxes
		switch {
		case g.proven || g.counter != nil:
			f = g
		case f.boxes >= limit && spent < d.left:
			f = newSearch(p, in).prove(d.left-spent, 0)
			spent += f.boxes
		}
	}
	d.left -= spent
	d.spent += spent
	return f
}

func (d *decider) decide(root int32) Decision {
	var open []openPart
	for _, c := range d.p.conjuncts(root) {
		in := pick(d.in, c.from)
		f := d.prove(c, in)
		if f.proven {
			continue
		}
		point, sure := d.breakIt(c, in, f)
		if point != nil {
			return Decision{Outcome: Broken, Point: d.whole(point, c.from), Boxes: d.spent}
		}
		open = append(open, openPart{c, f, sure})
	}
	if len(open) == 0 {
		return Decision{Outcome: Proven, Boxes: d.spent}
	}
	return d.explain(open)
}

// whole completes a point with inputs the statement does not depend on.
func (d *decider) whole(point []*big.Rat, from []int) []*big.Rat {
	out := spread(point, from, len(d.in))
	for i := range out {
		if !slices.Contains(from, i) {
			out[i] = d.in[i].anySure()
		}
	}
	return out
}
