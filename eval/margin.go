package eval

import (
	"math"
	"math/big"

	"guardband/eval/bound"
	"guardband/eval/formula"
	"guardband/eval/record"
	"guardband/units"
)

// marginOf is the smallest distance to the limit of one comparison over the
// facts: over all they allow for a pass, over the stated columns else.
func (c judge) marginOf(t *trial, i int, sure bool) (*record.Margin, bound.End) {
	x, r := &t.k.comp.Tests[i], t.tests[i]
	switch {
	case t.cl.samples > 0:
		return nil, bound.End{} // a share of samples has no distance to a limit
	case t.cl.Out.Analysis == "root sum square":
		return c.statisticalMargin(t, i), bound.End{}
	}
	e := t.extent(r.slack, sure, bound.LowEnd, shownBoxes)
	if e.Empty || e.Lo.Unbounded {
		return nil, bound.End{}
	}
	typ := slackType(x)
	m := &record.Margin{Absolute: finite(e.Lo), Base: x.Base, Required: t.k.asked.words()}
	if m.Absolute == nil {
		return nil, bound.End{}
	}
	m.Text = c.marginText(e.Lo, typ, marginUnit(x))
	if r.need >= 0 {
		if n := t.extent(r.need, sure, bound.HighEnd, shownBoxes); !n.Hi.Unbounded {
			m.RequiredAbsolute = finite(n.Hi)
			m.Lacking = lacking(m, typ, marginUnit(x))
		}
	}
	if r.ratio >= 0 {
		if q := t.extent(r.ratio, sure, bound.LowEnd, t.percentBoxes()); !q.Empty && !q.Lo.Unbounded {
			if p := finite(q.Lo); p != nil && tight(q.Lo) {
				pc := *p * 100
				m.Percent = &pc
				m.Text += ", " + c.percentText(t, q.Lo) + " of " + x.Base
			}
		}
	}
	return m, e.Lo
}

// lacking is how much of the margin asked is missing, "" where none is.
func lacking(m *record.Margin, typ units.Type, u *units.Unit) string {
	if m.RequiredAbsolute == nil || *m.RequiredAbsolute <= *m.Absolute {
		return ""
	}
	return units.FormatFloat(*m.RequiredAbsolute-*m.Absolute, typ, units.Style{Unit: u, Digits: 4, Round: units.Up})
}

// percentBoxes is the budget for a percentage, which is only printed: it costs
// no more than the verdict did, and is left out where that does not do.
func (t *trial) percentBoxes() int {
	return min(max(t.k.out.Boxes, 64), shownBoxes)
}

// statisticalMargin is what root sum square leaves to the limit.
func (c judge) statisticalMargin(t *trial, i int) *record.Margin {
	if i >= len(t.statLeft) || math.IsNaN(t.statLeft[i]) {
		return nil
	}
	x, r := &t.k.comp.Tests[i], t.tests[i]
	left := t.statLeft[i]
	m := &record.Margin{Absolute: &left, Base: x.Base, Required: t.k.asked.words()}
	m.Text = units.FormatFloat(left, slackType(x), units.Style{Unit: marginUnit(x), Digits: 4, Round: units.Down})
	limit := x.Left
	if x.LimitRight {
		limit = x.Right
	}
	if v, ok := c.b.ConstOf(limit.Reg); ok && r.ratio >= 0 && x.Base == "limit" && v.Sign() != 0 {
		share := left / math.Abs(units.Float(v))
		pc := 100 * share
		m.Percent = &pc
		m.Text += ", " + units.FormatFloat(share, units.Type{}, units.Style{Unit: &percent, Digits: 3, Round: units.Down}) + " of limit"
	}
	return m
}

// tight says that an end is attained to within a millionth, so that a share
// of an unbounded base is not shown as if it were reached.
func tight(e bound.End) bool {
	return e.Exact != nil || math.Abs(e.Outer-e.Inner) <= 1e-6*math.Abs(e.Outer)
}

// slackType is the type of a distance between two sides: of two temperature
// points it is a difference, of two levels decibels.
func slackType(x *formula.Test) units.Type {
	t := x.Left.Type
	switch t.Kind {
	case units.Point, units.Kelvin:
		t.Kind = units.Plain
	case units.Level:
		t = units.Type{Kind: units.LevelStep}
	}
	return t
}

func marginUnit(x *formula.Test) *units.Unit {
	l, r := showUnits(x)
	u := r
	if u == nil {
		u = l
	}
	if u == nil || u.Offset != nil || u.Type.Kind == units.Level {
		return nil // a difference is not shown on a scale
	}
	return u
}

func (c judge) marginText(e bound.End, typ units.Type, u *units.Unit) string {
	if e.Exact != nil {
		return units.FormatAgainst(e.Exact, zero, typ, units.Style{Unit: u, Digits: 4})
	}
	return units.FormatFloat(e.Outer, typ, units.Style{Unit: u, Digits: 4, Round: units.Down})
}

// percentText prints a margin in percent so that it never contradicts the
// margin asked.
func (c judge) percentText(t *trial, e bound.End) string {
	st := units.Style{Unit: &percent, Digits: 3}
	if e.Exact == nil {
		return units.FormatFloat(e.Outer, units.Type{}, units.Style{Unit: &percent, Digits: 3, Round: units.Down})
	}
	want := zero
	if m := t.k.asked.of(); m != nil && m.Share != nil {
		want = m.Share
	}
	return units.FormatAgainst(e.Exact, want, units.Type{}, st)
}

var percent = units.Unit{Symbol: "%", Factor: big.NewRat(1, 100)}
