package bound

import (
	"math/big"
	"math/rand/v2"
	"os"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// soundnessPoints is the number of points sampled by TestSoundness:
// GUARDBAND_SOUNDNESS_POINTS, or 10^7.
func soundnessPoints(t *testing.T) int {
	text := os.Getenv("GUARDBAND_SOUNDNESS_POINTS")
	if text == "" {
		return 10_000_000
	}
	n, err := strconv.Atoi(text)
	require.NoError(t, err)
	return n
}

// formula draws a random number over k inputs, returning its register.
func formula(t *rapid.T, b *Builder, x []Reg, depth int) Reg {
	kind := rapid.IntRange(0, 19).Draw(t, "kind")
	if depth == 0 || kind < 3 {
		if rapid.IntRange(0, 4).Draw(t, "leaf") == 0 {
			return b.Const(big.NewRat(rapid.Int64Range(-30, 30).Draw(t, "num"), 10))
		}
		return x[rapid.IntRange(0, len(x)-1).Draw(t, "input")]
	}
	one := func() Reg { return formula(t, b, x, depth-1) }
	switch kind {
	case 3, 4:
		return b.Binary(OpAdd, one(), one())
	case 5, 6:
		return b.Binary(OpSub, one(), one())
	case 7, 8, 9:
		return b.Binary(OpMul, one(), one())
	case 10, 11:
		return b.Binary(OpDiv, one(), one())
	case 12:
		return b.PowInt(one(), rapid.IntRange(-2, 5).Draw(t, "power"))
	case 13:
		return b.Unary(OpSqrt, one())
	case 14:
		ops := []Op{OpExp, OpLn, OpLog10, OpSin, OpCos, OpTan, OpAsin, OpAcos, OpAtan}
		return b.Unary(rapid.SampledFrom(ops).Draw(t, "function"), one())
	case 15:
		return b.Unary(rapid.SampledFrom([]Op{OpAbs, OpNeg}).Draw(t, "sign"), one())
	case 16:
		return b.Binary(rapid.SampledFrom([]Op{OpMin, OpMax}).Draw(t, "extreme"), one(), one())
	case 17:
		return b.Binary(OpPow, one(), one())
	case 18:
		return b.Table(one(), []Knot{{rat("-3"), rat("1")}, {rat("0.1"), rat("2")}, {rat("1"), rat("-1")}, {rat("4"), rat("0.5")}})
	}
	return b.If(statement(t, b, x, depth-1), one(), one())
}

// statement draws a random predicate.
func statement(t *rapid.T, b *Builder, x []Reg, depth int) Reg {
	if depth > 0 && rapid.IntRange(0, 2).Draw(t, "joined") == 0 {
		op := rapid.SampledFrom([]Op{OpAnd, OpOr}).Draw(t, "junction")
		s := b.Binary(op, statement(t, b, x, depth-1), statement(t, b, x, depth-1))
		if rapid.Bool().Draw(t, "not") {
			return b.Unary(OpNot, s)
		}
		return s
	}
	op := rapid.SampledFrom([]Op{OpLess, OpLessEq, OpLessEq, OpEqual}).Draw(t, "comparison")
	return b.Binary(op, formula(t, b, x, depth), formula(t, b, x, depth))
}

// randomInput draws a set with decimal ends; the sure set is part of the wide.
func randomInput(t *rapid.T) Input {
	lo := rapid.Int64Range(-40, 40).Draw(t, "lo")
	width := rapid.Int64Range(0, 30).Draw(t, "width")
	in := Input{Lo: big.NewRat(lo, 10), Hi: big.NewRat(lo+width, 10), Spread: true}
	in.SureLo, in.SureHi = in.Lo, in.Hi
	if rapid.IntRange(0, 3).Draw(t, "sure") == 0 && width > 1 {
		in.SureLo, in.SureHi = big.NewRat(lo+1, 10), big.NewRat(lo+width/2+1, 10)
	}
	return in
}

// samplePoint draws a point of the sets: a float64 value inside, or an exact end
// by its enclosure.
func samplePoint(rng *rand.Rand, top, ends, x []ival) {
	for i := range top {
		lo, hi := nextUp(top[i].lo), nextDown(top[i].hi)
		bits := rng.Uint64()
		if lo >= hi || bits&7 < 2 {
			x[i] = ends[2*i+int(bits>>3&1)]
			continue
		}
		v := min(max(lo+float64(bits>>11)*0x1p-53*(hi-lo), lo), hi)
		x[i] = ival{lo: v, hi: v}
	}
}

// exactEnds encloses the ends of every input.
func exactEnds(in []Input) []ival {
	var out []ival
	for i := range in {
		out = append(out, ivalOfRat(in[i].Lo), ivalOfRat(in[i].Hi))
	}
	return out
}

// TestSoundness draws formulas, ranges and predicates and samples points: none
// may lie outside the bounds, no proven predicate may be false or without a
// value, and every breaking point must break when evaluated exactly.
func TestSoundness(t *testing.T) {
	const perFormula = 1 << 12
	total, formulas, counts := soundnessPoints(t), 0, [3]int{}
	sampled := 0
	check := func(t *rapid.T) {
		if sampled >= total {
			return
		}
		formulas++
		b := NewBuilder()
		k := rapid.IntRange(1, 4).Draw(t, "inputs")
		x := make([]Reg, k)
		for i := range x {
			x[i] = b.Var(i)
		}
		number, claim := formula(t, b, x, 3), statement(t, b, x, 2)
		p := b.Extract(number, claim)
		in := make([]Input, len(p.Inputs()))
		for i := range in {
			in[i] = randomInput(t)
		}
		e := Range(p, 0, in, Options{Boxes: 300})
		d := Decide(p, 1, in, Options{Boxes: 300})
		counts[d.Outcome]++
		requireRange(t, p, e)
		requireBreaks(t, p, in, d)
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 9))
		ends, top := exactEnds(in), wideBox(in)
		point, r := make([]ival, len(in)), make([]ival, len(p.code))
		for range perFormula {
			samplePoint(rng, top, ends, point)
			p.run(point, r)
			requireSample(t, e, d, r[p.roots[0]], r[p.roots[1]])
		}
		sampled += perFormula
	}
	for sampled < total {
		rapid.Check(t, check)
	}
	t.Logf("%d points, %d formulas; proven %d, broken %d, undecided %d", sampled, formulas, counts[Proven], counts[Broken], counts[Undecided])
	require.Greater(t, counts[Proven], formulas/50)
	require.Greater(t, counts[Broken], formulas/50)
}

// requireSample checks the value v and the truth c at one point.
func requireSample(t *rapid.T, e Extent, d Decision, v, c ival) {
	switch {
	case v.empty() && e.Undefined == nil:
		t.Fatalf("no value at a point, but defined everywhere")
	case v.empty():
	case e.Empty && v.u: // the end is no float64, and its enclosure holds points beside the one without a value
	case v.hi < e.Lo.Outer || v.lo > e.Hi.Outer:
		t.Fatalf("value %v outside %v..%v", v, e.Lo.Outer, e.Hi.Outer)
	case e.Empty:
		t.Fatalf("value %v of an empty range", v)
	}
	if d.Outcome == Proven && (c.surelyFalse() || c.empty()) {
		t.Fatalf("proven, but %v at a point", c)
	}
}

// requireRange checks that the attained ends are attained.
func requireRange(t *rapid.T, p *Program, e Extent) {
	for side, end := range [2]End{e.Lo, e.Hi} {
		if end.At == nil || end.Outer == inf || end.Outer == -inf {
			continue
		}
		lo, hi, exact, undefined := At(p, 0, end.At)
		if undefined != nil {
			t.Fatalf("end %+v has no value: %+v", end, undefined)
		}
		if side == 0 && lo > end.Inner || side == 1 && hi < end.Inner {
			t.Fatalf("end %+v is not attained: %v..%v", end, lo, hi)
		}
		if end.Exact != nil && (exact == nil || exact.Cmp(end.Exact) != 0) {
			t.Fatalf("end %+v is not exact: %v", end, exact)
		}
	}
	if u := e.Undefined; u != nil && u.At != nil {
		if _, _, _, undefined := At(p, 0, u.At); undefined == nil {
			t.Fatalf("has a value at %v", u.At)
		}
	}
}

// requireBreaks checks a breaking point exactly, and that it lies in the sure
// sets.
func requireBreaks(t *rapid.T, p *Program, in []Input, d Decision) {
	if d.Outcome == Broken {
		truth, decided := Holds(p, 1, d.Point)
		if truth || !decided {
			t.Fatalf("the breaking point %v does not break", d.Point)
		}
		for i := range in {
			if !in[i].sureHas(d.Point[i]) {
				t.Fatalf("the breaking point %v is outside the sure set of input %d", d.Point, i)
			}
		}
	}
	if u := d.Undefined; u != nil && u.At != nil {
		if truth, decided := Holds(p, 1, u.At); decided {
			t.Fatalf("has the value %v at %v", truth, u.At)
		}
	}
}
