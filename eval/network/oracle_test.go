package network

import (
	"math/big"
	"math/rand/v2"
	"sort"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval/bound"
)

// The oracle shares nothing with the package but the description of a network:
// it writes down Kirchhoff's laws and the law of each element as one system of
// linear equations in the node voltages and the element currents, solves it in
// rationals, and finds which junctions conduct by trying all combinations.

// thing is an element to the oracle.
type thing struct {
	a, b     int
	kind     int      // 0 resistor, 1 junction, 2 current
	value    *big.Rat // ohms, volts, amperes at the point
	conducts bool
}

// nodal solves for node voltages and element currents; given holds the known
// voltages. ok is false where the equations have no single solution.
func nodal(given []*big.Rat, things []thing) (v, i []*big.Rat, ok bool) {
	nv := len(given)
	n := nv + len(things)
	rows := make([][]*big.Rat, n)
	for r := range rows {
		rows[r] = make([]*big.Rat, n+1)
		for c := range rows[r] {
			rows[r][c] = new(big.Rat)
		}
	}
	for k, g := range given {
		if g != nil {
			rows[k][k].SetInt64(1)
			rows[k][n].Set(g)
			continue
		}
		for e, x := range things {
			if x.a == k {
				rows[k][nv+e].Add(rows[k][nv+e], big.NewRat(1, 1))
			}
			if x.b == k {
				rows[k][nv+e].Sub(rows[k][nv+e], big.NewRat(1, 1))
			}
		}
	}
	for e, x := range things {
		row := rows[nv+e]
		switch {
		case x.kind == 2:
			row[nv+e].SetInt64(1)
			row[n].Set(x.value)
		case x.kind == 1 && !x.conducts:
			row[nv+e].SetInt64(1)
		default:
			row[x.a].Add(row[x.a], big.NewRat(1, 1))
			row[x.b].Sub(row[x.b], big.NewRat(1, 1))
			if x.kind == 0 {
				row[nv+e].Neg(x.value)
			} else {
				row[n].Set(x.value)
			}
		}
	}
	out := gauss(rows)
	if out == nil {
		return nil, nil, false
	}
	return out[:nv], out[nv:], true
}

// gauss solves a square system; nil where it is singular.
func gauss(rows [][]*big.Rat) []*big.Rat {
	n := len(rows)
	for c := range n {
		p := c
		for p < n && rows[p][c].Sign() == 0 {
			p++
		}
		if p == n {
			return nil
		}
		rows[c], rows[p] = rows[p], rows[c]
		inv := new(big.Rat).Inv(rows[c][c])
		for k := c; k <= n; k++ {
			rows[c][k].Mul(rows[c][k], inv)
		}
		for r := range n {
			if r == c || rows[r][c].Sign() == 0 {
				continue
			}
			f := new(big.Rat).Set(rows[r][c])
			for k := c; k <= n; k++ {
				rows[r][k].Sub(rows[r][k], new(big.Rat).Mul(f, rows[c][k]))
			}
		}
	}
	out := make([]*big.Rat, n)
	for r := range n {
		out[r] = rows[r][n]
	}
	return out
}

// operate finds the operating point by trying every combination of junctions.
// tie tells that some junction is just at its edge there.
func operate(given []*big.Rat, things []thing) (v, i []*big.Rat, tie, ok bool) {
	var js []int
	for k, x := range things {
		if x.kind == 1 {
			js = append(js, k)
		}
	}
	for mask := range 1 << len(js) {
		for m, k := range js {
			things[k].conducts = mask>>m&1 == 1
		}
		vv, ii, solved := nodal(given, things)
		if !solved {
			continue
		}
		good, edge := true, false
		for _, k := range js {
			x := things[k]
			s := ii[k].Sign()
			if !x.conducts {
				s = new(big.Rat).Sub(x.value, new(big.Rat).Sub(vv[x.a], vv[x.b])).Sign()
			}
			good, edge = good && s >= 0, edge || s == 0
		}
		if good {
			return vv, ii, edge, true
		}
	}
	return nil, nil, false, false
}

// many is a number of trials, a quarter of it with -short.
func many(n int) int {
	if testing.Short() {
		return n / 4
	}
	return n
}

// drawn is a random network, to the package and to the oracle.
type drawn struct {
	s      *sheet
	n      *Network
	nodes  []Node
	givenR []bound.Reg // by node
	kinds  []int
	regs   []bound.Reg
	els    []*Element
}

// draw makes a random network: kinds of elements, ranges that may hold 0 Ω.
func draw(rng *rand.Rand, nodes, junctions int, zeros bool) *drawn {
	s := newSheet()
	d := &drawn{s: s, n: New(s.b, s, Limits{Boxes: 4000})}
	fixed := 1 + rng.IntN(3)
	for k := range nodes + fixed {
		switch {
		case k == 0:
			d.givenR = append(d.givenR, s.con("0"))
		case k < fixed:
			lo := rng.Int64N(100)
			d.givenR = append(d.givenR, s.New("V", "V", Volt, stat(big.NewRat(lo, 10), big.NewRat(lo+rng.Int64N(10), 10))))
		default:
			d.givenR = append(d.givenR, 0)
		}
		if g := d.givenR[k]; g != 0 {
			d.nodes = append(d.nodes, d.n.Given("G", g))
		} else {
			d.nodes = append(d.nodes, d.n.Node("N"))
		}
	}
	all := nodes + fixed
	add := func(kind, a, b int) {
		var r bound.Reg
		var e *Element
		switch kind {
		case 0:
			lo := 1 + rng.Int64N(40)
			in := stat(big.NewRat(lo*10, 1), big.NewRat(lo*10+rng.Int64N(lo+1)*10, 1))
			if zeros && rng.IntN(5) == 0 {
				in = stat(new(big.Rat), big.NewRat(lo, 1))
			}
			r = s.New("R", "R", Ohm, in)
			e = d.n.Resistor("R", d.nodes[a], d.nodes[b], r)
		case 1:
			lo := rng.Int64N(8)
			r = s.New("F", "F", Volt, stat(big.NewRat(lo, 10), big.NewRat(lo+rng.Int64N(4), 10)))
			e = ideal(d.n, "D", d.nodes[a], d.nodes[b], r)
		default:
			r = s.New("I", "I", Ampere, stat(big.NewRat(-rng.Int64N(5), 1000), big.NewRat(rng.Int64N(5), 1000)))
			e = d.n.Load("I", d.nodes[a], d.nodes[b], r)
		}
		d.kinds, d.regs, d.els = append(d.kinds, kind), append(d.regs, r), append(d.els, e)
	}
	for k := fixed; k < all; k++ { // a tree, so that nothing floats
		add(0, k, rng.IntN(k))
	}
	for range rng.IntN(nodes + 2) {
		if a, b := rng.IntN(all), rng.IntN(all); a != b {
			add(0, a, b)
		}
	}
	for range junctions {
		if a, b := rng.IntN(all), rng.IntN(all); a != b && (a >= fixed || b >= fixed) {
			add(1, a, b)
		}
	}
	if a, b := rng.IntN(all), fixed+rng.IntN(nodes); a != b && rng.IntN(2) == 0 {
		add(2, a, b)
	}
	return d
}

func stat(lo, hi *big.Rat) bound.Input {
	return bound.Input{Lo: lo, Hi: hi, SureLo: lo, SureHi: hi}
}

// point draws ends and inner values of every input.
func (d *drawn) point(rng *rand.Rand, corner bool) []*big.Rat {
	out := make([]*big.Rat, len(d.s.in))
	for i, in := range d.s.in {
		if in.SureLo == nil { // made by the package
			continue
		}
		k := rng.Int64N(9)
		if corner {
			k = 8 * rng.Int64N(2)
		}
		w := new(big.Rat).Sub(in.Hi, in.Lo)
		out[i] = w.Add(w.Mul(w, big.NewRat(k, 8)), in.Lo)
	}
	return out
}

// solve asks the oracle at a point.
func (d *drawn) solve(t testing.TB, x []*big.Rat) (v, i []*big.Rat, tie, ok bool) {
	given := make([]*big.Rat, len(d.givenR))
	for k, r := range d.givenR {
		if r != 0 {
			given[k] = d.s.at(t, r, x)
		}
	}
	things := make([]thing, len(d.els))
	for k, e := range d.els {
		things[k] = thing{a: int(e.A), b: int(e.B), kind: d.kinds[k], value: d.s.at(t, d.regs[k], x)}
	}
	return operate(given, things)
}

// everything is one question about all nets and elements.
func (d *drawn) everything() (qs []asked) {
	for k, g := range d.givenR {
		if g == 0 {
			qs = append(qs, asked{kind: qVoltage, at: Node(k)})
		}
	}
	for _, e := range d.els {
		qs = append(qs, asked{kind: qCurrent, e: e})
	}
	return qs
}

// TestOracle draws networks of resistors, junctions and current sources and
// compares with nodal equations in rationals: at every point at least one case
// holds, exactly one where no junction is at its edge, and in each that holds
// every voltage, current and power is equal.
func TestOracle(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 7))
	points, networks, skipped, undefined, compared := 0, 0, 0, 0, 0
	for networks < many(400) {
		d := draw(rng, 1+rng.IntN(8), rng.IntN(4), rng.IntN(2) == 0)
		g := d.n.groupOf(d.everything())
		require.Empty(t, g.refused)
		sol := d.n.solve(g, state{})
		networks++
		for k := range 6 {
			x := d.point(rng, k < 3)
			v, i, tie, ok := d.solve(t, x)
			if !ok {
				skipped++ // two sources without a resistance between them
				continue
			}
			require.Empty(t, sol.refused)
			points++
			held, unsure := 0, 0
			for _, c := range sol.cases {
				truth, decided := d.s.holds(c.Guard, x)
				if !decided {
					undefined++
					unsure++
					continue
				}
				if !truth {
					continue
				}
				held++
				compared += d.compare(t, c, x, v, i, &undefined)
			}
			require.GreaterOrEqual(t, held+unsure, 1, "network %d: no case at a point", networks)
			if !tie && unsure == 0 {
				require.Equal(t, 1, held, "network %d: several cases at a point", networks)
			}
		}
	}
	require.Greater(t, points, many(1500))
	require.Less(t, undefined, compared/50) // two resistances at exactly 0
	t.Logf("%d networks, %d points, %d numbers equal to the nodal equations; "+
		"%d points without one solution, %d numbers without a value", networks, points, compared, skipped, undefined)
}

func (d *drawn) compare(t *testing.T, c *Case, x, v, i []*big.Rat, undefined *int) (compared int) {
	t.Helper()
	same := func(what string, r bound.Reg, want *big.Rat) {
		compared++
		got := d.s.at(t, r, x)
		if got == nil {
			*undefined++
			return
		}
		require.Equal(t, want.RatString(), got.RatString(), what)
	}
	for k, g := range d.givenR {
		if g == 0 {
			same("voltage", c.Value(asked{kind: qVoltage, at: Node(k)}), v[k])
		}
	}
	for k, e := range d.els {
		same("current", c.Value(asked{kind: qCurrent, e: e}), i[k])
		drop := new(big.Rat).Sub(v[e.A], v[e.B])
		same("across", c.Value(asked{kind: qAcross, e: e}), drop)
		same("power", c.Value(asked{kind: qPower, e: e}), drop.Mul(drop, i[k]))
	}
	return compared
}

// TestOracleBounds compares ranges and verdicts with points of the oracle, and
// says by how much the ranges are wider than what the points reach.
func TestOracleBounds(t *testing.T) {
	rng := rand.New(rand.NewPCG(2, 7))
	var over []float64
	verdicts := map[Verdict]int{}
	for range many(60) {
		d := draw(rng, 1+rng.IntN(5), rng.IntN(3), false)
		at := Node(len(d.nodes) - 1)
		v := d.n.Voltage(at)
		r := d.n.Range(v, Scope{})
		require.Empty(t, r.Why)
		var lo, hi *big.Rat
		for k := range 60 {
			x := d.point(rng, k < 50)
			vs, _, _, ok := d.solve(t, x)
			if !ok {
				continue
			}
			y := vs[at]
			f, _ := y.Float64()
			require.GreaterOrEqual(t, f, r.Lo-1e-12)
			require.LessOrEqual(t, f, r.Hi+1e-12)
			if lo == nil || y.Cmp(lo) < 0 {
				lo = y
			}
			if hi == nil || y.Cmp(hi) > 0 {
				hi = y
			}
		}
		if lo == nil {
			continue
		}
		l, _ := lo.Float64()
		h, _ := hi.Float64()
		if h-l > 1e-9 {
			over = append(over, (r.Hi-r.Lo)/(h-l)-1)
		}
		// A limit inside what the points reach must not pass, and one that some
		// point keeps must not fail everywhere: the oracle is the witness.
		middle := new(big.Rat).Quo(new(big.Rat).Add(lo, hi), big.NewRat(2, 1))
		half := big.NewRat(1, 2)
		above, below := new(big.Rat).Add(hi, half), new(big.Rat).Sub(lo, half)
		for _, limit := range []*big.Rat{middle, lo, hi, above, below} {
			j := d.n.Judge(d.s.b.Binary(bound.OpLessEq, v, d.s.b.Const(limit)), Scope{})
			verdicts[j.Verdict]++
			switch j.Verdict {
			case Passed:
				require.GreaterOrEqual(t, limit.Cmp(hi), 0, "a wrong pass")
			case Failed:
				x := make([]*big.Rat, len(d.s.in))
				for i := range x {
					x[i] = j.Point[i]
					if x[i] == nil {
						x[i] = d.s.in[i].Lo
					}
				}
				vs, _, _, ok := d.solve(t, x)
				require.True(t, ok)
				require.Greater(t, vs[at].Cmp(limit), 0, "a wrong failure")
			}
		}
	}
	sort.Float64s(over)
	require.Greater(t, verdicts[Passed], many(50))
	require.Greater(t, verdicts[Failed], many(50))
	t.Logf("median overestimate of a range %.2g, 90 %% below %.2g (%d ranges, against points of the oracle); verdicts %v",
		over[len(over)/2], over[len(over)*9/10], len(over), verdicts)
}

// ideal is a junction with one voltage at all currents: it conducts from anode
// to cathode at v and blocks below.
func ideal(n *Network, name string, anode, cathode Node, v bound.Reg) *Element {
	e := n.Add(name, anode, cathode)
	e.TakesOnly = true
	e.Pieces = []Piece{
		{Name: "blocks", Form: Open, Limits: []Limit{{Of: OwnVoltage, Hi: v}}},
		{Name: "conducts", Form: Holds, Value: v, Limits: []Limit{{Of: OwnCurrent, Lo: n.g.zero()}}},
	}
	return e
}
