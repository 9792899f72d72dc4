package bound

import (
	"encoding/json"
	"fmt"
	"maps"
	"math"
	"math/big"
	"os"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

type rangeCase struct {
	Name, Formula, Source string
	Inputs                map[string][2]string
	Lo, Hi                string
}

func rangeCases(t testing.TB) []rangeCase {
	data, err := os.ReadFile("../../testdata/bound/ranges.json")
	require.NoError(t, err)
	var out []rangeCase
	require.NoError(t, json.Unmarshal(data, &out))
	return out
}

func (c rangeCase) program() (*Program, []Input) {
	b := NewBuilder()
	names := map[string]Reg{}
	var in []Input
	for i, n := range slices.Sorted(maps.Keys(c.Inputs)) {
		names[n] = b.Var(i)
		in = append(in, between(c.Inputs[n][0], c.Inputs[n][1]))
	}
	p := b.Extract(readFormula(b, c.Formula, names))
	return p, pick(in, p.Inputs())
}

// ridges are the formulas whose extreme is a whole curve, along which the search
// runs out of boxes; the figure is the miss allowed in place of 1e-9.
var ridges = map[string]float64{
	"quality of a two-pole filter": 2e-7, // highest wherever a = b
	"beat of two angles":           2e-7, // the sine of x + y, 1 along a line
	"squares of sine and cosine":   3e-7, // 1 everywhere
	"Goldstein and Price":          2e-5, // a polynomial of degree 8
}

// TestTightness compares the bounds with the true ranges of
// testdata/bound/ranges.json: no bound may lie inside, and none outside by
// more than 1e-9 of the larger of the end and the width of the range.
func TestTightness(t *testing.T) {
	cases := rangeCases(t)
	require.GreaterOrEqual(t, len(cases), 40)
	t.Logf("%-30s %-24s %-24s %9s %9s %7s %9s", "formula", "low", "high", "low off", "high off", "boxes", "time")
	for _, c := range cases {
		p, in := c.program()
		start := time.Now()
		e := Range(p, 0, in, Options{})
		took := time.Since(start)
		lo, hi := rat(c.Lo), rat(c.Hi)
		width, _ := new(big.Rat).Sub(hi, lo).Float64()
		lowOff, highOff := off(lo, e.Lo.Outer), -off(hi, e.Hi.Outer)
		trueLo, _ := lo.Float64()
		trueHi, _ := hi.Float64()
		lowTol, highTol := max(math.Abs(trueLo), width), max(math.Abs(trueHi), width)
		mark := ""
		if e.Lo.Exact != nil {
			mark += " low exact"
		}
		if e.Hi.Exact != nil {
			mark += " high exact"
		}
		t.Logf("%-30s %-24s %-24s %9.1e %9.1e %7d %9s%s", c.Name, fmt.Sprint(e.Lo.Outer), fmt.Sprint(e.Hi.Outer),
			lowOff, highOff, e.Boxes, took.Round(time.Microsecond), mark)
		assert.GreaterOrEqual(t, lowOff, -1e-28*lowTol, c.Name)
		assert.GreaterOrEqual(t, highOff, -1e-28*highTol, c.Name)
		miss := max(1e-9, ridges[c.Name])
		assert.LessOrEqual(t, lowOff, miss*lowTol, c.Name)
		assert.LessOrEqual(t, highOff, miss*highTol, c.Name)
		assert.Nil(t, e.Undefined, c.Name)
	}
}

// off is how far a bound lies below a true end.
func off(end *big.Rat, bound float64) float64 {
	if math.IsInf(bound, 0) {
		return math.Inf(1)
	}
	d, _ := new(big.Rat).Sub(end, exactOf(bound)).Float64()
	return d
}

// TestBudgetBoundsWork: what cancels is proven at once, and a long formula gets
// fewer boxes.
func TestBudgetBoundsWork(t *testing.T) {
	b := NewBuilder()
	q := b.Var(0)
	twice := b.Binary(OpDiv, b.Binary(OpAdd, q, q), q)
	d := Decide(b.Extract(b.Binary(OpLessEq, twice, b.Const(rat("2")))), 0, []Input{between("1", "3")}, Options{})
	require.Equal(t, Proven, d.Outcome)
	require.LessOrEqual(t, d.Boxes, 3)

	zero := []Input{between("-1", "3")}
	d = Decide(b.Extract(b.Binary(OpLessEq, twice, b.Const(rat("2")))), 0, zero, Options{})
	require.NotEqual(t, Proven, d.Outcome, "0/0 has no value")

	require.Equal(t, defaultBoxes, Options{}.boxesOf(usualCode-1))
	require.Equal(t, defaultBoxes/11, Options{}.boxesOf(10*usualCode))
	require.Equal(t, 16, Options{Boxes: 1}.boxesOf(1))
}

// settledGap makes an unknown gap equal to itself.
func settledGap(d Decision) Decision {
	if math.IsNaN(d.Gap) {
		d.Gap = -1
	}
	return d
}

// TestDeterminism checks that a decision and a range depend on their arguments
// only.
func TestDeterminism(t *testing.T) {
	for _, c := range cases() {
		p := c.program()
		in := pick(c.in, p.Inputs())
		require.Equal(t, settledGap(Decide(p, 0, in, Options{Boxes: 500})), settledGap(Decide(p, 0, in, Options{Boxes: 500})), c.name)
	}
	for _, c := range rangeCases(t)[:40] {
		p, in := c.program()
		require.Equal(t, Range(p, 0, in, Options{Boxes: 200}), Range(p, 0, in, Options{Boxes: 200}), c.Name)
	}
}
