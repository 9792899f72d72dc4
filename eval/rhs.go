package eval

import (
	"cmp"
	"math/big"
	"strings"

	"guardband/eval/bound"
	"guardband/eval/formula"
	"guardband/notebook"
	"guardband/units"
)

// columns is a right-hand side worked out: its ends as values.
type columns struct {
	shape       units.Shape
	lo, typ, hi *formula.Value // Single: typ alone
	derived     bool           // Single: a formula
	bad         bool
	expr        *formula.Expr // Single: the parsed formula
}

// lowerColumns works out the right-hand side of a definition.
func (c *compiler) lowerColumns(t notebook.Text, s *scope) columns {
	if strings.HasPrefix(strings.TrimSpace(t.S), "by ") {
		return c.lowerTable(t, s)
	}
	parts, err := units.Split(t.S)
	if err != nil {
		c.unitError(t, err)
		return columns{bad: true}
	}
	out := columns{shape: parts.Shape}
	get := func(l units.Leaf) *formula.Value {
		if !l.Present() {
			return nil
		}
		v, _, e := c.lowerText(t.Slice(l.Off, l.End), s)
		out.expr = e
		if v.Class == formula.Bad {
			out.bad = true
			return nil
		}
		return &v
	}
	switch parts.Shape {
	case units.Single:
		var v formula.Value
		v, out.derived, out.expr = c.lowerText(t.Slice(parts.Single.Off, parts.Single.End), s)
		out.typ, out.bad = &v, v.Class == formula.Bad
	case units.Range:
		if parts.Unit.Present() {
			c.lowerBracketed(t, parts, &out)
			break
		}
		out.hi = get(parts.Hi)
		lo := t.Slice(parts.Lo.Off, parts.Lo.End)
		if q := c.bareLow(lo.S, t.S[parts.Hi.Off:parts.Hi.End]); q != nil {
			v := c.number(*q)
			out.lo = &v
		} else {
			out.lo = get(parts.Lo)
		}
	case units.Columns:
		out.lo, out.typ, out.hi = get(parts.Min), get(parts.Typ), get(parts.Max)
		if parts.MaxDev.Present() {
			out.hi = get(parts.MaxDev)
			if out.hi != nil {
				n := *out.hi
				n.Reg = c.b.Unary(bound.OpNeg, n.Reg)
				out.lo = &n
			}
		}
	case units.Deviated:
		c.lowerDeviated(t, parts, s, &out)
	}
	if !out.bad {
		c.agree(t, &out)
	}
	return out
}

// lowerBracketed reads "(1.9 to 5.6) V": both ends take the unit.
func (c *compiler) lowerBracketed(t notebook.Text, parts units.Parts, out *columns) {
	unit := parts.Unit.Text(t.S)
	for _, x := range []struct {
		l  units.Leaf
		at **formula.Value
	}{{parts.Lo, &out.lo}, {parts.Hi, &out.hi}} {
		q, err := units.ParseLiteral(strings.TrimSpace(x.l.Text(t.S)) + " " + strings.TrimSpace(unit))
		if err != nil {
			c.diags.At(notebook.Err, err.Code, t, x.l.Off, x.l.End, err.Msg, err.Hint)
			out.bad = true
			continue
		}
		v := c.number(q)
		*x.at = &v
	}
}

// bareLow reads the first end of "-40 to 125 °C": a bare number takes the unit
// of the second.
func (c *compiler) bareLow(lo, hi string) *units.Quantity {
	l, err := units.ParseLiteral(strings.TrimSpace(lo))
	if err != nil || l.Unit.Symbol != "" {
		return nil
	}
	h, err := units.ParseLiteral(strings.TrimSpace(hi))
	if err != nil || h.Unit.Symbol == "" {
		return nil
	}
	q, err := units.ParseLiteral(strings.TrimSpace(lo) + " " + cmp.Or(h.Unit.Typed, h.Unit.Symbol))
	if err != nil {
		return nil
	}
	return &q
}

// lowerDeviated works out "centre ± amount".
func (c *compiler) lowerDeviated(t notebook.Text, parts units.Parts, s *scope, out *columns) {
	if !parts.Centre.Present() {
		c.deviateFrom(t, units.Quantity{SI: new(big.Rat)}, parts, out)
		return
	}
	ct := t.Slice(parts.Centre.Off, parts.Centre.End)
	v, _, e := c.lowerText(ct, s)
	if v.Class == formula.Bad {
		out.bad = true
		return
	}
	r, ok := c.b.ConstOf(v.Reg)
	if v.Class != formula.Number || !ok {
		out.bad = true
		c.diagnose(notebook.Err, "centre-range", ct, "the centre of a tolerance must be one exact value",
			"write the range itself, or multiply by a tolerance of its own: `K = 1 ± 2 %`")
		return
	}
	out.expr = e
	centre := units.Quantity{SI: r, Type: v.Type}
	if v.Unit != nil {
		centre.Unit = *v.Unit
	}
	c.deviateFrom(t, centre, parts, out)
}

// deviateFrom works out the ends of a tolerance about an exact centre. A
// centre without a unit is 0 and takes that of the amount.
func (c *compiler) deviateFrom(t notebook.Text, centre units.Quantity, parts units.Parts, out *columns) {
	lits := func(ls []units.Leaf) (qs []units.Quantity) {
		for _, l := range ls {
			q, err := units.ParseLiteral(strings.TrimSpace(t.S[l.Off:l.End]))
			if err != nil {
				err.Off, err.End = err.Off+l.Off, err.End+l.Off
				c.unitError(t, err)
				out.bad = true
				continue
			}
			qs = append(qs, q)
		}
		return qs
	}
	plus, minus := lits(parts.Plus), lits(parts.Minus)
	if out.bad {
		return
	}
	if !parts.Centre.Present() && len(plus) > 0 {
		centre.Type, centre.Unit = plus[0].Type, plus[0].Unit
	}
	lo, hi, err := units.Deviate(centre, plus, minus)
	if err != nil {
		c.unitError(t, err)
		out.bad = true
		return
	}
	l, m, h := c.number(lo), c.number(centre), c.number(hi)
	out.lo, out.typ, out.hi = &l, &m, &h
}

// agree checks that the ends are of one type and in order.
func (c *compiler) agree(t notebook.Text, out *columns) {
	var first *formula.Value
	for _, v := range []*formula.Value{out.lo, out.typ, out.hi} {
		if v == nil {
			continue
		}
		if v.Class != formula.Number {
			if out.shape != units.Single {
				c.diagnose(notebook.Err, "column-class", t, "an end of a range must be a number", "")
				out.bad = true
			}
			return
		}
		if first == nil {
			first = v
			continue
		}
		if _, err := units.Combine("<=", first.Type, v.Type, "one end", "the other"); err != nil {
			c.diagnose(notebook.Err, "dimension", t, err.Msg, err.Hint)
			out.bad = true
			return
		}
	}
	var prev *big.Rat
	for _, v := range []*formula.Value{out.lo, out.typ, out.hi} {
		r := c.exact(v)
		switch {
		case r == nil:
			continue
		case v.Type.Kind == units.Point && r.Sign() < 0:
			c.diagnose(notebook.Err, "absolute-zero", t, "a temperature below absolute zero", "a temperature cannot be below -273.15 °C")
			out.bad = true
			return
		case prev != nil && prev.Cmp(r) > 0:
			hint := "write the smaller one first"
			if out.shape == units.Columns {
				hint = "min, typ and max must rise"
			}
			c.diagnose(notebook.Err, "ends-reversed", t, "the ends are reversed", hint)
			out.bad = true
			return
		}
		prev = r
	}
}

// lowerText works out one literal or formula. derived says that it is a formula.
func (c *compiler) lowerText(t notebook.Text, s *scope) (v formula.Value, derived bool, e *formula.Expr) {
	trimmed := strings.TrimSpace(t.S)
	if q, end, ok, err := units.ScanLiteral(trimmed, 0, true); ok && err == nil && end == len(trimmed) {
		if d := units.Doubt(q); d != nil {
			c.diagnose(notebook.Warn, d.Code, t, d.Msg, d.Hint)
		}
		return c.number(q), false, nil
	}
	e, errs := formula.Parse(t.S)
	if len(errs) > 0 {
		c.formulaErrors(t, errs)
		return formula.Value{}, true, e
	}
	v, errs = c.check.Check(e, s)
	c.formulaErrors(t, errs)
	if len(errs) > 0 {
		v.Class = formula.Bad
	}
	if len(errs) == 0 && v.Class == formula.Bad {
		return v, true, e
	}
	v.Given = e.Root.Kind == formula.NodeLiteral
	return v, !v.Given, e
}

// lowerTable works out "by T_A: -40 °C 4.4 A, 25 °C 3.0 A": straight lines
// between the points, nothing beyond.
func (c *compiler) lowerTable(t notebook.Text, s *scope) columns {
	bad := columns{bad: true}
	head, body, ok := strings.Cut(t.S, ":")
	if !ok {
		c.diagnose(notebook.Err, "table-form", t, "a table of points reads `by NAME: x y, x y, ...`", "`by T_A: -40 °C 4.4 A, 25 °C 3.0 A`")
		return bad
	}
	name := strings.TrimSpace(strings.TrimPrefix(strings.TrimSpace(head), "by"))
	at := strings.Index(t.S, name)
	nameText := t.Slice(at, at+len(name))
	x, _, _ := c.lowerText(nameText, s)
	if x.Class != formula.Number {
		return bad
	}
	var knots []bound.Knot
	var y formula.Value
	off := len(head) + 1
	for _, row := range strings.Split(body, ",") {
		rt := t.Slice(off, off+len(row))
		off += len(row) + 1
		lead := len(row) - len(strings.TrimLeft(row, " "))
		qx, end, ok, err := units.ScanLiteral(row, lead, true)
		var qy units.Quantity
		if ok && err == nil {
			qy, err = units.ParseLiteral(strings.TrimSpace(row[end:]))
		} else if err == nil {
			err = &units.Error{Code: "literal", Msg: "a point of the table is two quantities: x y"}
		}
		if err != nil {
			c.diagnose(notebook.Err, err.Code, rt, err.Msg, err.Hint)
			return bad
		}
		if _, err := units.Combine("<=", x.Type, qx.Type, name, qx.Text); err != nil {
			c.diagnose(notebook.Err, "dimension", rt, err.Msg, err.Hint)
			return bad
		}
		if len(knots) == 0 {
			y = c.number(qy)
		} else if _, err := units.Combine("<=", y.Type, qy.Type, "the first point", qy.Text); err != nil {
			c.diagnose(notebook.Err, "dimension", rt, err.Msg, err.Hint)
			return bad
		} else if knots[len(knots)-1].X.Cmp(qx.SI) >= 0 {
			c.diagnose(notebook.Err, "table-order", rt, "the points of a table must be in ascending order", "sort them by "+name)
			return bad
		}
		knots = append(knots, bound.Knot{X: qx.SI, Y: qy.SI})
	}
	y.Reg, y.Fixed, y.Given = c.b.Table(x.Reg, knots), false, false
	return columns{shape: units.Single, typ: &y, derived: true}
}

func (c *compiler) unitError(t notebook.Text, err *units.Error) {
	c.diags.At(notebook.Err, err.Code, t, clip(err.Off, t), clip(err.End, t), err.Msg, err.Hint)
}

func (c *compiler) formulaErrors(t notebook.Text, errs []*formula.Error) {
	for _, e := range errs {
		c.diags.At(notebook.Err, e.Code, t, clip(e.Off, t), clip(e.End, t), e.Msg, e.Hint)
	}
}

func clip(i int, t notebook.Text) int { return max(0, min(i, len(t.S))) }
