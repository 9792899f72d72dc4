package formula

import (
	"math/big"

	"guardband/eval/bound"
	"guardband/units"
)

// criterion gathers the tests of a claim and puts its margin into them.
type criterion struct {
	margin *Margin
	tests  []Test
	apart  int // depth of not, or, conditions: no conjunct of the claim
}

// checkMargin refuses margins that would loosen a claim.
func (c *checker) checkMargin(m *Margin) {
	if m.Share != nil && m.Share.Sign() < 0 || m.Absolute != nil && absolute(m.Absolute).Sign() < 0 {
		c.marginError("margin-negative", "a margin below zero would loosen the claim", "accept a known miss with `waiver` and `accepts`")
	}
	switch m.Of {
	case "", "limit", "span", "nominal":
	default:
		c.marginError("margin-base", "a margin is of limit, of span or of nominal", "")
	}
}

// absolute is the amount of an absolute margin; 10 °C counts as 10 K.
func absolute(q *units.Quantity) *big.Rat {
	if q.Type.Kind == units.Point && q.Unit.Offset != nil {
		return new(big.Rat).Sub(q.SI, q.Unit.Offset)
	}
	return q.SI
}

func (c *checker) marginError(code, msg, hint string) {
	m := c.crit.margin
	c.add(&Error{Off: m.Off, End: m.End, Code: code, Msg: msg, Hint: hint})
}

// noMargin complains if a margin meets a form that has none.
func (c *checker) noMargin(what string) {
	if c.crit != nil && c.crit.margin != nil && c.crit.apart == 0 {
		c.marginError("margin-split", "a margin goes with comparisons, chains, `inside` and `and`; "+what+" has none",
			"split the claim: put what has no margin into a claim of its own")
	}
}

// aside marks what follows as no conjunct of the claim, until the returned
// function is called.
func (c *checker) aside(what string) func() {
	crit := c.crit
	if crit == nil {
		return func() {}
	}
	c.noMargin("`" + what + "`")
	crit.apart++
	return func() { crit.apart-- }
}

// keep records a test.
func (c *checker) keep(t Test) {
	t.Negated = c.crit.apart > 0
	c.crit.tests = append(c.crit.tests, t)
}

// test lowers one comparison, with its margin. span is the distance of the
// two ends of a range or chain, 0 if there are not two.
func (c *checker) test(t Test, span bound.Reg) pred {
	t.Holds = c.relation(t.Op, t.Left.Reg, t.Right.Reg)
	p := pred{reg: t.Holds, plain: t.Holds, fixed: t.Left.Fixed && t.Right.Fixed, ok: true}
	if c.crit == nil {
		return p
	}
	if t.Op == "==" || t.Op == "!=" {
		t.NoLimit = true
		c.noMargin("`" + t.Op + "`")
		c.keep(t)
		return p
	}
	more, less := t.Right.Reg, t.Left.Reg
	if t.Op[0] == '>' {
		more, less = less, more
	}
	t.Slack = c.b.Binary(bound.OpSub, more, less)
	t.Base = "limit"
	m := c.crit.margin
	if m != nil && c.crit.apart > 0 {
		m = nil
	}
	if m != nil && m.Of != "" {
		t.Base = m.Of
	}
	base := c.base(&t, span, m != nil && m.Share != nil)
	if base != 0 {
		t.Ratio = c.b.Binary(bound.OpDiv, t.Slack, base)
	}
	if m != nil {
		c.need(&t, m, base)
		if t.Need != 0 {
			p.reg = c.withMargin(t, more, less)
		}
	}
	c.keep(t)
	return p
}

// sides are the limit and the value of a test.
func (t *Test) sides() (limit, value Value) {
	if t.LimitRight {
		return t.Right, t.Left
	}
	return t.Left, t.Right
}

// base is what a percentage of margin is taken of, 0 where it means nothing.
// asked says that the claim states a percentage, so that this is an error.
func (c *checker) base(t *Test, span bound.Reg, asked bool) bound.Reg {
	limit, value := t.sides()
	scale := limit.Type.Kind == units.Point || value.Type.Kind == units.Point
	level := limit.Type.Kind >= units.LevelStep
	switch {
	case t.Base == "span" && span != 0:
		return c.notZero(t, span, asked)
	case t.Base == "span":
		if asked {
			c.marginError("margin-span", "`of span` needs two limits, and `"+t.Text()+"` has one", "write `of limit`, or an amount such as `0.2 V`")
		}
	case scale || level:
		if asked {
			c.noShare(scale)
		}
	case t.Base == "nominal":
		nominal, ok := c.scope.Nominal(value.Reg)
		if ok {
			return c.notZero(t, c.b.Const(new(big.Rat).Abs(nominal)), asked)
		}
		if asked {
			c.marginError("margin-nominal", "`"+t.Text()+"` has no nominal value to take a share of", "write `of limit`, or an amount")
		}
	default:
		return c.notZero(t, c.b.Unary(bound.OpAbs, limit.Reg), asked)
	}
	return 0
}

// noShare complains about a percentage of a temperature or a level.
func (c *checker) noShare(scale bool) {
	if scale {
		c.marginError("margin-of-point", "a percentage of a temperature on a scale means nothing",
			"write an amount such as `10 K`, or `of span` between two limits")
		return
	}
	c.marginError("margin-of-level", "a percentage of a level in decibels means nothing",
		"write an amount such as `3 dB`, or `of span` between two limits")
}

// notZero drops a base that is exactly zero.
func (c *checker) notZero(t *Test, r bound.Reg, asked bool) bound.Reg {
	if v, ok := c.b.ConstOf(r); !ok || v.Sign() != 0 {
		return r
	}
	if asked {
		msg := "the limit of `" + t.Text() + "` is zero, so there is no share of it"
		switch t.Base {
		case "span":
			msg = "the two limits are equal, so there is no share of their distance"
		case "nominal":
			msg = "the nominal value is zero, so there is no share of it"
		}
		c.marginError("margin-of-zero", msg, "write an amount such as `0.2 V`, or `of span` between two limits")
	}
	return 0
}

// need works out the margin asked of a test, in the unit of its slack.
func (c *checker) need(t *Test, m *Margin, base bound.Reg) {
	if m.Share != nil {
		if base != 0 {
			t.Need = c.b.Binary(bound.OpMul, c.b.Const(m.Share), base)
		}
		return
	}
	limit, value := t.sides()
	lt, vt := limit.Type, value.Type
	at := m.Absolute.Type
	if at.Kind == units.Point || at.Kind == units.Kelvin {
		at.Kind = units.Plain
	}
	slack := units.Type{Dim: vt.Dim, Wave: vt.Wave}
	if lt.Kind >= units.LevelStep || vt.Kind >= units.LevelStep {
		slack.Kind = units.LevelStep
	}
	if at.Wave == units.NoWave {
		at.Wave = slack.Wave // 10 V beside a limit of 253 V rms is 10 V rms
	}
	if at != slack {
		hint := ""
		if at.Dim.IsZero() && at.Kind == units.Plain {
			hint = "a share is written with `%`"
		}
		c.marginError("margin-type", "the margin is "+at.Words()+", and `"+t.Text()+"` leaves "+slack.Words(), hint)
		return
	}
	t.Need = c.b.Const(absolute(m.Absolute))
}

// withMargin is the comparison that also asks for t.Need. A constant limit is
// moved, which keeps the difference short; strictness is kept.
func (c *checker) withMargin(t Test, more, less bound.Reg) bound.Reg {
	op := t.Op
	if op[0] == '>' {
		op = "<" + op[1:]
	}
	if t.LimitRight == (t.Op[0] == '<') { // the limit is the larger side
		return c.relation(op, less, c.b.Binary(bound.OpSub, more, t.Need))
	}
	return c.relation(op, c.b.Binary(bound.OpAdd, less, t.Need), more)
}
