package bound

import (
	"math/big"
	"testing"

	"github.com/stretchr/testify/require"
)

// A corner that lies exactly on the edge of where an operation has a value is
// rounded outward past it; its value must not be lost.
func TestCornerOnTheEdge(t *testing.T) {
	b := NewBuilder()
	x, y := b.Var(0), b.Var(1)
	d := b.Binary(OpSub, b.Binary(OpMin, x, b.Const(rat("-0.1"))), y)
	knots := []Knot{{rat("-3"), rat("1")}, {rat("0.1"), rat("2")}, {rat("1"), rat("-1")}}
	p := b.Extract(b.Table(d, knots), b.Unary(OpSqrt, b.Binary(OpAdd, b.Binary(OpMul, d, d), b.Binary(OpAdd, x, y))))
	in := []Input{between("-0.6", "-0.2"), between("-0.3", "2.4")}
	e := Range(p, 0, in, Options{Boxes: 300})
	require.Equal(t, big.NewRat(1, 1), e.Lo.Exact)
	require.LessOrEqual(t, e.Lo.Outer, 1.0)
	require.False(t, Decide(b.Extract(b.Binary(OpLess, b.Const(rat("1")), b.Table(d, knots))), 0, in, Options{}).Outcome == Proven)

	b = NewBuilder()
	x, y = b.Var(0), b.Var(1)
	root := b.Unary(OpSqrt, b.Binary(OpAdd, b.Binary(OpMul, x, x), b.Binary(OpSub, y, b.Const(rat("0.09")))))
	p = b.Extract(root)
	e = Range(p, 0, []Input{between("0.3", "0.7"), between("0", "0.1")}, Options{Boxes: 300})
	require.LessOrEqual(t, e.Lo.Outer, 0.0)
	require.GreaterOrEqual(t, e.Hi.Outer, 0.7)
}

// One to a power that is no rational is one exactly, so that a comparison with
// one is decided.
func TestOneToAnyPower(t *testing.T) {
	b := NewBuilder()
	x := b.Var(0)
	irrational := b.Binary(OpPow, b.Const(rat("0.1")), b.Const(rat("-0.1")))
	p := b.Extract(b.Binary(OpLess, b.Binary(OpAdd, x, x), b.Binary(OpPow, b.Binary(OpAdd, x, x), irrational)))
	d := Decide(p, 0, []Input{between("0.5", "0.5")}, Options{})
	require.Equal(t, Broken, d.Outcome)
	holds, decided := Holds(p, 0, d.Point)
	require.True(t, decided)
	require.False(t, holds)
}

// A branch that hangs on a tie of irrational numbers gives the values of both
// branches; where they agree, the value.
func TestBranchOnATie(t *testing.T) {
	b := NewBuilder()
	x := b.Var(0)
	tie := b.Binary(OpLess, b.Binary(OpPow, x, x), b.Unary(OpSqrt, x)) // equal at 1/2
	p := b.Extract(b.If(tie, x, b.Binary(OpMul, b.Const(rat("3")), b.Binary(OpMul, x, b.Const(rat("2"))))),
		b.If(tie, b.Const(rat("2")), b.Binary(OpMul, b.Const(rat("4")), x)),
		b.If(tie, b.Unary(OpLn, b.Binary(OpSub, x, b.Const(rat("1")))), x))
	half := []*big.Rat{big.NewRat(1, 2)}
	lo, hi, exact, undefined := At(p, 0, half)
	require.Nil(t, undefined)
	require.Nil(t, exact)
	require.Equal(t, [2]float64{0.5, 3}, [2]float64{lo, hi})
	_, _, exact, undefined = At(p, 1, half)
	require.Nil(t, undefined)
	require.Equal(t, big.NewRat(2, 1), exact)
	_, _, _, undefined = At(p, 2, half)
	require.NotNil(t, undefined, "one branch has no value")
	in := []Input{between("0.5", "0.5")}
	require.Nil(t, Range(p, 0, in, Options{}).Undefined)
	require.NotNil(t, Range(p, 2, in, Options{}).Undefined)
}

// The pieces of a table beside the one that an irrational argument lies on do
// not widen its value.
func TestTableBesideAKnot(t *testing.T) {
	b := NewBuilder()
	x := b.Var(0)
	knots := []Knot{{rat("-3"), rat("1")}, {rat("0.1"), rat("2")}, {rat("1"), rat("-1")}, {rat("4"), rat("0.5")}}
	p := b.Extract(b.Unary(OpAsin, b.Table(b.Unary(OpSin, x), knots)))
	_, _, _, undefined := At(p, 0, []*big.Rat{big.NewRat(1768559433534669, 1<<50)}) // the sine is 1 - 3e-32
	require.Nil(t, undefined)
}

// The exact point of one box does not stand for the end of a range where
// another box, dropped since, attained less by a hair.
func TestExactEndBesideAFlatPart(t *testing.T) {
	b := NewBuilder()
	x := b.Var(0)
	knots := []Knot{{rat("-3"), rat("1")}, {rat("0.1"), rat("2")}, {rat("1"), rat("-1")}, {rat("4"), rat("0.5")}} // below 0 from 0.7 on
	table := b.Table(x, knots)
	p := b.Extract(b.Binary(OpMax, table, b.Const(new(big.Rat))), b.Binary(OpMin, b.Unary(OpNeg, table), b.Const(new(big.Rat))))
	in := []Input{between("-1.4", "1")}
	for _, boxes := range []int{10, 100, 300, 20000} {
		low, high := Range(p, 0, in, Options{Boxes: boxes}).Lo, Range(p, 1, in, Options{Boxes: boxes}).Hi
		require.LessOrEqual(t, low.Outer, 0.0)
		require.GreaterOrEqual(t, high.Outer, 0.0)
		for _, e := range []End{low, high} {
			if e.Exact != nil {
				require.Zero(t, e.Exact.Sign())
			}
		}
	}
}
