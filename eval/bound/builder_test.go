package bound

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestBuilderFolds(t *testing.T) {
	b := NewBuilder()
	x, y := b.Var(0), b.Var(1)
	require.Equal(t, b.Binary(OpAdd, x, y), b.Binary(OpAdd, y, x), "one register for equal values")
	v, ok := b.ConstOf(b.Binary(OpAdd, num(b, "0.1"), num(b, "0.2")))
	require.True(t, ok)
	require.Equal(t, "3/10", v.RatString())
	v, ok = b.ConstOf(b.Unary(OpSqrt, num(b, "0.25")))
	require.True(t, ok)
	require.Equal(t, "1/2", v.RatString())
	_, ok = b.ConstOf(b.Unary(OpSqrt, num(b, "2")))
	require.False(t, ok)
	v, ok = b.ConstOf(b.Binary(OpSub, x, x))
	require.True(t, ok)
	require.Zero(t, v.Sign())
	// what may have no value does not cancel
	root := b.Unary(OpSqrt, x)
	_, ok = b.ConstOf(b.Binary(OpSub, root, root))
	require.False(t, ok)
	_, ok = b.ConstOf(b.Binary(OpMul, root, num(b, "0")))
	require.False(t, ok)
	_, ok = b.ConstOf(b.Binary(OpDiv, num(b, "1"), num(b, "0")))
	require.False(t, ok)
	require.Equal(t, []int{0, 1}, b.Vars(b.Binary(OpMul, b.Binary(OpAdd, y, x), x)))
	p := b.Extract(b.Binary(OpMul, y, num(b, "2")))
	require.Equal(t, []int{1}, p.Inputs())
	require.Equal(t, 1, p.Roots())
}

// TestSubstituteKeepsMissingValues puts a root in the place of an input that
// has a value everywhere: the copy must not be taken for one that has, too.
func TestSubstituteKeepsMissingValues(t *testing.T) {
	b := NewBuilder()
	x, y := b.Var(0), b.Var(1)
	sum := b.Binary(OpAdd, x, num(b, "1"))
	copied := b.Substitute(sum, map[int]Reg{0: b.Unary(OpSqrt, y)})
	claim := b.Binary(OpLessEq, b.Binary(OpMul, copied, num(b, "0")), num(b, "1"))
	d := Decide(b.Extract(claim), 0, []Input{between("-2", "-1")}, Options{})
	require.Equal(t, CauseUndefined, d.Cause)
	v, ok := b.ConstOf(b.Substitute(sum, map[int]Reg{0: num(b, "2")}))
	require.True(t, ok)
	require.Equal(t, "3", v.RatString())
}
