package network

import (
	"fmt"
	"math/big"
	"sort"

	"guardband/eval/bound"
)

// This file says why a claim is open, and what would turn it.

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
		for _, i := range o.p.Inputs() {
			if in := j.n.input(i); in.SureLo == nil && in.SureHi == nil && !seen[i] {
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
		j.out.Why = fmt.Sprintf("not decided within the budget of %d steps", first.d.Boxes)
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
	step, v := big.NewRat(10, 1), big.NewRat(1, 1e15)
	if !up {
		step, v = big.NewRat(1, 10), big.NewRat(1e12, 1)
	}
	last := (*big.Rat)(nil)
	for k := 0; k < 28 && proven(v); k++ {
		last, v = v, new(big.Rat).Mul(v, step)
	}
	if last == nil {
		return nil
	}
	at := func(k int) *big.Rat {
		if up {
			return new(big.Rat).Mul(last, big.NewRat(int64(10+k), 10))
		}
		return new(big.Rat).Mul(last, big.NewRat(int64(100-k), 100))
	}
	return at(sort.Search(89, func(k int) bool { return !proven(at(k + 1)) }))
}
