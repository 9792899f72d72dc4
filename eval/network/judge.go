package network

import (
	"fmt"
	"maps"
	"math/big"
	"slices"

	"guardband/eval/bound"
)

// Verdict is what was shown of a claim.
type Verdict uint8

const (
	Undecided Verdict = iota // open: Judgement.Why says why
	Passed                   // true in every case, on all of W
	Failed                   // false at a point of N in a sure state, in every case that can be there
)

// Judgement is the answer to a claim about the network.
type Judgement struct {
	Verdict Verdict
	Why     string // of an open one, or of a case that breaks it
	// Case is the one that breaks or opens it, nil where none is to blame.
	Case *Case
	// Point has the graph inputs at which it is broken, those without a sure
	// set left out: there it is false whatever they are.
	Point map[int]*big.Rat
	// Lacking are the graph inputs that keep it open.
	Lacking []int
	// Turns says at which value of one leakage or resistance it would turn;
	// nil where no single one keeps it open.
	Turns *Turning
	Cases int
	Boxes int
}

// Judge decides a predicate over quantities of the network in all states that
// a scope speaks of.
//
// Passed: in every state and case, on all of W, the guard implies the
// predicate. Failed: in a sure state, at a point of N, every case of every
// state that the other drivers may have is impossible or makes it false, and
// one of them is possible. A guard is proven in neither: a case that cannot be
// excluded counts.
func (n *Network) Judge(claim bound.Reg, s Scope) Judgement {
	j, states := n.ask(claim, s)
	if j.out.Why != "" || j.pass() {
		return j.out
	}
	for _, sure := range n.scenarios(j.g, states, s) {
		if j.fails(sure) {
			j.out.Verdict, j.out.Why = Failed, ""
			return j.out
		}
	}
	j.explain()
	return j.out
}

// ask finds the cases that a claim speaks of; out.Why says why there are none.
func (n *Network) ask(claim bound.Reg, s Scope) (*judging, []state) {
	j := &judging{n: n, claim: claim}
	if j.g, j.out.Why = n.groupFor(claim); j.out.Why != "" {
		return j, nil
	}
	states, ok := n.states(j.g, s)
	switch {
	case !ok:
		j.out.Why = fmt.Sprintf("not followed: more than %d states of the drivers there", n.limits.Cases)
	case len(states) == 0:
		j.out.Why = "no state of the drivers is what this speaks of"
	}
	for _, at := range states {
		sol := n.solve(j.g, at)
		if sol.refused != "" {
			j.out.Why = "not followed: " + sol.refused
			return j, nil
		}
		for _, c := range sol.cases {
			if !s.Driven || !j.floats(c) {
				j.cases = append(j.cases, c)
			}
		}
	}
	j.out.Cases = len(j.cases)
	if j.out.Why == "" {
		j.out.Why = n.lifted(j.g, s)
	}
	return j, states
}

// floats tells that a net that is asked about floats in a case.
func (j *judging) floats(c *Case) bool {
	return slices.ContainsFunc(j.n.askedIn(j.claim), func(k int) bool {
		q := j.n.asked[k]
		return q.kind == qVoltage && c.floats[q.at]
	})
}

// groupFor is the group of a formula, or why it is not followed.
func (n *Network) groupFor(r bound.Reg) (*group, string) {
	var qs []asked
	for _, k := range n.askedIn(r) {
		qs = append(qs, n.asked[k])
	}
	g := n.groupOf(qs)
	if g.refused != "" {
		return nil, "not followed: " + g.refused
	}
	return g, ""
}

type judging struct {
	n     *Network
	g     *group
	claim bound.Reg
	cases []*Case
	open  []openCase
	cut   bool // open does not list all
	out   Judgement
}

type openCase struct {
	c *Case
	p *bound.Program
	d bound.Decision
}

// lacks lists the statements of "the guard implies the claim" that are not
// proven in a case. One that shares its difference with a guard is settled by
// it: no division of boxes ever does that at the edge they share.
func (j *judging) lacks(c *Case) (open []openCase) {
	g := j.n.g
	no := g.not(c.Guard)
	for _, x := range g.Conjuncts(j.claim) {
		if j.narrowed(c, x, (*Case).span) || j.narrowed(c, x, (*Case).bounds) {
			continue
		}
		y := c.Put(x)
		settled := false
		for _, guard := range c.guards {
			p := g.Extract(g.or(g.not(guard), y))
			d := j.n.decide(p, c.inputs(p), bound.Options{Boxes: 30, Explain: -1})
			if settled = settled || d.Outcome == bound.Proven; settled {
				break
			}
		}
		if settled {
			continue
		}
		p := g.Extract(g.or(no, y))
		opt := bound.Options{Boxes: j.n.limits.Boxes, Explain: 1}
		if len(j.open)+len(open) >= mostExplained {
			opt.Explain = -1
		}
		d := j.n.decide(p, c.inputs(p), opt)
		j.out.Boxes += d.Boxes
		if d.Outcome != bound.Proven {
			open = append(open, openCase{c, p, d})
		}
	}
	return open
}

// narrowed tells that the ranges found for the quantities of a case settle a
// statement.
func (j *judging) narrowed(c *Case, x bound.Reg, bounds func(*Case, asked) span) bool {
	p := j.n.g.Extract(x)
	in := c.inputs(p)
	for k, i := range p.Inputs() {
		at, ok := j.n.byInput[i]
		if !ok {
			continue
		}
		in[k].Lo, in[k].Hi = bounds(c, j.n.asked[at]).rats()
	}
	return j.n.decide(p, in, bound.Options{Boxes: 20, Explain: -1}).Outcome == bound.Proven
}

// span is the range found for a quantity of a case.
func (c *Case) span(q asked) span {
	if q.kind == qVoltage {
		return c.w.v[q.at]
	}
	k, there := c.place[q.e]
	switch {
	case q.kind == qAcross:
		return c.w.v[q.e.A].minus(c.w.v[q.e.B])
	case q.kind == qCurrent && there:
		return c.w.i[k]
	case q.kind == qCurrent:
		return n0()
	}
	return everything()
}

// mostOpen is the number of open statements after which no more are sought, and
// of cases beyond which few points are tried.
const mostOpen = 40

// mostExplained is the number of open statements of which it is said what keeps
// them open.
const mostExplained = 4

func (j *judging) pass() bool {
	for _, c := range j.cases {
		if j.open = append(j.open, j.lacks(c)...); len(j.open) > mostOpen {
			j.cut = true
			break
		}
	}
	if len(j.open) == 0 {
		j.out.Verdict = Passed
	}
	return len(j.open) == 0
}

// scenario is a set of states of which one surely occurs, and nothing is said
// about which.
type scenario []state

// scenarios lists the sure ones: each state of one driver alone, with the
// others in any; the same with all others let go; each state row; and all
// states together.
func (n *Network) scenarios(g *group, all []state, s Scope) []scenario {
	var out []scenario
	pick := func(row int, keep func(state) bool) {
		var x scenario
		for _, at := range all {
			if at.row == row && keep(at) {
				x = append(x, at)
			}
		}
		if len(x) > 0 {
			out = append(out, x)
		}
	}
	pick(-1, func(state) bool { return true })
	for i, d := range g.drivers {
		for k := range d.States {
			pick(-1, func(at state) bool { return at.at[i] == k })
			pick(-1, func(at state) bool { return at.at[i] == k && n.othersLetGo(g, at, i) })
		}
	}
	for r, row := range n.rows {
		pick(r, func(state) bool { return true })
		if len(row.gives) == 0 && s.Row == "" {
			pick(-1, func(at state) bool {
				for i, d := range g.drivers {
					if !row.allows(d, at.at[i]) {
						return false
					}
				}
				return true
			})
		}
	}
	return out
}

func (n *Network) othersLetGo(g *group, at state, but int) bool {
	for i, d := range g.drivers {
		if i != but && !d.States[at.at[i]].LetGo {
			return false
		}
	}
	return true
}

// fails tells whether a claim is false in a scenario: at one point of N,
// whatever the inputs without one are, no case holds with the claim true, and
// one is possible.
func (j *judging) fails(x scenario) bool {
	for _, point := range j.points(x) {
		if c := j.pinned(point).breaks(x); c != nil {
			j.out.Case, j.out.Point = c, point
			return true
		}
	}
	return false
}

// pinned is the same question with some inputs fixed.
func (j *judging) pinned(point map[int]*big.Rat) *judging {
	n := *j.n
	n.leaves = pins{j.n.leaves, point}
	n.groups, n.spans, n.lifting = map[string]*group{}, map[bound.Reg]span{}, map[string]string{}
	g, _ := n.groupFor(j.claim)
	return &judging{n: &n, g: g, claim: j.claim}
}

// pins are leaves of which some are fixed.
type pins struct {
	Leaves
	at map[int]*big.Rat
}

// Input is what is known of an input: its one value where it is fixed.
func (p pins) Input(i int) bound.Input {
	in := p.Leaves.Input(i)
	if v := p.at[i]; v != nil {
		in.Lo, in.Hi, in.SureLo, in.SureHi, in.Centre = v, v, v, v, nil
	}
	return in
}

// breaks looks at every case of a scenario: the claim has to be false in each,
// and one has to be possible, which is returned.
func (j *judging) breaks(x scenario) *Case {
	var cases []*Case
	for _, at := range x {
		for _, e := range j.g.elements {
			if e.Slight {
				at.without = append(at.without[:len(at.without):len(at.without)], e.num)
			}
		}
		sol := j.n.solve(j.g, at)
		if sol.impossible {
			continue
		}
		if sol.refused != "" {
			return nil
		}
		for _, c := range sol.cases {
			if !j.excluded(c) && !c.refuted(j.n.g.and(c.Guard, c.Put(j.claim)), 500) {
				return nil
			}
		}
		cases = append(cases, sol.cases...)
	}
	for _, c := range cases {
		if c.possible() {
			return c
		}
	}
	return nil
}

// points lists points of N to try: where a case was broken, the centre, and
// corners.
func (j *judging) points(x scenario) []map[int]*big.Rat {
	in := func(c *Case) bool {
		return slices.ContainsFunc(x, func(at state) bool {
			return at.row == c.state.row && slices.Equal(at.at, c.state.at)
		})
	}
	var cases []*Case
	for _, c := range j.cases {
		if in(c) {
			cases = append(cases, c)
		}
	}
	var out []map[int]*big.Rat
	base := j.corners(cases)
	for _, o := range j.open {
		if o.d.Outcome != bound.Broken || !in(o.c) || len(out) >= 4 {
			continue
		}
		m := maps.Clone(base[0])
		for k, i := range o.p.Inputs() {
			if v := o.d.Point[k]; v != nil {
				m[i] = v
			}
		}
		out = append(out, m)
	}
	if out = append(out, base...); len(cases) > mostOpen {
		out = out[:min(len(out), 6)]
	}
	return out
}

// excluded tells that the claim is false wherever a case is there.
func (j *judging) excluded(c *Case) bool {
	g := j.n.g
	if j.narrowed(c, g.not(j.claim), (*Case).bounds) {
		return true
	}
	for _, x := range g.Conjuncts(j.claim) {
		y := c.Put(x)
		for _, guard := range c.guards {
			if c.refuted(g.and(guard, y), 30) {
				return true
			}
		}
	}
	return false
}

// corners lists points of N: the centre, all low, all high, and every corner
// of up to five inputs.
func (j *judging) corners(cases []*Case) []map[int]*big.Rat {
	var wide []int
	base := map[int]*big.Rat{}
	ends := map[int][2]*big.Rat{}
	for _, c := range cases {
		r := j.n.g.or(c.Guard, c.Put(j.claim))
		for _, i := range j.n.g.Vars(r) {
			if _, have := ends[i]; have {
				continue
			}
			lo, hi := sure(j.n.input(i))
			if lo == nil {
				continue
			}
			ends[i] = [2]*big.Rat{lo, hi}
			base[i] = new(big.Rat).Quo(new(big.Rat).Add(lo, hi), big.NewRat(2, 1))
			if lo.Cmp(hi) != 0 {
				wide = append(wide, i)
			}
		}
	}
	slices.Sort(wide)
	out := []map[int]*big.Rat{base}
	at := func(high func(k int) bool) {
		m := map[int]*big.Rat{}
		for i, v := range base {
			m[i] = v
		}
		for k, i := range wide {
			m[i] = ends[i][0]
			if high(k) {
				m[i] = ends[i][1]
			}
		}
		out = append(out, m)
	}
	if len(wide) > j.n.limits.Points {
		at(func(int) bool { return false })
		at(func(int) bool { return true })
		return out
	}
	for mask := range 1 << len(wide) {
		at(func(k int) bool { return mask>>k&1 == 1 })
	}
	return out
}

// sure is the sure set of an input, nil where it has none.
func sure(in bound.Input) (lo, hi *big.Rat) {
	lo, hi = in.SureLo, in.SureHi
	if lo == nil {
		lo = hi
	}
	if hi == nil {
		hi = lo
	}
	return lo, hi
}

// possible tells that the guard of a case holds somewhere.
func (c *Case) possible() bool {
	p := c.n.g.Extract(c.n.g.not(c.Guard))
	in := c.inputs(p)
	for k := range in {
		if in[k].SureLo == nil && in[k].SureHi == nil {
			in[k].SureLo, in[k].SureHi = within(in[k].Lo, in[k].Hi)
			in[k].Lo, in[k].Hi = in[k].SureLo, in[k].SureHi
		}
	}
	return c.n.decide(p, in, bound.Options{Boxes: 2000}).Outcome == bound.Broken
}

// within is a finite part of a range, open ends being closed far out.
func within(lo, hi *big.Rat) (*big.Rat, *big.Rat) {
	far := big.NewRat(1e6, 1)
	switch {
	case lo == nil && hi == nil:
		return new(big.Rat).Neg(far), far
	case lo == nil:
		return new(big.Rat).Sub(hi, far), hi
	case hi == nil:
		return lo, new(big.Rat).Add(lo, far)
	}
	return lo, hi
}

// explain says why a claim is open.
func (j *judging) explain() {
	first := j.open[0]
	for _, o := range j.open {
		if o.d.Outcome == bound.Broken {
			first = o
			break
		}
	}
	j.out.Case = first.c
	seen := map[int]bool{}
	for _, o := range j.open {
		for k, i := range o.p.Inputs() {
			if in := j.n.input(i); in.SureLo == nil && in.SureHi == nil && !seen[i] {
				_ = k
				seen[i] = true
				j.out.Lacking = append(j.out.Lacking, i)
			}
		}
		for _, k := range o.d.Lacking {
			if i := o.p.Inputs()[k]; !seen[i] {
				seen[i] = true
				j.out.Lacking = append(j.out.Lacking, i)
			}
		}
	}
	switch {
	case first.d.Outcome == bound.Broken:
		j.out.Why = "it is false in one case, but another may be there instead"
	case first.d.Cause == bound.CauseUndefined:
		j.out.Why = "a current there has no value: resistances that may all be 0"
	case first.d.Cause == bound.CauseBudget && len(j.out.Lacking) == 0:
		j.out.Why = fmt.Sprintf("not decided within %d boxes", first.d.Boxes)
	default:
		j.out.Why = "what is known leaves both possible"
	}
	if !j.cut {
		j.turns()
	}
}

// Turning is the value of one input at which an open claim would turn.
type Turning struct {
	Input int
	// AtMost: it holds while the input is at most this (a leakage: in either
	// direction). AtLeast: while it is at least this. One of them is nil.
	AtMost, AtLeast *big.Rat
}

// turns looks for one input without a sure set that alone keeps a claim open,
// and for the value, to two digits, up to which (or from which on) it is
// proven.
func (j *judging) turns() {
	for _, i := range j.out.Lacking {
		in := j.n.input(i)
		if in.SureLo != nil || in.SureHi != nil || in.Lo != nil && in.Hi != nil {
			continue
		}
		if v := j.turn(i, func(v *big.Rat) (lo, hi *big.Rat) {
			if in.Lo == nil {
				return new(big.Rat).Neg(v), v
			}
			return in.Lo, v
		}, true); v != nil {
			j.out.Turns = &Turning{Input: i, AtMost: v}
			return
		}
		if in.Lo == nil {
			continue
		}
		if v := j.turn(i, func(v *big.Rat) (lo, hi *big.Rat) { return v, nil }, false); v != nil {
			j.out.Turns = &Turning{Input: i, AtLeast: v}
			return
		}
	}
}

// turn walks over decades and then over two digits for the last value with
// which all open cases are proven.
func (j *judging) turn(i int, set func(*big.Rat) (lo, hi *big.Rat), up bool) *big.Rat {
	proven := func(v *big.Rat) bool {
		for _, o := range j.open {
			in := o.c.inputs(o.p)
			for k, m := range o.p.Inputs() {
				if m == i {
					lo, hi := set(v)
					in[k].Lo, in[k].Hi = tighter(in[k].Lo, lo, 1), tighter(in[k].Hi, hi, -1)
				}
			}
			if j.n.decide(o.p, in, bound.Options{Boxes: 400, Explain: -1}).Outcome != bound.Proven {
				return false
			}
		}
		return true
	}
	ten, last := big.NewRat(10, 1), (*big.Rat)(nil)
	v := new(big.Rat).SetFrac(big.NewInt(1), new(big.Int).Exp(big.NewInt(10), big.NewInt(15), nil))
	if !up {
		v = new(big.Rat).SetInt(new(big.Int).Exp(big.NewInt(10), big.NewInt(12), nil))
	}
	for range 28 {
		if !proven(v) {
			break
		}
		last = v
		if up {
			v = new(big.Rat).Mul(v, ten)
		} else {
			v = new(big.Rat).Quo(v, ten)
		}
	}
	if last == nil {
		return nil
	}
	lo, hi := 10, 99
	scale := new(big.Rat).Quo(last, ten)
	if !up {
		scale = new(big.Rat).Quo(scale, ten)
	}
	at := func(k int) *big.Rat { return new(big.Rat).Mul(scale, big.NewRat(int64(k), 1)) }
	if !up {
		lo, hi = 11, 100
	}
	for lo < hi {
		mid := (lo + hi + 1) / 2
		if !up {
			mid = (lo + hi) / 2
		}
		switch ok := proven(at(mid)); {
		case up && ok:
			lo = mid
		case up:
			hi = mid - 1
		case ok:
			hi = mid
		default:
			lo = mid + 1
		}
	}
	return at(lo)
}
