package bound

import (
	"math"
	"math/big"
	"testing"

	"github.com/stretchr/testify/require"
)

// one builds a claim text OP limit over inputs x, y, z... .
func claimOf(text string, op Op, limit string, names ...string) *Program {
	b := NewBuilder()
	regs := map[string]Reg{}
	for i, n := range names {
		regs[n] = b.Var(i)
	}
	return b.Extract(b.Binary(op, readFormula(b, text, regs), b.Const(rat(limit))))
}

// never is a limit no value of these tests reaches.
const never = "1e300"

func TestDivisionThroughZero(t *testing.T) {
	p := claimOf("1/x", OpLessEq, never, "x")
	d := Decide(p, 0, []Input{between("-1", "2")}, Options{})
	require.NotEqual(t, Proven, d.Outcome)
	p = claimOf("abs(x)/x", OpLessEq, "2", "x")
	d = Decide(p, 0, []Input{between("-1", "2")}, Options{})
	require.Equal(t, Undecided, d.Outcome)
	require.Equal(t, CauseUndefined, d.Cause)
	require.Equal(t, OpDiv, d.Undefined.Op)
	require.Equal(t, "0", d.Undefined.At[0].RatString())
	require.Less(t, d.Boxes, 3000)
	// 0 only at a point no float64 hits: 3·x = 1
	p = claimOf("abs(x)/(3*x-1)", OpLessEq, never, "x")
	d = Decide(p, 0, []Input{between("0", "1")}, Options{Boxes: 2000})
	require.NotEqual(t, Proven, d.Outcome)
	require.Equal(t, "1/3", d.Undefined.At[0].RatString())
	// guarded: never evaluated at 0
	b := NewBuilder()
	x := b.Var(0)
	guarded := b.If(b.Binary(OpLess, b.Const(rat("0.5")), x), b.Binary(OpDiv, b.Const(rat("1")), x), b.Const(rat("3")))
	p = b.Extract(b.Binary(OpLessEq, guarded, b.Const(rat("3"))))
	require.Equal(t, Proven, Decide(p, 0, []Input{between("-1", "1")}, Options{}).Outcome)
}

func TestTangentOverItsPole(t *testing.T) {
	b := NewBuilder()
	p := b.Extract(b.Binary(OpLessEq, b.Unary(OpTan, b.Var(0)), b.Const(rat("1e9"))))
	d := Decide(p, 0, []Input{between("1", "2")}, Options{})
	require.NotEqual(t, Proven, d.Outcome)
	if d.Outcome == Broken {
		truth, decided := Holds(p, 0, d.Point)
		require.True(t, decided && !truth)
	}
	b = NewBuilder()
	tan := b.Unary(OpTan, b.Var(0))
	p = b.Extract(b.Binary(OpLessEq, b.Binary(OpMul, tan, b.Const(rat("0"))), b.Const(rat("1"))))
	d = Decide(p, 0, []Input{between("1", "2")}, Options{})
	require.Equal(t, CauseUndefined, d.Cause)
	require.Equal(t, OpTan, d.Undefined.Op)
	require.Less(t, d.Boxes, 5000)
}

func TestRootBelowZero(t *testing.T) {
	b := NewBuilder()
	root := b.Unary(OpSqrt, b.Var(0))
	p := b.Extract(b.Binary(OpLessEq, root, b.Const(rat("10"))), root)
	in := []Input{between("-1", "4")}
	d := Decide(p, 0, in, Options{})
	require.Equal(t, CauseUndefined, d.Cause)
	require.Equal(t, OpSqrt, d.Undefined.Op)
	require.Negative(t, d.Undefined.At[0].Sign())
	e := Range(p, 1, in, Options{})
	require.NotNil(t, e.Undefined)
	require.LessOrEqual(t, e.Lo.Outer, 0.0)
	require.Equal(t, 2.0, e.Hi.Outer)
	e = Range(p, 1, []Input{between("-4", "-1")}, Options{})
	require.True(t, e.Empty)
	require.NotNil(t, e.Undefined)
}

func TestUnboundedInputs(t *testing.T) {
	free := Input{}
	above := Input{Lo: rat("0")}
	// 0 times any real is 0
	b := NewBuilder()
	zero := b.Binary(OpMul, b.Var(0), b.Var(1))
	p := b.Extract(b.Binary(OpEqual, zero, b.Const(rat("0"))), zero)
	in := []Input{between("0", "0"), free}
	require.Equal(t, Proven, Decide(p, 0, in, Options{}).Outcome)
	e := Range(p, 1, in, Options{})
	require.Equal(t, 0.0, e.Lo.Outer)
	require.Equal(t, 0.0, e.Hi.Outer)
	// but [0, tiny] times unbounded is unbounded
	e = Range(p, 1, []Input{between("0", "1e-300"), above}, Options{})
	require.Equal(t, 0.0, e.Lo.Outer)
	require.True(t, e.Hi.Unbounded)
	require.False(t, math.IsNaN(e.Hi.Inner))
	// a sum with an unbounded input has one end
	e = Range(build("x+y", []string{"x", "y"}), 0, []Input{between("1", "2"), above}, Options{})
	require.Equal(t, 1.0, e.Lo.Outer)
	require.True(t, e.Hi.Unbounded)
	require.False(t, e.Lo.Unbounded)
	// the quotient of unbounded ends is no number
	e = Range(build("x/y", []string{"x", "y"}), 0, []Input{{Lo: rat("1")}, {Lo: rat("1")}}, Options{})
	require.LessOrEqual(t, e.Lo.Outer, 1e-9)
	require.GreaterOrEqual(t, e.Lo.Outer, 0.0)
	require.True(t, e.Hi.Unbounded)
	// a square of anything is not below 0
	require.Equal(t, Proven, Decide(claimOf("-x^2", OpLessEq, "0", "x"), 0, []Input{free}, Options{}).Outcome)
	// and a bounded function of anything is bounded
	require.Equal(t, Proven, Decide(claimOf("atan(x)", OpLess, "1.6", "x"), 0, []Input{free}, Options{}).Outcome)
	d := Decide(claimOf("x", OpLessEq, "5", "x"), 0, []Input{{Lo: rat("0"), SureLo: rat("1"), SureHi: rat("1")}}, Options{})
	require.Equal(t, CauseWide, d.Cause)
	require.Equal(t, []int{0}, d.Lacking)
}

func TestOverflowAndSubnormals(t *testing.T) {
	huge := between("1e200", "1e201")
	e := Range(build("x*x*x", []string{"x"}), 0, []Input{huge}, Options{})
	require.Equal(t, math.MaxFloat64, e.Lo.Outer, "beyond float64, not below it")
	require.Equal(t, "1"+zeros(600), e.Lo.Exact.RatString())
	require.Equal(t, Proven, Decide(claimOf("x^3-x^3*0.5", OpLessEq, "1e700", "x"), 0, []Input{huge}, Options{}).Outcome)
	require.Equal(t, Broken, Decide(claimOf("x^3", OpLessEq, "1e602", "x"), 0, []Input{huge}, Options{}).Outcome)
	require.Equal(t, Proven, Decide(claimOf("x^3", OpLessEq, "1e603", "x"), 0, []Input{huge}, Options{}).Outcome, "equal at the corner")
	small := between("1e-200", "2e-200")
	require.Equal(t, Proven, Decide(claimOf("-x*x", OpLess, "0", "x"), 0, []Input{small}, Options{}).Outcome, "underflow is not 0")
	sub := between("1e-310", "2e-310")
	require.Equal(t, Proven, Decide(claimOf("ln(x)", OpLessEq, "-712", "x"), 0, []Input{sub}, Options{}).Outcome)
	require.Equal(t, Broken, Decide(claimOf("ln(x)", OpLessEq, "-713.5", "x"), 0, []Input{sub}, Options{}).Outcome)
	d := Decide(claimOf("exp(exp(x))", OpLessEq, "1e100", "x"), 0, []Input{between("1", "20")}, Options{})
	require.Equal(t, Broken, d.Outcome)
}

func zeros(n int) string {
	out := make([]byte, n)
	for i := range out {
		out[i] = '0'
	}
	return string(out)
}

func TestSixtyInputs(t *testing.T) {
	b := NewBuilder()
	sum, product := b.Const(rat("0")), b.Const(rat("1"))
	var in []Input
	for i := range 60 {
		x := b.Var(i)
		sum = b.Binary(OpAdd, sum, b.Binary(OpMul, x, b.Binary(OpSub, b.Const(rat("3")), x)))
		product = b.Binary(OpMul, product, b.Binary(OpDiv, x, b.Binary(OpAdd, x, b.Const(rat("0.1")))))
		in = append(in, between("0.9", "1.1"))
	}
	p := b.Extract(b.Binary(OpLessEq, sum, b.Const(rat("125.4"))), b.Binary(OpLess, sum, b.Const(rat("125.4"))),
		b.Binary(OpLessEq, product, b.Const(rat("1"))), product)
	d := Decide(p, 0, in, Options{})
	require.Equal(t, Proven, d.Outcome, "a tie at the corner: 60·1.1·1.9")
	d = Decide(p, 1, in, Options{})
	require.Equal(t, Broken, d.Outcome)
	require.Equal(t, "11/10", d.Point[59].RatString())
	// x/(x + 0.1) sixty times over is true but beyond the budget: open, not more
	d = Decide(p, 2, in, Options{Boxes: 2000})
	require.NotEqual(t, Broken, d.Outcome)
	require.LessOrEqual(t, d.Boxes, 2000)
	e := Range(p, 3, in, Options{Boxes: 500})
	require.LessOrEqual(t, e.Lo.Outer, e.Lo.Inner)
	require.LessOrEqual(t, e.Hi.Inner, e.Hi.Outer)
	// interior extremes in every input cannot be settled by corners
	for i := range in {
		in[i] = between("1", "2")
	}
	require.LessOrEqual(t, Decide(p, 1, in, Options{Boxes: 500}).Boxes, 1000)
}

func TestTiesThatAreNotRational(t *testing.T) {
	// sqrt(2)·sqrt(2) = 2 is equal but for rounding, and not decided
	b := NewBuilder()
	x, y := b.Var(0), b.Var(1)
	product := b.Binary(OpMul, b.Unary(OpSqrt, x), b.Unary(OpSqrt, y))
	p := b.Extract(b.Binary(OpLessEq, product, b.Const(rat("2"))))
	d := Decide(p, 0, []Input{between("1", "2"), between("1", "2")}, Options{})
	require.Equal(t, Undecided, d.Outcome)
	require.Equal(t, CauseTie, d.Cause)
	// perfect squares are decided
	d = Decide(p, 0, []Input{between("1/9", "1/4"), between("1", "16")}, Options{})
	require.Equal(t, Proven, d.Outcome)
	// pi is told from a rational in 15 digits
	b = NewBuilder()
	p = b.Extract(b.Binary(OpLess, b.Pi(), b.Binary(OpMul, b.Var(0), b.Const(rat("3.14159265358979")))))
	require.Equal(t, Broken, Decide(p, 0, []Input{between("1", "1")}, Options{}).Outcome)
}

func TestKleene(t *testing.T) {
	b := NewBuilder()
	x := b.Var(0)
	bad := b.Binary(OpLess, b.Const(rat("0")), b.Unary(OpSqrt, x)) // no value below 0
	low := b.Binary(OpLess, x, b.Const(rat("1")))                  // true below 1
	p := b.Extract(b.Binary(OpOr, bad, low), b.Binary(OpAnd, bad, b.Unary(OpNot, low)), b.Binary(OpAnd, bad, low))
	in := []Input{between("-2", "-1")}
	require.Equal(t, Proven, Decide(p, 0, in, Options{}).Outcome)
	require.Equal(t, Broken, Decide(p, 1, in, Options{}).Outcome)
	d := Decide(p, 2, in, Options{})
	require.Equal(t, CauseUndefined, d.Cause)
	require.Equal(t, OpSqrt, d.Undefined.Op)
}

func TestAt(t *testing.T) {
	b := NewBuilder()
	x := b.Var(0)
	p := b.Extract(b.Binary(OpDiv, x, b.Const(rat("3"))), b.Unary(OpExp, x), b.Unary(OpLn, x))
	lo, hi, exact, undefined := At(p, 0, []*big.Rat{rat("0.1")})
	require.Nil(t, undefined)
	require.Equal(t, "1/30", exact.RatString())
	require.LessOrEqual(t, steps(lo, hi), int64(1))
	lo, hi, exact, undefined = At(p, 1, []*big.Rat{rat("1")})
	require.Nil(t, undefined)
	require.Nil(t, exact)
	require.LessOrEqual(t, steps(lo, hi), int64(6))
	require.True(t, lo <= math.E && math.E <= hi)
	_, _, _, undefined = At(p, 2, []*big.Rat{rat("-1")})
	require.Equal(t, OpLn, undefined.Op)
}

func TestTurnsAndContributions(t *testing.T) {
	p := claimOf("v*b/(a+b)", OpLessEq, "1.2", "a", "b", "v")
	in := []Input{between("99e3", "101e3"), between("46530", "47470"), between("3.0", "3.6")}
	v, kind := Turns(p, 0, 2, in, Options{})
	require.Equal(t, Monotone, kind)
	exact := new(big.Rat).Quo(new(big.Rat).Mul(rat("1.2"), rat("146470")), rat("47470"))
	want, _ := exact.Float64()
	got, _ := v.Float64()
	require.InEpsilon(t, want, got, 2e-9)
	// the turn of a short number is that number
	v, kind = Turns(claimOf("x*y", OpLessEq, "18", "x", "y"), 0, 0, []Input{between("1", "5"), between("3", "3.6")}, Options{})
	require.Equal(t, Monotone, kind)
	require.Equal(t, "5", v.RatString())
	v, kind = Turns(claimOf("x+y", OpLessEq, "18", "x", "y"), 0, 0, []Input{between("1", "20"), between("3", "3.6")}, Options{})
	require.Equal(t, Monotone, kind)
	require.Equal(t, "72/5", v.RatString())
	_, kind = Turns(claimOf("x*(1-x)", OpLessEq, "0.2", "x"), 0, 0, []Input{between("0", "1")}, Options{})
	require.Equal(t, NotMonotone, kind)
	_, kind = Turns(claimOf("atan(x)", OpLessEq, "2", "x"), 0, 0, []Input{between("0", "1")}, Options{})
	require.Equal(t, Never, kind)

	number := build("v*b/(a+b)", []string{"a", "b", "v"})
	shares := Contributions(number, 0, in, false)
	require.InDelta(t, 1, shares[0]+shares[1]+shares[2], 1e-12)
	require.Greater(t, shares[2], 0.8)
	require.InDelta(t, shares[0], shares[1], 0.01, "both resistors are 1 %")
	require.Equal(t, []float64{0, 0, 0}, Contributions(number, 0, []Input{between("1", "1"), between("1", "1"), between("1", "1")}, true))
}
