package network

import (
	"maps"
	"math/big"
	"slices"

	"guardband/eval/bound"
)

// This file shows that a claim is false: at one point, in every case.

// scenario is a set of states of which one surely occurs, and nothing is said
// about which.
type scenario []state

// scenarios lists the sure ones: each state of one driver alone, with the
// others in any; the same with all others let go; and all states together.
func (n *Network) scenarios(g *group, all []state) []scenario {
	var out []scenario
	pick := func(keep func(state) bool) {
		var x scenario
		for _, at := range all {
			if keep(at) {
				x = append(x, at)
			}
		}
		if len(x) > 0 {
			out = append(out, x)
		}
	}
	pick(func(state) bool { return true })
	for i, d := range g.drivers {
		for k := range d.States {
			pick(func(at state) bool { return at.at[i] == k })
			pick(func(at state) bool { return at.at[i] == k && n.othersLetGo(g, at, i) })
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
		c, none := j.pinned(point).breaks(x)
		if none { // a level at its stated end, where nothing brings the current for it
			own := j.n.places()
			point = maps.Clone(point)
			maps.DeleteFunc(point, func(i int, _ *big.Rat) bool { return own[i] })
			c, _ = j.pinned(point).breaks(x)
		}
		if c != nil {
			j.out.Case, j.out.Point = c, point
			return true
		}
	}
	return false
}

// pinned is the same question with some inputs fixed.
func (j *judging) pinned(point map[int]*big.Rat) *judging {
	n := j.n.at(point)
	g, _ := n.groupFor(j.claim)
	return &judging{n: n, g: g, claim: j.claim}
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
// and one has to be possible, which is returned; none says that none is there.
func (j *judging) breaks(x scenario) (found *Case, none bool) {
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
			return nil, false
		}
		for _, c := range sol.cases {
			if !j.excluded(c) && !c.refuted(j.n.g.and(c.Guard, c.Put(j.claim)), 500) {
				return nil, false
			}
		}
		cases = append(cases, sol.cases...)
	}
	for _, c := range cases {
		if c.possible() {
			return c, false
		}
	}
	return nil, len(cases) == 0
}

// points lists points of N to try: where a case was broken, the centre, and
// corners.
func (j *judging) points(x scenario) []map[int]*big.Rat {
	in := func(c *Case) bool {
		return slices.ContainsFunc(x, func(at state) bool {
			return slices.Equal(at.at, c.state.at)
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
		m := maps.Clone(base)
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
	in, own := c.inputs(p), c.n.places()
	for k, i := range p.Inputs() {
		if in[k].SureLo == nil && in[k].SureHi == nil || own[i] {
			in[k].SureLo, in[k].SureHi = within(in[k].Lo, in[k].Hi)
			in[k].Lo, in[k].Hi = in[k].SureLo, in[k].SureHi
		}
	}
	return c.n.decide(p, in, bound.Options{Boxes: 2000}).Outcome == bound.Broken
}

// places are the inputs made here: where between its ends something lies.
func (n *Network) places() map[int]bool {
	out := map[int]bool{}
	for _, r := range n.fresh {
		for _, i := range n.g.Vars(r) {
			out[i] = true
		}
	}
	return out
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
