package eval

import (
	"math/big"
	"strings"

	"guardband/eval/bound"
	"guardband/eval/formula"
	"guardband/notebook"
	"guardband/units"
)

// This file reads what needs to know no names, before names are looked up:
// literals and the form of formulas. Each piece is read on its own, so that
// they are read side by side, and nothing is complained of here: what is
// wrong is read once more in its turn.

// parsed is a formula that was read ahead.
type parsed struct {
	text string
	expr *formula.Expr
	errs []*formula.Error
}

// prepare reads the values and criteria of the design ahead.
func (c *compiler) prepare() {
	values, claims := c.values.list, c.claims
	c.each(len(values)+len(claims), func() func(int) {
		p := formula.NewParser(256)
		var leaves slab[input]
		return func(i int) {
			if i < len(values) {
				prepareValue(values[i], p, &leaves)
				return
			}
			prepareClaim(claims[i-len(values)], p)
		}
	})
	c.b.Grow(len(values) + 12*len(claims))
}

// slab hands out values from pieces of many.
type slab[T any] struct{ free []T }

func (s *slab[T]) get() *T {
	if len(s.free) == 0 {
		s.free = make([]T, 64)
	}
	v := &s.free[0]
	s.free = s.free[1:]
	return v
}

func prepareValue(y *symbol, p *formula.Parser, leaves *slab[input]) {
	text := y.entry.RHS.S
	if x, ok := units.ReadExact(text); ok {
		y.literal(x, leaves)
		return
	}
	if strings.HasPrefix(text, "by ") {
		return
	}
	if parts, err := units.Split(text); err == nil && parts.Shape == units.Single {
		y.ahead = parseAhead(p, parts.Single.Text(text))
	}
}

func parseAhead(p *formula.Parser, text string) *parsed {
	e, errs := p.Parse(text)
	return &parsed{text, e, errs}
}

func prepareClaim(cl *claim, p *formula.Parser) {
	for _, e := range cl.block.Entries {
		if e.Label == "criterion" {
			body, _, _ := ownMargin(e.Value)
			cl.ahead = append(cl.ahead, *parseAhead(p, body.S))
		}
	}
}

// literal gives a symbol the value of literals alone, all but its place in the
// graph: what lowerColumns and makeQuantity make of them.
func (y *symbol) literal(x units.Exact, leaves *slab[input]) {
	y.exact = x.Typ
	y.val = formula.Value{Class: formula.Number, Type: x.Type, Unit: x.Unit, Given: true, Fixed: !x.Deviated}
	if !x.Deviated {
		return
	}
	y.input = leaves.get()
	*y.input = input{sym: y, name: y.name, typ: x.Type, unit: x.Unit,
		in: bound.Input{Lo: x.Min, Hi: x.Max, SureLo: x.Min, SureHi: x.Max, Centre: x.Typ, Spread: true}}
	y.exactLeaf = true
}

// enterLiteral enters a symbol of literals in the graph.
func (c *compiler) enterLiteral(y *symbol) {
	if y.input != nil {
		y.val.Reg = c.newInput(y.input)
		return
	}
	y.val.Reg = c.b.Const(y.exact)
}

// endsOf are the columns of a symbol as stated. Those of literals are made
// when first asked for, which is seldom.
func (c *compiler) endsOf(y *symbol) *[3]*formula.Value {
	if y.exact == nil || y.cols[1] != nil {
		return &y.cols
	}
	for i, at := range []**formula.Value{&y.cols[0], &y.cols[1], &y.cols[2]} {
		v := y.val
		v.Fixed = true
		if y.input != nil {
			in := &y.input.in
			v.Reg = c.b.Const([...]*big.Rat{in.Lo, in.Centre, in.Hi}[i])
		}
		*at = &v
	}
	return &y.cols
}

// parse reads a formula, or gives what was read ahead.
func (s *scope) parse(t notebook.Text) (*formula.Expr, []*formula.Error) {
	if s.ahead != nil && s.ahead.text == t.S {
		return s.ahead.expr, s.ahead.errs
	}
	return formula.Parse(t.S)
}
