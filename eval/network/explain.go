package network

import (
	"fmt"
	"math/big"

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
