package eval

import (
	"math"
	"strings"

	"guardband/eval/record"
	"guardband/notebook"
	"guardband/units"
)

// waive applies a waiver in force: it covers failed and open until its day
// inclusive, and no larger miss than it accepts.
func (c claimant) waive(cl *Claim) {
	w := cl.Out.Waiver
	if s := c.skips[cl.id]; s != nil {
		s.used = true
		if s.waiver != nil {
			w = s.waiver
			cl.Out.Waiver = w
		} else if cl.check == nil {
			c.diagnose(notebook.Err, "skip-claim", s.entry.Text, "`"+cl.id+
				"` is a claim of the notes; only a check that nobody wrote is skipped", "waive it until a day, or take it out")
		} else {
			cl.Out.Under, cl.Out.Verdict = cl.Out.Verdict, record.Skipped
			cl.Out.Reason, cl.Out.SkippedBy = s.reason, s.by
			return
		}
	}
	if w == nil {
		return
	}
	if cl.accepts != nil {
		w.Accepts = cl.accepts.Trimmed()
	}
	until, _ := notebook.ParseDate(w.Until) // read before
	switch {
	case c.today.After(until):
		w.Why = "expired"
	case cl.Out.Verdict == record.Failed && w.Accepts != "" && c.missExceeds(cl, w.Accepts):
		w.Why = "the miss is larger than accepted"
	default:
		w.InForce = true
	}
	if w.Accepts != "" && cl.Out.Verdict == record.Failed && w.InForce && c.acceptsAll(cl, w.Accepts) {
		c.diagnose(notebook.Warn, "waiver-wide", cl.accepts.Value,
			"the waiver accepts a miss as large as the limit itself", "state the largest accepted miss")
	}
	if w.InForce && (cl.Out.Verdict == record.Failed || cl.Out.Verdict == record.Open) {
		cl.Out.Under, cl.Out.Verdict = cl.Out.Verdict, record.Waived
	}
}

// missExceeds compares the miss of a failed claim with what its waiver accepts.
func (c claimant) missExceeds(cl *Claim, accepts string) bool {
	q, err := units.ParseLiteral(strings.TrimSpace(accepts))
	if err != nil {
		if cl.accepts != nil {
			c.unitError(cl.accepts.Value, err)
		}
		return true
	}
	most := math.Abs(units.Float(q.SI))
	share := q.Type == (units.Type{}) && q.Unit.Symbol != ""
	for _, k := range cl.Out.Criteria {
		for _, t := range k.Tests {
			if t.Margin == nil {
				if k.Verdict == record.Failed {
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

// acceptsAll says whether a waiver would bear a miss as large as the limit.
func (c claimant) acceptsAll(cl *Claim, accepts string) bool {
	q, err := units.ParseLiteral(strings.TrimSpace(accepts))
	if err != nil {
		return false // told by missExceeds
	}
	most := math.Abs(units.Float(q.SI))
	if q.Type == (units.Type{}) && q.Unit.Symbol != "" {
		return most >= 1
	}
	for _, k := range cl.Out.Criteria {
		for _, t := range k.Tests {
			m := t.Margin
			if m == nil || m.Absolute == nil || m.Percent == nil || *m.Percent == 0 {
				continue
			}
			if limit := math.Abs(*m.Absolute * 100 / *m.Percent); most >= limit {
				return true
			}
		}
	}
	return false
}
