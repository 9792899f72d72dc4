package bound

import (
	"math/big"
	"slices"
)

// Sampled counts samples of the spread inputs for which a predicate holds
// whatever the environment is.
type Sampled struct {
	N int
	// Holds were proven for the whole environment, Fails are broken at a point
	// of it; Unknown are neither (no value, or not decided) and count as
	// failed for Lower and as holding for Upper.
	Holds, Fails, Unknown int
	// Lower and Upper are the one-sided 95 % bounds of the share that holds,
	// exact binomial.
	Lower, Upper float64
	// Outcome: Proven stands for Lower >= Yield, Broken for Upper < Yield over
	// the sure sets too. It is a statement of 95 % confidence, not a proof.
	Outcome Outcome
	// Wide: over the wide sets Upper < Yield, over the sure ones not.
	Wide bool
	// Missing are the spread inputs without both ends; nothing else is filled.
	Missing []int
}

// MonteCarlo samples the spread inputs over their wide sets and counts for how
// many samples a predicate holds with the other inputs anywhere in their wide
// sets: what is counted as holding was proven for the whole environment.
func MonteCarlo(p *Program, predicate int, in []Input, mc Sampling) Sampled {
	c := p.cut(p.roots[predicate], false)
	out := Sampled{N: mc.N, Missing: missing(c, in)}
	if out.Missing != nil {
		return out
	}
	mine := pick(in, c.from)
	draws, t := newSampler(mine, c.from, mc), newTrial(c, mine)
	for k := range mc.N {
		if k%chunk == 0 {
			draws.start(k / chunk)
		}
		draws.draw(t.x)
		switch t.judge() {
		case stateHolds:
			out.Holds++
		case stateBreaks:
			out.Fails++
		}
	}
	out.Unknown = out.N - out.Holds - out.Fails
	out.Lower = binomialLower(out.Holds, out.N, confidence)
	out.Upper = binomialUpper(out.Holds+out.Unknown, out.N, confidence)
	if mc.Yield != nil {
		yieldLo, yieldHi := ratEnds(mc.Yield)
		switch {
		case out.Lower >= yieldHi:
			out.Outcome = Proven
		case out.Upper >= yieldLo:
		case !anyNarrowed(mine):
			out.Outcome = Broken
		case someWithoutSure(mine) || MonteCarlo(p, predicate, sureInputs(in), mc).Outcome != Broken:
			out.Wide = true
		default:
			out.Outcome = Broken
		}
	}
	return out
}

// trial judges single samples.
type trial struct {
	*search
	x     []ival // the sample, and the environment where that is not at its worse end
	again []Input
}

func newTrial(c part, in []Input) *trial {
	s := newSearch(c, in)
	b := newBox(in)
	var f found
	s.assure(1000, 0, &f)
	s.run(b.x, s.r)
	n := len(in)
	for k := range s.atoms {
		a := &s.atoms[k]
		a.over, a.force = s.r[a.d], true
		s.gradient(a.d, s.r, s.adj, s.grads[k*n:(k+1)*n])
	}
	t := &trial{search: s, x: b.x, again: slices.Clone(in)}
	for i := range in {
		if in[i].Spread {
			continue
		}
		// An environment input with one worse end stands there for every sample.
		if high, flat, ok := s.worseEnd(i, n); ok && b.pins[i] == pinFree {
			if flat {
				s.fixAnywhere(&b, i)
			} else {
				s.fix(&b, i, high)
			}
		}
		if b.pins[i] != pinFree {
			at := s.exactly(b, i)
			t.again[i].Lo, t.again[i].Hi = at, at
		}
	}
	for k := range s.atoms {
		s.atoms[k].force = false
	}
	return t
}

// judge judges the sample in x.
func (t *trial) judge() state {
	t.run(t.x, t.r)
	switch v := t.r[t.root()]; {
	case v.surelyTrue():
		return stateHolds
	case v.surelyFalse():
		return stateBreaks
	}
	for i := range t.again {
		if t.again[i].Spread {
			at := new(big.Rat).SetFloat64(t.x[i].lo)
			t.again[i].Lo, t.again[i].Hi = at, at
		}
	}
	f := newSearch(t.part, t.again).prove(200, 0)
	switch {
	case f.proven:
		return stateHolds
	case f.counter != nil:
		return stateBreaks
	}
	return stateOpen
}
