package eval

import (
	"fmt"
	"math/big"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"guardband/eval/bound"
	"guardband/eval/circuit"
	"guardband/eval/formula"
	"guardband/eval/record"
	"guardband/notebook"
	"guardband/units"
)

func (c bench) readReadings(b *notebook.Block) {
	var last *reading
	var all []notebook.Cond // conditions of every reading of the block
	var states []string
	for _, e := range b.Entries {
		switch {
		case e.Label == notebook.InUse:
			all = append(all, e.Conds...)
		case e.Label == "state" && last == nil:
			states = append(states, c.statesIn(e)...)
		case e.Kind == notebook.Definition:
			last = &reading{} // states below it are its own
		}
	}
	last = nil
	for _, e := range b.Entries {
		switch {
		case e.Kind == notebook.Definition:
			last = &reading{entry: e, conds: e.Conds, states: states}
			for _, k := range all {
				if k.Flag != "" || !circuit.StatesUse(e.Conds, k.Name) {
					last.conds = append(last.conds[:len(last.conds):len(last.conds)], k)
				}
			}
			last.out = record.Reading{Name: e.Name, Reading: strings.TrimSpace(e.RHS.S),
				Position: position(e.Text.Pos(0)), Verdict: record.Open}
			c.reads = append(c.reads, last)
		case e.Label == "settles" && last != nil:
			last.out.Settles, last.settles = e.Trimmed(), e
		case e.Label == "state" && last != nil:
			last.states = c.statesIn(e)
		}
	}
	reader(c).readCommon(b, "the readings")
}

// judgeReadings compares each reading, its accuracy about it, with what the
// notes predict at its own conditions, and with what claims ask of its name.
func (c bench) judgeReadings() {
	known := len(c.factList)
	for _, r := range c.reads {
		c.enterReading(r)
	}
	if len(c.factList) > known {
		c.settleConditions()
	}
	for _, r := range c.reads {
		if fault := isolate(func() { c.judgeReading(r) }); fault != "" {
			r.out.Verdict = record.Open
			c.tellFault(r.entry.Text, "reading `"+r.out.Name+"`", fault)
		}
		c.readingClaim(r)
	}
}

// settled is the claim of `method: test` that a reading answers; nil where it
// answers none. A reading answers only a claim that speaks of what was read.
func (c bench) settled(r *reading) *Claim {
	if r.settles == nil {
		return nil
	}
	to := c.claimByID(r.out.Settles)
	switch {
	case to == nil:
		c.diagnose(notebook.Err, "claim-unknown", r.settles.Value, "there is no claim named `"+r.out.Settles+"`",
			notebook.HintNear(r.out.Settles, c.claimIDs()))
	case to.Out.Method != "test":
		return nil
	case r.used != nil && !to.readsOf(r):
		c.diagnose(notebook.Err, "settles-other", r.settles.Value, "claim `"+to.id+"` neither uses nor names "+r.out.Name+
			", so no reading of it can settle the claim",
			"measure what the claim is about, or name `"+r.out.Name+"` in its statement")
	default:
		to.readings = append(to.readings, r)
		return to
	}
	return nil
}

// readsOf says that a claim uses what was read in a criterion, or names it in
// its words.
func (cl *Claim) readsOf(r *reading) bool {
	if slices.ContainsFunc(r.used, func(y *symbol) bool { return slices.Contains(cl.uses, y) }) {
		return true
	}
	return namesWord(cl.Out.Statement, r.out.Name) || namesWord(cl.Out.Reason, r.out.Name)
}

// namesWord says that a name stands in a text as a word of its own.
func namesWord(text, name string) bool {
	part := func(s string, last bool) bool {
		ch, n := utf8.DecodeRuneInString(s)
		if last {
			ch, n = utf8.DecodeLastRuneInString(s)
		}
		return n > 0 && (ch == '_' || unicode.IsLetter(ch) || unicode.IsDigit(ch))
	}
	for at := 0; ; {
		i := strings.Index(text[at:], name)
		if i < 0 {
			return false
		}
		end := at + i + len(name)
		if !part(text[:at+i], true) && !part(text[end:], false) {
			return true
		}
		at = end
	}
}

// readingClaim makes a reading count: a claim of its own, unless it is what a
// claim with `method: test` waits for.
func (c bench) readingClaim(r *reading) {
	if c.settled(r) != nil {
		return
	}
	id := "reading." + r.out.Name
	for n := 2; c.claimByID(id) != nil; n++ {
		id = fmt.Sprintf("reading.%s-%d", r.out.Name, n)
	}
	cl := &Claim{id: id, kind: "reading", Entries: []*notebook.Entry{r.entry}}
	cl.Out = record.Claim{ID: id, Kind: "reading", Statement: "The reading of " + r.out.Name +
		" agrees with the notes.", Method: "test", Analysis: "worst case",
		Cites: []record.Cite{}, RestsOn: []record.Basis{}, Criteria: []record.Criterion{}, Position: r.out.Position}
	text := r.out.Name + " read " + r.out.Reading + ", predicted " + r.out.Predicted + ": " + r.out.Text
	if r.out.Verdict == record.Open {
		cl.Lacks("reading", text, r.wayOut())
	} else {
		cl.Settle(r.out.Verdict, text)
	}
	c.addClaim(cl)
}

// wayOut is what settles a reading that passed nothing.
func (r *reading) wayOut() string {
	if r.settle != "" {
		return r.settle
	}
	return "measure " + r.out.Name + " again, with a better instrument if it is its accuracy that counts, or find what the notes do not know"
}

// enterReading works out what a reading is of, here and under its conditions.
func (c bench) enterReading(r *reading) {
	r.out.Cites = c.citeRecords(r.entry)
	r.out.Text = "not evaluated"
	s := &scope{c: c.compiler}
	target, _, _ := c.lowerText(r.entry.NameText, s)
	cols := c.lowerColumns(r.entry.RHS, s)
	if target.Class != formula.Number || cols.bad {
		return
	}
	lo, hi := cols.lo, cols.hi
	if cols.shape == units.Single {
		lo, hi = cols.typ, cols.typ
	}
	if lo != nil && hi != nil {
		r.lo, _ = c.b.ConstOf(lo.Reg)
		r.hi, _ = c.b.ConstOf(hi.Reg)
	}
	if r.lo == nil || r.hi == nil {
		c.diagnose(notebook.Err, "reading-form", r.entry.RHS,
			"a reading is a number, with what its instrument may be off by", "`3.012 V ± (0.5 % + 2 mV)`, `3.01 V` or `3.00 V to 3.02 V`")
		return
	}
	if _, err := units.Combine("<=", target.Type, lo.Type, r.out.Name, r.out.Reading); err != nil {
		c.diagnose(notebook.Err, "dimension", r.entry.Text, err.Msg, err.Hint)
		return
	}
	s = &scope{c: c.compiler}
	c.lowerText(r.entry.NameText, s)
	if !c.checkReadingConditions(r, s.used) {
		return
	}
	r.used, r.here = s.used, target
	r.at = c.under(r.conds)
	s = &scope{c: r.at}
	r.target, _, _ = r.at.lowerText(r.entry.NameText, s)
	r.made = closure(s.used)
}

func (c bench) judgeReading(r *reading) {
	if r.at == nil || r.target.Class != formula.Number {
		return
	}
	if r.at != c.compiler {
		r.at.settleConditions()
	}
	p := r.at.b.Extract(r.target.Reg)
	e := bound.Range(p, 0, r.at.gather(p), bound.Options{Boxes: c.opt.Boxes})
	r.out.Predicted = extentText(e, r.target.Type, r.target.Unit)
	r.out.Verdict, r.out.Text = compareReading(r.lo, r.hi, e, r.target)
	if at := r.atText(); at != "" {
		r.out.Text += ", worked out at " + at
	}
	if asks := r.unstated(p); len(asks) > 0 {
		r.out.Verdict = record.Open
		r.out.Text = "it does not state " + joinWords(asks) + ", on which the prediction depends; as the notes have it, " + r.out.Text
		r.settle = "state what it was taken at: `at " + strings.Join(asks, " = ...; ") + " = ...`, or `in use:` for the whole block"
	}
	if against := c.readAgainst(r); against != "" {
		r.out.Verdict, r.settle = record.Failed, ""
		r.out.Text += "; " + against
	}
}

// compareReading judges a reading [a, b] against a prediction.
func compareReading(a, b *big.Rat, e bound.Extent, v formula.Value) (record.Verdict, string) {
	lo, hi := endRat(e.Lo), endRat(e.Hi)
	far := func(d *big.Rat) string {
		t := v.Type
		if t.Kind == units.Point || t.Kind == units.Kelvin {
			t.Kind = units.Plain
		}
		return units.Format(d, t, units.Style{Digits: 3})
	}
	switch {
	case e.Empty || e.Undefined != nil:
		return record.Open, "the prediction may not be defined"
	case lo != nil && b.Cmp(lo) < 0:
		return record.Failed, "the reading is below the prediction by " + far(new(big.Rat).Sub(lo, b))
	case hi != nil && a.Cmp(hi) > 0:
		return record.Failed, "the reading is above the prediction by " + far(new(big.Rat).Sub(a, hi))
	case lo == nil && hi == nil:
		return record.Open, "the notes predict nothing that a reading could differ from"
	case (lo == nil || a.Cmp(lo) >= 0) && (hi == nil || b.Cmp(hi) <= 0):
		return record.Passed, "the reading with its accuracy is inside the prediction"
	}
	return record.Open, "the reading with its accuracy straddles an end of the prediction"
}

func endRat(e bound.End) *big.Rat {
	if e.Unbounded {
		return nil
	}
	if e.Exact != nil {
		return e.Exact
	}
	return new(big.Rat).SetFloat64(e.Outer)
}

// readAgainst names a claim that asks of the name what the reading does not
// meet, whatever the limit may be; "" where there is none. Margins are for what
// is not known yet and are not asked of a reading.
func (c bench) readAgainst(r *reading) string {
	if _, fixed := c.b.ConstOf(r.here.Reg); fixed {
		return ""
	}
	for _, cl := range c.claims {
		if !shareState(cl.Out.States, r.states) {
			continue
		}
		for _, k := range cl.Crit {
			if k.bad {
				continue
			}
			for i := range k.comp.Tests {
				if x := &k.comp.Tests[i]; !x.Negated && c.readBeyond(r, x) {
					return "it does not meet what claim " + cl.id + " asks, " + x.Text()
				}
			}
		}
	}
	return ""
}

// readBeyond says that a reading lies beyond the limit of a comparison with its
// name on one side.
func (c bench) readBeyond(r *reading, x *formula.Test) bool {
	op, limit := x.Op, x.Right
	switch r.here.Reg {
	case x.Left.Reg:
	case x.Right.Reg:
		op, limit = map[string]string{"<": ">", "<=": ">=", ">": "<", ">=": "<="}[x.Op], x.Left
	default:
		return false
	}
	if limit.Class != formula.Number {
		return false
	}
	e := c.rangeOver(limit.Reg, 2000)
	lo, hi := endRat(e.Lo), endRat(e.Hi)
	if e.Empty {
		return false
	}
	switch op {
	case "<=":
		return hi != nil && r.lo.Cmp(hi) > 0
	case "<":
		return hi != nil && r.lo.Cmp(hi) >= 0
	case ">=":
		return lo != nil && r.hi.Cmp(lo) < 0
	case ">":
		return lo != nil && r.hi.Cmp(lo) <= 0
	}
	return false
}

// shareState says that a claim speaks of a state in which a reading was taken.
func shareState(claim, reading []string) bool {
	if len(claim) == 0 {
		return true
	}
	return slices.ContainsFunc(reading, func(s string) bool { return slices.Contains(claim, s) })
}

// testResult is what the readings say of a claim with `method: test`.
func (c bench) testResult(cl *Claim) (record.Verdict, []record.OpenPoint) {
	if len(cl.readings) == 0 {
		return record.Open, []record.OpenPoint{{Reason: "no result", Text: "no reading settles it yet",
			Settle: "measure it, and write the reading with `settles: " + cl.id + "`"}}
	}
	v := record.Passed
	var open []record.OpenPoint
	for _, r := range cl.readings {
		v = worse(v, r.out.Verdict)
		if r.out.Verdict != record.Passed {
			open = append(open, record.OpenPoint{Reason: "reading", Text: r.out.Name + ": " + r.out.Text, Settle: r.wayOut()})
		}
	}
	if p := c.coldOrHot(cl); p != nil && v == record.Passed {
		return record.Open, []record.OpenPoint{*p}
	}
	return v, open
}
