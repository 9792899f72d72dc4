package eval

import (
	"fmt"
	"math/big"
	"strings"

	"guardband/eval/bound"
	"guardband/eval/formula"
	"guardband/notebook"
	"guardband/units"
)

func (c *compiler) readReadings(b *notebook.Block) {
	var last *reading
	var all []notebook.Cond // conditions of every reading of the block
	for _, e := range b.Entries {
		if e.Label == "in use" {
			all = append(all, e.Conds...)
		}
	}
	for _, e := range b.Entries {
		switch {
		case e.Kind == notebook.Definition:
			last = &reading{entry: e, conds: e.Conds}
			for _, k := range all {
				if k.Flag != "" || !statesUse(e.Conds, k.Name) {
					last.conds = append(last.conds[:len(last.conds):len(last.conds)], k)
				}
			}
			last.out = Reading{Name: e.Name, Reading: strings.TrimSpace(e.RHS.S), Position: position(e.Text.Pos(0)), Verdict: Open}
			c.reads = append(c.reads, last)
		case e.Label == "settles" && last != nil:
			last.out.Settles, last.settles = value(e), e
		}
	}
	c.readCommon(b, "the readings")
}

// judgeReadings compares each reading, its accuracy about it, with what the
// notes predict at its own conditions.
func (c *compiler) judgeReadings() {
	for _, r := range c.reads {
		c.judgeReading(r)
		c.readingClaim(r)
		if r.settles != nil && c.claimByID(r.out.Settles) == nil {
			c.whole(notebook.Err, "claim-unknown", r.settles.Value, "no claim is named `"+r.out.Settles+"`", hintNear(r.out.Settles, c.claimIDs()))
		}
	}
}

// readingClaim makes a reading count: a claim of its own, unless it is what a
// claim with `method: test` waits for.
func (c *compiler) readingClaim(r *reading) {
	if to := c.claimByID(r.out.Settles); to != nil && to.out.Method == "test" {
		return
	}
	id := "reading." + r.out.Name
	for n := 2; c.claimByID(id) != nil; n++ {
		id = fmt.Sprintf("reading.%s-%d", r.out.Name, n)
	}
	cl := &claim{id: id, kind: "reading", entries: []*notebook.Entry{r.entry}}
	cl.out = Claim{ID: id, Kind: "reading", Statement: "The reading of " + r.out.Name + " agrees with the notes.", Method: "test", Analysis: "worst case",
		Cites: []Cite{}, RestsOn: []Basis{}, Criteria: []Criterion{}, Position: r.out.Position}
	text := r.out.Name + " read " + r.out.Reading + ", predicted " + r.out.Predicted + ": " + r.out.Text
	if r.out.Verdict == Open {
		cl.lacks("reading", text, "measure "+r.out.Name+" with a better instrument, or find what the notes do not know")
	} else {
		cl.settle(r.out.Verdict, text)
	}
	c.addClaim(cl)
}

func (c *compiler) judgeReading(r *reading) {
	r.out.Cites = c.citeRecords(r.entry)
	s := &scope{c: c}
	target, _, _ := c.lowerText(r.entry.NameText, s)
	cols := c.lowerColumns(r.entry.RHS, s)
	if target.Class != formula.Number || cols.bad || cols.typ == nil {
		r.out.Text = "not evaluated"
		return
	}
	if _, err := units.Combine("<=", target.Type, cols.typ.Type, r.out.Name, r.out.Reading); err != nil {
		c.whole(notebook.Err, "dimension", r.entry.Text, err.Msg, err.Hint)
		r.out.Text = "not evaluated"
		return
	}
	p := c.b.Extract(target.Reg)
	in, ok := c.atConditions(p, r.conds, s)
	if !ok {
		r.out.Text = "not evaluated"
		return
	}
	e := bound.Range(p, 0, in, bound.Options{})
	r.out.Predicted = extentText(e, target.Type, target.Unit)
	lo, hi := cols.typ, cols.typ
	if cols.lo != nil {
		lo, hi = cols.lo, cols.hi
	}
	a, b := constOf(c, lo), constOf(c, hi)
	r.out.Verdict, r.out.Text = compareReading(a, b, e, target)
}

func constOf(c *compiler, v *formula.Value) *big.Rat {
	r, _ := c.b.ConstOf(v.Reg)
	return r
}

// compareReading judges a reading [a, b] against a prediction.
func compareReading(a, b *big.Rat, e bound.Extent, v formula.Value) (Verdict, string) {
	lo, hi := endRat(e.Lo), endRat(e.Hi)
	far := func(d *big.Rat) string {
		t := v.Type
		if t.Kind == units.Point || t.Kind == units.Kelvin {
			t.Kind = units.Plain
		}
		return units.Format(d, t, units.Style{Digits: 3})
	}
	switch {
	case lo != nil && b.Cmp(lo) < 0:
		return Failed, "the reading lies below the prediction by " + far(new(big.Rat).Sub(lo, b))
	case hi != nil && a.Cmp(hi) > 0:
		return Failed, "the reading lies above the prediction by " + far(new(big.Rat).Sub(a, hi))
	case (lo == nil || a.Cmp(lo) >= 0) && (hi == nil || b.Cmp(hi) <= 0):
		return Passed, "the reading with its accuracy lies inside the prediction"
	}
	return Open, "the reading with its accuracy straddles an end of the prediction"
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

// atConditions narrows the inputs of a prediction to the conditions of a
// reading. Each condition names an input: a value, ambient, a use.
func (c *compiler) atConditions(p *bound.Program, conds []notebook.Cond, s *scope) ([]bound.Input, bool) {
	in := c.gather(p)
	for i := range conds {
		k := &conds[i]
		if k.Flag != "" {
			continue
		}
		name := k.Name
		if name == "T_A" {
			name = "ambient"
		}
		y := s.plain(name)
		if y == nil {
			c.whole(notebook.Err, "name-unknown", k.NameText, "nothing here is named `"+k.Name+"`", hintNear(k.Name, c.values.names()))
			return nil, false
		}
		c.lower(y)
		cols := c.lowerColumns(k.Value, s)
		if cols.bad || y.input == nil {
			if y.input == nil && !cols.bad {
				c.whole(notebook.Err, "condition-derived", k.Text, "`"+k.Name+"` is exact or derived: a reading's condition names an input", "state the inputs it is made of")
			}
			return nil, false
		}
		b := c.leafBounds(y, cols, nil)
		for j, n := range p.Inputs() {
			if n == y.input.num {
				in[j] = b
			}
		}
	}
	return in, true
}

// testResult is what the readings say of a claim with `method: test`.
func (c *compiler) testResult(cl *claim) (Verdict, []OpenPoint) {
	v, any := Passed, false
	var open []OpenPoint
	for _, r := range c.reads {
		if r.out.Settles != cl.id {
			continue
		}
		any = true
		v = worse(v, r.out.Verdict)
		if r.out.Verdict != Passed {
			open = append(open, OpenPoint{Reason: "reading", Text: r.out.Name + ": " + r.out.Text, Settle: fmt.Sprintf("measure %s again, or find what the notes do not know", r.out.Name)})
		}
	}
	if !any {
		return Open, []OpenPoint{{Reason: "no result", Text: "no reading settles it yet", Settle: "measure it, and write the reading with `settles: " + cl.id + "`"}}
	}
	return v, open
}
