package bound

import (
	"math"
	"slices"
)

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
		if done%chunk == 0 {
			draws.start(done / chunk)
		}
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
