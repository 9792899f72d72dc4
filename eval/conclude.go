package eval

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"guardband/notebook"
	"guardband/units"
)

// conclude puts together what was shown of a claim: criteria, inspection,
// evidence, waiver, in this order.
func (c *compiler) conclude(cl *claim) {
	out := &cl.out
	v := Passed
	judged := 0
	for _, k := range cl.crit {
		judged++
		if c.full(cl) {
			k.out.Position = position(k.text.Pos(0))
		}
		k.out.State = k.state
		k.out.Text = k.src
		if k.bad {
			cl.errors = true
			k.out.Verdict = Open
			k.out.Open = []OpenPoint{{Reason: "not evaluated", Text: "the formula has an error", Settle: "see the diagnostics"}}
		}
		c.hintEquality(k)
		c.typeset(k)
		if k.out.Tests == nil {
			k.out.Tests = []Test{}
		}
		v = worse(v, k.out.Verdict)
		if out.Criteria == nil || cap(out.Criteria) == 0 {
			out.Criteria = make([]Criterion, 0, len(cl.crit))
		}
		out.Criteria = append(out.Criteria, k.out)
	}
	if in := out.Inspection; in != nil {
		judged++
		v = worse(v, inspectionVerdict(in))
		if in.Result == "" {
			out.Open = append(out.Open, OpenPoint{Reason: "no result", Text: "nobody has looked yet: " + in.Text, Settle: "`result: passed, DATE, WHO`"})
		}
	}
	if out.Method == "test" && cl.kind != "reading" {
		judged++
		tv, p := c.testResult(cl)
		v = worse(v, tv)
		out.Open = append(out.Open, p...)
	}
	if cl.errors {
		v = worse(v, Open)
		if judged == 0 || !hasBad(cl) {
			out.Open = append(out.Open, OpenPoint{Reason: "not evaluated", Text: "the claim has an error", Settle: "see the diagnostics"})
		}
	}
	if cl.plain != "" {
		judged++
		v = worse(v, cl.plain)
	}
	if judged == 0 && len(out.Open) == 0 {
		v = Open
	}
	v = worse(v, c.restOn(cl, v))
	if c.full(cl) {
		c.assumed(cl)
	}
	out.Verdict = v
	c.waive(cl)
	out.Headline = headline(cl)
}

// full says that the record gives a claim whole, with what it rests on: all
// claims, or those that Options.Detail lets show. Claims without a criterion
// are few and have no numbers to leave out.
func (c *compiler) full(cl *claim) bool {
	return c.opt.Detail == 0 || cl.shown || len(cl.crit) == 0
}

// hintEquality tells the author of an equality that fails by spread alone how
// such a thing is said.
func (c *compiler) hintEquality(k *criterion) {
	if k.out.Verdict != Failed {
		return
	}
	for i := range k.comp.Tests {
		if x := &k.comp.Tests[i]; x.Op == "==" && !(x.Left.Fixed && x.Right.Fixed) {
			c.whole(notebook.Warn, "equality-spread", k.text, "`"+x.Text+"` compares a quantity with spread for equality", "write `inside` with a range, or `abs(a - b) <= ...`")
		}
	}
}

func hasBad(cl *claim) bool {
	for _, k := range cl.crit {
		if k.bad {
			return true
		}
	}
	return false
}

// worse combines verdicts: failed before open before passed.
func worse(a, b Verdict) Verdict {
	if a == "" {
		return b
	}
	if gravity(b) > gravity(a) {
		return b
	}
	return a
}

func gravity(v Verdict) int {
	switch v {
	case Failed:
		return 2
	case Open:
		return 1
	}
	return 0
}

func inspectionVerdict(in *Inspection) Verdict {
	switch in.Result {
	case "passed", "not applicable":
		return Passed
	case "failed":
		return Failed
	}
	return Open
}

// restOn lists what a claim rests on, and says whether its evidence leaves a
// pass standing.
func (c *compiler) restOn(cl *claim, v Verdict) Verdict {
	out := &cl.out
	full := c.full(cl)
	result := Passed
	var seen map[*citation]bool
	add := func(k *citation) {
		if k == nil || seen[k] || k.cite.Assumed != "" {
			return
		}
		if seen == nil {
			seen = map[*citation]bool{}
		}
		seen[k] = true
		k.inUse = true
		if full {
			out.Cites = append(out.Cites, k.record(c))
		}
		if p := k.failing(); p != nil {
			result = Open
			if v != Failed {
				out.Open = append(out.Open, *p)
			}
		}
	}
	rests := closure(cl.uses)
	for _, y := range rests {
		if full {
			y.usedBy = append(y.usedBy, cl.id)
			out.RestsOn = append(out.RestsOn, c.basis(y))
		}
		for _, k := range y.activeCites(c) {
			add(k)
		}
	}
	for _, y := range guarded(rests)[len(rests):] { // not what the claim is about, but its rows hold by them
		for _, k := range y.activeCites(c) {
			if p := k.failing(); p != nil && k.cite.Assumed == "" {
				add(k)
			}
		}
	}
	entries := cl.entries
	if cl.block != nil {
		entries = cl.block.Entries
	}
	var drafted []string
	for _, e := range entries {
		for _, k := range c.citesOf(e) {
			add(k)
		}
		if e.Unconfirmed {
			drafted = append(drafted, "`"+asTyped(e)+"`")
		}
	}
	if len(drafted) > 0 && v == Passed {
		result = Open
		out.Open = append(out.Open, unconfirmed(someOf(drafted, 3)))
	}
	return result
}

// asTyped is an entry without its citations and what follows them.
func asTyped(e *notebook.Entry) string {
	text, _, _ := strings.Cut(e.Text.S, " [")
	return strings.TrimSuffix(strings.Join(strings.Fields(text), " "), " unconfirmed")
}

// someOf lists the first few names and counts the rest.
func someOf(names []string, most int) string {
	names = slices.Compact(names)
	if len(names) <= most+1 {
		return strings.Join(names, ", ")
	}
	return fmt.Sprintf("%s and %d more", strings.Join(names[:most], ", "), len(names)-most)
}

// unconfirmed is why nothing may rest on a line that a draft wrote.
func unconfirmed(what string) OpenPoint {
	return OpenPoint{Reason: "unconfirmed", Text: what + ": drafted, and nobody has confirmed it", Settle: "compare it with the page, then delete the word `unconfirmed`"}
}

// activeCites are the citations of the rows that apply.
func (y *symbol) activeCites(c *compiler) []*citation {
	out := 0
	for _, r := range y.rows {
		if r.out {
			out++
		}
	}
	if len(y.rows) == 0 || out == 0 || out == len(y.rows) {
		return y.cites
	}
	var l []*citation
	for _, r := range y.rows {
		if !r.out {
			l = append(l, c.citesOf(r.entry)...)
		}
	}
	return l
}

func (c *compiler) basis(y *symbol) Basis {
	b := Basis{Name: y.name, Assumed: y.assumed}
	if y.constant != "" {
		b.Shown = c.shownRange2(y) + " (" + y.constant + ")"
		return b
	}
	switch {
	case y.text != "":
		b.Shown = y.text + " = " + c.shownRange2(y)
	case y.entry != nil && y.entry.RHS.S != "" && len(y.rows) == 0:
		b.Shown = strings.TrimSpace(y.entry.RHS.S)
		if y.derived {
			b.Shown += " = " + c.shownRange2(y)
		}
	case len(y.rows) > 0:
		var shown, at []string
		for _, r := range y.rows {
			if r.out && !allOut(y) {
				continue
			}
			shown = append(shown, strings.TrimSpace(r.entry.RHS.S))
			at = append(at, condsText(r.entry))
		}
		b.Shown = strings.Join(shown, " / ")
		b.At = strings.Trim(strings.Join(at, " / "), " /")
	default:
		b.Shown = c.shownRange2(y)
	}
	for _, k := range y.activeCites(c) {
		if k.cite.Assumed == "" {
			b.Cites = append(b.Cites, k.record(c))
		}
	}
	if y.entry != nil {
		b.Position = position(y.entry.Text.Pos(0))
	}
	return b
}

func allOut(y *symbol) bool {
	for _, r := range y.rows {
		if !r.out {
			return false
		}
	}
	return true
}

// shownRange2 is shownRange, worked out once a symbol.
func (c *compiler) shownRange2(y *symbol) string {
	if y.shown == "" {
		y.shown = c.shownRange(y)
	}
	return y.shown
}

// waive applies a waiver in force: it covers failed and open until its day
// inclusive, and no larger miss than it accepts.
func (c *compiler) waive(cl *claim) {
	w := cl.out.Waiver
	if s := c.skips[cl.id]; s != nil {
		s.used = true
		if s.waiver != nil {
			w = s.waiver
			cl.out.Waiver = w
		} else {
			cl.out.Under, cl.out.Verdict = cl.out.Verdict, Skipped
			cl.out.Reason = s.reason
			return
		}
	}
	if w == nil {
		return
	}
	if cl.accepts != nil {
		w.Accepts = value(cl.accepts)
	}
	switch {
	case c.opt.On != "" && c.opt.On > w.Until:
		w.Why = "expired"
	case cl.out.Verdict == Failed && w.Accepts != "" && c.missExceeds(cl, w.Accepts):
		w.Why = "the miss is larger than accepted"
	default:
		w.InForce = true
	}
	if w.InForce && (cl.out.Verdict == Failed || cl.out.Verdict == Open) {
		cl.out.Under, cl.out.Verdict = cl.out.Verdict, Waived
	}
}

// missExceeds compares the miss of a failed claim with what its waiver accepts.
func (c *compiler) missExceeds(cl *claim, accepts string) bool {
	q, err := units.ParseLiteral(strings.TrimSpace(accepts))
	if err != nil {
		if cl.accepts != nil {
			c.unitError(cl.accepts.Value, err)
		}
		return true
	}
	most := math.Abs(units.Float(q.SI))
	share := q.Type == (units.Type{}) && q.Unit.Symbol != ""
	for _, k := range cl.out.Criteria {
		for _, t := range k.Tests {
			if t.Margin == nil {
				if k.Verdict == Failed {
					return true
				}
				continue
			}
			got := t.Margin.Absolute
			if share {
				got = nil
				if t.Margin.Percent != nil {
					p := *t.Margin.Percent / 100
					got = &p
				}
			}
			if got == nil || -*got > most {
				return true
			}
		}
	}
	return false
}

// headline is the verdict in one line.
func headline(cl *claim) string {
	o := &cl.out
	switch o.Verdict {
	case Skipped:
		return "skipped: " + o.Reason
	case Waived:
		return string(o.Under) + ", waived until " + o.Waiver.Until
	case Passed:
		how := "passed"
		if o.Analysis != "worst case" && len(o.Criteria) > 0 {
			how += " by " + o.Analysis
		}
		if m := thinnest(o); m != nil {
			return how + ", margin " + m.Text
		}
		return how
	case Failed:
		for _, k := range o.Criteria {
			if k.Verdict != Failed {
				continue
			}
			m := thinnestOf(&k)
			switch {
			case m == nil:
				return "failed"
			case k.Failure == "short":
				return "failed (short): margin " + m.Text + ", asked " + m.Required
			default:
				return "failed (broken): margin " + m.Text
			}
		}
		return "failed"
	}
	for _, k := range o.Criteria {
		for _, p := range k.Open {
			return "open: " + p.Text
		}
	}
	for _, p := range o.Open {
		return "open: " + p.Text
	}
	return "open"
}

func thinnest(o *Claim) *Margin {
	var best *Margin
	for i := range o.Criteria {
		if m := thinnestOf(&o.Criteria[i]); m != nil && (best == nil || marginKey(m) < marginKey(best)) {
			best = m
		}
	}
	return best
}

func thinnestOf(k *Criterion) *Margin {
	var best *Margin
	for i := range k.Tests {
		if m := k.Tests[i].Margin; m != nil && (best == nil || marginKey(m) < marginKey(best)) {
			best = m
		}
	}
	return best
}
