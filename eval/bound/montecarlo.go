package bound

import (
	"math/big"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"
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
	var mu sync.Mutex
	inChunks(mc.N, func() func(chunk, n int) {
		draws, t := newSampler(mine, c.from, mc), newTrial(c, mine)
		return func(chunk, n int) {
			draws.start(chunk)
			counts := t.judge(draws, n)
			mu.Lock()
			defer mu.Unlock()
			out.Holds += counts[stateHolds]
			out.Fails += counts[stateBreaks]
		}
	})
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

// inChunks hands every chunk of n samples to one of as many workers as there
// are cores.
func inChunks(n int, newWorker func() func(chunk, n int)) {
	chunks := (n + chunk - 1) / chunk
	var next atomic.Int64
	var all sync.WaitGroup
	for range min(chunks, runtime.GOMAXPROCS(0)) {
		all.Go(func() {
			work := newWorker()
			for at := int(next.Add(1)) - 1; at < chunks; at = int(next.Add(1)) - 1 {
				work(at, min(chunk, n-at*chunk))
			}
		})
	}
	all.Wait()
}

// trial judges single samples.
type trial struct {
	*search
	batch *ivalBatch
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
	t := &trial{search: s, batch: newIvalBatch(c.Program, 0), again: slices.Clone(in)}
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
	for i := range in {
		if lo, hi := t.batch.input(i); lo != nil {
			fill(lo, b.x[i].lo)
			fill(hi, b.x[i].hi)
		}
	}
	return t
}

// judge draws n samples and counts them by their state.
func (t *trial) judge(draws *sampler, n int) (counts [stateTie + 1]int) {
	for done := 0; done < n; done += lanes {
		m := min(lanes, n-done)
		draws.draw(t.batch, m)
		t.batch.run(m)
		for k := range m {
			counts[t.judgeSample(k)]++
		}
	}
	return counts
}

// judgeSample judges the sample in one lane of the batch.
func (t *trial) judgeSample(k int) state {
	v := t.batch.get(t.root(), k)
	switch {
	case v.surelyTrue():
		return stateHolds
	case v.surelyFalse():
		return stateBreaks
	}
	for i := range t.again {
		if t.again[i].Spread {
			lo, _ := t.batch.input(i)
			at := new(big.Rat).SetFloat64(lo[k])
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
