package bound

import (
	"math"
	"math/big"
)

const defaultBoxes = 20000

func (o Options) boxes() int {
	if o.Boxes > 0 {
		return o.Boxes
	}
	return defaultBoxes
}

// Decide proves or breaks a predicate over the inputs' sets. in has one entry
// per program input. The same arguments always give the same answer.
func Decide(p *Program, root int, in []Input, opt Options) Decision {
	if p.holdsAtOnce(root, in) {
		return Decision{Outcome: Proven, Boxes: 1}
	}
	var q quick
	q.prepare(p, root, in)
	if out, ok := q.decide(p.roots[root]); ok {
		return out
	}
	d := decider{p: p, in: in, left: opt.boxes()}
	return d.decide(p.roots[root])
}

// holdsAtOnce evaluates the predicate once over the wide sets, without
// allocating for programs of ordinary size.
func (p *Program) holdsAtOnce(root int, in []Input) bool {
	var xs [quickInputs]ival
	var rs [quickCode]ival
	x, r := xs[:], rs[:]
	if len(in) > len(xs) {
		x = make([]ival, len(in))
	}
	if p.ends[root] > len(rs) {
		r = make([]ival, p.ends[root])
	}
	x, r = x[:len(in)], r[:p.ends[root]]
	fillWide(x, in)
	p.run(x, r)
	return r[p.roots[root]].surelyTrue()
}

func fillWide(x []ival, in []Input) {
	for i := range in {
		x[i] = entireIval
		if in[i].Lo != nil {
			x[i].lo, _ = ratEnds(in[i].Lo)
		}
		if in[i].Hi != nil {
			_, x[i].hi = ratEnds(in[i].Hi)
		}
	}
}

func wideBox(in []Input) []ival {
	x := make([]ival, len(in))
	fillWide(x, in)
	return x
}

// decider answers one question within one budget of boxes.
type decider struct {
	p     *Program
	in    []Input
	left  int
	spent int
}

// openPart is a statement that was neither proven nor broken.
type openPart struct {
	part
	found
	sure found // the same over the sure sets
}

func (d *decider) prove(p part, in []Input) found {
	f := newSearch(p, in).prove(max(d.left, 1), 0)
	d.left -= f.boxes
	d.spent += f.boxes
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
	given := make([]bool, len(d.in))
	for _, i := range from {
		given[i] = true
	}
	for i := range out {
		if !given[i] {
			out[i] = d.in[i].anySure()
		}
	}
	return out
}

// anySure is some value of the sure set, nil if that is empty.
func (x Input) anySure() *big.Rat {
	lo, hi := x.sure()
	switch {
	case x.Centre != nil && x.sureHas(x.Centre):
		return x.Centre
	case lo != nil:
		return lo
	}
	return hi
}

// hasSure tells that the sure set is not empty.
func (x Input) hasSure() bool { return x.SureLo != nil || x.SureHi != nil }

// sure gives the ends of the sure set; a single stated end is a point.
func (x Input) sure() (lo, hi *big.Rat) {
	lo, hi = x.SureLo, x.SureHi
	if lo == nil {
		lo = hi
	}
	if hi == nil {
		hi = lo
	}
	return lo, hi
}

func (x Input) sureHas(r *big.Rat) bool {
	lo, hi := x.sure()
	if lo == nil || r == nil {
		return false
	}
	return lo == r || hi == r || lo.Cmp(r) <= 0 && r.Cmp(hi) <= 0
}

// narrowed tells that the sure set is smaller than the wide one.
func (x Input) narrowed() bool {
	lo, hi := x.sure()
	return !x.hasSure() || !sameEnd(x.Lo, lo) || !sameEnd(x.Hi, hi)
}

func sameEnd(a, b *big.Rat) bool {
	if a == nil || b == nil {
		return a == b
	}
	return a == b || a.Cmp(b) == 0
}

// sureOnly replaces an input's wide set by its sure one, if it has one.
func (x Input) sureOnly() Input {
	if x.hasSure() {
		x.Lo, x.Hi = x.sure()
	}
	return x
}

func sureInputs(in []Input) []Input {
	out := make([]Input, len(in))
	for i, x := range in {
		out[i] = x.sureOnly()
	}
	return out
}

func anyNarrowed(in []Input) bool {
	for _, x := range in {
		if x.narrowed() {
			return true
		}
	}
	return false
}

func noneSure(in []Input) bool {
	for _, x := range in {
		if !x.hasSure() {
			return true
		}
	}
	return false
}

// breakIt looks for a point of the sure sets at which a statement is false
// whatever the inputs without one are. f is what the search over the wide sets
// showed; sure is what one over the sure sets did.
func (d *decider) breakIt(c part, in []Input, f found) (point []*big.Rat, sure found) {
	if f.counter != nil && d.breaksAt(c, in, f.counter) {
		return d.settle(c, in, f.counter), f
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

// breaksAt tells whether the sure part of a point breaks the statement
// whatever the inputs without a sure set are.
func (d *decider) breaksAt(c part, in []Input, at []*big.Rat) bool {
	for i := range in {
		if in[i].hasSure() && !in[i].sureHas(at[i]) {
			return false
		}
	}
	if !noneSure(in) {
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
	if noneSure(in) {
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
			d.tryValues(c, point, i, shorter(was, lo, hi, 1, 10), shorter(was, lo, hi, 1, 1e3), shorter(was, lo, hi, 1, 1e6), shorter(was, lo, hi, 1, 1e9), was)
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

// explain says why statements stayed undecided.
func (d *decider) explain(open []openPart) Decision {
	out := Decision{Cause: CauseBudget, Gap: math.NaN()}
	for _, o := range open {
		if math.IsNaN(out.Gap) || o.gap > out.Gap {
			out.Gap = o.gap
		}
		if o.tie && out.Cause == CauseBudget && o.boxes < defaultBoxes {
			out.Cause = CauseTie
		}
		if u := firstUndefined(o.sure.undefined, o.undefined); u != nil && out.Undefined == nil {
			out.Cause = CauseUndefined
			at := *u
			if at.At != nil {
				at.At = d.whole(at.At, o.from)
			}
			out.Undefined = &at
		}
	}
	if out.Lacking = d.lacking(open); out.Lacking != nil {
		out.Cause = CauseWide
	}
	out.Boxes = d.spent
	return out
}

func firstUndefined(list ...*Undefined) *Undefined {
	for _, u := range list {
		if u != nil {
			return u
		}
	}
	return nil
}

// lacking lists the inputs whose sure set in place of the wide one would prove
// every open statement: one by one, else together. An input without a sure set
// lacks whatever depends on it.
func (d *decider) lacking(open []openPart) []int {
	var candidates, single []int
	for i, x := range d.in {
		if x.narrowed() && dependsOn(open, i) {
			candidates = append(candidates, i)
		}
	}
	for _, i := range candidates {
		if d.provableWith(open, []int{i}) {
			single = append(single, i)
		}
	}
	if len(single) > 0 || len(candidates) < 2 || !d.provableWith(open, candidates) {
		return single
	}
	return d.fewest(open, candidates)
}

// fewest drops the inputs that are not needed for the proof.
func (d *decider) fewest(open []openPart, list []int) []int {
	for k := 0; k < len(list); {
		rest := append(append([]int(nil), list[:k]...), list[k+1:]...)
		if d.provableWith(open, rest) {
			list = rest
		} else {
			k++
		}
	}
	return list
}

func dependsOn(open []openPart, input int) bool {
	for _, o := range open {
		for _, i := range o.from {
			if i == input {
				return true
			}
		}
	}
	return false
}

func (d *decider) provableWith(open []openPart, inputs []int) bool {
	replaced := append([]Input(nil), d.in...)
	void := make([]bool, len(d.in))
	for _, i := range inputs {
		void[i] = !d.in[i].hasSure()
		replaced[i] = d.in[i].sureOnly()
	}
	for _, o := range open {
		empty := false
		for _, i := range o.from {
			empty = empty || void[i]
		}
		if !empty && !newSearch(o.part, pick(replaced, o.from)).prove(2000, 0).proven {
			return false
		}
	}
	return true
}
