package eval

import (
	"math/big"
	"slices"

	"guardband/eval/bound"
	"guardband/eval/formula"
	"guardband/eval/record"
	"guardband/notebook"
	"guardband/units"
)

// This file says what the rows of a fact that hold for the use of its part say
// together, and what it means where no number meets them all.

// clash is two rows that no number meets, or one against the word that the
// fact is at least zero.
type clash struct{ a, b *row }

// applyRows gives a fact what the rows that still apply say together.
func (c *compiler) applyRows(y *symbol) {
	for _, r := range y.rows {
		r.setGate()
	}
	rows := y.applying()
	y.why, y.blocked = nil, false
	in, k := meet(rows)
	switch {
	case len(rows) == 0:
		for _, r := range y.rows {
			y.why = append(y.why, r.why...)
		}
		y.blocked = y.input == nil || y.limit || !y.exactLeaf
	case k != nil:
		c.contradict(y, k)
	}
	if k != nil || y.clash != nil {
		y.clash = k
	}
	if k != nil || len(rows) == 0 {
		in = bound.Input{}
		if y.input != nil && y.input.typ.Kind == units.Point {
			in.Lo = zero
		}
	}
	if y.exactLeaf && !y.limit {
		y.input.in = in
	}
	y.setEnds(rows)
}

// meet is what rows that all hold say of one number: the tightest of each end,
// and the printed values of the rows that win an end. A row that wins none adds
// no printed value: what it states typically is of another use.
func meet(rows []*row) (in bound.Input, k *clash) {
	var low, high *row
	for i, r := range rows {
		if !r.in.Consistent() {
			return in, &clash{r, r}
		}
		in.Spread = r.in.Spread && (i == 0 || in.Spread)
		if r.in.Lo != nil && (in.Lo == nil || r.in.Lo.Cmp(in.Lo) > 0) {
			in.Lo, low = r.in.Lo, r
		}
		if r.in.Hi != nil && (in.Hi == nil || r.in.Hi.Cmp(in.Hi) < 0) {
			in.Hi, high = r.in.Hi, r
		}
	}
	if in.Lo != nil && in.Hi != nil && in.Lo.Cmp(in.Hi) > 0 {
		return in, &clash{low, high}
	}
	var lows, highs, winners []*row // that print the end
	for _, r := range rows {
		least, most := prints(in.Lo, r.in.SureLo), prints(in.Hi, r.in.SureHi)
		if least {
			lows = append(lows, r)
		}
		if most {
			highs = append(highs, r)
		}
		if least || most {
			winners = append(winners, r)
		}
	}
	if len(winners) == 0 { // typical values alone: printed is what all agree on
		winners = rows
	}
	for _, r := range winners {
		if r.in.SureLo != nil {
			in.SureLo = higher(in.SureLo, r.in.SureLo)
			in.SureHi = lower(in.SureHi, r.in.SureHi)
		}
		if x := r.in.Centre; in.Centre == nil && x != nil && within(x, in) {
			in.Centre = x
		}
	}
	if len(lows) > 0 {
		in.SureLo = in.Lo
	}
	if len(highs) > 0 {
		in.SureHi = in.Hi
	}
	if in.SureLo != nil && in.SureLo.Cmp(in.SureHi) > 0 {
		in.SureLo, in.SureHi = nil, nil // typical values that differ: which of them is of this use nobody says
	}
	return in, nil
}

// prints says that a row prints an end: one by the user's word is not printed.
func prints(end, sure *big.Rat) bool {
	return end != nil && sure != nil && end.Cmp(sure) == 0
}

func within(x *big.Rat, in bound.Input) bool {
	return (in.Lo == nil || in.Lo.Cmp(x) <= 0) && (in.Hi == nil || x.Cmp(in.Hi) <= 0)
}

func higher(a, b *big.Rat) *big.Rat {
	if a == nil || b.Cmp(a) > 0 {
		return b
	}
	return a
}

func lower(a, b *big.Rat) *big.Rat {
	if a == nil || b.Cmp(a) < 0 {
		return b
	}
	return a
}

// contradict opens what rests on a fact that no number meets.
func (c *compiler) contradict(y *symbol, k *clash) {
	y.blocked = true
	point := record.OpenPoint{Reason: "contradiction"}
	switch {
	case k.a == k.b:
		point.Text = y.name + " is declared non-negative, and `" + asTyped(k.a.entry) + "` states less"
		point.Settle = "take it out of `at least zero:`, or correct the row"
	case y.comp != nil && y.comp.Virtual:
		point.Text = "no one use has " + bothRows(y, k)
		point.Settle = "name the fact of a placed part, whose use selects the row"
	default:
		point.Text = "no value meets " + bothRows(y, k) + ", and both apply to the use of " + y.comp.Ref
		point.Settle = "compare both rows with their page, or narrow their conditions or the use"
	}
	y.why = []record.OpenPoint{point}
}

func bothRows(y *symbol, k *clash) string {
	return "both rows of " + y.name + ": `" + asTyped(k.a.entry) + "` and `" + asTyped(k.b.entry) + "`"
}

// tellClashes complains about rows that contradict each other once it is known
// which rows hold.
func (c *compiler) tellClashes() {
	for _, y := range c.factList {
		k := y.clash
		if k != nil && k.a != k.b && !y.comp.Virtual {
			c.diagnose(notebook.Warn, "rows-contradict", k.b.entry.NameText, y.why[0].Text, y.why[0].Settle, related(k.a.entry, "the other row"))
		}
		if order := y.order; order != 0 && c.never(order) {
			c.diagnose(notebook.Warn, "rows-contradict", y.entry.NameText, "the min of "+y.name+
				" is above its max, whatever they are made of", "compare the row with its page")
		}
	}
}

// never says that a predicate is false for all that the facts allow.
func (c *compiler) never(r bound.Reg) bool {
	return c.decide(c.b.Unary(bound.OpNot, r)) == bound.Proven
}

// clashIn says that a symbol rests on rows that contradict each other by now.
func clashIn(use *symbol) bool {
	return slices.ContainsFunc(closure([]*symbol{use}), func(y *symbol) bool { return y.clash != nil })
}

// endOf is one column of a fact with conditions: a number of its own, since
// which rows state it is not known before their conditions are settled.
func (c *compiler) endOf(y *symbol, k int) formula.Value {
	if y.ends[k] == nil {
		name := y.name + "." + [...]string{"min", "typ", "max"}[k]
		sym := &symbol{name: name, entry: y.entry, comp: y.comp}
		y.ends[k] = &input{sym: sym, name: name, typ: y.val.Type, unit: y.cols[k].Unit}
		c.newInput(y.ends[k])
		y.setEnds(y.applying())
	}
	v := *y.cols[k]
	v.Reg, v.Fixed = c.b.Var(y.ends[k].num), true
	return v
}

func (y *symbol) applying() []*row {
	return slices.DeleteFunc(slices.Clone(y.rows), func(r *row) bool { return r.out })
}

// setEnds gives the columns of a fact that were asked for what its rows that
// hold state: the tightest least and most; of typical values all there are.
func (y *symbol) setEnds(rows []*row) {
	for k, in := range y.ends {
		if in == nil {
			continue
		}
		var lo, hi *big.Rat
		for _, r := range rows {
			if x := r.ends[k]; x != nil {
				lo, hi = lower(lo, x), higher(hi, x)
			}
		}
		switch k {
		case 0:
			lo = hi
		case 2:
			hi = lo
		}
		in.in = bound.Input{Lo: lo, Hi: hi, SureLo: lo, SureHi: hi}
		if lo == hi {
			in.in.Centre = lo
		}
		in.sym.why = y.why
		if lo == nil && len(y.why) == 0 {
			in.sym.why = []record.OpenPoint{{Reason: "condition", Text: "no row of " + y.name +
				" that covers the use of " + y.comp.Ref + " states " + in.name, Settle: "note it for this use, or narrow the use"}}
		}
	}
}
