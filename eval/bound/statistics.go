package bound

import (
	"container/heap"
	"math"
	"math/big"
)

// Combined is a root sum square of the inputs that spread from piece to piece.
type Combined struct {
	// CentreLo and CentreHi bound the number with the spread inputs at their
	// centres and the others anywhere in their range.
	CentreLo, CentreHi float64
	// Delta is the largest √Σ(cᵢaᵢ)² over the environment, aᵢ half the width of
	// spread input i and cᵢ the derivative at the centres (JCGM 100:2008, 5.1.2,
	// eq. 10, without a coverage factor: the result has the level of the aᵢ).
	Delta float64
	// Lo and Hi are the ends of centre ± delta with the environment at worst.
	Lo, Hi float64
	// Coefficients are the largest |cᵢ| per program input, 0 for others.
	Coefficients []float64
	// TooCurved: Σ|cᵢaᵢ| differs from the proven range by more than 10 %, so
	// first order does not describe the number.
	TooCurved bool
	// Missing are the spread inputs without both ends; nothing else is filled.
	Missing []int
	// Undefined: the number may have no value somewhere; nothing else is filled.
	Undefined *Undefined
}

// RootSumSquare combines the spread inputs of a number by first order. in has
// one entry per program input; those without Spread, and their ends, are taken
// at their worst. Ends are those of the wide set.
func RootSumSquare(p *Program, root int, in []Input, opt Options) Combined {
	c := p.cut(p.roots[root], false)
	out := Combined{Coefficients: make([]float64, len(in)), Missing: missing(c, in)}
	if out.Missing != nil {
		return out
	}
	full := Range(p, root, in, opt)
	if out.Undefined = full.Undefined; out.Undefined != nil || full.Empty {
		return out
	}
	r := newRootSum(c, pick(in, c.from))
	for i, at := range c.from {
		out.Coefficients[at] = r.largest[i]
	}
	boxes := opt.boxes() / 8
	out.CentreLo, out.CentreHi = r.worst(centreOnly, 1, boxes), -r.worst(centreOnly, -1, boxes)
	out.Lo, out.Hi = r.worst(rootOfSquares, 1, boxes), -r.worst(rootOfSquares, -1, boxes)
	out.Delta = max(out.CentreLo-out.Lo, out.Hi-out.CentreHi)
	low, high := r.worst(plainSum, 1, boxes), -r.worst(plainSum, -1, boxes)
	noise := 1e-9 * max(math.Abs(out.CentreLo), math.Abs(out.CentreHi))
	out.TooCurved = curved(out.CentreLo-low, out.CentreLo-full.Lo.Outer, noise) || curved(high-out.CentreHi, full.Hi.Outer-out.CentreHi, noise)
	return out
}

// curved compares the deviation first order predicts with the proven one.
func curved(linear, proven, noise float64) bool {
	return math.Abs(linear-proven) > 0.1*math.Abs(proven)+noise || math.IsNaN(linear-proven)
}

// missing lists the spread inputs a part depends on that lack an end.
func missing(c part, in []Input) []int {
	var out []int
	for _, i := range c.from {
		if in[i].Spread && (in[i].Lo == nil || in[i].Hi == nil) {
			out = append(out, i)
		}
	}
	return out
}

// rootSum evaluates centre and derivatives over parts of the environment.
type rootSum struct {
	*search
	half    []float64 // of spread inputs, rounded up
	largest []float64
}

func newRootSum(c part, in []Input) *rootSum {
	fixed := make([]Input, len(in))
	r := &rootSum{half: make([]float64, len(in)), largest: make([]float64, len(in))}
	for i, x := range in {
		fixed[i] = x
		if !x.Spread {
			continue
		}
		sum := new(big.Rat).Add(x.Lo, x.Hi)
		centre := sum.Quo(sum, big.NewRat(2, 1))
		fixed[i].Lo, fixed[i].Hi = centre, centre
		_, r.half[i] = ratEnds(new(big.Rat).Sub(x.Hi, centre))
	}
	r.search = newSearch(c.withSign(signPos), fixed)
	r.atoms[0].force = true
	var f found
	r.assure(1000, 0, &f)
	r.evaluateOver(newBox(fixed))
	for i, g := range r.grads {
		if r.half[i] > 0 {
			r.largest[i] = max(math.Abs(g.lo), math.Abs(g.hi))
		}
	}
	return r
}

func (r *rootSum) evaluateOver(b box) ival {
	r.run(b.x, r.r)
	d := r.atoms[0].d
	r.gradient(d, r.r, r.adj, r.grads)
	r.atoms[0].over = r.r[d]
	return r.r[d]
}

// combine is how deviations are joined: not, by root sum square, or added.
type combine func(deviations []ival) ival

func centreOnly([]ival) ival { return ival{} }

func rootOfSquares(deviations []ival) ival {
	sum := ival{}
	for _, d := range deviations {
		sum = add(sum, powInt(d, 2))
	}
	return sqrt(sum)
}

func plainSum(deviations []ival) ival {
	sum := ival{}
	for _, d := range deviations {
		sum = add(sum, abs(d))
	}
	return sum
}

// worst is a lower bound of side·number - deviation over the environment, to
// within 1e-9 of the spread of what is found.
func (r *rootSum) worst(how combine, side float64, limit int) float64 {
	bound := func(b box) (lower, width float64) {
		v := r.evaluateOver(b)
		if side < 0 {
			v = neg(v)
		}
		var deviations []ival
		for i, h := range r.half {
			if h > 0 {
				deviations = append(deviations, mul(value(r.grads[i]), ival{lo: h, hi: h}))
			}
		}
		t := sub(v, how(deviations))
		return t.lo, t.hi - t.lo
	}
	queue := boxHeap{newBox(r.in)}
	queue[0].bound, _ = bound(queue[0])
	for range limit {
		b := heap.Pop(&queue).(box)
		lower, width := bound(b)
		if width <= 1e-9*math.Abs(lower) {
			heap.Push(&queue, b)
			break
		}
		low, high, ok := r.divide(b)
		if !ok {
			heap.Push(&queue, b)
			break
		}
		low.bound, _ = bound(low)
		high.bound, _ = bound(high)
		heap.Push(&queue, low)
		heap.Push(&queue, high)
	}
	return queue[0].bound
}
