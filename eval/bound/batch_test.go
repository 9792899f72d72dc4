package bound

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// TestBatchesAgree checks that batches give what single evaluations give:
// intervals to the bit, points inside the interval of the same point.
func TestBatchesAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := NewBuilder()
		x := []Reg{b.Var(0), b.Var(1), b.Var(2)}
		number, claim := formula(t, b, x, 3), statement(t, b, x, 2)
		p := b.Extract(number, claim)
		in := make([]Input, len(p.Inputs()))
		for i := range in {
			in[i] = randomInput(t)
		}
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		batch, top := newIvalBatch(p, 1), wideBox(in)
		boxes, columns := make([][]ival, lanes), make([][]float64, len(in))
		for k := range boxes {
			boxes[k] = make([]ival, len(in))
		}
		for i := range in {
			lo, hi := batch.input(i)
			columns[i] = make([]float64, lanes)
			for k := range lanes {
				a := top[i].lo + rng.Float64()*(top[i].hi-top[i].lo)
				columns[i][k] = a
				v := ival{lo: a, hi: a + rng.Float64()*(top[i].hi-a)}
				boxes[k][i], lo[k], hi[k] = v, v.lo, v.hi
			}
		}
		batch.run(lanes)
		r, near := make([]ival, len(p.code)), make([]float64, lanes)
		Points(p, 0, columns, near)
		for k := range lanes {
			p.run(boxes[k], r)
			if got := batch.get(p.roots[1], k); got != r[p.roots[1]] {
				t.Fatalf("batch %v, single %v", got, r[p.roots[1]])
			}
			if got := batch.get(p.roots[0], k); got != r[p.roots[0]] {
				t.Fatalf("batch %v, single %v", got, r[p.roots[0]])
			}
			for i := range in {
				boxes[k][i] = ival{lo: columns[i][k], hi: columns[i][k]}
			}
			p.run(boxes[k], r)
			if v := r[p.roots[0]]; !v.u && math.Abs(v.hi-v.lo) < 1e-9 && !(near[k] >= v.lo-1e-6*(1+math.Abs(v.lo)) && near[k] <= v.hi+1e-6*(1+math.Abs(v.hi))) {
				t.Fatalf("point %v, interval %v", near[k], v)
			}
		}
	})
}

// TestEvaluationDoesNotAllocate holds the inner loops to that.
func TestEvaluationDoesNotAllocate(t *testing.T) {
	p, in := slackProgram()
	x, r, adj, g := wideBox(in), make([]ival, len(p.code)), make([]ival, len(p.code)), make([]ival, len(in))
	require.Zero(t, testing.AllocsPerRun(100, func() { p.run(x, r) }))
	require.Zero(t, testing.AllocsPerRun(100, func() { p.gradient(p.roots[0], r, adj, g) }))
	batch := newIvalBatch(p, 0)
	require.Zero(t, testing.AllocsPerRun(100, func() { batch.run(lanes) }))
	b := NewBuilder()
	claim, _ := simpleClaim(b)
	q := b.Extract(claim)
	require.Zero(t, testing.AllocsPerRun(100, func() { Decide(q, 0, in, Options{}) }))
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
