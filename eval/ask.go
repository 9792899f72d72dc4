package eval

import (
	"strings"

	"guardband/eval/bound"
	"guardband/eval/circuit"
	"guardband/eval/formula"
	"guardband/eval/network"
	"guardband/eval/record"
	"guardband/notebook"
)

// Try adds a criterion like ask, but tells what is wrong with it as an open
// point: the criteria of a check are put together from what the notes say, so
// a mismatch of units or a missing column is a gap of the notes and no error
// in anything that the user typed. It says whether the criterion stands.
func (c answers) Try(cl *Claim, text string) bool {
	e, errs := formula.Parse(text)
	k := &Criterion{text: notebook.Text{S: text}, src: text, expr: e}
	s := &scope{c: c.compiler}
	if len(errs) == 0 {
		k.comp, errs = c.check.Criterion(e, s, nil)
	}
	switch {
	case len(errs) > 0:
		cl.Lacks("not evaluated", "`"+text+"`: "+errs[0].Msg, errs[0].Hint)
		return false
	case k.comp.Class != formula.Bool:
		cl.Lacks("not evaluated", "`"+text+"` cannot be worked out", "see the diagnostics")
		return false
	}
	k.uses = s.used
	cl.noteAll(s.used)
	cl.Crit = append(cl.Crit, k)
	return true
}

// Presume notes a figure that a check takes from a standard or from common
// practice because the notes state none; the record lists it as assumed.
func (cl *Claim) Presume(text string) { cl.presumed = circuit.AddTo(cl.presumed, text) }

// AskAmong adds a criterion about some states of the board; of several texts
// one has to hold in all of them.
func (c answers) AskAmong(cl *Claim, among func(*Drive) []string, texts ...string) *Criterion {
	if !c.Try(cl, strings.Join(texts, " or ")) {
		return nil
	}
	k := cl.Crit[len(cl.Crit)-1]
	if k.Among = among; len(texts) > 1 {
		for _, t := range texts {
			one := &Claim{}
			c.Try(one, t)
			k.either = append(k.either, one.Crit[0].comp.Reg)
		}
	}
	return k
}

// Proven says that a text holds whatever the circuit does; what breaks it is not
// looked for.
func (c answers) Proven(text string) bool {
	cl := &Claim{}
	if !c.Try(cl, text) {
		return false
	}
	j, r := judge(c), cl.Crit[0].comp.Reg
	qs := j.askedIn(r)
	if len(qs) == 0 {
		return c.decide(r) == bound.Proven
	}
	b := j.boardNetwork()
	if b.refuses(qs) != "" {
		return false
	}
	put, _ := j.answered(r)
	return b.n.Passes(put(r), b.scope(cl, cl.Crit[0], false)).Verdict == network.Passed
}

// Judged tells at once what a text comes to.
func (c answers) Judged(text string, set func(*Criterion)) record.Verdict {
	cl := &Claim{}
	if !c.Try(cl, text) {
		return record.Open
	}
	k := cl.Crit[0]
	set(k)
	if len(judge(c).askedIn(k.comp.Reg)) > 0 {
		if (judge(c)).askCriterion(cl, k); k.told != nil {
			return map[network.Verdict]record.Verdict{network.Passed: record.Passed, network.Failed: record.Failed,
				network.Undecided: record.Open}[k.told.j.Verdict]
		}
	}
	switch c.decide(k.comp.Reg) {
	case bound.Proven:
		return record.Passed
	case bound.Broken:
		return record.Failed
	}
	return record.Open
}

// decide decides a predicate over all that the facts allow, within few boxes.
func (c *compiler) decide(r bound.Reg) bound.Outcome {
	p := c.b.Extract(r)
	return bound.Decide(p, 0, c.gather(p), bound.Options{Boxes: 400}).Outcome
}
