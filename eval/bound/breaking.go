package bound

import (
	"math/big"
	"slices"
)

// breakIt looks for a point of the sure sets at which a statement is false
// whatever the inputs without one are. f is what the search over the wide sets
// showed; sure is what one over the sure sets did.
func (d *decider) breakIt(c part, in []Input, f found) (point []*big.Rat, sure found) {
	if f.counter != nil && d.breaksAt(c, in, f.counter) {
		return d.settle(c, in, f.counter), f
	}
	if at := d.worstDefined(c, in, f.undefined); at != nil {
		return d.settle(c, in, at), f
	}
	if !anyNarrowed(in) {
		return nil, f
	}
	sure = d.prove(c, sureInputs(in))
	if sure.counter != nil && d.breaksAt(c, in, sure.counter) {
		return d.settle(c, in, sure.counter), sure
	}
	return nil, sure
}

// worstDefined looks for a breaking point where another point has no value: at
// the worst values that the differences of the statement attain.
func (d *decider) worstDefined(c part, in []Input, u *Undefined) []*big.Rat {
	if u == nil || someWithoutSure(in) {
		return nil
	}
	sure := sureInputs(in)
	for _, a := range newSearch(c, sure).atoms {
		if a.side == 0 {
			continue
		}
		e := newExtremum(c.cut(a.d, false).within(c), sure, a.side)
		e.assured(hopelessBoxes)
		at := e.seek(hopelessBoxes).at
		d.spent += e.spent
		if at == nil || slices.Contains(at, nil) {
			continue
		}
		if t, ok := Holds(c.Program, 0, at); ok && !t && d.breaksAt(c, in, at) {
			return at
		}
	}
	return nil
}

// breaksAt tells whether the sure part of a point breaks the statement
// whatever the inputs without a sure set are.
func (d *decider) breaksAt(c part, in []Input, at []*big.Rat) bool {
	for i := range in {
		if in[i].hasSure() && !in[i].sureHas(at[i]) {
			return false
		}
	}
	if !someWithoutSure(in) {
		return true // the point itself was evaluated
	}
	fixed := make([]Input, len(in))
	for i := range in {
		fixed[i] = in[i]
		if in[i].hasSure() {
			fixed[i].Lo, fixed[i].Hi = at[i], at[i]
		}
	}
	return d.prove(c.cut(c.root(), true).within(c), fixed).proven
}

// within keeps the input numbering of the part it was cut from.
func (p part) within(outer part) part {
	q := *p.Program
	q.code = append([]instr(nil), p.code...)
	for i := range q.code {
		if q.code[i].op == OpVar {
			q.code[i].n = int32(p.from[q.code[i].n])
		}
	}
	q.inputs = outer.inputs
	return part{&q, outer.from}
}

// settle makes a breaking point presentable: ends of the sure sets where they
// still break, else short decimals. Inputs without a sure set become nil.
func (d *decider) settle(c part, in []Input, at []*big.Rat) []*big.Rat {
	point := append(make([]*big.Rat, 0, len(at)), at...)
	if someWithoutSure(in) {
		for i := range in {
			if !in[i].hasSure() {
				point[i] = nil
			}
		}
		return point
	}
	for i := range in {
		lo, hi := in[i].sure()
		if point[i].Cmp(lo) == 0 || point[i].Cmp(hi) == 0 {
			continue
		}
		was := point[i]
		if !d.tryValues(c, point, i, lo, hi) {
			point[i] = was
			d.tryValues(c, point, i, shorter(was, lo, hi, 1, 10), shorter(was, lo, hi, 1, 1e3),
				shorter(was, lo, hi, 1, 1e6), shorter(was, lo, hi, 1, 1e9), was)
		}
	}
	return point
}

// tryValues sets input i to the first of some values at which the statement
// is still false.
func (d *decider) tryValues(c part, point []*big.Rat, i int, values ...*big.Rat) bool {
	for _, v := range values {
		point[i] = v
		if t, ok := Holds(c.Program, 0, point); ok && !t {
			return true
		}
	}
	return false
}

// shorter is a short decimal within x·num/den of x that stays in lo..hi.
func shorter(x, lo, hi *big.Rat, num, den int64) *big.Rat {
	reach := new(big.Rat).Mul(new(big.Rat).Abs(x), big.NewRat(num, den))
	from, to := new(big.Rat).Sub(x, reach), new(big.Rat).Add(x, reach)
	if from.Cmp(lo) < 0 {
		from = lo
	}
	if to.Cmp(hi) > 0 {
		to = hi
	}
	return shortestDecimal(from, to)
}
