package bound

import (
	"math"
	"math/big"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Folding in machine words gives what math/big gives, or leaves it to it.
func TestShortConstIsExact(t *testing.T) {
	edge := rapid.SampledFrom([]int64{0, 1, -1, 2, math.MaxInt64, math.MinInt64, math.MinInt64 + 1, math.MaxInt64 - 1, 3 << 30, -5 << 31})
	num := rapid.OneOf(edge, rapid.Int64(), rapid.Int64Range(-1000, 1000))
	den := rapid.OneOf(rapid.Int64Range(1, math.MaxInt64), rapid.Int64Range(1, 1000))
	folded := 0
	rapid.Check(t, func(t *rapid.T) {
		x, y := big.NewRat(num.Draw(t, "a"), den.Draw(t, "b")), big.NewRat(num.Draw(t, "c"), den.Draw(t, "d"))
		a, okA := shortKey(x)
		b, okB := shortKey(y)
		if !okA || !okB {
			return
		}
		for _, op := range []Op{OpAdd, OpSub, OpMul, OpDiv, OpMin} {
			if v, ok := shortBinary(op, a, b); ok {
				want, status := ratBinary(op, x, y)
				require.Equal(t, ratOK, status)
				requireShort(t, want, v)
				folded++
			}
		}
		for _, op := range []Op{OpNeg, OpAbs, OpSqrt} {
			if v, ok := shortUnary(op, a); ok {
				want, _ := ratUnary(op, x)
				requireShort(t, want, v)
				folded++
			}
		}
	})
	require.NotZero(t, folded)
}

func requireShort(t *rapid.T, want *big.Rat, got shortConst) {
	key, ok := shortKey(want)
	require.True(t, ok)
	require.Equal(t, key, got, "reduced, its denominator above 0")
}

// Equal nodes share a register however a graph was put together.
func TestNodesAreUnique(t *testing.T) {
	ops := []Op{OpAdd, OpSub, OpMul, OpDiv, OpMin, OpMax, OpLess, OpLessEq, OpEqual}
	rapid.Check(t, func(t *rapid.T) {
		b := NewBuilder()
		regs := []Reg{b.Var(0), b.Var(1), b.Var(2), b.integer(2), b.Const(big.NewRat(1, 3)), b.Pi()}
		for range 60 {
			x, y := rapid.SampledFrom(regs).Draw(t, "x"), rapid.SampledFrom(regs).Draw(t, "y")
			op := rapid.SampledFrom(ops).Draw(t, "op")
			r := b.Binary(op, x, y)
			require.Equal(t, r, b.Binary(op, x, y))
			if !b.nodes[r].truth {
				regs = append(regs, r)
			}
		}
		seen := map[nodeKey]Reg{}
		for r := 1; r < len(b.nodes); r++ {
			key := b.nodes[r].key()
			require.Zero(t, seen[key], "%v", key)
			seen[key] = Reg(r)
			require.IsIncreasing(t, append([]int{-1}, b.Vars(Reg(r))...))
		}
	})
}
