package eval

import (
	"slices"

	"guardband/eval/record"
	"guardband/notebook"
)

// conclude puts together what was shown of a claim: criteria, inspection,
// evidence, waiver, in this order.
func (c judge) conclude(cl *Claim) {
	out := &cl.Out
	v := record.Passed
	judged := 0
	for _, k := range cl.Crit {
		judged++
		if !c.brief() {
			k.out.Position = position(k.text.Pos(0))
		}
		k.out.Text = k.src
		if k.bad {
			cl.errors = true
			k.out.Open = nil
			k.open("not evaluated", "the formula has an error", "see the diagnostics")
		}
		c.hintEquality(k)
		recorder(c).typeset(k)
		if k.out.Tests == nil {
			k.out.Tests = []record.Test{}
		}
		v = worse(v, k.out.Verdict)
	}
	if v != record.Passed || !c.brief() || cl.shown || len(out.Criteria) > 0 {
		cl.listCriteria()
	}
	if in := out.Inspection; in != nil {
		judged++
		v = worse(v, inspectionVerdict(in))
		if in.Result == "" {
			out.Open = append(out.Open, record.OpenPoint{Reason: "no result", Text: "nobody has looked yet: " + in.Text,
				Settle: "`result: passed, DATE, WHO`"})
		}
	}
	if out.Method == "test" && cl.kind != "reading" {
		judged++
		tv, p := bench(c).testResult(cl)
		v = worse(v, tv)
		out.Open = append(out.Open, p...)
	}
	if cl.errors {
		v = worse(v, record.Open)
		if judged == 0 || !hasBad(cl) {
			out.Open = append(out.Open, record.OpenPoint{Reason: "not evaluated", Text: "the claim has an error", Settle: "see the diagnostics"})
		}
	}
	if cl.plain != "" {
		judged++
		v = worse(v, cl.plain)
	}
	if judged == 0 && len(out.Open) == 0 {
		v = record.Open
	}
	v = worse(v, recorder(c).restOn(cl, v))
	v = c.byDefault(cl, v)
	if !c.brief() {
		c.assumed(cl)
	}
	out.Verdict = v
	claimant(c).waive(cl)
	out.Headline = headline(cl)
}

// listCriteria adds the criteria to what the record says of a claim. Of a pass
// without numbers nobody reads them before the record is put together.
func (cl *Claim) listCriteria() {
	if len(cl.Out.Criteria) == 0 {
		cl.Out.Criteria = make([]record.Criterion, 0, len(cl.Crit))
	}
	for _, k := range cl.Crit {
		cl.Out.Criteria = append(cl.Out.Criteria, k.out)
	}
}

// brief says that the record is for a listing: it tells verdicts and numbers, not
// what a claim rests on and assumes.
func (c judge) brief() bool { return c.opt.Detail > 0 }

// hintEquality tells the author of an equality that fails by spread alone how
// such a thing is said.
func (c judge) hintEquality(k *Criterion) {
	if k.out.Verdict != record.Failed {
		return
	}
	for i := range k.comp.Tests {
		if x := &k.comp.Tests[i]; x.Op == "==" && !(x.Left.Fixed && x.Right.Fixed) {
			c.diagnose(notebook.Warn, "equality-spread", k.text, "`"+x.Text()+
				"` compares a quantity with spread for equality", "write `inside` with a range, or `abs(a - b) <= ...`")
		}
	}
}

func hasBad(cl *Claim) bool {
	return slices.ContainsFunc(cl.Crit, func(k *Criterion) bool { return k.bad })
}

// worse combines verdicts: failed before open before passed.
func worse(a, b record.Verdict) record.Verdict {
	if a == "" {
		return b
	}
	if gravity[b] > gravity[a] {
		return b
	}
	return a
}

// gravity orders verdicts; a pass is 0.
var gravity = map[record.Verdict]int{record.Failed: 2, record.Open: 1}

func inspectionVerdict(in *record.Inspection) record.Verdict {
	switch in.Result {
	case "passed", "not applicable":
		return record.Passed
	case "failed":
		return record.Failed
	}
	return record.Open
}

// headline is the verdict in one line.
func headline(cl *Claim) string {
	o := &cl.Out
	switch o.Verdict {
	case record.Skipped:
		return "skipped: " + o.Reason
	case record.Waived:
		return string(o.Under) + ", waived until " + o.Waiver.Until
	case record.Passed:
		how := "passed"
		if o.Analysis != "worst case" && len(o.Criteria) > 0 {
			how += " by " + o.Analysis
		}
		if m := o.Thinnest(); m != nil {
			return how + ", margin " + m.Text
		}
		return how
	case record.Failed:
		for _, k := range o.Criteria {
			if k.Verdict != record.Failed {
				continue
			}
			m := k.Thinnest()
			switch {
			case m == nil && k.Statistics != nil:
				return "failed: " + k.Statistics.Text
			case m == nil:
				return "failed"
			case k.Failure == "short":
				return "failed, margin too small: " + m.Text + ", asked " + m.Required
			default:
				return "failed, margin " + m.Text
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
