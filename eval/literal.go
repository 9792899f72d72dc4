package eval

import (
	"math/big"

	"guardband/eval/bound"
	"guardband/eval/formula"
	"guardband/units"
)

// This file makes values of literals alone, the commonest there are.

// literal gives a symbol the value of literals alone, all but its place in the
// graph: what lowerColumns and makeQuantity make of them.
func (y *symbol) literal(x units.Exact) {
	y.exact = x.Typ
	y.val = formula.Value{Class: formula.Number, Type: x.Type, Unit: x.Unit, Given: true, Fixed: !x.Deviated}
	if !x.Deviated {
		return
	}
	y.input = &input{sym: y, name: y.name, typ: x.Type, unit: x.Unit,
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
