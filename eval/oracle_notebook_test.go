package eval_test

import (
	"fmt"
	"math/big"
	"math/rand/v2"
	"strings"
)

// This file writes notebooks and knows their verdicts. It uses nothing of the
// project: it states what it means, in the oracle's own words, while it writes.

// unitsOf are units of a dimension and their powers of ten; a point in °C is
// counted in °C.
var unitsOf = map[string][]struct {
	name string
	exp  int
}{
	"V": {{"V", 0}, {"mV", -3}, {"kV", 3}}, "A": {{"A", 0}, {"mA", -3}, {"µA", -6}}, "Ω": {{"Ω", 0}, {"kΩ", 3}, {"ohm", 0}},
	"W": {{"W", 0}, {"mW", -3}}, "K/W": {{"K/W", 0}, {"°C/W", 0}}, "K": {{"K", 0}}, "°C": {{"°C", 0}, {"degC", 0}},
	"dBm": {{"dBm", 0}}, "dB": {{"dB", 0}}, "1": {{"", 0}},
}

// term is an operand or a formula: its text, what it may be and what is
// printed of it.
type term struct {
	text      string
	dim       string
	w, n      span
	uncovered bool // rests on a fact of which no row covers the use
	vars      int  // a bit for each unknown
}

// writer writes one notebook.
type writer struct {
	rng      *rand.Rand
	ambient  span
	use      span // the current in use
	values   []string
	zeros    []string // names declared non-negative
	facts    []string
	factZero []string
	claims   []string
	readings []string
	pieces   int // values of sums named so far
	want     map[string]int
	leaves   map[string][]term
	count    int
}

func (g *writer) pick(n int) int { return g.rng.IntN(n) }

// number draws a decimal number with few digits.
func (g *writer) number(negative bool) *big.Rat {
	r := big.NewRat(int64(1+g.pick(999)), 1)
	scale := []int64{1, 10, 100, 1000}[g.pick(4)]
	r.Quo(r, big.NewRat(scale, 1))
	if negative && g.pick(3) == 0 {
		r.Neg(r)
	}
	return r
}

func pow10(e int) *big.Rat {
	p := new(big.Rat).SetInt(new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(max(e, -e))), nil))
	if e < 0 {
		p.Inv(p)
	}
	return p
}

func decimal(r *big.Rat) string {
	s := r.FloatString(24)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

// literal writes a number in one of the units of its dimension.
func (g *writer) literal(r *big.Rat, dim string) string {
	us := unitsOf[dim]
	u := us[g.pick(len(us))]
	s := decimal(new(big.Rat).Quo(r, pow10(u.exp)))
	if u.name == "" {
		return s
	}
	return s + " " + u.name
}

// start draws the first number of a dimension; a temperature is one at which
// parts are used.
func (g *writer) start(dim string) *big.Rat {
	if dim == "°C" {
		return big.NewRat(int64(g.pick(2000)-500), 10)
	}
	return g.number(dim == "V" || dim == "dBm" || dim == "dB" || dim == "K")
}

// sorted draws n different numbers, rising.
func (g *writer) sorted(n int, dim string) []*big.Rat {
	out := []*big.Rat{g.start(dim)}
	for len(out) < n {
		out = append(out, new(big.Rat).Add(out[len(out)-1], g.number(false)))
	}
	return out
}

// stated draws the right-hand side of a value or fact, columns alone if so
// asked.
func (g *writer) stated(dim string, columns bool) (text string, w, n span) {
	kind := g.pick(6)
	if columns {
		kind = 3 + g.pick(3)
	}
	switch kind {
	case 0:
		r := g.start(dim)
		return g.literal(r, dim), exactly(r), exactly(r)
	case 1:
		p := g.sorted(2, dim)
		s := span{lo: p[0], hi: p[1]}
		return g.literal(p[0], dim) + " to " + g.literal(p[1], dim), s, s
	case 2:
		r := g.number(false)
		if dim == "°C" || dim == "dBm" || g.pick(2) == 0 {
			d := g.number(false)
			unit := dim
			switch dim {
			case "°C":
				d = big.NewRat(int64(1+g.pick(200)), 10)
				unit = "K"
			case "dBm":
				unit = "dB"
			}
			s := span{lo: new(big.Rat).Sub(r, d), hi: new(big.Rat).Add(r, d)}
			return g.literal(r, dim) + " ± " + g.literal(d, unit), s, s
		}
		pc := big.NewRat(int64(1+g.pick(200)), 10)
		d := new(big.Rat).Mul(r, new(big.Rat).Quo(pc, big.NewRat(100, 1)))
		s := span{lo: new(big.Rat).Sub(r, d), hi: new(big.Rat).Add(r, d)}
		return g.literal(r, dim) + " ± " + decimal(pc) + " %", s, s
	}
	return g.columns(dim, g.sorted(3, dim), 1+g.pick(7))
}

// columns writes min, typ and max, those whose bit is in mask.
func (g *writer) columns(dim string, p []*big.Rat, mask int) (text string, w, n span) {
	var cells []string
	for i, name := range []string{"min", "typ", "max"} {
		if mask>>i&1 == 1 {
			cells = append(cells, name+" "+g.literal(p[i], dim))
			if n.lo == nil {
				n.lo = p[i]
			}
			n.hi = p[i]
		}
	}
	if mask&1 == 1 {
		w.lo = p[0]
	}
	if mask&4 == 4 {
		w.hi = p[2]
	}
	return strings.Join(cells, ", "), w, n
}

// nonNegative is a span of which the notes say that it cannot be negative.
func nonNegative(w span) span {
	if w.lo == nil || w.lo.Sign() < 0 {
		w.lo = new(big.Rat)
	}
	return w
}

// cut is a span without what lies below 0.
func cut(n span) span {
	if n.lo.Sign() < 0 {
		n.lo = new(big.Rat)
	}
	return n
}

func (g *writer) enter(t term) {
	if t.dim == "°C" && t.w.lo == nil {
		t.w.lo = big.NewRat(-27315, 100) // nothing is colder than absolute zero
	}
	t.vars = 1 << g.count
	g.count++
	g.leaves[t.dim] = append(g.leaves[t.dim], t)
}

// value defines a value of the notes.
func (g *writer) value(dim string) {
	name := fmt.Sprintf("Q_%d", g.count)
	text, w, n := g.stated(dim, false)
	g.values = append(g.values, name+" = "+text)
	if n.lo.Sign() >= 0 && w.lo == nil && dim != "°C" && dim != "dBm" && g.pick(2) == 0 {
		g.zeros = append(g.zeros, name)
		w, n = nonNegative(w), cut(n)
	}
	g.enter(term{text: name, dim: dim, w: w, n: n})
}

// curve defines a value by points over the ambient temperature.
func (g *writer) curve(dim string) {
	name := fmt.Sprintf("Q_%d", g.count)
	at := []*big.Rat{big.NewRat(-60, 1), big.NewRat(int64(-20+g.pick(30)), 1), big.NewRat(int64(30+g.pick(60)), 1), big.NewRat(150, 1)}
	var points []string
	var y []*big.Rat
	for _, x := range at {
		y = append(y, g.number(false))
		points = append(points, g.literal(x, "°C")+" "+g.literal(y[len(y)-1], dim))
	}
	g.values = append(g.values, name+" = by ambient: "+strings.Join(points, ", "))
	s := span{}
	see := func(v *big.Rat) {
		if s.lo == nil || v.Cmp(s.lo) < 0 {
			s.lo = v
		}
		if s.hi == nil || v.Cmp(s.hi) > 0 {
			s.hi = v
		}
	}
	for _, x := range []*big.Rat{g.ambient.lo, g.ambient.hi} {
		for k := range 3 {
			if x.Cmp(at[k]) >= 0 && x.Cmp(at[k+1]) <= 0 {
				f := new(big.Rat).Quo(new(big.Rat).Sub(x, at[k]), new(big.Rat).Sub(at[k+1], at[k]))
				see(f.Add(y[k], f.Mul(f, new(big.Rat).Sub(y[k+1], y[k]))))
				break
			}
		}
	}
	for k, x := range at {
		if x.Cmp(g.ambient.lo) >= 0 && x.Cmp(g.ambient.hi) <= 0 {
			see(y[k])
		}
	}
	g.enter(term{text: name, dim: dim, w: s, n: s})
	last := g.leaves[dim]
	last[len(last)-1].vars = 1 // the ambient temperature is one unknown
}

// fact defines a fact of the part, with one row or two.
func (g *writer) fact(dim string) {
	name := fmt.Sprintf("X_%d", g.count)
	t := term{text: "U1." + name, dim: dim}
	zero := dim != "°C" && dim != "dBm" && g.pick(3) == 0
	switch g.pick(4) {
	case 0: // no conditions
		text, w, n := g.stated(dim, g.pick(2) == 0)
		g.facts = append(g.facts, "spec "+name+" = "+text)
		t.w, t.n = w, n
	case 1: // two rows, the second within the first in both ways
		p := g.sorted(3, dim)
		mask := []int{1, 3, 4, 5, 6, 7}[g.pick(6)]
		wide, w, n := g.columns(dim, p, mask)
		q := []*big.Rat{mid(p[0], p[1], 1), mid(p[0], p[1], 3), mid(p[1], p[2], 1)}
		tight, tw, tn := g.columns(dim, q, mask)
		to := mid(g.use.lo, g.use.hi, 2)
		from := new(big.Rat)
		switch g.pick(3) {
		case 0:
			to = new(big.Rat).Add(g.use.hi, g.number(false))
		case 1:
			to = g.use.hi
		}
		all := new(big.Rat).Add(larger(exactly(to), exactly(g.use.hi)).hi, g.number(false))
		rows := []string{"spec " + name + " = " + wide + "  at I_OUT <= " + g.literal(all, "A"),
			"spec " + name + " = " + tight + "  at I_OUT = " + g.literal(from, "A") + " to " + g.literal(to, "A")}
		if g.pick(2) == 0 {
			rows[0], rows[1] = rows[1], rows[0]
		}
		g.facts = append(g.facts, rows...)
		if t.w, t.n = w, n; to.Cmp(g.use.hi) >= 0 {
			t.w, t.n = tw, tn
		}
	default: // one row that covers the use, or does not
		text, w, n := g.stated(dim, true)
		at, covers := g.condition()
		g.facts = append(g.facts, "spec "+name+" = "+text+"  at "+at)
		t.w, t.n = w, n
		if !covers {
			t.w, t.n, t.uncovered = span{}, span{empty: true}, true
		}
	}
	if zero && !t.uncovered && t.n.lo.Sign() >= 0 {
		g.factZero = append(g.factZero, name)
		t.w, t.n = nonNegative(t.w), cut(t.n)
	}
	g.enter(t)
}

// mid is a + (b-a)*k/4.
func mid(a, b *big.Rat, k int64) *big.Rat {
	d := new(big.Rat).Sub(b, a)
	return d.Add(a, d.Mul(d, big.NewRat(k, 4)))
}

// condition draws what a row holds at, and whether that covers the use.
func (g *writer) condition() (text string, covers bool) {
	around := func(r *big.Rat) *big.Rat {
		switch g.pick(3) {
		case 0:
			return r
		case 1:
			return new(big.Rat).Add(r, big.NewRat(1, 1000))
		}
		return mid(new(big.Rat), r, 3)
	}
	lo, hi := around(g.use.lo), around(g.use.hi)
	switch g.pick(4) {
	case 0:
		return "I_OUT <= " + g.literal(hi, "A"), hi.Cmp(g.use.hi) >= 0
	case 1:
		return "I_OUT >= " + g.literal(lo, "A"), lo.Cmp(g.use.lo) <= 0
	case 2:
		return "I_OUT = " + g.literal(hi, "A"), hi.Cmp(g.use.hi) == 0 && hi.Cmp(g.use.lo) == 0
	}
	if lo.Cmp(hi) > 0 {
		lo, hi = hi, lo
	}
	return "I_OUT = " + g.literal(lo, "A") + " to " + g.literal(hi, "A"), lo.Cmp(g.use.lo) <= 0 && hi.Cmp(g.use.hi) >= 0
}
