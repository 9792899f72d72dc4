package network

import (
	"fmt"
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
	for _, sure := range n.scenarios(j.g, states) {
		if j.fails(sure) {
			j.out.Verdict, j.out.Why = Failed, ""
			return j.out
		}
	}
	j.explain()
	return j.out
}

// Passes decides only whether a predicate holds in all states that a scope
// speaks of, and looks no further than the first case in which it may not:
// where what is unknown is in all of them, no case breaks it.
func (n *Network) Passes(claim bound.Reg, s Scope) Judgement {
	j := &judging{n: n, claim: claim}
	_, _, why := n.cases(claim, s, func(c *Case) bool {
		if j.cases = append(j.cases, c); s.Driven && j.floats(c) {
			return true
		}
		j.open = j.lacks(c)
		return len(j.open) == 0
	})
	switch {
	case why != "":
		j.out.Why = why
	case len(j.open) > 0:
		j.explain()
	default:
		j.out.Cases, j.out.Verdict = len(j.cases), Passed
	}
	return j.out
}

// cases visits the cases that a formula speaks of until visit says no; why says
// why there are none.
func (n *Network) cases(r bound.Reg, s Scope, visit func(*Case) bool) (g *group, states []state, why string) {
	if g, why = n.groupFor(r); why != "" {
		return nil, nil, why
	}
	states, ok := n.states(g, s)
	switch {
	case !ok:
		return g, nil, fmt.Sprintf("not followed: more than %d states of the drivers there", n.limits.Cases)
	case len(states) == 0:
		return g, nil, "no state of the drivers is what this speaks of"
	}
	for _, at := range states {
		sol := n.solve(g, at)
		if sol.refused != "" {
			return g, nil, "not followed: " + sol.refused
		}
		for _, c := range sol.cases {
			if !visit(c) {
				return g, states, ""
			}
		}
	}
	return g, states, ""
}

// ask finds the cases that a claim speaks of; out.Why says why there are none.
func (n *Network) ask(claim bound.Reg, s Scope) (j *judging, states []state) {
	j = &judging{n: n, claim: claim}
	j.g, states, j.out.Why = n.cases(claim, s, func(c *Case) bool {
		if !s.Driven || !j.floats(c) {
			j.cases = append(j.cases, c)
		}
		return true
	})
	j.out.Cases = len(j.cases)
	return j, states
}

// floats tells that a net that is asked about floats in a case.
func (j *judging) floats(c *Case) bool {
	return slices.ContainsFunc(j.n.askedIn(j.claim), func(q asked) bool {
		return q.kind == qVoltage && c.floats[q.at]
	})
}

// groupFor is the group of a formula, or why it is not followed.
func (n *Network) groupFor(r bound.Reg) (*group, string) {
	g := n.groupOf(n.askedIn(r))
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
		if q, ok := j.n.byInput[i]; ok {
			in[k].Lo, in[k].Hi = bounds(c, q).rats()
		}
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
