package eval_test

import (
	"fmt"
	"math/big"
	"math/rand/v2"
	"strings"
)

// This file writes formulas and claims, and says what their verdicts are.

// take gives an operand whose unknowns are in none of used.
func (g *writer) take(dim string, used int) (term, bool) {
	ls := g.leaves[dim]
	if g.pick(5) == 0 && dim != "°C" {
		r := g.number(false)
		return term{text: g.literal(r, dim), dim: dim, w: exactly(r), n: exactly(r)}, true
	}
	for range 6 {
		if t := ls[g.pick(len(ls))]; t.vars&used == 0 {
			return t, true
		}
	}
	return term{}, false
}

// both joins two terms; the unknowns of both are then used.
func both(a, b term, dim, text string, f func(a, b span) span) term {
	return term{text: text, dim: dim, w: f(a.w, b.w), n: f(a.n, b.n), uncovered: a.uncovered || b.uncovered, vars: a.vars | b.vars}
}

func positive(t term) bool {
	return t.w.lo != nil && t.w.lo.Sign() > 0 && !t.n.empty && t.n.lo.Sign() > 0
}

// formula writes a formula of a dimension in which no unknown stands twice.
func (g *writer) formula(dim string, depth, used int) (term, bool) {
	if depth == 0 {
		return g.take(dim, used)
	}
	two := func(x, y, as, form string, f func(a, b span) span) (term, bool) {
		a, ok := g.formula(x, depth-1, used)
		if !ok {
			return a, false
		}
		b, ok := g.formula(y, depth-1, used|a.vars)
		if !ok {
			return b, false
		}
		if form == "%s / %s" && !positive(b) {
			return b, false
		}
		if form == "parallel(%s, %s)" && (!positive(a) || !positive(b)) {
			return b, false
		}
		return both(a, b, as, fmt.Sprintf(form, bracket(a.text), bracket(b.text)), f), true
	}
	sub := func(a, b span) span { return plus(a, minus(b)) }
	per := func(a, b span) span { return times(a, inverse(b)) }
	side := func(a, b span) span { return inverse(plus(inverse(a), inverse(b))) }
	switch dim {
	case "°C":
		if g.pick(2) == 0 {
			return two("°C", "K", dim, "%s + %s", plus)
		}
		return two("°C", "K", dim, "%s - %s", sub)
	case "dBm":
		if g.pick(2) == 0 {
			return two("dBm", "dB", dim, "%s + %s", plus)
		}
		return two("dBm", "dB", dim, "%s - %s", sub)
	}
	switch g.pick(8) {
	case 0, 1:
		return two(dim, dim, dim, "%s + %s", plus)
	case 2:
		return two(dim, dim, dim, "%s - %s", sub)
	case 3:
		return two(dim, dim, dim, "max(%s, %s)", larger)
	case 4:
		return two(dim, dim, dim, "min(%s, %s)", smaller)
	}
	switch dim {
	case "V":
		return two("A", "Ω", dim, "%s * %s", times)
	case "A":
		return two("V", "Ω", dim, "%s / %s", per)
	case "Ω":
		if g.pick(2) == 0 {
			return two("Ω", "Ω", dim, "parallel(%s, %s)", side)
		}
		return two("V", "A", dim, "%s / %s", per)
	case "W":
		return two("V", "A", dim, "%s * %s", times)
	case "K":
		return two("W", "K/W", dim, "%s * %s", times)
	case "1":
		return two("V", "V", dim, "%s / %s", per)
	case "dB":
		return two("dBm", "dBm", dim, "%s - %s", sub)
	}
	return two("1", dim, dim, "%s * %s", times)
}

func bracket(text string) string {
	if strings.Contains(text, " ") {
		return "(" + text + ")"
	}
	return text
}

// near draws a limit at or close to an end of a term, in few digits. side
// leans it: below all that may be, or above, where that is bounded.
func (g *writer) near(t term, side int) *big.Rat {
	var ends []*big.Rat
	for _, r := range []*big.Rat{t.w.lo, t.w.hi, t.n.lo, t.n.hi} {
		if r != nil {
			ends = append(ends, r)
		}
	}
	if len(ends) == 0 {
		return g.number(false)
	}
	e := ends[g.pick(len(ends))]
	lean := 0.2 * (g.rng.Float64() - 0.5)
	if to := map[int]*big.Rat{-1: t.w.lo, 1: t.w.hi}[side]; to != nil && g.pick(3) > 0 {
		e, lean = to, 0.2*g.rng.Float64()*float64(side*to.Sign())
	}
	if s := decimal(e); len(s) < 12 && g.pick(3) == 0 && (t.dim != "°C" || e.Cmp(big.NewRat(-200, 1)) > 0) {
		return e
	}
	f, _ := e.Float64()
	if t.dim == "°C" {
		f = max(f, -200) // a limit below absolute zero means nothing
	}
	r, _ := new(big.Rat).SetString(fmt.Sprintf("%.3g", f*(1+lean)))
	return r
}

// sentence is a condition and its verdict: 1, -1 or 0.
type sentence struct {
	text      string
	verdict   int
	uncovered bool
	vars      int
}

// margin draws what a comparison with a limit asks beside it.
func (g *writer) margin(dim string, limit *big.Rat) (text string, amount *big.Rat) {
	switch g.pick(4) {
	case 0:
		unit := map[string]string{"°C": "K", "dBm": "dB"}[dim]
		if unit == "" {
			unit = dim
		}
		r := g.number(false)
		if unit == "1" {
			break // a bare number after "with margin" could be a share
		}
		return " with margin " + g.literal(r, unit), r
	case 1:
		if limit.Sign() == 0 || dim == "°C" || dim == "dBm" || dim == "dB" {
			break
		}
		pc := big.NewRat(int64(1+g.pick(40)), 1)
		share := new(big.Rat).Quo(pc, big.NewRat(100, 1))
		of := ""
		if g.pick(2) == 0 {
			of = " of limit"
		}
		return " with margin " + decimal(pc) + " %" + of, share.Mul(share, new(big.Rat).Abs(limit))
	}
	return "", new(big.Rat)
}

// atLeast is t - limit - amount, or its opposite, in both spans.
func atLeast(t term, limit, amount *big.Rat) (w, n span) {
	by := exactly(new(big.Rat).Neg(new(big.Rat).Add(limit, amount)))
	return plus(t.w, by), plus(t.n, by)
}

func atMost(t term, limit, amount *big.Rat) (w, n span) {
	by := exactly(new(big.Rat).Sub(limit, amount))
	return plus(minus(t.w), by), plus(minus(t.n), by)
}

// comparison writes one comparison; alone says that a margin may follow.
func (g *writer) comparison(used int, alone bool) (sentence, bool) {
	dims := []string{"V", "A", "Ω", "W", "K", "°C", "1", "dBm", "V", "A"}
	dim := dims[g.pick(len(dims))]
	t, ok := g.formula(dim, g.pick(3), used)
	if !ok || t.vars == 0 { // what rests on no fact is open, whatever it says
		return sentence{}, false
	}
	s := sentence{uncovered: t.uncovered, vars: t.vars}
	judge := func(w, n span, strict bool) int { return verdictOf(w, n, strict) }
	kind := g.pick(6)
	limit, amount, margin := g.near(t, []int{1, 1, -1, -1, -1, 0}[kind]), new(big.Rat), ""
	if alone {
		margin, amount = g.margin(dim, limit)
	}
	switch kind {
	case 0, 1:
		w, n := atMost(t, limit, amount)
		s.text, s.verdict = t.text+" <= "+g.literal(limit, dim)+margin, judge(w, n, false)
	case 2, 3:
		w, n := atLeast(t, limit, amount)
		s.text, s.verdict = t.text+" >= "+g.literal(limit, dim)+margin, judge(w, n, false)
	case 4: // between two limits
		other := g.near(t, 1)
		if other.Cmp(limit) == 0 {
			return s, false
		}
		if other.Cmp(limit) < 0 {
			other, limit = limit, other
		}
		w, n := atLeast(t, limit, new(big.Rat))
		w2, n2 := atMost(t, other, new(big.Rat))
		s.verdict = min(judge(w, n, false), judge(w2, n2, false))
		s.text = g.literal(limit, dim) + " <= " + t.text + " <= " + g.literal(other, dim)
		if g.pick(2) == 0 {
			s.text = t.text + " inside " + g.literal(limit, dim) + " to " + g.literal(other, dim)
		}
	default: // against a second formula
		o, ok := g.formula(dim, g.pick(2), used|t.vars)
		if !ok {
			return s, false
		}
		w, n := plus(t.w, minus(o.w)), plus(t.n, minus(o.n))
		s.text, s.verdict = t.text+" >= "+o.text, judge(w, n, false)
		s.uncovered, s.vars = s.uncovered || o.uncovered, s.vars|o.vars
	}
	return s, true
}

// criterion writes one criterion.
func (g *writer) criterion() sentence {
	for {
		s, ok := g.comparison(0, true)
		if !ok {
			continue
		}
		plain := !strings.Contains(s.text, "with margin") && strings.Count(s.text, "<=")+strings.Count(s.text, ">=") == 1
		if !plain || g.pick(4) > 0 {
			return s
		}
		o, ok := g.comparison(s.vars, false)
		if !ok {
			return s
		}
		out := sentence{uncovered: s.uncovered || o.uncovered}
		if out.uncovered { // which part decides is not what is tested
			return s
		}
		if g.pick(2) == 0 {
			out.text, out.verdict = s.text+" and "+o.text, min(s.verdict, o.verdict)
		} else {
			out.text, out.verdict = s.text+" or "+o.text, max(s.verdict, o.verdict)
		}
		return out
	}
}

// notPassed is wanted where a fact that no row covers keeps a claim from being
// passed: it is open, or failed where it is false whatever that fact is.
const notPassed = 2

// writeNotebook writes a notebook of n claims, some readings, and the verdict of each: 1
// passed, 0 open, -1 failed, or notPassed.
func writeNotebook(seed uint64, n int) (text string, want map[string]int) {
	g := &writer{rng: rand.New(rand.NewPCG(seed, 0x6f7261636c65)), want: map[string]int{}, leaves: map[string][]term{}, count: 1}
	g.ambient = span{lo: big.NewRat(int64(-40+g.pick(50)), 1), hi: big.NewRat(int64(20+g.pick(80)), 1)}
	lo := big.NewRat(int64(1+g.pick(50)), 1000)
	g.use = span{lo: lo, hi: new(big.Rat).Add(lo, big.NewRat(int64(g.pick(3)*10), 1000))}
	use := g.literal(g.use.lo, "A")
	if g.use.lo.Cmp(g.use.hi) != 0 {
		use += " to " + g.literal(g.use.hi, "A")
	}
	if g.pick(2) == 0 {
		g.values = append(g.values, "I_LOAD = "+use)
		use = "I_LOAD"
	}
	for _, dim := range []string{"V", "A", "Ω", "W", "K/W", "K", "1", "°C", "dBm", "dB"} {
		for range 2 {
			g.value(dim)
		}
		g.fact(dim)
		if g.pick(3) == 0 && dim != "dBm" && dim != "dB" {
			g.curve(dim)
		}
	}
	g.leaves["°C"] = append(g.leaves["°C"], term{text: "ambient", dim: "°C", w: g.ambient, n: g.ambient, vars: 1})
	for range n / 10 {
		g.reading()
	}
	for i := range n {
		id := fmt.Sprintf("c%d", i)
		if g.pick(6) == 0 {
			g.statistic(id)
			continue
		}
		verdict, uncovered := 1, false
		var lines []string
		for range 1 + g.pick(5)/3 {
			s := g.criterion()
			uncovered = uncovered || s.uncovered
			verdict = min(verdict, s.verdict)
			lines = append(lines, "criterion: "+s.text)
		}
		if uncovered && verdict < 1 {
			verdict = notPassed
		}
		g.want[id] = verdict
		g.claims = append(g.claims, "```claim "+id+"\nstatement: It holds.\n"+strings.Join(lines, "\n")+"\n```\n")
	}
	var b strings.Builder
	fmt.Fprintf(&b, "```design\ntitle: oracle\nambient: %s to %s\n```\n\n", g.literal(g.ambient.lo, "°C"), g.literal(g.ambient.hi, "°C"))
	fmt.Fprintf(&b, "```part X\ntitle: invented\nkind: module\n%s\n", strings.Join(g.facts, "\n"))
	if len(g.factZero) > 0 {
		b.WriteString("at least zero: " + strings.Join(g.factZero, ", ") + "\n")
	}
	b.WriteString("pins:\n  1  A  passive\n  2  B  passive\napplication: none\n```\n\n")
	fmt.Fprintf(&b, "```circuit\nU1  X  A=N1 B=N2  in use: I_OUT = %s\n```\n\n", use)
	b.WriteString("```values\n" + strings.Join(g.values, "\n") + "\n")
	if len(g.zeros) > 0 {
		b.WriteString("at least zero: " + strings.Join(g.zeros, ", ") + "\n")
	}
	b.WriteString("```\n\n" + strings.Join(g.claims, "\n") + "\n```readings\n" + strings.Join(g.readings, "\n") + "\n```\n")
	return b.String(), g.want
}
