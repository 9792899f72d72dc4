package eval

import (
	"math/big"
	"slices"

	"guardband/eval/bound"
	"guardband/eval/formula"
)

// This file lets go of a row whose ends are formulas. Such a row is entered in
// the graph when its fact is worked out, at which time the rows of other facts
// are still taken to hold. If its own conditions turn out not to cover the use
// because one of those did not, the row must stop to count. So each of its ends
// carries a number, its gate: 0 while the row holds, anything from 0 upwards
// once it does not, which leaves the end as far out as nothing at all.

// gateOf makes the gate of a row whose conditions may yet turn out not to
// cover the use; nil where nothing can change that.
func (c *compiler) gateOf(y *symbol, r *row) *input {
	for _, d := range c.conditionsOf(y, r) {
		if use, _ := c.useOf(y, d); use != nil && use.val.Class == formula.Number && c.mayWiden(use) {
			sym := &symbol{name: y.name, entry: r.entry, comp: y.comp}
			r.gate = &input{sym: sym, name: y.name + " (row that no longer applies)"}
			c.newInput(r.gate)
			r.setGate()
			return r.gate
		}
	}
	return nil
}

// mayWiden says that a symbol rests on a fact whose rows depend on conditions.
func (c *compiler) mayWiden(use *symbol) bool {
	return slices.ContainsFunc(closure([]*symbol{use}), conditional) || slices.ContainsFunc(c.b.Vars(use.val.Reg), func(n int) bool {
		return c.inputs[n].sym != nil && conditional(c.inputs[n].sym)
	})
}

// setGate closes or opens the gate of a row.
func (r *row) setGate() {
	if r.gate == nil {
		return
	}
	r.gate.in = bound.Input{Lo: zero, Hi: zero, SureLo: zero, SureHi: zero, Centre: new(big.Rat)}
	if r.out {
		r.gate.in = bound.Input{Lo: zero}
		r.gate.sym.why = r.why
	}
}

// gated is the columns of a row with their gate: the least may lie lower and
// the most higher once it is open.
func (c *compiler) gated(cols columns, g *input) columns {
	if g == nil {
		return cols
	}
	move := func(v *formula.Value, op bound.Op) *formula.Value {
		if v == nil {
			return nil
		}
		w := *v
		w.Reg = c.b.Binary(op, v.Reg, c.b.Var(g.num))
		return &w
	}
	cols.lo, cols.typ, cols.hi = move(cols.lo, bound.OpSub), move(cols.typ, bound.OpSub), move(cols.hi, bound.OpAdd)
	return cols
}
