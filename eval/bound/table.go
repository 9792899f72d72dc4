package bound

import (
	"math/big"
	"sort"
)

func newTable(knots []Knot) *table {
	if len(knots) < 2 {
		panic("bound: a table needs two knots")
	}
	t := &table{}
	for i, k := range knots {
		t.knots = append(t.knots, Knot{X: new(big.Rat).Set(k.X), Y: new(big.Rat).Set(k.Y)})
		if i == 0 {
			continue
		}
		run := new(big.Rat).Sub(k.X, knots[i-1].X)
		if run.Sign() <= 0 {
			panic("bound: the knots of a table must rise")
		}
		slope := new(big.Rat).Sub(k.Y, knots[i-1].Y)
		t.slopes = append(t.slopes, slope.Quo(slope, run))
	}
	return t
}

func (t *table) first() *big.Rat { return t.knots[0].X }

func (t *table) last() *big.Rat { return t.knots[len(t.knots)-1].X }

// segment is the index of the segment that x lies on, the left one of a knot.
func (t *table) segment(x *big.Rat) int {
	return sort.Search(len(t.slopes)-1, func(i int) bool { return t.knots[i+1].X.Cmp(x) >= 0 })
}

// at gives the exact value at x, nil outside the knots.
func (t *table) at(x *big.Rat) *big.Rat {
	if x.Cmp(t.first()) < 0 || x.Cmp(t.last()) > 0 {
		return nil
	}
	i := t.segment(x)
	y := new(big.Rat).Sub(x, t.knots[i].X)
	y.Mul(y, t.slopes[i])
	return y.Add(y, t.knots[i].Y)
}

// within is the part of a between the first knot and the last, whole where that
// is all of it; lo is nil where there is none.
func (t *table) within(a ival) (lo, hi *big.Rat, whole bool) {
	lo, hi, whole = t.first(), t.last(), true
	if a.empty() {
		return nil, nil, false
	}
	if x := new(big.Rat).SetFloat64(a.lo); x == nil || x.Cmp(lo) < 0 {
		whole = false
	} else {
		lo = x
	}
	if x := new(big.Rat).SetFloat64(a.hi); x == nil || x.Cmp(hi) > 0 {
		whole = false
	} else {
		hi = x
	}
	if lo.Cmp(hi) > 0 {
		lo = nil
	}
	return lo, hi, whole
}

// over encloses the values over a, which may reach outside the knots.
func (t *table) over(a ival) ival {
	lo, hi, whole := t.within(a)
	if lo == nil {
		return emptyIval
	}
	out := hull(ivalOfRat(t.at(lo)), ivalOfRat(t.at(hi)))
	for i := t.segment(lo) + 1; i < len(t.knots) && t.knots[i].X.Cmp(hi) < 0; i++ {
		out = hull(out, ivalOfRat(t.knots[i].Y))
	}
	out.u = a.u || !whole
	return out
}

// slope encloses the derivatives over a.
func (t *table) slope(a ival) ival {
	lo, hi, _ := t.within(a)
	if lo == nil {
		return entireIval
	}
	out := emptyIval
	for i := t.segment(lo); i < len(t.slopes) && (t.knots[i].X.Cmp(hi) <= 0 || out.empty()); i++ {
		out = hull(out, ivalOfRat(t.slopes[i]))
	}
	out.u = false
	return out
}
