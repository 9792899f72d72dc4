package trade

import (
	"math"
	"math/big"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"guardband/eval/bound"
	"guardband/eval/formula"
	"guardband/units"
)

// scaling is how much larger the seven base units are made; each factor is a
// square, so that half exponents stay rational.
type scaling [7]*big.Rat

// of is the factor by which a quantity of a dimension changes its number.
func (s scaling) of(t units.Type) *big.Rat {
	f := big.NewRat(1, 1)
	for i, halves := range t.Dim {
		for range int(math.Abs(float64(halves))) {
			if halves > 0 {
				f.Mul(f, s[i])
			} else {
				f.Quo(f, s[i])
			}
		}
	}
	return f
}

// scaled evaluates a body with parameters and literals in other base units.
func scaled(t require.TestingT, f formula.Function, vals []*big.Rat, s scaling) (float64, bool) {
	e, errs := formula.Parse(f.Body)
	require.Empty(t, errs)
	formula.Walk(e.Root, func(n *formula.Node) {
		if n.Lit != nil {
			q := *n.Lit
			q.SI = new(big.Rat).Mul(q.SI, s.of(q.Type))
			n.Lit = &q
		}
	})
	d := newDesk()
	for i, p := range f.Params {
		v := new(big.Rat).Mul(vals[i], s.of(p.Type))
		d.vals[p.Name] = formula.Value{Class: formula.Number, Type: p.Type, Reg: d.b.Const(v)}
	}
	v, errs := lang().Check(e, d, d.b)
	require.Empty(t, errs)
	p := d.b.Extract(v.Reg)
	lo, hi, _, undefined := bound.At(p, 0, make([]*big.Rat, len(p.Inputs())))
	return (lo + hi) / 2, undefined == nil
}

// draw picks a plausible number for a parameter.
func draw(t *rapid.T, p formula.Param) *big.Rat {
	switch {
	case p.Type.Kind == units.Point:
		return big.NewRat(rapid.Int64Range(2400, 4200).Draw(t, p.Name), 10)
	case p.Unit == "", p.Unit == "dB":
		return big.NewRat(rapid.Int64Range(1, 160).Draw(t, p.Name), 10)
	}
	return big.NewRat(rapid.Int64Range(1, 1000).Draw(t, p.Name), rapid.Int64Range(1, 1000).Draw(t, p.Name+" part"))
}

// TestHomogeneous: in other base units every formula gives the same quantity.
// Every run looks at some of the table, all runs together at all of it.
func TestHomogeneous(t *testing.T) {
	all := Functions()
	rapid.Check(t, func(t *rapid.T) {
		unit, other := scaling{}, scaling{}
		for i := range unit {
			unit[i] = big.NewRat(1, 1)
			other[i] = big.NewRat(rapid.Int64Range(1, 9).Draw(t, "up"), rapid.Int64Range(1, 9).Draw(t, "down"))
		}
		first := rapid.IntRange(0, len(all)-1).Draw(t, "first")
		for k := range 15 {
			homogeneous(t, all[(first+k)%len(all)], unit, other)
		}
	})
}

func homogeneous(t *rapid.T, f formula.Function, unit, other scaling) {
	vals := make([]*big.Rat, len(f.Params))
	for i, p := range f.Params {
		vals[i] = draw(t, p)
	}
	want, ok := scaled(t, f, vals, unit)
	got, ok2 := scaled(t, f, vals, other)
	require.Equal(t, ok, ok2, f.Name)
	if !ok || math.IsInf(want, 0) {
		return
	}
	factor, _ := other.of(f.Result).Float64()
	require.InDelta(t, want*factor, got, 1e-9*(math.Abs(want*factor)+magnitude(f, factor)), f.Name)
}

// magnitude allows for results that are small differences of large numbers.
func magnitude(f formula.Function, factor float64) float64 {
	if f.Result.Kind == units.Point {
		return 300 * factor
	}
	return 1e-3 * factor
}
