package bound

import (
	"container/heap"
	"math"
	"math/big"
	"slices"
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
	// LoSign is the sign of Lo, LoSure whether it is known. An end within
	// rounding of 0 is worked out in rationals where the number is affine; elsewhere
	// an end that no piece at all brings below 0 counts as not below it.
	LoSign int
	LoSure bool
	// Coefficients are the largest |cᵢ| per program input, 0 for others.
	Coefficients []float64
	// TooCurved: Σ|cᵢaᵢ| differs from the proven range by more than 10 %, so
	// first order does not describe the number.
	TooCurved bool
	// Missing are the spread inputs without both ends, or, where the number has
	// no end, all inputs without; nothing else is filled.
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
	switch {
	case full.Undefined != nil || full.Empty:
		out.Undefined = full.Undefined
		if out.Undefined == nil {
			out.Undefined = &Undefined{Reg: c.regs[c.root()]}
		}
		return out
	case full.Lo.Unbounded || full.Hi.Unbounded:
		if out.Missing = endless(c, in); out.Missing != nil {
			return out
		}
	}
	r := newRootSum(c, pick(in, c.from))
	for i, at := range c.from {
		out.Coefficients[at] = r.largest[i]
	}
	boxes := opt.boxesOf(len(c.code)) / 8
	low := func(how combine) float64 { return r.worst(how, 1, boxes).lo }
	high := func(how combine) float64 { return -r.worst(how, -1, boxes).lo }
	out.CentreLo, out.CentreHi = low(centreOnly), high(centreOnly)
	end := r.worst(rootOfSquares, 1, boxes)
	out.Lo, out.Hi = end.lo, high(rootOfSquares)
	out.LoSign, out.LoSure = r.lowSign(end, full.Lo)
	if out.LoSure && out.LoSign >= 0 {
		out.Lo = max(out.Lo, 0)
	}
	out.Delta = max(out.CentreLo-out.Lo, out.Hi-out.CentreHi)
	least, most := low(plainSum), high(plainSum)
	noise := 1e-9 * max(math.Abs(out.CentreLo), math.Abs(out.CentreHi))
	out.TooCurved = curved(out.CentreLo-least, out.CentreLo-full.Lo.Outer, noise) ||
		curved(most-out.CentreHi, full.Hi.Outer-out.CentreHi, noise)
	return out
}

// SureRootSumSquare is RootSumSquare over the sure sets. Missing are the inputs
// without one.
func SureRootSumSquare(p *Program, root int, in []Input, opt Options) Combined {
	var without []int
	for _, i := range p.cut(p.roots[root], false).from {
		if !in[i].hasSure() {
			without = append(without, i)
		}
	}
	if without != nil {
		return Combined{Missing: without}
	}
	return RootSumSquare(p, root, sureInputs(in), opt)
}

// curved compares the deviation first order predicts with the proven one.
func curved(linear, proven, noise float64) bool {
	return math.Abs(linear-proven) > 0.1*math.Abs(proven)+noise || math.IsNaN(linear-proven)
}

// missing lists the spread inputs a part depends on that lack an end, and the
// inputs whose sets contradict each other.
func missing(c part, in []Input) []int {
	var out []int
	for _, i := range c.from {
		if in[i].Spread && (in[i].Lo == nil || in[i].Hi == nil) || !in[i].Consistent() {
			out = append(out, i)
		}
	}
	return out
}

// endless lists the inputs a part depends on that lack an end.
func endless(c part, in []Input) []int {
	var out []int
	for _, i := range c.from {
		if in[i].Lo == nil || in[i].Hi == nil {
			out = append(out, i)
		}
	}
	return out
}

// rootSum evaluates centre and derivatives over parts of the environment.
type rootSum struct {
	*search
	half    []float64  // of spread inputs, rounded up
	halves  []*big.Rat // the same exactly, nil for others
	largest []float64
}

func newRootSum(c part, in []Input) *rootSum {
	fixed := make([]Input, len(in))
	r := &rootSum{half: make([]float64, len(in)), halves: make([]*big.Rat, len(in)), largest: make([]float64, len(in))}
	for i, x := range in {
		fixed[i] = x
		if !x.Spread {
			continue
		}
		sum := new(big.Rat).Add(x.Lo, x.Hi)
		centre := sum.Quo(sum, big.NewRat(2, 1))
		fixed[i].Lo, fixed[i].Hi = centre, centre
		r.halves[i] = new(big.Rat).Sub(x.Hi, centre)
		_, r.half[i] = ratEnds(r.halves[i])
	}
	r.search = newSearch(c.withSign(signPos), fixed)
	r.atoms[0].force = true
	var f found
	r.assure(1000, 0, &f)
	r.evaluateOver(newBox(fixed))
	for i, half := range r.half { // further rows of grads are of conditions
		if g := r.grads[i]; half > 0 {
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

// worst encloses the lowest side·number - deviation over the environment, to
// within 1e-9 of the number, or as the boxes allow.
func (r *rootSum) worst(how combine, side float64, limit int) ival {
	least := inf // the number sought is at most this
	scale := 0.0
	bound := func(b box) (lower float64) {
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
		least = min(least, t.hi)
		scale = min(math.Abs(v.lo), math.Abs(v.hi))
		return t.lo
	}
	queue := boxHeap{newBox(r.in)}
	queue[0].bound = bound(queue[0])
	for range limit {
		b := heap.Pop(&queue).(box)
		if bound(b); least-b.bound <= 1e-9*max(math.Abs(b.bound), scale) {
			heap.Push(&queue, b)
			break
		}
		low, high, ok := r.divide(b)
		if !ok {
			heap.Push(&queue, b)
			break
		}
		low.bound, high.bound = bound(low), bound(high)
		heap.Push(&queue, low)
		heap.Push(&queue, high)
	}
	return ival{lo: queue[0].bound, hi: least}
}

// lowSign is the sign of the low end of a root sum square of which an enclosure
// is at hand, and the end over all pieces.
func (r *rootSum) lowSign(end ival, all End) (sign int, sure bool) {
	switch {
	case end.lo > 0:
		return 1, true
	case end.hi < 0:
		return -1, true
	}
	if sign, sure = r.exactSign(); sure {
		return sign, true
	}
	switch {
	case all.Exact != nil && all.Exact.Sign() >= 0:
		return all.Exact.Sign(), true
	case all.Outer > 0:
		return 1, true
	}
	return 0, false
}

// exactSign is the sign of centre - √Σ(cᵢaᵢ)² in rationals, known where the number
// is affine: that of centre² - Σ(cᵢaᵢ)² where the centre is not below 0.
func (r *rootSum) exactSign() (sign int, sure bool) {
	target := r.atoms[0].d
	if !r.affine(target) || r.endless() {
		return 0, false
	}
	at := make([]*big.Rat, len(r.in))
	for i, x := range r.in {
		at[i] = x.Lo
	}
	value := func(i int, x *big.Rat) *big.Rat {
		moved := slices.Clone(at)
		moved[i] = x
		return r.evaluate(int(target)+1, moved)[target].rat
	}
	centre := r.evaluate(int(target)+1, at)[target].rat
	if centre == nil {
		return 0, false
	}
	for i, x := range r.in {
		v := value(i, x.Hi)
		if v == nil {
			return 0, false
		}
		if v.Cmp(centre) < 0 {
			centre, at[i] = v, x.Hi
		}
	}
	if centre.Sign() < 0 {
		return -1, true
	}
	left := new(big.Rat).Mul(centre, centre)
	for i, a := range r.halves {
		if a == nil {
			continue
		}
		d := value(i, new(big.Rat).Add(at[i], a))
		if d == nil {
			return 0, false
		}
		d = new(big.Rat).Sub(d, centre)
		left.Sub(left, d.Mul(d, d))
	}
	return left.Sign(), true
}

// affine tells that a register is a sum of constants and multiples of inputs.
func (p *Program) affine(at int32) bool {
	moves := make([]bool, at+1)
	for i := range moves {
		in := &p.code[i]
		a := moves[in.a]
		b := twoOperands(in.op) && moves[in.b]
		switch in.op {
		case OpConst, OpPi:
			continue
		case OpVar:
			a = true
		case OpNeg, OpAdd, OpSub:
		case OpMul:
			if a && b {
				return false
			}
		case OpDiv:
			if b {
				return false
			}
		default:
			if a || b {
				return false
			}
		}
		moves[i] = a || b
	}
	return true
}
