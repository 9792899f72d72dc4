package eval

import (
	"cmp"
	"fmt"
	"math"
	"math/big"
	"slices"
	"strings"

	"guardband/eval/bound"
	"guardband/eval/circuit"
	"guardband/eval/formula"
	"guardband/eval/record"
	"guardband/notebook"
	"guardband/units"
)

// decideClaims judges every claim. What must still be entered in the graph is
// entered first; then programs are cut out of it and judged side by side. The
// order of judging changes nothing.
func (c judge) decideClaims() {
	all := append(append([]*Claim(nil), c.claims...), c.others...)
	c.askNetwork(all)
	trials := c.trials(all)
	c.sampleClaims(all)
	for i := range trials { // what the network tells makes parts of the graph
		if t := &trials[i]; t.k.told != nil {
			if t.fault = isolate(func() { c.judgeTold(t) }); t.fault != "" {
				t.k.out.Verdict = record.Open
			}
		}
	}
	c.eachTrial(len(trials), func(i int) *trial { return &trials[i] }, c.judge)
	if c.opt.Detail > 0 {
		chosen := c.chosen(trials)
		c.eachTrial(len(chosen), func(i int) *trial { return chosen[i] }, c.show)
	}
	proof(c).renderExcerpts()
	c.rankInputs(trials)
	for i := range trials { // told here, in order, since trials are judged side by side
		if t := &trials[i]; t.fault != "" {
			t.k.out.Verdict, t.k.out.Failure = record.Open, ""
			c.claimFault(t.cl, t.fault)
		}
	}
	for _, cl := range all {
		for _, k := range cl.Crit {
			if k.empty {
				c.diagnose(notebook.Warn, "claim-empty", k.text, "`"+k.src+
					"` is true for any values: it says nothing about this board", "compare with a limit")
			}
		}
		c.isolateClaim(cl, func() { c.conclude(cl) })
	}
}

// holdsAnyway says whether a criterion with inputs is true whatever they are.
// One comparison shows it at once or never; alternatives have to be cut apart.
func holdsAnyway(p *bound.Program, comparisons int) bool {
	n, boxes := len(p.Inputs()), 1
	if comparisons > 1 {
		boxes = 100
	}
	return n > 0 && bound.Decide(p, 0, make([]bound.Input, n), bound.Options{Boxes: boxes}).Outcome == bound.Proven
}

// open leaves a criterion open for a reason, with what would settle it.
func (k *Criterion) open(reason, text, settle string) {
	k.out.Verdict = record.Open
	k.out.Open = append(k.out.Open, record.OpenPoint{Reason: reason, Text: text, Settle: settle})
}

// judge decides one criterion and writes what a reader wants to see of it.
func (c judge) judge(t *trial) {
	k := t.k
	if k.told != nil {
		return
	}
	k.out.Text = k.src
	opt := bound.Options{Boxes: c.opt.Boxes}
	if t.late {
		opt.Boxes = lateBoxes
	}
	if len(k.uses) == 0 {
		k.open("nothing stated", "this criterion uses no fact or value", "name the quantities it is about")
		return
	}
	c.cut(t)
	if c.judgeStatistics(t) {
		return
	}
	d := bound.Decide(t.prog, 0, t.in, opt)
	k.out.Boxes, t.work = d.Boxes, t.prog.Work(0, d.Boxes)
	switch {
	case d.Outcome == bound.Proven:
		k.out.Verdict = record.Passed
		k.empty = t.cl.check == nil && holdsAnyway(t.prog, len(k.comp.Tests))
	case d.Outcome == bound.Broken && k.Unsure != nil:
		k.out.Verdict = record.Open
		k.out.Open = append(k.out.Open, *k.Unsure)
	case d.Outcome == bound.Broken:
		k.out.Verdict = record.Failed
		k.out.Failure = t.failure(d)
		if c.opt.Detail == 0 {
			c.showCorner(t, d.Point)
		}
	default:
		k.out.Verdict = record.Open
		k.out.Open = c.openPoints(t, d)
	}
	c.block(t)
	if c.opt.Detail > 0 {
		t.breaking = d.Point
		k.thin = c.thinnestShare(t)
		t.cutout = nil
		return
	}
	c.showTests(t)
}

// lateBoxes is the budget of a proof once that of the design is used up: what
// corners settle still is.
const lateBoxes = 16

// thinBoxes is the budget for putting margins in order: a bound from outside
// does, and a board has thousands.
const thinBoxes = 16

// thinnestShare is the smallest margin of a passed criterion as a share of its
// limit, for ordering; +Inf where it shows none.
func (c judge) thinnestShare(t *trial) float64 {
	thin := math.Inf(1)
	if t.k.out.Verdict != record.Passed {
		return thin
	}
	for i := range t.tests {
		if r := t.tests[i].ratio; r >= 0 && !t.k.comp.Tests[i].Negated {
			e := bound.Range(t.prog, r, t.in, bound.Options{Boxes: thinBoxes, Ends: bound.LowEnd})
			if !e.Empty && !e.Lo.Unbounded {
				thin = math.Min(thin, e.Lo.Outer)
			}
		}
	}
	return thin
}

// chosen are the trials whose numbers are worked out: those that did not pass,
// the thinnest margins among the passed, and those whose numbers
// decide something else.
func (c judge) chosen(trials []trial) []*trial {
	var passed, out []*trial
	for i := range trials {
		t := &trials[i]
		switch {
		case t.cl.accepts != nil || t.cl.candidate != nil: // a waiver may accept so large a miss; candidates stand in order of margin
			out = append(out, t)
		case t.k.out.Verdict == record.Passed:
			passed = append(passed, t)
		default:
			out = append(out, t)
		}
	}
	slices.SortStableFunc(passed, func(a, b *trial) int { return cmp.Compare(a.k.thin, b.k.thin) })
	out = append(out, passed[:min(len(passed), c.opt.Detail)]...)
	for _, t := range out {
		t.cl.shown = true
	}
	return out
}

// show works out what judge left for later.
func (c judge) show(t *trial) {
	if len(t.k.out.Tests) > 0 || len(t.k.uses) == 0 || t.k.told != nil {
		return
	}
	c.cut(t)
	c.showCorner(t, t.breaking)
	c.showTests(t)
}

// markEvidence notes which citations the claims to be pictured rest on.
func (c judge) markEvidence() {
	for _, cl := range c.claims {
		missed := func(k *Criterion) bool { return k.out.Verdict != record.Passed }
		if c.opt.Pictures == "failed" && !slices.ContainsFunc(cl.Crit, missed) {
			continue
		}
		for _, y := range closure(cl.uses) {
			for _, k := range y.activeCites(c.compiler) {
				k.inUse = true
			}
		}
	}
}

// failure tells broken from short: short holds, but without the margin asked.
func (t *trial) failure(d bound.Decision) string {
	if t.plain == 0 {
		return "broken"
	}
	if x := bound.Decide(t.prog, t.plain, t.in, bound.Options{}); x.Outcome == bound.Broken {
		return "broken"
	}
	return "short"
}

// block opens a criterion that rests on a fact whose conditions no row covers
// and whose bounds cannot say so, and one that rests on an unconfirmed fact.
func (c judge) block(t *trial) {
	k := t.k
	for _, y := range closure(k.uses) {
		if y.blocked {
			k.out.Verdict, k.out.Failure, k.blocked = record.Open, "", true
			for _, p := range y.why {
				k.out.Open = circuit.AddTo(k.out.Open, p)
			}
		}
		if k.out.Verdict == record.Passed && y.limitsNothing() && t.endless() {
			k.open("typical only", y.name+" states only a typical value, which limits nothing", "note its min or max column, if the sheet has one")
		}
	}
	for _, y := range guarded(closure(k.uses)) {
		for _, r := range y.rows {
			if k.out.Verdict == record.Passed && r.unconfirmed && !r.out {
				k.open("unconfirmed", y.name+" was drafted and nobody has confirmed it",
					"compare it with the page, then delete the word `unconfirmed`")
			}
		}
	}
}

// guarded adds to symbols those by which the conditions of their rows were
// judged, and what these were made of.
func guarded(ys []*symbol) []*symbol {
	out := ys[:len(ys):len(ys)]
	for i := 0; i < len(out); i++ {
		for _, g := range closure(out[i].guards) {
			out = circuit.AddTo(out, g)
		}
	}
	return out
}

// limitsNothing tells a limit of which only a typical value is stated.
func (y *symbol) limitsNothing() bool {
	return y.limit && y.val.Lo == nil && y.val.Hi == nil && y.cols[1] != nil
}

// endless says that the criterion asks something to lie inside a limit without
// ends.
func (t *trial) endless() bool {
	for i := range t.k.comp.Tests {
		if r := &t.k.comp.Tests[i].Right; r.Class == formula.Set && r.Lo == nil && r.Hi == nil {
			return true
		}
	}
	return false
}

// closure lists symbols and all they were made of, in order of first use.
func closure(ys []*symbol) []*symbol {
	var out []*symbol
	seen := map[*symbol]bool{}
	var walk func([]*symbol)
	walk = func(ys []*symbol) {
		for _, y := range ys {
			if !seen[y] {
				seen[y] = true
				out = append(out, y)
				walk(y.deps)
			}
		}
	}
	walk(ys)
	return out
}

// openPoints turns an undecided answer into reasons and ways out.
func (c judge) openPoints(t *trial, d bound.Decision) (out []record.OpenPoint) {
	add := func(reason, text, settle string) {
		out = append(out, record.OpenPoint{Reason: reason, Text: text, Settle: settle})
	}
	for _, i := range d.Lacking {
		out = append(out, c.lackingPoint(t, i)...)
	}
	switch {
	case d.Undefined != nil:
		add("undefined", c.undefinedText(t, d.Undefined), "narrow the inputs so that the operation always has a value")
	case d.Cause == bound.CauseBudget && t.late:
		add("budget", "the design's budget of proofs is used up",
			"simplify the claims above that are not decided within theirs, or divide the design")
	case d.Cause == bound.CauseBudget:
		text := fmt.Sprintf("not decided within the budget of %d steps", d.Boxes)
		if !math.IsNaN(d.Gap) {
			text += fmt.Sprintf("; what is left is within %.3g of the limit (SI units)", d.Gap)
		}
		add("budget", text, "split the claim, or narrow the widest input")
	case d.Cause == bound.CauseTie:
		add("budget", "equal to 60 digits, neither proven nor broken", "ask for a margin, or move the limit a little")
	case len(out) == 0:
		for i := range t.in {
			if t.in[i].Lo == nil || t.in[i].Hi == nil {
				out = append(out, c.lackingPoint(t, i)...)
			}
		}
	}
	if len(out) == 0 {
		add("no limits", "what the facts leave open breaks it, the stated columns do not", "state the missing limits")
	}
	return out
}

// lackingPoint says why one input keeps a criterion open.
func (c judge) lackingPoint(t *trial, i int) []record.OpenPoint {
	in := c.inputs[t.prog.Inputs()[i]]
	if p := c.madePoints(t, t.prog.Inputs()[i]); p != nil {
		return p
	}
	y := in.sym
	if y == nil {
		return []record.OpenPoint{{Reason: "no limits", Text: in.name + " is unbounded"}}
	}
	if len(y.why) > 0 {
		return y.why
	}
	if lacking := y.lacking; lacking != nil {
		return []record.OpenPoint{*lacking}
	}
	p := record.OpenPoint{}
	if len(y.cites) > 0 {
		k := y.cites[0]
		p.Source, p.Page = k.sourceID(), k.page()
	}
	set, want := in.set(), c.wantedEnd(t, i)
	switch {
	case set.Lo == nil && set.Hi == nil && y.cols[1] != nil:
		p.Reason, p.Text = "typical only", y.name+" states only a typical value, which guarantees nothing"
	case set.Lo == nil && set.Hi == nil:
		p.Reason, p.Text = "no limits", "nothing is known of "+y.name
	case set.Hi == nil:
		p.Reason, p.Text = "no maximum", y.name+" has no maximum stated"
	default:
		p.Reason, p.Text = "no minimum", y.name+" has no minimum stated"
	}
	p.Settle = "note a " + want + " of " + y.name
	if want == "min" && set.SureLo != nil && set.SureLo.Sign() >= 0 {
		p.Settle += "; `at least zero: " + lastName(y.name) + "` if it cannot be negative"
	}
	return []record.OpenPoint{p}
}

// wantedEnd finds which missing end of an input would prove the criterion.
func (c judge) wantedEnd(t *trial, i int) string {
	in := append([]bound.Input(nil), t.in...)
	try := func(lo, hi bool) bool {
		in[i] = t.in[i]
		if lo && in[i].Lo == nil {
			in[i].Lo = in[i].SureLo
		}
		if hi && in[i].Hi == nil {
			in[i].Hi = in[i].SureHi
		}
		return bound.Decide(t.prog, 0, in, bound.Options{Boxes: 200}).Outcome == bound.Proven
	}
	switch {
	case t.in[i].SureLo == nil:
		return "range"
	case t.in[i].Hi == nil && try(false, true):
		return "max"
	case t.in[i].Lo == nil && try(true, false):
		return "min"
	case t.in[i].Lo != nil:
		return "max"
	case t.in[i].Hi != nil:
		return "min"
	}
	return "min and a max"
}

func lastName(s string) string {
	s, _, _ = strings.Cut(s[strings.LastIndexByte(s, '.')+1:], "(")
	return s
}

func (c judge) undefinedText(t *trial, u *bound.Undefined) string {
	what := map[bound.Op]string{
		bound.OpDiv: "a divisor can be zero", bound.OpSqrt: "a square root of a negative number can arise",
		bound.OpLn: "a logarithm of zero or less can arise", bound.OpLog10: "a logarithm of zero or less can arise",
		bound.OpTan: "a tangent can reach its pole", bound.OpAsin: "an arc sine of a number beyond 1 can arise",
		bound.OpAcos: "an arc cosine of a number beyond 1 can arise", bound.OpTable: "a table of points is read beyond its ends",
		bound.OpPow: "a real power of a negative number can arise", bound.OpPowInt: "a negative power of zero can arise",
	}[u.Op]
	if what == "" {
		what = "an operation is not defined"
	}
	switch note := c.notes[u.Reg]; {
	case note.whole != "":
		what = note.whole
	case note.valid != "":
		what = note.text + " leaves its range of validity: " + note.valid
	case note.text != "":
		what += ", " + note.text
	}
	if at := c.pointText(t, u.At); at != "" {
		what += " (at " + at + ")"
	}
	return what
}

// pointText lists the inputs of a point.
func (c judge) pointText(t *trial, at []*big.Rat) string {
	var out []string
	for i, n := range t.prog.Inputs() {
		if i < len(at) && at[i] != nil {
			in := c.inputs[n]
			out = append(out, in.name+" = "+units.Format(at[i], in.typ, units.Style{Unit: in.unit, Digits: 6}))
		}
	}
	return strings.Join(out, ", ")
}
