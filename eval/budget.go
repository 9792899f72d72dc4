package eval

import (
	"slices"
	"strings"

	"guardband/eval/bound"
	"guardband/eval/formula"
	"guardband/eval/record"
	"guardband/notebook"
	"guardband/units"
)

// load is one row of a budget worked out.
type load struct {
	row   *notebook.LoadRow
	entry *notebook.Entry
	value formula.Value // its average where it is another rail
	peak  bound.Reg     // 0: the value itself
	share bound.Reg     // part of the time, 0 where no duty is stated
	part  bound.Reg     // part of the time, worked out
}

func (c ledger) readBudget(b *notebook.Block) {
	x := &budget{block: b, results: map[string]*symbol{}}
	x.out = record.Budget{Net: b.ID, Rows: []record.Load{}, Results: []record.Value{}, Position: position(b.Pos)}
	for _, e := range b.Entries {
		switch {
		case e.Load != nil:
			x.loads = append(x.loads, &load{row: e.Load, entry: e})
		case e.Label == "supply":
			x.out.Supply = e.Trimmed()
		case e.Label == "usable":
			x.usable = e
		case e.Label == "self-discharge":
			x.selfDischarge = e
		}
	}
	for _, n := range []string{"peak", "average", "charge_per_day", "life"} {
		name := "budget." + b.ID + "." + n
		x.results[n] = &symbol{name: name, block: b, derived: true, define: func(y *symbol) { c.defineBudget(x, n, y) }}
	}
	c.budgets = append(c.budgets, x)
	reader(c).readCommon(b, "budget "+b.ID)
}

// budgetSymbol resolves budget.V3V0.peak and budget("3V0").peak.
func (c *compiler) budgetSymbol(p *formula.Path) *symbol {
	net, what, f := p.HeadArg, "", p.Fields
	if !p.HasArg && len(f) > 0 {
		net, f = f[0], f[1:]
	}
	if len(f) == 1 {
		what = f[0]
	}
	for _, b := range c.budgets {
		if b.block.ID == net {
			return b.results[what]
		}
	}
	return nil
}

// lowerLoads works out the rows of a budget once.
func (c ledger) lowerLoads(b *budget) []*symbol {
	if b.lowered {
		return b.deps
	}
	b.lowered, b.idle = true, map[string]bound.Reg{}
	s := &scope{c: c.compiler}
	for _, l := range b.loads {
		if l.row.From != "" {
			b.bad = !c.lowerRail(b, l, s) || b.bad
			continue
		}
		cols := c.lowerColumns(l.row.Value, s)
		if cols.bad {
			b.bad = true
			continue
		}
		y := &symbol{name: "budget." + b.block.ID + "." + l.row.Ref + "." + l.row.State, entry: l.entry, block: b.block, state: done}
		y.cites = c.citesOf(l.entry)
		c.makeQuantity(y, []columns{cols}, nil)
		s.note(y)
		l.value = y.val
		if !l.row.For.Empty() && !l.row.Every.Empty() {
			on, _, _ := c.lowerText(l.row.For, s)
			every, _, _ := c.lowerText(l.row.Every, s)
			if on.Class != formula.Number || every.Class != formula.Number || on.Type.Dim != secondType.Dim ||
				every.Type.Dim != secondType.Dim {
				c.diagnose(notebook.Err, "duty-form", l.entry.Text, "a duty cycle is a time in each period", "write `for 40 ms every 10 min`")
				b.bad = true
				continue
			}
			l.share = c.b.Binary(bound.OpDiv, on.Reg, every.Reg)
		}
		if len(b.loads) > 0 && l.value.Class == formula.Number && b.loads[0].value.Class == formula.Number &&
			l.value.Type != b.loads[0].value.Type {
			c.diagnose(notebook.Err, "dimension", l.entry.Text, "the rows of a budget are of one kind: "+
				l.value.Type.Words()+" beside "+b.loads[0].value.Type.Words(), "")
			b.bad = true
		}
	}
	c.addGaps(b, s)
	if !b.bad {
		c.divideTime(b, s)
	}
	b.deps = s.used
	return b.deps
}

var (
	secondType = units.Type{Dim: units.Dim{0, 0, 2}}
	ampereType = units.Type{Dim: units.Dim{0, 0, 0, 2}}
)

// defineBudget works out one result. The peak is the sum over the parts of the
// largest state of each; the average weighs each state by its share of the
// time, a state without a duty by the rest of it.
func (c ledger) defineBudget(b *budget, what string, y *symbol) {
	y.deps = c.lowerLoads(b)
	if b.bad || len(b.loads) == 0 {
		return
	}
	v := formula.Value{Class: formula.Number, Type: b.loads[0].value.Type, Unit: b.loads[0].value.Unit}
	switch what {
	case "peak":
		v.Reg = c.peak(b)
	case "average":
		v.Reg = c.average(b)
	case "charge_per_day":
		v.Reg = c.b.Binary(bound.OpMul, c.average(b), c.b.Const(rat(86400)))
		v.Type.Dim = v.Type.Dim.Mul(secondType.Dim)
		v.Unit = nil
	case "life":
		life, ok := c.life(b, y)
		if !ok {
			return
		}
		v = life
	}
	y.val = v
}

// lowerRail works out "U2 from V3V3": what the other rail's loads draw through
// the part, its own ground current added. It holds
// for a linear regulator or a switch; a converter's row states its current.
func (c ledger) lowerRail(b *budget, l *load, s *scope) bool {
	var other *budget
	var nets []string
	for _, x := range c.budgets {
		nets = append(nets, x.block.ID)
		if x.block.ID == l.row.From {
			other = x
		}
	}
	if other == nil {
		c.diagnose(notebook.Err, "budget-unknown", l.row.FromText, "there is no budget for `"+l.row.From+"`", notebook.HintNear(l.row.From, nets))
		return false
	}
	peak, average := other.results["peak"], other.results["average"]
	for _, y := range []*symbol{peak, average} {
		c.lower(y)
		s.note(y)
		if y.val.Class != formula.Number {
			return false
		}
	}
	l.value, l.peak = average.val, peak.val.Reg
	if own := c.ownCurrent(b, l, s); own != 0 {
		l.value.Reg = c.b.Binary(bound.OpAdd, l.value.Reg, own)
		l.peak = c.b.Binary(bound.OpAdd, l.peak, own)
	}
	return true
}

// top is the largest draw of a row.
func (l *load) top() bound.Reg {
	if l.peak != 0 {
		return l.peak
	}
	return l.value.Reg
}

func (c ledger) byRef(b *budget) (refs []string, rows map[string][]*load) {
	rows = map[string][]*load{}
	for _, l := range b.loads {
		if c.unfitted(l) {
			continue
		}
		if rows[l.row.Ref] == nil {
			refs = append(refs, l.row.Ref)
		}
		rows[l.row.Ref] = append(rows[l.row.Ref], l)
	}
	return refs, rows
}

// peak is that of the largest operating state. Without states each part may be
// in its largest row at once.
func (c ledger) peak(b *budget) bound.Reg {
	if len(c.design.stateOf) == 0 {
		return c.peakIn(b, nil)
	}
	var most bound.Reg
	for _, name := range c.design.states {
		sum := c.peakIn(b, c.design.stateOf[name])
		if most == 0 {
			most = sum
		} else {
			most = c.b.Binary(bound.OpMax, most, sum)
		}
	}
	return most
}

// peakIn sums the rows that the parts are in; a part whose row is not named is
// in its largest, and it may be in a row that no state names in any.
func (c ledger) peakIn(b *budget, in map[string]string) bound.Reg {
	refs, rows := c.byRef(b)
	sum := c.b.Const(zero)
	for _, r := range refs {
		most := bound.Reg(0)
		for _, l := range rows[r] {
			switch {
			case in[r] != "" && in[r] != l.row.State && hasState(rows[r], in[r]) && c.namesRow(l):
				continue
			case most == 0:
				most = l.top()
			default:
				most = c.b.Binary(bound.OpMax, most, l.top())
			}
		}
		sum = c.b.Binary(bound.OpAdd, sum, most)
	}
	return c.withBranches(b, c.withMissing(b, sum), false)
}

// namesRow says that a state puts a part into this row of a budget.
func (c ledger) namesRow(l *load) bool {
	for _, in := range c.design.stateOf {
		if in[l.row.Ref] == l.row.State {
			return true
		}
	}
	return false
}

// withMissing adds what the parts without a row draw.
func (c ledger) withMissing(b *budget, sum bound.Reg) bound.Reg {
	if b.missing == 0 {
		return sum
	}
	return c.b.Binary(bound.OpAdd, sum, b.missing)
}

func hasState(rows []*load, state string) bool {
	return slices.ContainsFunc(rows, func(l *load) bool { return l.row.State == state })
}

// divideTime gives each row its part of the time: its duty, or the rest of its
// load's. How several rows without a duty divide that rest is not known.
func (c ledger) divideTime(b *budget, s *scope) {
	refs, rows := c.byRef(b)
	for _, r := range refs {
		rest, without := c.b.Const(one), []*load{}
		for _, l := range rows[r] {
			if l.part = l.share; l.share == 0 {
				without = append(without, l)
				continue
			}
			rest = c.b.Binary(bound.OpSub, rest, l.share)
		}
		rest = c.b.Binary(bound.OpMax, rest, c.b.Const(zero)) // duties may fill more than all the time
		b.idle[r] = rest
		for i, l := range without {
			if l.part = rest; i == len(without)-1 {
				break
			}
			x := c.unstated(b, s, r+"."+l.row.State, "how the time of "+r+" divides among its rows without a duty is not stated",
				"give all of its rows but one a duty: `"+r+"  "+l.row.State+"  ... for 40 ms every 10 min`", units.Type{})
			c.inputs[len(c.inputs)-1].in.Hi = one
			l.part = c.b.Binary(bound.OpMul, rest, x)
			rest = c.b.Binary(bound.OpMul, rest, c.b.Binary(bound.OpSub, c.b.Const(one), x))
		}
	}
}

func (c ledger) average(b *budget) bound.Reg {
	refs, rows := c.byRef(b)
	sum := c.b.Const(zero)
	for _, r := range refs {
		if idle := b.rest[r]; idle != 0 {
			sum = c.b.Binary(bound.OpAdd, sum, c.b.Binary(bound.OpMul, b.idle[r], idle))
		}
		for _, l := range rows[r] {
			sum = c.b.Binary(bound.OpAdd, sum, c.b.Binary(bound.OpMul, l.part, l.value.Reg))
		}
	}
	return c.withBranches(b, c.withMissing(b, sum), true)
}

// life is usable charge over average current and self-discharge, written so that
// the charge stands in it once: less of it is never better.
func (c ledger) life(b *budget, y *symbol) (formula.Value, bool) {
	if b.usable == nil {
		return formula.Value{}, false
	}
	s := &scope{c: c.compiler}
	q, _, _ := c.lowerText(b.usable.Value, s)
	if q.Class != formula.Number || q.Type.Dim != ampereType.Dim.Mul(secondType.Dim) || b.loads[0].value.Type.Dim != ampereType.Dim {
		c.diagnose(notebook.Err, "usable-form", b.usable.Value,
			"the usable content of a cell is a charge, and its loads are currents", "`usable: 1800 mAh`")
		return formula.Value{}, false
	}
	perCharge := c.b.Binary(bound.OpDiv, c.average(b), q.Reg)
	if b.selfDischarge != nil {
		t := b.selfDischarge.Value
		d, _, _ := c.lowerText(t, s)
		switch {
		case d.Class != formula.Number:
			return formula.Value{}, false
		case d.Type.Dim == ampereType.Dim:
			perCharge = c.b.Binary(bound.OpDiv, c.b.Binary(bound.OpAdd, c.average(b), d.Reg), q.Reg)
		case d.Type.Dim.Mul(secondType.Dim).IsZero(): // a share of the content per time
			perCharge = c.b.Binary(bound.OpAdd, perCharge, d.Reg)
		default:
			c.diagnose(notebook.Err, "dimension", t, "self-discharge is a share per time or a current", "`self-discharge: 2 %/month`")
			return formula.Value{}, false
		}
	}
	y.deps = append(append([]*symbol(nil), y.deps...), s.used...)
	v := formula.Value{Class: formula.Number, Type: secondType, Reg: c.b.Binary(bound.OpDiv, c.b.Const(one), perCharge)}
	if hour, err := units.ParseUnit("h"); err == nil {
		v.Unit = &hour
	}
	return v, true
}

// budgetRecords fills the tables once the conditions are settled.
func (c ledger) budgetRecords() {
	for _, b := range c.budgets {
		n, placed := c.Nets.Get(b.block.ID)
		for _, l := range b.loads {
			if v, exact := c.b.ConstOf(l.value.Reg); exact && v.Sign() < 0 && placed && !c.Negative(n) {
				c.diagnose(notebook.Err, "load-negative", l.entry.Text, "a load is at least zero, and this one is counted off the others",
					"write what it draws without the sign; what a part gives back is no load to count on")
			}
			r := record.Load{Ref: l.row.Ref, State: l.row.State, Text: loadText(l.row), Cites: c.citeRecords(l.entry)}
			if !l.row.For.Empty() {
				r.Duty = "for " + strings.TrimSpace(l.row.For.S) + " every " + strings.TrimSpace(l.row.Every.S)
			} else if rest := b.idle[l.row.Ref]; rest != 0 && rest != c.b.Const(one) {
				r.Duty = "the rest"
			}
			if c.unfitted(l) {
				r.AverageText = "not fitted"
			} else if l.value.Class == formula.Number {
				r.Average, r.AverageText = c.averageText(l.value, l.part)
			}
			b.out.Rows = append(b.out.Rows, r)
		}
		refs, _ := c.byRef(b)
		for _, ref := range refs {
			if b.rest[ref] != 0 {
				b.out.Rows = append(b.out.Rows,
					record.Load{Ref: ref, State: "the rest", Text: "not stated", AverageText: "not stated"})
			}
		}
		if b.missing != 0 {
			b.out.Rows = append(b.out.Rows,
				record.Load{Ref: joinWords(c.unbudgeted(b)), Text: "not stated", AverageText: "not stated"})
		}
		b.out.Rows = append(b.out.Rows, c.branchRows(b)...)
		for _, n := range []string{"peak", "average", "charge_per_day", "life"} {
			if y := b.results[n]; y.val.Class == formula.Number {
				b.out.Results = append(b.out.Results, recorder(c).valueRecord(y, budgetFormulas[n]))
			}
		}
	}
}

// averageText is what a row adds to the average.
func (c ledger) averageText(v formula.Value, part bound.Reg) (*float64, string) {
	reg := v.Reg
	if part != 0 {
		reg = c.b.Binary(bound.OpMul, part, reg)
	}
	e := c.rangeOver(reg, 0)
	return finite(e.Hi), extentText(e, v.Type, nil)
}

// budgetFormulas say in words how the results come about.
var budgetFormulas = map[string]string{
	"peak":           "sum over the parts of the largest row of each; with states, the largest state",
	"average":        "sum of current · share of the time; a row without a duty has the rest of its load's time",
	"charge_per_day": "average · 24 h",
	"life":           "usable / (average + self-discharge)",
}

func loadText(l *notebook.LoadRow) string {
	if l.From != "" {
		return "what " + l.From + " draws"
	}
	return strings.TrimSpace(l.Value.S)
}
