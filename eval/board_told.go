package eval

import (
	"math"
	"strings"

	"guardband/eval/bound"
	"guardband/eval/formula"
	"guardband/eval/network"
	"guardband/eval/record"
	"guardband/units"
)

// This file says what the network told of a criterion: its verdict, what keeps it
// open, the corner that breaks it, ranges.

// judgeTold writes the verdict of a criterion that the network judged.
func (c judge) judgeTold(t *trial) {
	k, x := t.k, t.k.told
	k.out.Boxes, k.thin = x.j.Boxes, math.Inf(1)
	switch {
	case t.cl.samples > 0 || t.cl.Out.Analysis == "root sum square":
		k.out.Verdict = record.Open
		k.out.Open = append(k.out.Open, record.OpenPoint{Reason: "not evaluated",
			Text: "it has no single formula over the circuit, which statistics need", Settle: "judge it at its worst: leave `analysis:` out"})
	case x.j.Verdict == network.Passed:
		k.out.Verdict = record.Passed
	case x.j.Verdict == network.Failed && k.Unsure == nil:
		k.out.Verdict, k.out.Failure = record.Failed, "broken"
		if p := k.comp.Plain; p != 0 && p != k.comp.Reg && x.b.n.Judge(p, x.among).Verdict != network.Failed {
			k.out.Failure = "short"
		}
		k.out.Corner, k.out.CornerText = c.toldCorner(x)
	case k.Unsure != nil:
		k.out.Verdict = record.Open
		k.out.Open = append(k.out.Open, *k.Unsure)
	default:
		k.out.Verdict = record.Open
		k.out.Open = append(k.out.Open, c.toldOpen(t)...)
	}
	c.block(t)
	c.toldTests(t)
}

// toldOpen says why the network leaves a criterion open.
func (c judge) toldOpen(t *trial) []record.OpenPoint {
	x := t.k.told
	var out []record.OpenPoint
	for _, i := range x.j.Lacking {
		if p := c.madePoints(t, i); p != nil {
			out = append(out, p...)
		} else if y := c.inputs[i].sym; y != nil {
			out = append(out, y.why...)
		}
	}
	for _, y := range c.allAsked(t.k.uses) {
		if p := y.lacking; p != nil {
			out = append(out, *p)
		}
	}
	if turn := x.j.Turns; turn != nil {
		in := c.inputs[turn.Input]
		name := strings.TrimPrefix(in.name, "the ")
		text := "it applies while the " + name + " is at least "
		at := turn.AtLeast
		if at == nil {
			at, text = turn.AtMost, "it applies while the "+name+" is at most "
		}
		text += units.Format(at, in.typ, units.Style{Digits: 2})
		if turn.AtLeast == nil && in.set().Lo == nil {
			text += " in either direction"
		}
		out = append(out, record.OpenPoint{Reason: "no fact", Text: text, Settle: "note it, if that is so"})
	}
	if len(out) == 0 || x.j.Why != "" && !strings.HasPrefix(x.j.Why, "what is known") {
		if n, ok := strings.CutPrefix(x.j.Why, nothingFeeds); ok {
			return append(out, record.OpenPoint{Reason: "no value", Text: x.j.Why, Settle: "give a value `" + n + " = ...`, or place what feeds it"})
		}
		out = append(out, record.OpenPoint{Reason: "no fact", Text: x.j.Why,
			Settle: "state what the circuit gives there in the row of the part (`in use:`), or claim it yourself"})
	}
	return telling(dedupe(out))
}

// stateUse is what settles an input of the network's own, which no line of the
// notes states.
const stateUse = "state the quantity in the row of the part (`in use:`), or claim it yourself"

// telling leaves out what a reader can do nothing about: the network's own
// inputs where a missing fact is named too, all but two of them elsewhere, and
// of these rather those that say where something lies between its bounds.
func telling(in []record.OpenPoint) (out []record.OpenPoint) {
	var own, within []record.OpenPoint
	for _, p := range in {
		switch {
		case p.Settle != stateUse:
			out = append(out, p)
		case strings.HasPrefix(p.Text, "the place of "):
			within = append(within, p)
		default:
			own = append(own, p)
		}
	}
	if len(out) == 0 {
		own = append(own, within...)
		out = own[:min(len(own), 2)]
	}
	return out
}

// madePoints says why an input that the network made keeps a criterion open:
// nil of others.
func (c judge) madePoints(t *trial, i int) (out []record.OpenPoint) {
	b := c.network
	if b == nil {
		return nil
	}
	p, made := b.made[i]
	switch {
	case !made:
		return nil
	case p.Text != "":
		return []record.OpenPoint{p}
	}
	for _, y := range c.allAsked(t.k.uses) {
		if p := y.lacking; p != nil {
			out = append(out, *p)
		}
		for _, n := range c.asks[y.input.num].nets {
			out = append(out, b.about[b.island(n)].missing...)
		}
	}
	if len(out) == 0 {
		name := strings.TrimPrefix(c.inputs[i].name, "the ")
		out = []record.OpenPoint{{Reason: "no fact", Text: "the " + name + " is not known", Settle: stateUse}}
	}
	return dedupe(out)
}

func dedupe(in []record.OpenPoint) (out []record.OpenPoint) {
	seen := map[record.OpenPoint]bool{}
	for _, p := range in {
		if !seen[p] {
			seen[p] = true
			out = append(out, p)
		}
	}
	return out
}

// allAsked are the symbols among some, and those they are made of, that the
// network tells.
func (c judge) allAsked(ys []*symbol) (out []*symbol) {
	for _, y := range closure(ys) {
		if y.input != nil && c.asks[y.input.num] != nil {
			out = append(out, y)
		}
	}
	return out
}

// toldCorner is the point at which a criterion is broken.
func (c judge) toldCorner(x *answer) (out []record.CornerValue, text string) {
	for i, in := range c.inputs {
		at := x.j.Point[i]
		if at == nil || in.sym == nil {
			continue
		}
		out = append(out, record.CornerValue{Name: in.name, Value: floatOf(at),
			Text: units.Format(at, in.typ, units.Style{Unit: in.unit, Digits: 12}), End: endName(at, in.set())})
	}
	var states []string
	if x.j.Case != nil {
		for _, p := range x.j.Case.States {
			if len(p.Driver.States) > 1 && p.State != "on" {
				states = append(states, p.Driver.Name+" "+p.State)
			}
		}
	}
	if text = x.j.Why; len(states) > 0 {
		text = "with " + strings.Join(states, ", ")
	}
	return out, text
}

// toldTests writes the comparisons of such a criterion with their ranges.
func (c judge) toldTests(t *trial) {
	k, x := t.k, t.k.told
	for i := range k.comp.Tests {
		test := &k.comp.Tests[i]
		out := record.Test{Text: test.Text(), Op: test.Op, LimitRight: test.LimitRight, Verdict: k.out.Verdict}
		lu, ru := showUnits(test)
		out.Left, out.Right = c.toldSpan(x, test.Left, lu), c.toldSpan(x, test.Right, ru)
		out.Left.Text, out.Right.Text = test.Sides()
		if k.out.Verdict == record.Passed && test.Slack != 0 && !test.Negated {
			if e := x.b.n.Range(test.Slack, x.among); !math.IsInf(e.Lo, 0) && !math.IsNaN(e.Lo) && e.Lo >= 0 {
				lo := e.Lo
				m := &record.Margin{Absolute: &lo, Base: test.Base, Required: k.asked.words()}
				m.Text = units.FormatFloat(lo, slackType(test), units.Style{Unit: marginUnit(test), Digits: 4, Round: units.Down})
				out.Margin = m
			}
		}
		k.out.Tests = append(k.out.Tests, out)
	}
}

// toldSpan is the range of one side.
func (c judge) toldSpan(x *answer, v formula.Value, u *units.Unit) record.Span {
	s := record.Span{Unit: baseUnit(v.Type)}
	if v.Class != formula.Number {
		return s
	}
	e := x.extent(v.Reg)
	s.Min, s.Max = finite(e.Lo), finite(e.Hi)
	s.Shown = extentText(e, v.Type, u)
	return s
}

// extent is the range of a number in the states that are asked.
func (x *answer) extent(r bound.Reg) bound.Extent {
	switch {
	case len(judge{x.b.c}.askedIn(r)) > 0: // it was not followed
		return bound.Extent{Lo: bound.End{Outer: math.Inf(-1), Unbounded: true}, Hi: bound.End{Outer: math.Inf(1), Unbounded: true}}
	case !x.b.n.Asks(r):
		return x.b.c.rangeOver(r, shownBoxes)
	}
	e := x.b.n.Range(r, x.among)
	end := func(v float64) bound.End {
		if math.Abs(v) < 1e-300 { // rounded outwards from 0
			v = 0
		}
		return bound.End{Outer: v, Inner: v, Unbounded: math.IsInf(v, 0)}
	}
	return bound.Extent{Lo: end(e.Lo), Hi: end(e.Hi), Empty: math.IsNaN(e.Lo) || e.Lo > e.Hi}
}

// rangeOf is the range of a number for printing, the network asked where it
// must be.
func (c judge) rangeOf(r bound.Reg) bound.Extent {
	if qs := c.askedIn(r); len(qs) > 0 && c.boardNetwork().refuses(qs) == "" {
		put, _ := c.answered(r)
		b, x := c.boardNetwork(), put(r)
		among := b.scope(&Claim{}, &Criterion{}, false)
		if only := b.n.Sole(x, among); only != nil {
			r = only.Put(x)
		} else {
			return (&answer{b: b, among: among}).extent(x)
		}
	}
	return c.rangeOver(r, shownBoxes)
}
