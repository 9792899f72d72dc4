package bound

import (
	"math"
	"math/big"
	"sort"
)

func newTable(knots []Knot) *table {
	if len(knots) < 2 {
		panic("bound: a table needs two knots")
	}
	t := &table{}
	for i, k := range knots {
		own := Knot{X: new(big.Rat).Set(k.X), Y: new(big.Rat).Set(k.Y)}
		t.knots = append(t.knots, own)
		t.x = append(t.x, ivalOfRat(own.X))
		t.y = append(t.y, ivalOfRat(own.Y))
		if i == 0 {
			continue
		}
		prev := t.knots[i-1]
		run := new(big.Rat).Sub(own.X, prev.X)
		if run.Sign() <= 0 {
			panic("bound: the knots of a table must rise")
		}
		slope := new(big.Rat).Sub(own.Y, prev.Y)
		slope.Quo(slope, run)
		t.ratio = append(t.ratio, slope)
		t.slopes = append(t.slopes, ivalOfRat(slope))
	}
	return t
}

// at gives the exact value at x, nil outside the knots.
func (t *table) at(x *big.Rat) *big.Rat {
	last := len(t.knots) - 1
	if x.Cmp(t.knots[0].X) < 0 || x.Cmp(t.knots[last].X) > 0 {
		return nil
	}
	i := sort.Search(last, func(i int) bool { return t.knots[i+1].X.Cmp(x) >= 0 })
	y := new(big.Rat).Sub(x, t.knots[i].X)
	y.Mul(y, t.ratio[i])
	return y.Add(y, t.knots[i].Y)
}

// segment is the index of the last segment that begins at or below x.
func (t *table) segment(x float64) int {
	n := len(t.slopes)
	i := sort.Search(n, func(i int) bool { return t.x[i].lo > x })
	return max(i-1, 0)
}

// over encloses the values over a, which may reach outside the knots.
func (t *table) over(a ival) ival {
	last := len(t.x) - 1
	u := a.u
	if a.lo < t.x[0].hi || a.hi > t.x[last].lo {
		// Touching an end that is no float counts as outside unless the end is exact.
		u = u || a.lo < t.x[0].lo || a.hi > t.x[last].hi || !t.x[0].thin() || !t.x[last].thin()
	}
	if a.hi < t.x[0].lo || a.lo > t.x[last].hi || a.empty() {
		return emptyIval
	}
	lo, hi := max(a.lo, t.x[0].lo), min(a.hi, t.x[last].hi)
	first, end := t.segment(math.Nextafter(lo, math.Inf(-1))), t.segment(hi)
	out := emptyIval
	for i := first; i <= end; i++ {
		part := t.onSegment(i, lo, hi)
		out = hull(out, part)
	}
	out.u = u
	return out
}

// onSegment encloses the values of segment i over the part of lo..hi in it.
func (t *table) onSegment(i int, lo, hi float64) ival {
	from, to := max(lo, t.x[i].lo), min(hi, t.x[i+1].hi)
	if from > to {
		return emptyIval
	}
	a, b := t.y[i], t.y[i+1]
	if from > t.x[i].hi {
		a = t.pointOn(i, from)
	}
	if to < t.x[i+1].lo {
		b = t.pointOn(i, to)
	}
	return hull(a, b)
}

// pointOn encloses the value of segment i's line at x, measured from the
// nearer knot.
func (t *table) pointOn(i int, x float64) ival {
	left, right := t.x[i], t.x[i+1]
	k := i
	if right.lo-x < x-left.hi {
		k = i + 1
	}
	return add(t.y[k], mul(t.slopes[i], sub(ival{lo: x, hi: x}, t.x[k])))
}

// slope encloses the derivatives over a.
func (t *table) slope(a ival) ival {
	first, end := t.segment(math.Nextafter(a.lo, math.Inf(-1))), t.segment(a.hi)
	out := t.slopes[first]
	for i := first + 1; i <= end; i++ {
		out = hull(out, t.slopes[i])
	}
	return out
}
