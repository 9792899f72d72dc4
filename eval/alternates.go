package eval

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"strings"

	"guardband/eval/circuit"
	"guardband/eval/record"
	"guardband/notebook"
)

// alternate asks, for each part that a note names as an alternate, whether
// every claim that rests on the original still stands with it.
var alternate = &Check{
	Name:   "alternate",
	Rule:   "With the alternate in its place every claim keeps its verdict or betters it, and its pads fall on the lands drawn, each on the net of the original. The whole design is worked out again with the alternate; documents are not read again for it.",
	Source: "common practice",
}

// alternates works the design out again with each alternate and compares the
// claims. It runs when all other claims are decided.
func (c chooser) alternates() {
	if c.opt.swap != nil {
		return // this is such a run
	}
	for _, p := range c.Parts.List {
		if len(p.Placed) == 0 {
			continue
		}
		for _, e := range p.Block.Entries {
			if e.Label != "alternates" {
				continue
			}
			for _, id := range notebook.SplitList(e.Trimmed()) {
				c.alternate(p, e, id)
			}
		}
	}
}

func (c chooser) alternate(p *circuit.Part, e *notebook.Entry, id string) {
	q, ok := c.Parts.Get(id)
	if !ok || q == p {
		c.diagnose(notebook.Err, "part-unknown", e.Value, "no other part `"+id+"` is noted", notebook.HintNear(id, c.Parts.Names()))
		return
	}
	if c.concluded == nil {
		c.concluded = c.outcomes()
	}
	c.work.retried += len(c.concluded) * (1 + len(p.Placed)/20) // to compare is less work than to compile
	over := c.work.retried > mostRetried
	var swapped *compiler
	var other map[string]*record.Claim
	if !over {
		swapped, other = c.withAlternate(p, q)
	}
	for _, m := range p.Placed {
		cl := c.Claim(alternate, m.Ref+"."+id, "With "+id+" in place of "+p.ID+" at "+m.Ref+" every claim keeps its verdict.", e)
		if over {
			cl.Lacks("budget", fmt.Sprintf("the alternates of this design ask to work out more than %d claims again",
				mostRetried), "name fewer alternates")
			judge(c).conclude(cl)
			continue
		}
		c.samePads(cl, m, q, swapped)
		c.compareClaims(cl, m, other)
		judge(c).conclude(cl)
	}
}

// withAlternate compiles the book with one part type in place of another; it
// gives the claims by their IDs too.
func (c chooser) withAlternate(p, q *circuit.Part) (*compiler, map[string]*record.Claim) {
	opt := c.opt
	opt.Evidence, opt.Typeset, opt.swap = nil, false, map[string]string{p.ID: q.ID}
	x := compile(c.again(opt))
	return x, chooser{x}.outcomes()
}

// again is what a further run of the same book is given: its complaints are not
// told, and nobody reads a record of it.
func (c *compiler) again(opt Options) (context.Context, *notebook.Book, Options) {
	book := *c.book
	book.Diags = &notebook.Diagnostics{}
	opt.Pictures, opt.Detail, opt.Answers, opt.Explain = "", 0, nil, nil
	return c.ctx, &book, opt
}

// outcomes are the claims by their IDs.
func (c chooser) outcomes() map[string]*record.Claim {
	out := make(map[string]*record.Claim, len(c.claims))
	for _, cl := range c.claims {
		out[cl.id] = &cl.Out
	}
	return out
}

// notOfAlternates are checks that say nothing about an alternate: what is
// noted of it, and what was exported with the original in place.
func notOfAlternates(check string) bool {
	return slices.Contains([]string{"alternate", "lifecycle", "sections", "pin-list", "parts-list", "netlist"}, check)
}

// compareClaims writes what changes for the claims that speak of a placement,
// and what gets worse elsewhere: nothing but the alternate can be the cause.
func (c chooser) compareClaims(cl *Claim, m *circuit.Component, other map[string]*record.Claim) {
	same, ref := 0, m.Ref
	for _, old := range c.claims {
		if notOfAlternates(old.Out.Check) {
			continue
		}
		now, ok := other[old.id]
		switch {
		case !old.speaksOf(ref):
			if ok && rankOf(now) > rankOf(&old.Out) && !m.OtherPlaced(old.speaksOf) {
				cl.Settle(verdictOf(now), old.id+": "+old.Out.Headline+" → "+now.Headline)
			}
		case !ok && old.kind == "built-in":
			continue // the check does not concern the alternate
		case !ok:
			cl.Lacks("not evaluated", old.id+" is not judged with the alternate", "look at the claim with the alternate placed")
		case rankOf(now) > rankOf(&old.Out):
			cl.Settle(verdictOf(now), old.id+": "+old.Out.Headline+" → "+now.Headline)
		case now.Headline != old.Out.Headline:
			cl.Settle(record.Passed, old.id+": "+old.Out.Headline+" → "+now.Headline)
		default:
			same++
		}
	}
	c.newTrouble(cl, m, other)
	if len(cl.Out.Criteria) == 0 && len(cl.Out.Open) == 0 {
		if same == 0 {
			cl.Lacks("nothing stated", "no claim covers "+ref, "write one, or note what the checks need")
			return
		}
		cl.Settle(record.Passed, "nothing changes in the claims that speak of "+ref)
	}
}

// newTrouble tells of checks that only the alternate calls for and does not
// pass.
func (c chooser) newTrouble(cl *Claim, m *circuit.Component, other map[string]*record.Claim) {
	for _, id := range slices.Sorted(maps.Keys(other)) {
		now := other[id]
		if _, ok := c.concluded[id]; ok || now.Kind != "built-in" || notOfAlternates(now.Check) || rankOf(now) == 0 {
			continue
		}
		if !mentions(id, m.Ref) && m.OtherPlaced(func(ref string) bool { return mentions(id, ref) }) {
			continue
		}
		cl.Settle(verdictOf(now), id+": not judged before → "+now.Headline)
	}
}

// speaksOf says that a claim names a designator or rests on a fact of it.
func (cl *Claim) speaksOf(ref string) bool {
	return mentions(cl.id, ref) || slices.ContainsFunc(closure(cl.uses), func(y *symbol) bool { return y.comp != nil && y.comp.Ref == ref })
}

// mentions says that the ID of a check speaks of a designator.
func mentions(id, ref string) bool {
	return slices.Contains(strings.Split(id, "."), ref)
}

// rankOf orders verdicts for the comparison: what was waived or skipped counts
// as what it covers.
func rankOf(x *record.Claim) int {
	return gravity[verdictOf(x)]
}

func verdictOf(x *record.Claim) record.Verdict {
	if x.Verdict == record.Waived || x.Verdict == record.Skipped {
		return x.Under
	}
	return x.Verdict
}
