package eval

import (
	"slices"
	"strings"

	"guardband/eval/bound"
	"guardband/eval/circuit"
	"guardband/eval/formula"
	"guardband/eval/record"
	"guardband/notebook"
	"guardband/units"
)

// This file says what a budget leaves out. What is not stated counts as
// anything from nothing upwards, so that no claim passes for want of a row.

// unstated is a current of which nothing is stated but that it is drawn.
func (c ledger) unstated(b *budget, s *scope, name, text, settle string, typ units.Type) bound.Reg {
	y := &symbol{name: "budget." + b.block.ID + "." + name, block: b.block, state: done, derived: true}
	y.lacking = &record.OpenPoint{Reason: "no fact", Text: text, Settle: settle}
	y.input = &input{sym: y, name: y.name, typ: typ, in: bound.Input{Lo: zero}}
	y.val = formula.Value{Class: formula.Number, Type: typ, Reg: c.newInput(y.input)}
	s.note(y)
	return y.val.Reg
}

// unfitted says that a row speaks of a part that is left off the board.
func (c ledger) unfitted(l *load) bool {
	m, ok := c.Comps.Get(l.row.Ref)
	return ok && m.NotFitted()
}

// unbudgeted are the parts that a net powers and of which its budget has no
// row; a net that keeps a budget of its own answers for itself.
func (c ledger) unbudgeted(b *budget) []string {
	var out []string
	for _, n := range c.budgeted(b) {
		for _, j := range n.Joined {
			if (j.Comp.Unnoted() || j.Pin != nil && j.Pin.Row.Type == "supply") && !b.speaksOf(j.Comp.Ref) {
				out = circuit.AddTo(out, j.Comp.Ref)
			}
		}
	}
	return out
}

// speaksOf says that a budget has a row of a part.
func (b *budget) speaksOf(ref string) bool {
	return slices.ContainsFunc(b.loads, func(l *load) bool { return l.row.Ref == ref })
}

// budgeted are the nets that a budget speaks of: its own and what it feeds.
func (c ledger) budgeted(b *budget) (out []*circuit.Net) {
	for _, n := range c.Nets.List {
		head := n
		for !head.GoesBy(b.block.ID) && head.Feed != nil && c.budgetOf(head) == nil {
			head = head.Feed.From
		}
		if head.GoesBy(b.block.ID) {
			out = append(out, n)
		}
	}
	return out
}

// addGaps notes what a budget leaves out: parts without a row, and time of
// which no row speaks.
func (c ledger) addGaps(b *budget, s *scope) {
	if b.bad || len(b.loads) == 0 {
		return
	}
	typ := b.loads[0].value.Type
	if refs := c.unbudgeted(b); len(refs) > 0 {
		b.missing = c.unstated(b, s, "missing", "the budget has no row for "+strings.Join(refs, ", ")+", which "+
			b.block.ID+" powers too", "add a row `"+refs[0]+"  run  ...`, or `from` another rail", typ)
	}
	if typ.Dim == circuit.DimAmpere {
		b.branches = c.branches(b, s)
	}
	refs, rows := c.byRef(b)
	b.rest = map[string]bound.Reg{}
	for _, r := range refs {
		sum, whole := c.b.Const(zero), false // a row without a duty fills the rest
		for _, l := range rows[r] {
			if whole = whole || l.share == 0; l.share != 0 {
				sum = c.b.Binary(bound.OpAdd, sum, l.share)
			}
		}
		x, ok := c.b.ConstOf(sum)
		if ok && x.Cmp(one) > 0 {
			c.diagnose(notebook.Warn, "duty-sum", rows[r][0].entry.Text, "the duties of "+r+" fill more than all the time",
				"a state is left before another begins: shorten one of them")
		}
		if !whole && !(ok && x.Cmp(one) >= 0) {
			b.rest[r] = c.unstated(b, s, r+".rest", "what "+r+" draws in the rest of its time is not stated",
				"add a row without a duty: `"+r+"  off  0 A`", typ)
		}
	}
}

// ownCurrent is what a part on the way to another rail draws for itself: its
// noted ground current, unstated where it has a ground pin and none is noted,
// nothing where it has no ground pin.
func (c ledger) ownCurrent(b *budget, l *load, s *scope) bound.Reg {
	m, ok := c.Comps.Get(l.row.Ref)
	if !ok || m.Part == nil {
		return 0
	}
	if n := m.Part.FactNamed("spec", "f_SW"); n != "" {
		return c.unstated(b, s, l.row.Ref, l.row.Ref+" is a converter (it notes "+n+"), which does not take from "+
			b.block.ID+" what "+l.row.From+" draws", "state the current of its row, e.g. a value worked out from its efficiency", l.value.Type)
	}
	for _, n := range []string{"I_GND", "I_Q"} {
		y, _ := c.fact(m, "spec", n, "")
		if y == nil {
			continue
		}
		if c.lower(y); y.val.Class == formula.Number && y.val.Type == l.value.Type {
			s.note(y)
			return y.val.Reg
		}
	}
	if len(m.NetsOf("ground")) == 0 {
		return 0
	}
	return c.unstated(b, s, l.row.Ref+".own", "the current of "+l.row.Ref+" itself is not noted",
		"note `spec I_GND = max ...` in part "+m.Part.ID, l.value.Type)
}
