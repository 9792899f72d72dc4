package network

import (
	"math/big"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval/bound"
)

// TestVague draws networks in which some things are not known: resistances
// without a value, leakages nobody noted, pins without a model, outputs in
// their states, clamps and junctions. All that is stated is one number each,
// so a verdict must agree with every operating point that the oracle finds:
// none may lie outside a range, break a claim that passed, or keep one that
// failed.
func TestVague(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 7))
	worlds, verdicts := 0, map[Verdict]int{}
	for range many(250) {
		s := newSheet()
		n := New(s.b, s, Limits{Boxes: 500})
		con := func(r *big.Rat) bound.Reg { return s.b.Const(r) }
		given := []*big.Rat{zero, big.NewRat(rng.Int64N(60), 10), nil}
		nodes := []Node{n.Given("GND", con(zero)), n.Given("V", con(given[1])), n.Node("A")}
		for range 1 + rng.IntN(3) {
			nodes, given = append(nodes, n.Node("N")), append(given, nil)
		}
		if rng.IntN(4) == 0 {
			n.Anything(nodes[len(nodes)-1], "J1")
		}
		unknown := n.nodes[len(nodes)-1].anyone != ""
		var els []*Element
		var draws []func() (thing, law) // how the oracle may take it
		add := func(e *Element, f func() (thing, law)) {
			els = append(els, e)
			draws = append(draws, func() (thing, law) {
				x, l := f()
				x.a, x.b = int(e.A), int(e.B)
				return x, l
			})
		}
		passive := func(v, i *big.Rat) bool {
			return v.Sign() == i.Sign() || v.Sign() == 0
		}
		vague := func(l law) func() (thing, law) {
			return func() (thing, law) {
				if rng.IntN(2) == 0 {
					return thing{kind: 1, conducts: true, value: big.NewRat(rng.Int64N(80)-20, 10)}, l
				}
				return thing{kind: 2, value: big.NewRat(rng.Int64N(40)-10, 1000)}, l
			}
		}
		d := n.Driver("U1.P", "low", "high", "off")
		pin := nodes[2]
		rows := []Point{{Max: s.con("0.4"), At: s.con("4m")}}
		pull := func(v, i *big.Rat) bool {
			return passive(v, i) && (i.Sign() != 0 || v.Sign() == 0) && (i.Sign() <= 0 || i.Cmp(rat("4m")) > 0 || le(v, rat("0.4")))
		}
		low := d.In("low", n.Pull("low", pin, nodes[0], rows))
		high := d.In("high", n.Pull("high", nodes[1], pin, rows))
		state := rng.IntN(3)
		switch state {
		case 0:
			add(low, vague(pull))
		case 1:
			add(high, vague(pull))
		}
		for range 2 + rng.IntN(4) {
			a, b := nodes[rng.IntN(len(nodes))], nodes[rng.IntN(len(nodes))]
			if a == b {
				continue
			}
			switch rng.IntN(6) {
			case 0:
				add(n.Resistor("X", a, b, 0), func() (thing, law) {
					return thing{kind: 0, value: big.NewRat(rng.Int64N(4)*rng.Int64N(1000), 1)}, nil
				})
			case 1:
				add(n.Clamp("C", a, b, 0, 0), vague(func(v, i *big.Rat) bool {
					return i.Sign() == 0 || i.Sign() > 0 && v.Sign() > 0
				}))
			case 2:
				if rng.IntN(3) == 0 {
					add(n.Load("L", a, b, 0), vague(func(v, i *big.Rat) bool { return true }))
				}
			default:
				r := big.NewRat(1+rng.Int64N(500), 1)
				add(n.Resistor("R", a, b, con(r)), func() (thing, law) { return thing{kind: 0, value: r}, nil })
			}
		}
		scope := only(d, []string{"low", "high", "off"}[state])
		at := nodes[2+rng.IntN(len(nodes)-2)]
		v := n.Voltage(at)
		x := n.Range(v, scope)
		limit := big.NewRat(rng.Int64N(70)-10, 10)
		claim := s.b.Binary(bound.OpLessEq, v, con(limit))
		j := n.Judge(claim, scope)
		verdicts[j.Verdict]++
		for range 60 {
			things, laws := make([]thing, len(els)), make([]law, len(els))
			for k := range els {
				things[k], laws[k] = draws[k]()
			}
			known := append([]*big.Rat(nil), given...)
			if unknown {
				known[len(known)-1] = big.NewRat(rng.Int64N(200)-100, 10)
			}
			vs, is, ok := nodal(known, things)
			if !ok {
				continue
			}
			for k, l := range laws {
				ok = ok && (l == nil || l(new(big.Rat).Sub(vs[things[k].a], vs[things[k].b]), is[k]))
			}
			if !ok {
				continue
			}
			worlds++
			f, _ := vs[at].Float64()
			require.Empty(t, x.Why)
			require.GreaterOrEqual(t, f, x.Lo-1e-9)
			require.LessOrEqual(t, f, x.Hi+1e-9)
			holds := le(vs[at], limit)
			require.False(t, j.Verdict == Passed && !holds, "a wrong pass")
			require.False(t, j.Verdict == Failed && holds, "a wrong failure")
		}
	}
	require.Greater(t, worlds, many(500))
	require.Greater(t, verdicts[Passed], many(30))
	require.Greater(t, verdicts[Failed], many(10))
	t.Logf("%d operating points; verdicts %v", worlds, verdicts)
}
