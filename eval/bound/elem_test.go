package bound

import (
	"bufio"
	"math"
	"math/big"
	"math/rand/v2"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var functionNames = map[string]Op{
	"exp": OpExp, "ln": OpLn, "log10": OpLog10, "sin": OpSin, "cos": OpCos, "tan": OpTan,
	"asin": OpAsin, "acos": OpAcos, "atan": OpAtan, "sqrt": OpSqrt,
}

// steps counts the float64 values from lo to hi.
func steps(lo, hi float64) int64 { return ordered(hi) - ordered(lo) }

func ordered(x float64) int64 {
	b := int64(math.Float64bits(x))
	if b < 0 {
		return math.MinInt64 - b
	}
	return b
}

func bigOf(x float64) *big.Float { return newWork().SetFloat64(x) }

// requireHolds checks that a float64 interval holds a value and is no wider
// than ulps neighbours.
func requireHolds(t *testing.T, v ival, want *big.Float, ulps int64, what string) {
	t.Helper()
	require.False(t, v.u, what)
	if !math.IsInf(v.lo, 0) {
		require.LessOrEqual(t, bigOf(v.lo).Cmp(want), 0, "%s: %v above %v", what, v.lo, want)
	}
	if !math.IsInf(v.hi, 0) {
		require.GreaterOrEqual(t, bigOf(v.hi).Cmp(want), 0, "%s: %v below %v", what, v.hi, want)
	}
	require.LessOrEqual(t, steps(v.lo, v.hi), ulps, "%s: %v..%v", what, v.lo, v.hi)
}

// TestFunctionTable checks the interval functions and the 256-bit ones against
// values computed with mpmath (testdata/bound/functions.py).
func TestFunctionTable(t *testing.T) {
	file, err := os.Open("../../testdata/bound/functions.txt")
	require.NoError(t, err)
	defer file.Close()
	lines := 0
	for scan := bufio.NewScanner(file); scan.Scan(); {
		f := strings.Fields(scan.Text())
		if f[0] == "#" {
			continue
		}
		lines++
		x, err := strconv.ParseFloat(f[1], 64)
		require.NoError(t, err)
		want, _, err := big.ParseFloat(f[2], 10, workBits, big.ToNearestEven)
		require.NoError(t, err)
		op, what := functionNames[f[0]], f[0]+" "+f[1]
		v := function(op, ival{lo: x, hi: x})
		width := int64(4)
		switch {
		case op == OpSqrt:
			width = 2
		case op == OpAsin, op == OpAcos, op == OpTan && finite(v):
			width = 24
		case op == OpTan:
			width = math.MaxInt64 // next to a pole
			v.u = false
		case op == OpExp && x < expBottom:
			width = math.MaxInt64 // 0 to the smallest normal number
		}
		requireHolds(t, v, want, width, what)
		w := wideOfRat(new(big.Rat).SetFloat64(x))
		got, known := wideUnary(op, w)
		require.True(t, known, what)
		enclosure := got.enclosure()
		tol := new(big.Float).Mul(new(big.Float).Abs(want), big.NewFloat(1e-70))
		require.LessOrEqual(t, new(big.Float).Sub(enclosure.lo, want).Cmp(tol), 0, what)
		require.GreaterOrEqual(t, new(big.Float).Sub(enclosure.hi, want).Cmp(new(big.Float).Neg(tol)), 0, what)
		gap := new(big.Float).Sub(enclosure.hi, enclosure.lo)
		if want.Sign() != 0 {
			require.Less(t, gap.MantExp(nil), max(want.MantExp(nil), -100)-255, what)
		}
	}
	require.Greater(t, lines, 2000)
}

func finite(v ival) bool { return !math.IsInf(v.lo, 0) && !math.IsInf(v.hi, 0) }

// errorIn is the error of a float64 result in its own neighbours' distance.
func errorIn(got float64, want *big.Float) float64 {
	near, _ := want.Float64()
	ulp := math.Abs(nextUp(math.Abs(near)) - math.Abs(near))
	d, _ := new(big.Float).Quo(new(big.Float).Sub(bigOf(got), want), bigOf(ulp)).Float64()
	return math.Abs(d)
}

// TestFunctionErrors measures the library functions against the 256-bit ones
// and fails if one comes near the slack that the intervals allow for.
func TestFunctionErrors(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 11))
	anyOf := func(lo, hi float64) func() float64 {
		return func() float64 {
			if rng.IntN(2) == 0 {
				return lo + rng.Float64()*(hi-lo)
			}
			return hi * math.Exp2(-40*rng.Float64())
		}
	}
	cases := []struct {
		op   Op
		most float64
		near func(float64) float64
		arg  func() float64
	}{
		{OpExp, slack, expNear, anyOf(-708, 708)},
		{OpLn, slack, logNear, anyOf(0, 10)},
		{OpLog10, slack, log10Near, anyOf(0, 10)},
		{OpSin, slack, func(x float64) float64 { v, _ := sinCos(x, 0); return v }, anyOf(-200, 200)},
		{OpCos, slack, func(x float64) float64 { v, _ := sinCos(x, 1); return v }, anyOf(-200, 200)},
		{OpAtan, slack, math.Atan, anyOf(-10, 10)},
	}
	for _, c := range cases {
		worst, at := 0.0, 0.0
		for range 500 {
			x := c.arg()
			w, ok := wideOfRat(new(big.Rat).SetFloat64(x)).apply(c.op)
			require.True(t, ok)
			if e := errorIn(c.near(x), w.lo); e > worst {
				worst, at = e, x
			}
		}
		t.Logf("op %d: largest error %.3f neighbours at %v", c.op, worst, at)
		assert.Less(t, worst, 0.85*c.most, "op %d at %v", c.op, at)
	}
}
