package eval

import (
	"math/big"

	"guardband/eval/bound"
	"guardband/eval/formula"
)

// trial is a criterion ready to be judged: its program and where its numbers
// stand among the program's roots.
type trial struct {
	cl       *Claim
	k        *Criterion
	breaking []*big.Rat // the point that breaks it, where the numbers are worked out later
	fault    string     // of the program, met while it was judged
	work     int        // boxes taken so far, in those of a usual program
	late     bool       // the design's budget was used up before it
	*cutout             // while it is looked at
}

// cutout is the program of a trial and what is read of it.
type cutout struct {
	prog     *bound.Program
	in       []bound.Input
	plain    int // root of the predicate without margin; 0 when it is the predicate itself
	tests    []testRoots
	excess   []bound.Reg // by root sum square: the distance to each limit less the margin asked; nil elsewhere
	statLeft []float64   // by root sum square: what is left to the limit of each comparison
}

// testRoots are the roots of one comparison; -1 where it has none.
type testRoots struct{ slack, ratio, need, left, right, holds, excess int }

// trials lists the criteria that can be judged.
func (c judge) trials(all []*Claim) []trial {
	n := 0
	for _, cl := range all {
		n += len(cl.Crit)
	}
	list := make([]trial, 0, n)
	for _, cl := range all {
		for _, k := range cl.Crit {
			if k.bad {
				continue
			}
			t := trial{cl: cl, k: k}
			if cl.Out.Analysis == "root sum square" {
				t.cutout = &cutout{}
				c.enterExcess(&t)
			}
			list = append(list, t)
		}
	}
	return list
}

// trialLot is how many trials are judged before it is counted what they took of
// the design's budget: how many are judged side by side changes nothing.
const trialLot = 32

// eachTrial calls f for n trials, side by side. The graph does not change
// meanwhile.
func (c judge) eachTrial(n int, trial func(int) *trial, f func(*trial)) {
	for from := 0; from < n; from += trialLot {
		lot := min(trialLot, n-from)
		late := c.work.boxes > mostBoxes
		c.each(lot, func(i int) {
			t := trial(from + i)
			t.late = late
			if fault := isolate(func() { f(t) }); fault != "" {
				t.fault = fault
			}
		})
		for i := range lot {
			c.work.boxes += trial(from + i).work
			trial(from + i).work = 0
		}
	}
}

// extract makes the trial of one criterion, ready for whatever is asked of it.
func (c judge) extract(cl *Claim, k *Criterion) *trial {
	t := &trial{cl: cl, k: k, cutout: &cutout{}}
	c.enterExcess(t)
	c.cut(t)
	return t
}

// cut takes the program of a criterion out of the graph.
func (c judge) cut(t *trial) {
	k := t.k
	if t.cutout == nil {
		t.cutout = &cutout{}
	}
	roots := []bound.Reg{k.comp.Reg}
	add := func(r bound.Reg) int {
		if r == 0 {
			return -1
		}
		roots = append(roots, r)
		return len(roots) - 1
	}
	t.plain = 0
	if k.comp.Plain != 0 && k.comp.Plain != k.comp.Reg {
		t.plain = add(k.comp.Plain)
	}
	t.tests = t.tests[:0]
	for i := range k.comp.Tests {
		x := &k.comp.Tests[i]
		r := testRoots{slack: add(x.Slack), ratio: add(x.Ratio), need: add(x.Need), left: add(side(x.Left)),
			right: add(side(x.Right)), holds: add(x.Holds), excess: -1}
		if t.excess != nil {
			r.excess = add(t.excess[i])
		}
		t.tests = append(t.tests, r)
	}
	t.prog = c.b.Extract(roots...)
	t.in = c.gather(t.prog)
}

// enterExcess enters what root sum square asks of the graph.
func (c judge) enterExcess(t *trial) {
	t.excess = make([]bound.Reg, len(t.k.comp.Tests))
	for i := range t.excess {
		t.excess[i] = c.excess(t.cl, &t.k.comp.Tests[i])
	}
}

// excess is the distance to the limit less the margin asked, for root sum
// square; 0 elsewhere.
func (c judge) excess(cl *Claim, x *formula.Test) bound.Reg {
	switch {
	case cl.Out.Analysis != "root sum square" || x.Slack == 0:
		return 0
	case x.Need == 0:
		return x.Slack
	}
	return c.b.Binary(bound.OpSub, x.Slack, x.Need)
}

func side(v formula.Value) bound.Reg {
	if v.Class != formula.Number {
		return 0
	}
	return v.Reg
}
