package bound

import (
	"math"
	"math/big"
	"testing"

	"github.com/stretchr/testify/require"
)

// Products, powers and quotients beyond the range of float64, by test vectors for
// IEEE 1788-2015: the products from the tests of FI_LIB 1.2 (testcase mulii), the
// others from those of libieeep1788 (M. Nehmeier; minimal_pown_test and
// minimal_recip_test), both in the portable form by O. Heimlich. They are of
// directed rounding, so the ends of an enclosure are equal to them.
func TestUnderflowByIEEE1788(t *testing.T) {
	const large, least = math.MaxFloat64, math.SmallestNonzeroFloat64
	exact := func(f float64) *big.Rat { return new(big.Rat).SetFloat64(f) }
	point := func(lo, hi float64) Input {
		return Input{Lo: exact(lo), Hi: exact(hi), SureLo: exact(lo), SureHi: exact(hi)}
	}
	check := func(b *Builder, r Reg, lo, hi float64, in ...Input) {
		got := Range(b.Extract(r), 0, in, Options{})
		require.Equal(t, lo, got.Lo.Outer+0, "%v", in)
		require.Equal(t, hi, got.Hi.Outer+0, "%v", in)
	}
	for _, v := range []struct{ x, y, lo, hi float64 }{{1e-320, 1e-320, 0, least}, {-1e-320, -1e-320, 0, least},
		{-1e-320, 1e-320, -least, 0}} {
		b := NewBuilder()
		check(b, b.Binary(OpMul, b.Var(0), b.Var(1)), v.lo, v.hi, point(v.x, v.x), point(v.y, v.y))
	}
	for _, v := range []struct {
		lo, hi         float64
		n              int
		wantLo, wantHi float64
	}{
		{large, large, -2, 0, least}, {-large, -large, -2, 0, least}, {large, large, -8, 0, least}, {-large, -large, -8, 0, least},
		{large, large, -3, 0, least}, {-large, -large, -3, -least, 0}, {large, large, -7, 0, least}, {-large, -large, -7, -least, 0},
		{large, large, -1, 0x0.4p-1022, 0x0.4000000000001p-1022}, {-large, -large, -1, -0x0.4000000000001p-1022, -0x0.4p-1022},
		{large, large, 2, large, inf}, {-large, -large, 3, -inf, -large}, {large, large, 7, large, inf},
	} {
		b := NewBuilder()
		check(b, b.PowInt(b.Var(0), v.n), v.wantLo, v.wantHi, point(v.lo, v.hi))
	}
	b := NewBuilder()
	check(b, b.Binary(OpDiv, b.integer(1), b.Var(0)), -inf, -0x0.4p-1022, point(-large, -least))
}

// What lies below the least float64 is not 0.
func TestTinyIsNotZero(t *testing.T) {
	for _, bits := range []int{1075, 1076, 1100, 1127, 1128, 1200, 3000, 15000} {
		for _, num := range []int64{1, 3, -1, -5} {
			tiny := new(big.Rat).SetFrac(big.NewInt(num), new(big.Int).Lsh(big.NewInt(1), uint(bits)))
			lo, hi := ratEnds(tiny)
			require.LessOrEqual(t, new(big.Rat).SetFloat64(lo).Cmp(tiny), 0, "%d/2^%d", num, bits)
			require.GreaterOrEqual(t, new(big.Rat).SetFloat64(hi).Cmp(tiny), 0, "%d/2^%d", num, bits)
			b := NewBuilder()
			x := b.Binary(OpMul, b.Const(tiny), b.Var(0))
			in := []Input{between("1", "2")}
			for _, k := range []struct {
				of   Reg
				want Outcome
			}{
				{b.Binary(OpEqual, x, b.integer(0)), Broken},
				{b.Binary(OpLess, b.integer(0), b.Unary(OpAbs, x)), Proven}, {b.Binary(OpLessEq, b.Unary(OpAbs, x), b.integer(0)), Broken},
			} {
				require.Equal(t, k.want, Decide(b.Extract(k.of), 0, in, Options{}).Outcome, "%d/2^%d", num, bits)
			}
		}
	}
}

// TestHighPowers: exponents beyond 32 bits neither wrap nor run away. In fifty squarings of 2 nothing is at most 6,
// and of a half everything is.
func TestHighPowers(t *testing.T) {
	for _, squarings := range []int{29, 30, 31, 32, 33, 64, 100} {
		for _, half := range []bool{false, true} {
			b := NewBuilder()
			r, most := b.Var(0), b.Const(big.NewRat(6, 1))
			for range squarings {
				r = b.Binary(OpMul, r, r)
			}
			lo, hi := big.NewRat(2, 1), big.NewRat(3, 1)
			want := Broken
			if half {
				lo, hi, want = big.NewRat(1, 3), big.NewRat(1, 2), Proven
			}
			in := []Input{{Lo: lo, Hi: hi, SureLo: lo, SureHi: hi}}
			got := Decide(b.Extract(b.Binary(OpLessEq, r, most)), 0, in, Options{})
			require.Equal(t, want, got.Outcome, "%d squarings, below one: %v", squarings, half)
		}
	}
	b := NewBuilder()
	for _, n := range []int{1<<30 + 1, -1<<30 - 1, 1 << 32, 1<<62 + 1, -1 << 63} {
		got := Range(b.Extract(b.PowInt(b.Var(0), n)), 0, []Input{{Lo: big.NewRat(-1, 1), Hi: big.NewRat(-1, 1)}}, Options{})
		want := 1.0
		if n%2 != 0 {
			want = -1
		}
		require.LessOrEqual(t, got.Lo.Outer, want, n)
		require.GreaterOrEqual(t, got.Hi.Outer, want, n)
		require.InDelta(t, want, got.Hi.Outer, 1e-6, n)
	}
}
