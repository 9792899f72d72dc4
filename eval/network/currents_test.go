package network

import (
	"math/big"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval/bound"
)

// TestOracleCurrents is TestOracleBounds for the current, the voltage and the
// power of an element, in networks with resistances that may be 0.
func TestOracleCurrents(t *testing.T) {
	rng := rand.New(rand.NewPCG(99, 7))
	points, endless := 0, 0
	for range many(80) {
		d := draw(rng, 1+rng.IntN(6), rng.IntN(4), rng.IntN(2) == 0)
		e := d.els[rng.IntN(len(d.els))]
		kind := rng.IntN(3)
		q := []bound.Reg{d.n.Current(e), d.n.Across(e), d.n.Power(e)}[kind]
		r := d.n.Range(q, Scope{})
		if r.Why != "" {
			continue
		}
		if r.Hi > 1e9 || r.Lo < -1e9 {
			endless++
		}
		var lo, hi *big.Rat
		for m := range 60 {
			v, i, _, ok := d.solve(t, d.point(rng, m < 50))
			if !ok {
				continue
			}
			u := new(big.Rat).Sub(v[e.A], v[e.B])
			y := []*big.Rat{i[e.num], u, new(big.Rat).Mul(u, i[e.num])}[kind]
			f, _ := y.Float64()
			points++
			require.GreaterOrEqual(t, f, r.Lo-1e-12)
			require.LessOrEqual(t, f, r.Hi+1e-12)
			if lo == nil || y.Cmp(lo) < 0 {
				lo = y
			}
			if hi == nil || y.Cmp(hi) > 0 {
				hi = y
			}
		}
		if lo == nil || lo.Cmp(hi) == 0 {
			continue
		}
		middle := d.s.b.Const(new(big.Rat).Quo(new(big.Rat).Add(lo, hi), big.NewRat(2, 1)))
		require.NotEqual(t, Passed, d.n.Judge(d.s.b.Binary(bound.OpLessEq, q, middle), Scope{}).Verdict)
		require.NotEqual(t, Passed, d.n.Judge(d.s.b.Binary(bound.OpLessEq, middle, q), Scope{}).Verdict)
	}
	t.Logf("%d points inside their ranges; %d ranges without ends", points, endless)
}
