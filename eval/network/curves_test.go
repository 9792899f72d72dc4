package network

import (
	"math/big"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval/bound"
)

// law says whether an element can have a pair of voltage and current. It is
// written from what the rows say, without pieces.
type law func(v, i *big.Rat) bool

func frac(rng *rand.Rand, n int64, den int64) *big.Rat { return big.NewRat(rng.Int64N(n+1), den) }

func le(a, b *big.Rat) bool { return a.Cmp(b) <= 0 }

// rowsLaw is a curve that rises through rows: up to the current of a row at
// most its maximum, from it on at least its minimum.
func rowsLaw(rows [][3]*big.Rat) law {
	return func(v, i *big.Rat) bool {
		for _, r := range rows {
			if r[1] != nil && le(i, r[2]) && !le(v, r[1]) || r[0] != nil && le(r[2], i) && !le(r[0], v) {
				return false
			}
		}
		return true
	}
}

func neg(r *big.Rat) *big.Rat { return new(big.Rat).Neg(r) }

// curved draws an element with a curve between two nodes, its law, and
// voltages and currents at which its pieces meet.
func (d *drawn) curved(rng *rand.Rand, a, b Node) (*Element, law, []*big.Rat, []*big.Rat) {
	c := func(r *big.Rat) bound.Reg {
		if r == nil {
			return 0
		}
		return d.s.b.Const(r)
	}
	var rows [][3]*big.Rat
	var points []Point
	at, low := new(big.Rat), new(big.Rat)
	for range 1 + rng.IntN(2) {
		at = new(big.Rat).Add(at, big.NewRat(1+rng.Int64N(20), 1000))
		low = new(big.Rat).Add(low, frac(rng, 10, 10))
		r := [3]*big.Rat{low, new(big.Rat).Add(low, frac(rng, 10, 10)), at}
		switch rng.IntN(4) {
		case 0:
			r[0] = nil
		case 1:
			r[1] = nil
		}
		rows = append(rows, r)
		points = append(points, Point{Min: c(r[0]), Max: c(r[1]), At: c(r[2])})
	}
	vs, is := []*big.Rat{zero, low}, []*big.Rat{zero, at}
	rise := rowsLaw(rows)
	forward := func(v, i *big.Rat) bool { return v.Sign() > 0 && i.Sign() >= 0 && rise(v, i) }
	leak := big.NewRat(rng.Int64N(3), 10000)
	name := "E"
	switch rng.IntN(4) {
	case 0: // LED
		most := d.s.New("leak", "", Ampere, bound.Input{Lo: zero, Hi: leak})
		e := d.n.Junction(name, a, b, Diode{Forward: points, Leak: most})
		return e, func(v, i *big.Rat) bool {
			return forward(v, i) || v.Sign() <= 0 && i.Sign() <= 0 && le(neg(i), leak)
		}, vs, append(is, neg(leak))
	case 1: // Zener, breakdown rows, leakage up to a reverse voltage
		upTo := big.NewRat(rng.Int64N(10), 10)
		if rows[0][0] == nil || le(rows[0][0], upTo) {
			upTo = nil
		}
		q := Diode{Forward: points[:1], Breakdown: points, LeakUpTo: c(upTo)}
		if upTo != nil {
			q.Leak = d.s.New("leak", "", Ampere, bound.Input{Lo: zero, Hi: leak})
		}
		e := d.n.Junction(name, a, b, q)
		first := rowsLaw(rows[:1])
		return e, func(v, i *big.Rat) bool {
			if v.Sign() > 0 {
				return i.Sign() >= 0 && first(v, i)
			}
			w, j := neg(v), neg(i)
			return j.Sign() >= 0 && rise(w, j) && (upTo == nil || !le(w, upTo) || le(j, leak))
		}, append(vs, neg(low)), append(is, neg(at))
	case 2: // output
		for k := range rows {
			rows[k][0], points[k].Min = nil, 0
		}
		e := d.n.Pull(name, a, b, points)
		return e, func(v, i *big.Rat) bool {
			return v.Sign() == 0 && i.Sign() == 0 || v.Sign() >= 0 && i.Sign() > 0 && rise(v, i) || v.Sign() <= 0 && i.Sign() < 0
		}, vs, is
	case 3: // clamp
		var lo, hi *big.Rat
		if rng.IntN(2) == 0 {
			lo, hi = low, new(big.Rat).Add(low, frac(rng, 5, 10))
		}
		e := d.n.Clamp(name, a, b, c(lo), c(hi))
		return e, func(v, i *big.Rat) bool {
			if i.Sign() == 0 {
				return hi == nil || le(v, hi)
			}
			return i.Sign() > 0 && v.Sign() > 0 && (lo == nil || le(lo, v))
		}, vs, is
	}
	panic("no such element")
}

// inside tells whether a case holds an operating point: the inputs of each
// chosen piece are set to what it needs, and must be allowed to be that.
func (d *drawn) inside(t *testing.T, c *Case, x []*big.Rat, v, i []*big.Rat, els []*Element) bool {
	x = append([]*big.Rat(nil), x...)
	for len(x) < len(d.s.in) {
		x = append(x, nil)
	}
	for k, e := range els {
		p := c.chosen[e]
		var want *big.Rat
		switch p.Form {
		case Open:
			continue
		case Holds:
			want = new(big.Rat).Sub(v[e.A], v[e.B])
		case Drives:
			want = i[k]
		default:
			continue
		}
		vars := d.s.b.Vars(p.Value)
		if len(vars) != 1 || x[vars[0]] != nil {
			continue
		}
		// the value is affine in its one input
		x[vars[0]] = zero
		at0 := d.s.at(t, p.Value, x)
		x[vars[0]] = one
		slope := new(big.Rat).Sub(d.s.at(t, p.Value, x), at0)
		if slope.Sign() == 0 {
			if at0.Cmp(want) != 0 {
				return false
			}
			continue
		}
		u := new(big.Rat).Quo(new(big.Rat).Sub(want, at0), slope)
		in := d.s.in[vars[0]]
		if in.Lo != nil && u.Cmp(in.Lo) < 0 || in.Hi != nil && u.Cmp(in.Hi) > 0 {
			return false
		}
		x[vars[0]] = u
	}
	for i, in := range d.s.in { // what is left free: a net that floats, a current that is not settled
		if x[i] == nil && in.Lo != nil {
			x[i] = in.Lo
		}
	}
	for k, e := range els {
		if r, ok := c.free[e]; ok {
			x[d.s.b.Vars(r)[0]] = i[k]
		}
	}
	for at := range c.floats {
		if known := c.lin.known[at]; known != 0 {
			x[d.s.b.Vars(known)[0]] = v[at]
		}
	}
	if truth, decided := d.s.holds(c.Guard, x); !decided || !truth {
		return false
	}
	for k, g := range d.givenR {
		if g == 0 {
			got := d.s.at(t, c.Value(asked{kind: qVoltage, at: Node(k)}), x)
			if got == nil || got.Cmp(v[k]) != 0 {
				return false
			}
		}
	}
	for k, e := range els {
		got := d.s.at(t, c.Value(asked{kind: qCurrent, e: e}), x)
		if got == nil || got.Cmp(i[k]) != 0 {
			return false
		}
	}
	return true
}

// TestCurves draws operating points that elements with curves can have, by a
// law written without pieces, and wants each of them in some case; and no
// claim that such a point breaks may pass.
func TestCurves(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 7))
	worlds, tried, passes := 0, 0, 0
	for range many(400) {
		d := draw(rng, 1+rng.IntN(3), 0, false)
		fixed := len(d.els)
		var laws []law
		var meetV, meetI [][]*big.Rat
		for range 1 + rng.IntN(2) {
			a, b := d.nodes[rng.IntN(len(d.nodes))], d.nodes[rng.IntN(len(d.nodes))]
			if a == b {
				continue
			}
			e, l, mv, mi := d.curved(rng, a, b)
			d.els, laws, meetV, meetI = append(d.els, e), append(laws, l), append(meetV, mv), append(meetI, mi)
			d.kinds, d.regs = append(d.kinds, 3), append(d.regs, 0)
		}
		if len(laws) == 0 {
			continue
		}
		var sol *solution
		for range 40 {
			tried++
			x := d.point(rng, rng.IntN(2) == 0)
			given := make([]*big.Rat, len(d.givenR))
			for k, r := range d.givenR {
				if r != 0 {
					given[k] = d.s.at(t, r, x)
				}
			}
			things := make([]thing, len(d.els))
			for k, e := range d.els {
				things[k] = thing{a: int(e.A), b: int(e.B), kind: d.kinds[k]}
				if k < fixed {
					things[k].value = d.s.at(t, d.regs[k], x)
					continue
				}
				m := k - fixed
				if rng.IntN(2) == 0 {
					things[k].kind, things[k].conducts, things[k].value = 1, true, choose(rng, meetV[m], 30, 10)
				} else {
					things[k].kind, things[k].value = 2, choose(rng, meetI[m], 30, 1000)
				}
			}
			v, i, ok := nodal(given, things)
			if !ok {
				continue
			}
			for m, l := range laws {
				e := d.els[fixed+m]
				ok = ok && l(new(big.Rat).Sub(v[e.A], v[e.B]), i[fixed+m])
			}
			if !ok {
				continue
			}
			worlds++
			if sol == nil {
				sol = d.n.solve(d.n.groupOf(d.everything()), state{})
			}
			require.Empty(t, sol.refused)
			found := false
			for _, c := range sol.cases {
				found = found || d.inside(t, c, x, v, i, d.els)
			}
			if !found {
				d.tell(t, sol, v, i)
			}
			require.True(t, found, "an operating point lies in no case")
			if worlds%40 != 0 {
				continue
			}
			at := len(d.nodes) - 1
			little := big.NewRat(1, 1000)
			for _, claim := range []bound.Reg{
				d.s.b.Binary(bound.OpLessEq, d.n.Voltage(Node(at)), d.s.b.Const(new(big.Rat).Sub(v[at], little))),
				d.s.b.Binary(bound.OpLessEq, d.s.b.Const(new(big.Rat).Add(v[at], little)), d.n.Voltage(Node(at))),
			} {
				require.NotEqual(t, Passed, d.n.Judge(claim, Scope{}).Verdict, "a wrong pass")
				passes++
			}
		}
	}
	require.Greater(t, worlds, many(1000))
	t.Logf("%d operating points of %d drawn, each in a case; %d claims that one breaks, none passed",
		worlds, tried, passes)
}

func choose(rng *rand.Rand, from []*big.Rat, n, den int64) *big.Rat {
	if rng.IntN(3) == 0 {
		return from[rng.IntN(len(from))]
	}
	return big.NewRat(rng.Int64N(2*n)-n/2, den)
}

// tell prints a network and an operating point.
func (d *drawn) tell(t *testing.T, sol *solution, v, i []*big.Rat) {
	t.Helper()
	for k, e := range d.els {
		t.Logf("%s %d-%d kind %d: %s V, %s A", e.Name, e.A, e.B, d.kinds[k],
			new(big.Rat).Sub(v[e.A], v[e.B]).FloatString(4), i[k].FloatString(6))
		for _, p := range e.Pieces {
			t.Logf("   %s form %d", p.Name, p.Form)
		}
	}
	for _, c := range sol.cases {
		t.Log(c.Pieces)
	}
	for k := range d.nodes {
		t.Logf("node %d given %v: %s V", k, d.givenR[k] != 0, v[k].FloatString(4))
	}
}
