package bound

import (
	"crypto/sha256"
	"encoding/binary"
	"math"
	"math/big"
	"math/rand/v2"
	"slices"
)

// Sampling says how a Monte Carlo analysis draws.
type Sampling struct {
	N    int
	Seed [32]byte
	// Normal is 0 for a uniform distribution between the limits; k > 0 for a
	// normal one whose limits are k standard deviations from the middle,
	// truncated there.
	Normal float64
	// Shape, if not nil, stands for Normal per program input.
	Shape []float64
	// Yield is the share of samples that has to hold, for Sampled.Outcome.
	Yield *big.Rat
}

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
	// Outcome: Proven stands for Lower >= Yield, Broken for Upper < Yield. It
	// is a statement of 95 % confidence, not a proof.
	Outcome Outcome
	// Missing are the spread inputs without both ends; nothing else is filled.
	Missing []int
}

// sampler draws points of the spread inputs: one stream per program input,
// seeded by the hash of the seed and the input's place, so that another input
// does not disturb it.
type sampler struct {
	in      []Input
	top     []ival
	streams []*rand.Rand
	shape   []float64
}

// newSampler serves the inputs of a part; from are their places among the
// program inputs.
func newSampler(in []Input, from []int, mc Sampling) *sampler {
	s := &sampler{in: in, top: wideBox(in), streams: make([]*rand.Rand, len(in)), shape: make([]float64, len(in))}
	for i, at := range from {
		s.shape[i] = mc.Normal
		if mc.Shape != nil {
			s.shape[i] = mc.Shape[at]
		}
	}
	for i := range in {
		text := binary.BigEndian.AppendUint64(mc.Seed[:len(mc.Seed):len(mc.Seed)], uint64(from[i]))
		s.streams[i] = rand.New(rand.NewChaCha8(sha256.Sum256(text)))
	}
	return s
}

// draw fills the rows of the spread inputs of a batch with n samples.
func (s *sampler) draw(b *ivalBatch, n int) {
	for i := range s.in {
		if !s.in[i].Spread {
			continue
		}
		if lo, hi := b.input(i); lo != nil {
			for k := range n {
				v := s.value(i)
				lo[k], hi[k] = v, v
			}
		}
	}
}

func (s *sampler) value(i int) float64 {
	lo, hi := s.top[i].lo, s.top[i].hi
	k := s.shape[i]
	if k <= 0 {
		return min(max(lo+float64(s.streams[i].Float64()*(hi-lo)), lo), hi)
	}
	for {
		z := s.streams[i].NormFloat64()
		if math.Abs(z) <= k {
			return min(max(lo/2+hi/2+float64(z*((hi-lo)/2/k)), lo), hi)
		}
	}
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
	draws := newSampler(mine, c.from, mc)
	s := newTrial(c, mine)
	for done := 0; done < mc.N; done += lanes {
		n := min(lanes, mc.N-done)
		draws.draw(s.batch, n)
		s.batch.run(n)
		for k := range n {
			switch s.judgeSample(k) {
			case stateHolds:
				out.Holds++
			case stateBreaks:
				out.Fails++
			default:
				out.Unknown++
			}
		}
	}
	out.Lower = binomialLower(out.Holds, out.N, confidence)
	out.Upper = binomialUpper(out.Holds+out.Unknown, out.N, confidence)
	if mc.Yield != nil {
		yieldLo, yieldHi := ratEnds(mc.Yield)
		switch {
		case out.Lower >= yieldHi:
			out.Outcome = Proven
		case out.Upper < yieldLo:
			out.Outcome = Broken
		}
	}
	return out
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

// Moments are the sample statistics of a number.
type Moments struct {
	N            int
	Mean, StdDev float64
	sorted       []float64
	Undefined    int   // samples without a value, left out of the rest
	Missing      []int // spread inputs without both ends; nothing else is filled
}

// Quantile is the sample's q-quantile, 0 <= q <= 1 (nearest rank).
func (m Moments) Quantile(q float64) float64 {
	if len(m.sorted) == 0 {
		return math.NaN()
	}
	at := int(math.Ceil(q*float64(len(m.sorted)))) - 1
	return m.sorted[min(max(at, 0), len(m.sorted)-1)]
}

// Shortest is the shortest interval that holds the share q of the sample.
func (m Moments) Shortest(q float64) (lo, hi float64) {
	n := int(math.Ceil(q * float64(len(m.sorted))))
	if n < 1 || len(m.sorted) == 0 {
		return math.NaN(), math.NaN()
	}
	lo, hi = m.sorted[0], m.sorted[n-1]
	for i := 1; i+n-1 < len(m.sorted); i++ {
		if m.sorted[i+n-1]-m.sorted[i] < hi-lo {
			lo, hi = m.sorted[i], m.sorted[i+n-1]
		}
	}
	return lo, hi
}

// SampleNumber samples a number (JCGM 101:2008, clause 7). Inputs that do not
// spread stand at their centre, or in the middle of their range.
func SampleNumber(p *Program, root int, in []Input, mc Sampling) Moments {
	c := p.cut(p.roots[root], false)
	out := Moments{N: mc.N, Missing: missing(c, in)}
	if out.Missing != nil {
		return out
	}
	mine := pick(in, c.from)
	draws := newSampler(mine, c.from, mc)
	batch := newIvalBatch(c.Program, 0)
	for i, y := range mine {
		if lo, hi := batch.input(i); lo != nil && !y.Spread {
			m := y.centre()
			fill(lo, m)
			fill(hi, m)
		}
	}
	for done := 0; done < mc.N; done += lanes {
		n := min(lanes, mc.N-done)
		draws.draw(batch, n)
		batch.run(n)
		for k := range n {
			if v := batch.get(c.root(), k); v.u || v.empty() {
				out.Undefined++
			} else {
				out.sorted = append(out.sorted, mid(v))
			}
		}
	}
	out.Mean, out.StdDev = meanAndDeviation(out.sorted)
	slices.Sort(out.sorted)
	return out
}

// centre is the nominal value, or else the middle of the range.
func (x Input) centre() float64 {
	v := wideBox([]Input{x})[0]
	m, ok := middle(v)
	switch {
	case x.Centre != nil:
		m, _ = x.Centre.Float64()
	case !ok:
		m = v.lo
	}
	return m
}

// meanAndDeviation goes through the sample twice, summing deviations.
func meanAndDeviation(v []float64) (mean, sd float64) {
	if len(v) == 0 {
		return math.NaN(), math.NaN()
	}
	first, sum := v[0], 0.0
	for _, x := range v {
		sum += x - first
	}
	mean = first + sum/float64(len(v))
	square := 0.0
	for _, x := range v {
		d := x - mean
		square += float64(d * d)
	}
	if len(v) > 1 {
		sd = math.Sqrt(square / float64(len(v)-1))
	}
	return mean, sd
}
