package eval

import (
	"math"
	"math/big"
	"slices"
	"strings"

	"guardband/eval/bound"
	"guardband/eval/formula"
	"guardband/eval/record"
	"guardband/units"
)

// showCorner writes the values of the inputs at a point, and what the sides of
// the criterion come to there.
func (c judge) showCorner(t *trial, at []*big.Rat) {
	if len(at) == 0 {
		return
	}
	t.k.at, t.k.atInputs = at, t.prog.Inputs()
	out := []record.CornerValue{}
	for i, n := range t.prog.Inputs() {
		in := c.inputs[n]
		v := record.CornerValue{Name: in.name}
		if i >= len(at) || at[i] == nil {
			v.Text = "any value"
		} else {
			v.Value = floatOf(at[i])
			v.Text = units.Format(at[i], in.typ, units.Style{Unit: in.unit, Digits: 12})
			v.End = endName(at[i], in.in)
		}
		out = append(out, v)
	}
	t.k.out.Corner = out
	t.k.out.CornerText = c.sidesAt(t, at)
}

func endName(v *big.Rat, in bound.Input) string {
	for _, e := range []struct {
		at   *big.Rat
		name string
	}{{in.Lo, "min"}, {in.Hi, "max"}, {in.SureLo, "min"}, {in.SureHi, "max"}} {
		if e.at != nil && e.at.Cmp(v) == 0 {
			return e.name
		}
	}
	return "inside"
}

// sidesAt prints each comparison with its sides worked out at a point:
// "3.366 V <= 3.3 V".
func (c judge) sidesAt(t *trial, at []*big.Rat) string {
	if slices.Contains(at, nil) {
		return "" // some input may stand anywhere: no single numbers to show
	}
	var out []string
	for i := range t.k.comp.Tests {
		x, r := &t.k.comp.Tests[i], t.tests[i]
		if r.left < 0 || r.right < 0 {
			continue
		}
		l, lok := exactAt(t.prog, r.left, at)
		g, gok := exactAt(t.prog, r.right, at)
		if !lok || !gok {
			continue
		}
		ls, gs := sideTexts(x, l, g)
		side := ls + " " + signOf(x.Op) + " " + gs
		if !holdsBetween(x.Op, l.Cmp(g)) {
			side += " does not hold"
		}
		out = append(out, side)
	}
	return strings.Join(out, ", ")
}

// exactAt is a number at a point: exact where rational, else the middle of a
// very narrow enclosure.
func exactAt(p *bound.Program, root int, at []*big.Rat) (*big.Rat, bool) {
	lo, hi, exact, undef := bound.At(p, root, at)
	if undef != nil {
		return nil, false
	}
	if exact != nil {
		return exact, true
	}
	m := lo/2 + hi/2
	if math.IsNaN(m) || math.IsInf(m, 0) {
		return nil, false
	}
	return new(big.Rat).SetFloat64(m), true
}

// sideTexts prints the two sides of a comparison so that the printed numbers
// never contradict the exact ones.
func sideTexts(x *formula.Test, l, r *big.Rat) (string, string) {
	lu, ru := showUnits(x)
	return units.FormatAgainst(l, r, x.Left.Type, units.Style{Unit: lu, Digits: 6}),
		units.FormatAgainst(r, l, x.Right.Type, units.Style{Unit: ru, Digits: 6})
}

// showUnits are the units the sides are shown in: a side without one of its
// own takes the other's.
func showUnits(x *formula.Test) (l, r *units.Unit) {
	l, r = x.Left.Unit, x.Right.Unit
	if l == nil && r != nil && r.Type.Kind == x.Left.Type.Kind {
		l = r
	}
	if r == nil && l != nil && l.Type.Kind == x.Right.Type.Kind {
		r = l
	}
	return l, r
}

// showTests writes the comparisons of a criterion with their ranges and
// margins.
func (c judge) showTests(t *trial) {
	sure := t.k.out.Verdict != record.Passed
	thin, thinAt := math.Inf(1), []*big.Rat(nil)
	for i := range t.k.comp.Tests {
		x, r := &t.k.comp.Tests[i], t.tests[i]
		out := record.Test{Text: x.Text(), Op: x.Op, LimitRight: x.LimitRight, Verdict: t.k.out.Verdict}
		lu, ru := showUnits(x)
		out.Left = c.span(t, r.left, x.Left, lu, sure)
		out.Right = c.span(t, r.right, x.Right, ru, sure)
		out.Left.Text, out.Right.Text = x.Sides()
		if len(t.k.comp.Tests) > 1 {
			out.Verdict = c.testVerdict(t, x, r)
		}
		if r.slack >= 0 && !x.Negated {
			m, e := c.marginOf(t, i, sure)
			out.Margin = m
			if m != nil && out.Verdict == record.Passed && t.k.out.Verdict == record.Failed && m.RequiredAbsolute != nil &&
				*m.Absolute < *m.RequiredAbsolute {
				out.Verdict = record.Failed
			}
			if m != nil && m.Key() < thin {
				thin, thinAt = m.Key(), e.At
			}
		}
		t.k.out.Tests = append(t.k.out.Tests, out)
	}
	t.k.thin = thin
	if t.k.out.Verdict == record.Passed && thinAt != nil {
		c.showCorner(t, thinAt)
	}
}

// testVerdict judges one comparison of several on its own.
func (c judge) testVerdict(t *trial, x *formula.Test, r testRoots) record.Verdict {
	if t.k.out.Verdict == record.Passed && conjunction(t.k.expr.Root) {
		return record.Passed
	}
	switch {
	case t.k.blocked:
		return record.Open
	case r.holds < 0:
		return t.k.out.Verdict
	}
	switch bound.Decide(t.prog, r.holds, t.in, bound.Options{Boxes: c.opt.Boxes}).Outcome {
	case bound.Proven:
		return record.Passed
	case bound.Broken:
		return record.Failed
	}
	return record.Open
}

// span is the range of one side over the facts.
func (c judge) span(t *trial, root int, v formula.Value, u *units.Unit, sure bool) record.Span {
	s := record.Span{Unit: baseUnit(v.Type)}
	if root < 0 {
		return s
	}
	e := t.extent(root, sure, bound.BothEnds, shownBoxes)
	s.Min, s.Max = finite(e.Lo), finite(e.Hi)
	s.Exact = attained(e.Lo) && attained(e.Hi)
	if v.Fixed {
		if r, ok := c.b.ConstOf(v.Reg); ok {
			s.Nominal = floatOf(r)
		}
	}
	s.Shown = extentText(e, v.Type, u)
	return s
}

// shownBoxes is the budget for a number that is printed, claimBoxes that for
// all of a criterion. Where it is spent numbers are printed wider.
const (
	shownBoxes = 1000
	claimBoxes = 2000
)

func (t *trial) extent(root int, sure bool, ends bound.Ends, boxes int) (e bound.Extent) {
	opt := bound.Options{Boxes: min(boxes, t.boxesLeft()), Ends: ends}
	if sure {
		e = bound.SureRange(t.prog, root, t.in, opt)
	} else {
		e = bound.Range(t.prog, root, t.in, opt)
	}
	t.k.shown += e.Boxes
	t.work += t.prog.Work(root, e.Boxes)
	return e
}

// boxesLeft is what the numbers printed so far leave of the budget for all.
func (t *trial) boxesLeft() int {
	if t.late {
		return lateBoxes
	}
	return max(claimBoxes-t.k.shown, 16)
}

func finite(e bound.End) *float64 {
	if e.Unbounded || math.IsInf(e.Outer, 0) || math.IsNaN(e.Outer) {
		return nil
	}
	if e.Exact != nil {
		return floatOf(e.Exact)
	}
	return &e.Outer
}

// floatOf is nil for a number beyond what JSON's readers hold.
func floatOf(r *big.Rat) *float64 {
	f := units.Float(r)
	if math.IsInf(f, 0) {
		return nil
	}
	return &f
}

func attained(e bound.End) bool { return e.Exact != nil || e.Outer == e.Inner }

// extentText prints a range: one number where it has no width.
func extentText(e bound.Extent, typ units.Type, u *units.Unit) string {
	if e.Empty {
		return "undefined"
	}
	lo := endText(e.Lo, typ, u, units.Down)
	hi := endText(e.Hi, typ, u, units.Up)
	switch {
	case e.Lo.Unbounded && e.Hi.Unbounded:
		return "unbounded"
	case e.Lo.Unbounded:
		return "at most " + hi
	case e.Hi.Unbounded:
		return "at least " + lo
	case e.Lo.Exact != nil && e.Hi.Exact != nil && e.Lo.Exact.Cmp(e.Hi.Exact) == 0, lo == hi:
		return lo
	}
	return lo + " to " + hi
}

// endText prints one end, rounded outwards so that the printed range holds.
func endText(e bound.End, typ units.Type, u *units.Unit, round units.Rounding) string {
	if e.Exact != nil {
		return units.Format(e.Exact, typ, units.Style{Unit: u, Digits: 6, Round: round})
	}
	return units.FormatFloat(e.Outer, typ, units.Style{Unit: u, Digits: 6, Round: round})
}

// shownRange prints what a symbol may be, for messages.
func (c judge) shownRange(y *symbol) string {
	if y.val.Class != formula.Number {
		return "nothing"
	}
	p := c.b.Extract(y.val.Reg)
	return extentText(bound.Range(p, 0, c.gather(p), bound.Options{Boxes: 2000}), y.val.Type, y.val.Unit)
}

// baseUnit spells the coherent SI unit of a type, the unit of the record's
// numbers: V, Ω, K.
func baseUnit(t units.Type) string {
	switch t.Kind {
	case units.LevelStep:
		return "dB"
	case units.Level:
		return "dB" + t.Ref
	}
	plain := units.Type{Dim: t.Dim}
	if plain.Dim.IsZero() {
		return "1"
	}
	if u, ok := strings.CutPrefix(units.Format(one, plain, units.Style{}), "1 "); ok {
		return u
	}
	return t.Dim.String()
}

// conjunction says that a criterion holds only if each of its comparisons does.
func conjunction(n *formula.Node) bool {
	switch n.Kind {
	case formula.NodeChain, formula.NodeInside:
		return true
	case formula.NodeParen:
		return conjunction(n.Args[0])
	case formula.NodeBinary:
		return n.Word == "and" && conjunction(n.Args[0]) && conjunction(n.Args[1])
	}
	return false
}

// holdsBetween tells a comparison of two numbers from their order.
func holdsBetween(op string, order int) bool {
	return map[string]bool{"<": order < 0, "<=": order <= 0, ">": order > 0, ">=": order >= 0, "==": order == 0, "!=": order != 0}[op]
}
