package eval_test

import (
	"fmt"
	"math/big"
	"strings"
)

// This file writes claims judged by statistics and readings of the bench. Both
// are of sums in which every value stands once, so that root sum square is the
// root of the sum of the squares (JCGM 100:2008, eq. 10 with all derivatives 1),
// worked out without a root.

// addend is a value in a sum: a piece that spreads evenly about its centre, or
// surroundings.
type addend struct {
	name   string
	span   span
	spread bool
	minus  bool
}

func half(s span) *big.Rat {
	d := new(big.Rat).Sub(s.hi, s.lo)
	return d.Quo(d, big.NewRat(2, 1))
}

func centre(s span) *big.Rat { return new(big.Rat).Add(s.lo, half(s)) }

// addends defines the values of a sum. The half widths of some are the sides of
// a right triangle, 3, 4, 5 times a number, so that ties can be asked for.
func (g *writer) addends() (all []addend, triple *big.Rat) {
	unit := g.number(false)
	for i := range 2 + g.pick(2) {
		g.pieces++
		a := addend{name: fmt.Sprintf("P_%d", g.pieces), spread: true, minus: g.pick(3) == 0}
		mid, d := g.number(true), g.number(false)
		if i < 2 {
			d = new(big.Rat).Mul(unit, big.NewRat(int64(3+i), 1))
		}
		triple = new(big.Rat).Mul(unit, big.NewRat(5, 1))
		a.span = span{lo: new(big.Rat).Sub(mid, d), hi: new(big.Rat).Add(mid, d)}
		g.values = append(g.values, a.name+" = "+g.literal(mid, "V")+" ± "+g.literal(d, "V"))
		all = append(all, a)
	}
	if len(all) > 2 {
		triple = nil
	}
	for range g.pick(2) {
		g.pieces++
		a := addend{name: fmt.Sprintf("E_%d", g.pieces), minus: g.pick(3) == 0}
		ends := g.sorted(2, "V")
		text := g.literal(ends[0], "V")
		if a.span = exactly(ends[0]); g.pick(3) > 0 {
			a.span = span{lo: ends[0], hi: ends[1]}
			text += " to " + g.literal(ends[1], "V")
		}
		g.values = append(g.values, a.name+" = "+text)
		all = append(all, a)
	}
	return all, triple
}

func sumText(all []addend) string {
	var b strings.Builder
	for i, a := range all {
		sign := map[bool]string{false: " + ", true: " - "}[a.minus]
		if i == 0 {
			sign = map[bool]string{true: "0 V - "}[a.minus]
		}
		b.WriteString(sign + a.name)
	}
	return b.String()
}

// sumOf is the sum with what each addend is taken for.
func sumOf(all []addend, taken func(a addend) span) span {
	out := exactly(new(big.Rat))
	for _, a := range all {
		s := taken(a)
		if a.minus {
			s = minus(s)
		}
		out = plus(out, s)
	}
	return out
}

// short is a number of three digits near another.
func short(r *big.Rat) *big.Rat {
	f, _ := r.Float64()
	out, _ := new(big.Rat).SetString(fmt.Sprintf("%.3g", f))
	return out
}

// statistic writes a claim by root sum square, or by Monte Carlo where that is
// as plain as the worst case: all pieces hold or none.
func (g *writer) statistic(id string) {
	all, triple := g.addends()
	whole := sumOf(all, func(a addend) span { return a.span })
	middle := sumOf(all, func(a addend) span {
		if a.spread {
			return exactly(centre(a.span))
		}
		return a.span
	})
	squares := new(big.Rat)
	for _, a := range all {
		if a.spread {
			squares.Add(squares, new(big.Rat).Mul(half(a.span), half(a.span)))
		}
	}
	op, limit := "<=", whole.hi
	lines := ""
	if g.pick(4) == 0 { // at the worst, or where no piece is good
		lines = "analysis: Monte Carlo 200\nyield: 95 %\n"
		g.want[id] = 1
		if g.pick(2) == 0 { // every piece is bad somewhere in the surroundings
			least := new(big.Rat).Add(whole.lo, new(big.Rat).Sub(middle.hi, middle.lo))
			limit = new(big.Rat).Sub(least, g.number(false))
			g.want[id] = -1
		}
	} else {
		lines = "analysis: root sum square\n"
		f, _ := squares.Float64()
		delta := new(big.Rat).SetFloat64(f)
		limit = short(new(big.Rat).Add(middle.hi,
			new(big.Rat).Mul(half(span{lo: new(big.Rat), hi: sqrtNear(delta)}), big.NewRat(int64(1+g.pick(4)), 1))))
		if triple != nil && g.pick(2) == 0 {
			limit = new(big.Rat).Add(middle.hi, triple)
		}
		amount := new(big.Rat)
		if g.pick(3) == 0 {
			amount = g.number(false)
			amount.Quo(amount, big.NewRat(10, 1))
			lines += "margin: " + g.literal(amount, "V") + "\n"
		}
		room := new(big.Rat).Sub(new(big.Rat).Sub(limit, amount), middle.hi)
		if g.want[id] = -1; room.Sign() >= 0 && new(big.Rat).Mul(room, room).Cmp(squares) >= 0 {
			g.want[id] = 1
		}
	}
	text := sumText(all) + " " + op + " " + g.literal(limit, "V")
	if g.pick(2) == 0 {
		text = g.literal(limit, "V") + " >= " + sumText(all)
	}
	g.claims = append(g.claims, "```claim "+id+"\nstatement: It holds.\ncriterion: "+text+"\n"+lines+"```\n")
}

// sqrtNear is the root of a number, to float accuracy: it draws limits and judges
// nothing.
func sqrtNear(r *big.Rat) *big.Rat {
	f, _ := new(big.Float).Sqrt(new(big.Float).SetRat(r)).Float64()
	return new(big.Rat).SetFloat64(f)
}

// reading writes a derived value, a reading of it and perhaps a claim about it.
// Every voltage that is not of one piece must be stated; what is stated is taken
// instead of what the notes say.
func (g *writer) reading() {
	all, _ := g.addends()
	g.pieces++
	name := fmt.Sprintf("D_%d", g.pieces)
	g.values = append(g.values, name+" = "+sumText(all))
	noted := sumOf(all, func(a addend) span { return a.span })
	asks := false
	var conds []string
	there := sumOf(all, func(a addend) span {
		if a.spread && g.pick(4) > 0 {
			return a.span
		}
		if !a.spread && g.pick(4) == 0 {
			asks = true
			return a.span
		}
		r := short(centre(a.span))
		conds = append(conds, a.name+" = "+g.literal(r, "V"))
		return exactly(r)
	})
	ends := []*big.Rat{there.lo, there.hi, centre(there), noted.lo, noted.hi}
	at, off := ends[g.pick(len(ends))], g.number(false)
	off.Quo(off, big.NewRat(10, 1))
	if g.pick(2) == 0 {
		at = new(big.Rat).Add(at, new(big.Rat).Mul(g.number(true), big.NewRat(1, 5)))
	}
	if len(decimal(at)) > 12 {
		at = short(at)
	}
	got := span{lo: new(big.Rat).Sub(at, off), hi: new(big.Rat).Add(at, off)}
	want := 0
	switch {
	case asks:
	case got.hi.Cmp(there.lo) < 0 || got.lo.Cmp(there.hi) > 0:
		want = -1
	case got.lo.Cmp(there.lo) >= 0 && got.hi.Cmp(there.hi) <= 0:
		want = 1
	}
	if g.pick(3) == 0 {
		limit := short(new(big.Rat).Add(noted.hi, g.number(true)))
		id := "of-" + strings.ToLower(strings.ReplaceAll(name, "_", ""))
		g.claims = append(g.claims, "```claim "+id+"\nstatement: It holds.\ncriterion: "+name+" <= "+g.literal(limit, "V")+"\n```\n")
		g.want[id] = -1
		if noted.hi.Cmp(limit) <= 0 {
			g.want[id] = 1
		}
		if got.lo.Cmp(limit) > 0 {
			want = -1
		}
	}
	line := name + " = " + g.literal(at, "V") + " ± " + g.literal(off, "V")
	if conds != nil {
		line += "  at " + strings.Join(conds, "; ")
	}
	g.readings = append(g.readings, line)
	g.want["reading."+name] = want
}
