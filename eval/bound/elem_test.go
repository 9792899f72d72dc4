package bound

import (
	"math"
	"math/big"
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

// referenceBits is the length of the published values.
const referenceBits = 448

func bigOf(x float64) *big.Float { return new(big.Float).SetPrec(referenceBits).SetFloat64(x) }

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

// valueOf is a value of a function computed with mpmath (testdata/bound/functions.py).
type valueOf struct {
	name string
	op   Op
	x    float64
	want *big.Float
}

func publishedValues(t *testing.T) []valueOf {
	text, err := os.ReadFile("../../testdata/bound/functions.txt")
	require.NoError(t, err)
	var out []valueOf
	for line := range strings.Lines(string(text)) {
		f := strings.Fields(line)
		if f[0] == "#" {
			continue
		}
		x, err := strconv.ParseFloat(f[1], 64)
		require.NoError(t, err)
		want, _, err := big.ParseFloat(f[2], 10, referenceBits, big.ToNearestEven)
		require.NoError(t, err)
		out = append(out, valueOf{f[0] + " " + f[1], functionNames[f[0]], x, want})
	}
	require.Greater(t, len(out), 2000)
	return out
}

// TestFunctionTable checks the interval functions against published values.
func TestFunctionTable(t *testing.T) {
	for _, c := range publishedValues(t) {
		v := function(c.op, point(c.x))
		width := int64(4)
		switch {
		case (c.op == OpSin || c.op == OpCos || c.op == OpTan) && math.Abs(v.lo) < 1e-6 && math.Abs(c.x) > 1:
			width = math.MaxInt64 // next to a zero, where the argument is reduced less sharply
		case c.op == OpSqrt:
			width = 2
		case c.op == OpAsin, c.op == OpAcos, c.op == OpTan && finite(v):
			width = 24
		case c.op == OpTan:
			width = math.MaxInt64 // next to a pole
			v.u = false
		case c.op == OpExp && c.x < expBottom:
			width = math.MaxInt64 // 0 to the smallest normal number
		}
		requireHolds(t, v, c.want, width, c.name)
	}
}

func finite(v ival) bool { return !math.IsInf(v.lo, 0) && !math.IsInf(v.hi, 0) }

// errorIn is the error of a float64 result beyond what is allowed, in its own
// neighbours' distance.
func errorIn(got float64, want *big.Float, allowed float64) float64 {
	near, _ := want.Float64()
	ulp := math.Abs(nextUp(math.Abs(near)) - math.Abs(near))
	d, _ := new(big.Float).Quo(new(big.Float).Sub(bigOf(got), want), bigOf(ulp)).Float64()
	return max(0, math.Abs(d)-allowed/ulp)
}

// TestFunctionErrors measures the library functions against published values
// and fails if one comes near the slack that the intervals allow for.
func TestFunctionErrors(t *testing.T) {
	near := map[Op]func(float64) float64{
		OpExp: math.Exp, OpLn: logNear, OpLog10: log10Near, OpAtan: math.Atan,
		OpSin: math.Sin, OpCos: math.Cos,
	}
	worst, at := map[Op]float64{}, map[Op]string{}
	for _, c := range publishedValues(t) {
		f := near[c.op]
		if f == nil || c.op == OpExp && (c.x < expBottom || c.x > expTop) ||
			(c.op == OpSin || c.op == OpCos) && math.Abs(c.x) > circleReach || c.want.Sign() == 0 {
			continue
		}
		allowed := 0.0
		if c.op == OpSin || c.op == OpCos {
			allowed = math.Abs(c.x) * reduceError
		}
		if e := errorIn(f(c.x), c.want, allowed); e > worst[c.op] {
			worst[c.op], at[c.op] = e, c.name
		}
	}
	require.Len(t, worst, len(near))
	for op, e := range worst {
		t.Logf("largest error %.3f neighbours at %v", e, at[op])
		assert.Less(t, e, 0.85*slack, at[op])
	}
}
