package eval

import (
	"cmp"
	"math/big"

	"guardband/eval/bound"
	"guardband/eval/circuit"
	"guardband/eval/formula"
	"guardband/notebook"
	"guardband/units"
)

// defineFact works out a fact of a placed part.
func (c *compiler) defineFact(y *symbol, def *circuit.Fact) {
	s := &scope{c: c, comp: y.comp}
	var all []columns
	for _, e := range def.Rows {
		cols := proof{c}.asShown(e, c.lowerColumns(e.RHS, s))
		if def.Section == "absmax" {
			cols = c.asRating(e, cols)
		}
		y.rows = append(y.rows, c.rowOf(e, cols))
		all = append(all, cols)
		y.cites = append(y.cites, c.citesOf(e)...)
		if a := assumedOf(e); a != "" {
			y.assumed = a
		}
		if cols.bad {
			y.val = formula.Value{}
			y.deps = s.used
			return
		}
	}
	y.deps = s.used
	if y.limit {
		c.makeLimit(y, all)
	} else {
		c.makeQuantity(y, all, def)
	}
}

// asRating takes a maximum rating of one number for the end that it is: a sheet
// prints it in a column of its own, and what must be exactly that is no rating.
func (c *compiler) asRating(e *notebook.Entry, cols columns) columns {
	if cols.bad || cols.shape != units.Single || cols.typ == nil {
		return cols
	}
	x, ok := c.b.ConstOf(cols.typ.Reg)
	if !ok || x.Sign() == 0 {
		return cols
	}
	end := "max"
	if cols.shape = units.Columns; x.Sign() > 0 {
		cols.hi = cols.typ
	} else {
		cols.lo, end = cols.typ, "min"
	}
	cols.typ = nil
	c.diagnose(notebook.Warn, "rating-single", e.RHS, "a maximum rating of one number counts as its "+end+" alone", "write `"+end+" "+e.RHS.Trim().S+"`")
	return cols
}

// rowOf is a row of a fact with its columns.
func (c *compiler) rowOf(e *notebook.Entry, cols columns) *row {
	r := &row{entry: e, cols: [3]*formula.Value{cols.lo, cols.typ, cols.hi}, unconfirmed: e.Unconfirmed}
	for i, v := range r.cols {
		r.ends[i] = c.exact(v)
	}
	return r
}

// makeLimit gives a limit its set. Rows of one limit that apply all hold: the
// tightest of each end counts.
func (c *compiler) makeLimit(y *symbol, all []columns) {
	c.readKelvins(y.name, all)
	y.val = formula.Value{Class: formula.Set, Fixed: true}
	for i, cols := range all {
		r := y.rows[i]
		if len(all) > 1 && !c.covers(y, r) {
			r.out = true
			continue
		}
		if cols.shape == units.Single {
			cols.lo, cols.hi = cols.typ, cols.typ
		}
		r.in = bound.Input{Lo: c.exact(cols.lo), Hi: c.exact(cols.hi)}
		if len(all) > 1 {
			cols = c.gated(cols, c.gateOf(y, r))
		}
		y.val.Lo, y.val.Hi = c.tighter(y.val.Lo, cols.lo, bound.OpMax), c.tighter(y.val.Hi, cols.hi, bound.OpMin)
		y.cols[1] = cmp.Or(cols.typ, y.cols[1])
	}
	for _, at := range []**formula.Value{&y.val.Lo, &y.val.Hi} {
		if *at != nil {
			v := **at
			v.Given, *at = true, &v
			y.val.Type, y.val.Unit = v.Type, v.Unit
			y.val.Fixed = y.val.Fixed && v.Fixed
		}
	}
	y.cols[0], y.cols[2] = y.val.Lo, y.val.Hi
}

// makeQuantity gives a quantity its value: an exact number, a formula, or a
// leaf that may stand anywhere its columns allow.
func (c *compiler) makeQuantity(y *symbol, all []columns, def *circuit.Fact) {
	exact := true
	c.readKelvins(y.name, all)
	for _, cols := range all {
		exact = exact && c.constant(cols)
	}
	first := all[0]
	conditional := len(y.rows) > 0 && (len(y.rows[0].entry.Conds) > 0 || len(all) > 1)
	if !conditional && first.shape == units.Single {
		y.val = *first.typ
		if first.derived {
			y.derived = true
			return
		}
		y.cols = [3]*formula.Value{first.typ, first.typ, first.typ}
		return
	}
	if !exact {
		if len(all) > 1 {
			c.formulaRows(y, all)
			return
		}
		c.formulaLeaf(y, first)
		return
	}
	c.makeLeaf(y, first, c.leafBounds(y, first, def))
	for i, r := range y.rows {
		r.in = c.leafBounds(y, all[i], def)
		for k := range y.cols {
			if y.cols[k] == nil {
				y.cols[k] = r.cols[k]
			}
		}
	}
	switch own := (&row{entry: y.entry}); {
	case len(y.rows) > 0:
		c.applyRows(y)
	case !y.input.in.Consistent():
		c.contradict(y, &clash{own, own})
		y.input.in = bound.Input{}
	}
	if len(y.why) > 0 && (len(y.rows) == 0 || y.clash.a == y.clash.b) {
		c.diagnose(notebook.Err, "below-zero", y.entry.NameText, y.why[0].Text, y.why[0].Settle)
	}
}

// exact is an end that is an exact number, nil where it is none.
func (c *compiler) exact(v *formula.Value) *big.Rat {
	if v == nil {
		return nil
	}
	r, _ := c.b.ConstOf(v.Reg)
	return r
}

// constant says that every stated end is an exact number.
func (c *compiler) constant(cols columns) bool {
	made := func(v *formula.Value) bool { return v != nil && c.exact(v) == nil }
	return !made(cols.lo) && !made(cols.typ) && !made(cols.hi)
}

// leafBounds are the wide and the sure set of exact columns.
func (c *compiler) leafBounds(y *symbol, cols columns, def *circuit.Fact) bound.Input {
	if cols.shape == units.Single {
		cols.lo, cols.hi = cols.typ, cols.typ
	}
	in := bound.Input{Spread: cols.shape == units.Deviated || cols.shape == units.Columns}
	var typ units.Type
	for _, v := range []*formula.Value{cols.lo, cols.typ, cols.hi} {
		if v == nil {
			continue
		}
		r := c.exact(v)
		in.SureLo, in.SureHi, typ = lower(in.SureLo, r), higher(in.SureHi, r), v.Type
	}
	in.Lo, in.Hi, in.Centre = c.exact(cols.lo), c.exact(cols.hi), c.exact(cols.typ)
	switch {
	case cols.lo != nil:
	case y.zeroSaid || def != nil && def.Part.Nonneg[def.Name]:
		in.Lo, y.nonneg = zero, true
	case typ.Kind == units.Point, def != nil && def.Section == "spec" && circuit.NeverNegative(def.Name, typ.Dim):
		in.Lo = zero // no temperature lies below 0 K, no capacitance below 0 F
	}
	return in
}

// makeLeaf enters the leaf of a symbol with exact columns.
func (c *compiler) makeLeaf(y *symbol, cols columns, in bound.Input) {
	like := cmp.Or(cols.hi, cols.lo, cols.typ)
	y.cols = [3]*formula.Value{cols.lo, cols.typ, cols.hi}
	if cols.shape == units.Range {
		y.cols[1] = nil
	}
	y.input = &input{sym: y, name: y.name, typ: like.Type, unit: like.Unit, in: in}
	y.exactLeaf = true
	y.val = formula.Value{Class: formula.Number, Type: like.Type, Reg: c.newInput(y.input), Unit: like.Unit, Given: true}
}

// formulaLeaf makes a quantity whose ends are formulas of other names: an end
// and a fresh number that says how far from it the value stands.
func (c *compiler) formulaLeaf(y *symbol, cols columns) {
	like := cmp.Or(cols.lo, cols.typ, cols.hi)
	y.cols = [3]*formula.Value{cols.lo, cols.typ, cols.hi}
	spread := cols.shape != units.Range
	in := &input{sym: y, name: y.name, typ: like.Type, unit: like.Unit}
	in.typ.Kind = units.Plain
	if cols.shape == units.Single {
		y.derived = len(y.rows) == 0
		y.val = *cols.typ
		y.cols = [3]*formula.Value{cols.typ, cols.typ, cols.typ}
		return
	}
	var reg bound.Reg
	beyond := bound.Input{Lo: zero, SureLo: zero, SureHi: zero, Spread: spread}
	switch {
	case cols.lo != nil && cols.hi != nil: // lo + t (hi - lo)
		in.name, in.typ, in.unit = y.name+" (part of its range)", units.Type{}, nil
		in.in = bound.Input{Lo: zero, Hi: one, SureLo: zero, SureHi: one, Spread: spread, Centre: half}
		t := c.newInput(in)
		reg = c.b.Binary(bound.OpAdd, cols.lo.Reg, c.b.Binary(bound.OpMul, t, c.b.Binary(bound.OpSub, cols.hi.Reg, cols.lo.Reg)))
		reg = c.inOrder(y, cols, reg)
	case cols.lo != nil:
		in.name, in.in = y.name+" (above its minimum)", beyond
		reg = c.b.Binary(bound.OpAdd, cols.lo.Reg, c.newInput(in))
	case cols.hi != nil:
		in.name, in.in = y.name+" (below its maximum)", beyond
		reg = c.b.Binary(bound.OpSub, cols.hi.Reg, c.newInput(in))
	default:
		in.name = y.name + " (away from typical)"
		in.in = bound.Input{SureLo: zero, SureHi: zero, Spread: spread}
		reg = c.b.Binary(bound.OpAdd, cols.typ.Reg, c.newInput(in))
	}
	y.input = in
	y.val = formula.Value{Class: formula.Number, Type: like.Type, Reg: reg, Unit: like.Unit, Given: true}
}

// inOrder leaves a quantity without a value where its min lies above its max. A
// root of a negative number of its own stands for that, as outside the range of
// a function of the trade.
func (c *compiler) inOrder(y *symbol, cols columns, value bound.Reg) bound.Reg {
	order := c.b.Binary(bound.OpLessEq, cols.lo.Reg, cols.hi.Reg)
	if order == c.b.True() {
		return value
	}
	y.order = order
	none := c.b.Unary(bound.OpSqrt, c.b.Const(big.NewRat(-int64(len(c.inputs)), 2)))
	c.notes[none] = undefinedNote{whole: "the min of " + y.name + " is above its max"}
	return c.b.If(order, value, none)
}

// formulaRows chooses among rows whose ends are formulas: the ones that cover
// the use, the tightest of each end.
func (c *compiler) formulaRows(y *symbol, all []columns) {
	merged := columns{shape: units.Columns}
	for i, cols := range all {
		if !c.covers(y, y.rows[i]) {
			y.rows[i].out = true
			continue
		}
		if cols.shape == units.Single {
			cols.lo, cols.hi = cols.typ, cols.typ
		}
		cols = c.gated(cols, c.gateOf(y, y.rows[i]))
		merged.lo, merged.hi = c.tighter(merged.lo, cols.lo, bound.OpMax), c.tighter(merged.hi, cols.hi, bound.OpMin)
		merged.typ = cmp.Or(merged.typ, cols.typ)
	}
	if merged.lo == nil && merged.typ == nil && merged.hi == nil {
		// nothing covers the use: nothing is known of it
		like := cmp.Or(all[0].hi, all[0].lo, all[0].typ)
		y.input = &input{sym: y, name: y.name, typ: like.Type, unit: like.Unit}
		y.val = formula.Value{Class: formula.Number, Type: like.Type, Reg: c.newInput(y.input), Unit: like.Unit, Given: true}
		return
	}
	c.formulaLeaf(y, merged)
}

func (c *compiler) tighter(a, v *formula.Value, op bound.Op) *formula.Value {
	if a == nil || v == nil {
		return cmp.Or(a, v)
	}
	w := *a
	w.Reg = c.b.Binary(op, a.Reg, v.Reg)
	w.Fixed = a.Fixed && v.Fixed
	return &w
}
