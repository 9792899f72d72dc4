package eval

import (
	"fmt"
	"slices"
	"strings"

	"guardband/eval/bound"
	"guardband/eval/circuit"
	"guardband/eval/formula"
	"guardband/eval/record"
	"guardband/notebook"
	"guardband/units"
)

// conditionsOf works out the conditions of a row, once.
func (c *compiler) conditionsOf(y *symbol, r *row) []condition {
	if r.conds != nil || len(r.entry.Conds) == 0 {
		return r.conds
	}
	r.conds = make([]condition, 0, len(r.entry.Conds))
	for i := range r.entry.Conds {
		k := &r.entry.Conds[i]
		if k.Flag != "" {
			r.conds = append(r.conds, condition{cond: k, flag: k.Flag})
			continue
		}
		cols := c.lowerColumns(k.Value, &scope{c: c, comp: y.comp})
		if cols.bad {
			r.bad = true
			continue
		}
		c.readKelvins(k.Name, []columns{cols})
		d := condition{cond: k, name: k.Name, lo: cols.lo, hi: cols.hi, judged: k.Op != "="}
		if cols.shape == units.Single || cols.lo == nil && cols.hi == nil { // a typical value alone is that value
			d.lo, d.hi = cols.typ, cols.typ
		}
		switch k.Op {
		case "<=":
			d.lo = nil
		case ">=":
			d.hi = nil
		}
		r.conds = append(r.conds, d)
	}
	return r.conds
}

// covers says whether a row covers the whole use of the placed part, and
// notes in the row why it does not.
func (c *compiler) covers(y *symbol, r *row) bool {
	r.why = nil
	ok := true
	for _, d := range c.conditionsOf(y, r) {
		if p := c.coversOne(y, d); p != nil {
			r.why = append(r.why, *p)
			ok = false
		}
	}
	return ok && !r.bad
}

func (c *compiler) coversOne(y *symbol, d condition) *record.OpenPoint {
	m := y.comp
	if d.flag != "" {
		if m.Virtual || circuit.HasFlag(m.Row.InUse, d.flag) {
			return nil
		}
		return &record.OpenPoint{Reason: "condition", Text: fmt.Sprintf("%s is stated %q, and the use of %s does not",
			y.name, d.flag, m.Ref), Settle: fmt.Sprintf("add %q to `in use:` of %s if it is so", d.flag, m.Ref)}
	}
	use, untold := c.useOf(y, d)
	if use == nil {
		if m.Virtual {
			return c.coversPlaced(y, d) // else listed as an assumption
		}
		return &record.OpenPoint{Reason: "condition", Text: fmt.Sprintf("%s of %s is not stated%s; %s holds at %s",
			d.name, m.Ref, untold, y.name, d.cond.Text.S),
			Settle: fmt.Sprintf("state `in use: %s = ...` in the row of %s", d.name, m.Ref)}
	}
	c.lower(use)
	if use.val.Class != formula.Number {
		return &record.OpenPoint{Reason: "not evaluated", Text: d.name + " of " + m.Ref + " cannot be worked out; " +
			y.name + " holds at " + d.cond.Text.S, Settle: "see the diagnostics"}
	}
	if clashIn(use) && !c.strict {
		return nil // its rows may yet be dropped
	}
	like := d.lo
	if like == nil {
		like = d.hi
	}
	if _, err := units.Combine("<=", use.val.Type, like.Type, use.name, d.cond.Value.S); err != nil {
		c.diagnose(notebook.Err, "dimension", d.cond.Text, err.Msg, err.Hint)
		return &record.OpenPoint{Reason: "not evaluated", Text: d.cond.Text.S + " cannot be compared with the use of " +
			m.Ref, Settle: "see the diagnostics"}
	}
	if p := c.coversUseBy(y, d, use); p != nil || m.Virtual {
		return p
	}
	wider := c.toldBeside(m, d.name)
	if wider == nil {
		return nil
	}
	if wider != c.ambient() { // the least load is what the row states: a budget tells the most alone
		if d.lo = nil; d.hi == nil {
			return nil
		}
	}
	return c.coversUseBy(y, d, wider)
}

// coversPlaced says whether a condition covers the use of each unit placed of a
// type that is named itself.
func (c *compiler) coversPlaced(y *symbol, d condition) *record.OpenPoint {
	for _, m := range y.comp.Part.Placed {
		if m.NotFitted() || y.limit {
			continue
		}
		of := *y
		of.comp = m
		if p := c.coversOne(&of, d); p != nil {
			return p
		}
	}
	return nil
}

// coversUseBy says whether a condition covers a use, nil where it does.
func (c *compiler) coversUseBy(y *symbol, d condition, use *symbol) *record.OpenPoint {
	pred := c.b.True()
	if d.lo != nil {
		pred = c.b.Binary(bound.OpAnd, pred, c.b.Binary(bound.OpLessEq, d.lo.Reg, use.val.Reg))
	}
	if d.hi != nil {
		pred = c.b.Binary(bound.OpAnd, pred, c.b.Binary(bound.OpLessEq, use.val.Reg, d.hi.Reg))
	}
	p := c.b.Extract(pred)
	if bound.Decide(p, 0, c.gather(p), bound.Options{Boxes: c.opt.Boxes}).Outcome == bound.Proven || clashIn(use) {
		return blockedIn(use)
	}
	return c.notCovered(y, d, use, p)
}

// toldBeside is what the notes tell of a use besides what the row states: the
// load of a budget, the temperature round the board. nil where one and the
// same, or not known.
func (c *compiler) toldBeside(m *circuit.Component, name string) *symbol {
	stated := circuit.StatedOf(m, name)
	switch {
	case stated == "":
		return nil
	case name == "T_A" && stated != "ambient":
		return c.ambient()
	case loadSymbols[strings.ReplaceAll(name, "_", "")] && stated != c.ToldLoad(m, name):
		return c.budgetedLoad(m, name)
	}
	return nil
}

// useOf finds the use that a condition speaks of: what the row of the part or
// the circuit states, a fact of the part, or what the circuit tells; untold
// says why it does not.
func (c *compiler) useOf(y *symbol, d condition) (use *symbol, untold string) {
	m := y.comp
	if d.flag != "" {
		return nil, ""
	}
	if use = c.useSymbol(m, d.name); use == nil && m.Part != nil && !m.Virtual {
		for _, s := range sectionNames {
			if f, _ := c.fact(m, s, d.name, ""); f != nil && !f.limit {
				use = f
				break
			}
		}
	}
	if use == nil && !m.Virtual {
		if use, untold = c.workedOutUse(y, d); use != nil && !slices.Contains(y.deps, use) {
			y.deps = append(slices.Clone(y.deps), use) // what the fact holds at is what its claims rest on
		}
	}
	if use != nil {
		c.lower(use)
		y.guards = circuit.AddTo(y.guards, use)
	}
	return use, untold
}

// blockedIn is why a use cannot be relied on: it rests on a fact of which no
// row covers its own use.
func blockedIn(use *symbol) *record.OpenPoint {
	for _, y := range closure([]*symbol{use}) {
		if y.blocked && len(y.why) > 0 {
			return &y.why[0]
		}
	}
	return nil
}

// gather lists what is known of a program's inputs.
func (c *compiler) gather(p *bound.Program) []bound.Input {
	in := make([]bound.Input, 0, len(p.Inputs()))
	for _, n := range p.Inputs() {
		in = append(in, c.inputs[n].set())
	}
	return in
}

// rangeOver is the range of a number by a search of so many boxes, 0 for the usual.
func (c *compiler) rangeOver(r bound.Reg, boxes int) bound.Extent {
	p := c.b.Extract(r)
	return bound.Range(p, 0, c.gather(p), bound.Options{Boxes: boxes})
}

// settleConditions drops the rows that do not cover the use of their part.
// All rows are taken to apply first; one that does not is dropped and its
// fact widens, which may uncover others, until nothing changes. So a junction
// temperature may guard the fact it is computed from. Rows that contradict each
// other are left for last: where one of them is dropped they no longer do.
func (c *compiler) settleConditions() {
	for again := true; again || !c.strict; {
		c.strict = c.strict || !again
		again = false
		for i := 0; i < len(c.factList); i++ { // grows while conditions are worked out
			y := c.factList[i]
			if y.state != done || y.val.Class == formula.Bad || !conditional(y) {
				continue
			}
			again = c.dropRows(y) || again
		}
	}
	c.tellClashes()
}

// dropRows drops the rows of a fact that do not cover the use, as far as is
// known of it by now, and says whether there were any.
func (c *compiler) dropRows(y *symbol) bool {
	dropped := false
	for _, r := range y.rows {
		if !r.out && !c.covers(y, r) {
			r.out, dropped = true, true
		}
	}
	if dropped || !y.tightened {
		y.tightened = true
		c.applyRows(y)
	}
	return dropped
}

func conditional(y *symbol) bool {
	return len(y.rows) > 1 || len(y.rows) == 1 && len(y.rows[0].entry.Conds) > 0
}
