package eval

import (
	"strings"

	"guardband/eval/circuit"
	"guardband/eval/record"
	"guardband/notebook"
)

// restOn lists what a claim rests on, and says whether its evidence leaves a
// pass standing.
func (c recorder) restOn(cl *Claim, v record.Verdict) record.Verdict {
	out := &cl.Out
	full := !judge(c).brief()
	result := record.Passed
	var seen map[*citation]bool
	add := func(k *citation) {
		if k == nil || seen[k] || k.cite.Assumed != "" {
			return
		}
		if seen == nil {
			seen = map[*citation]bool{}
		}
		seen[k] = true
		if full {
			out.Cites = append(out.Cites, k.record(c.compiler))
		}
		if p := k.failing(); p != nil {
			result = record.Open
			out.Open = append(out.Open, *p) // beside a failure too: it may be the number that is wrong
		}
	}
	rests := closure(cl.uses)
	for _, y := range rests {
		if full {
			y.usedBy = append(y.usedBy, cl.id)
			out.RestsOn = append(out.RestsOn, c.basis(y))
		}
		for _, k := range y.activeCites(c.compiler) {
			add(k)
		}
	}
	for _, y := range guarded(rests)[len(rests):] { // not what the claim is about, but its rows hold by them
		for _, k := range y.activeCites(c.compiler) {
			if p := k.failing(); p != nil && k.cite.Assumed == "" {
				add(k)
			}
		}
	}
	var drafted []string
	for _, e := range cl.grounds() {
		for _, k := range c.citesOf(e) {
			add(k)
		}
		if e.Unconfirmed {
			drafted = append(drafted, "`"+asTyped(e)+"`")
		}
	}
	if len(drafted) > 0 && v == record.Passed {
		result = record.Open
		out.Open = append(out.Open, unconfirmed(circuit.SomeOf(drafted, 3)))
	}
	return result
}

// grounds are the entries by which a claim may cite a page or be a draft.
func (cl *Claim) grounds() []*notebook.Entry {
	if cl.block == nil {
		return cl.Entries
	}
	return cl.block.Entries
}

// asTyped is an entry without its citations and what follows them.
func asTyped(e *notebook.Entry) string {
	text, _, _ := strings.Cut(e.Text.S, " [")
	return strings.TrimSuffix(strings.Join(strings.Fields(text), " "), " unconfirmed")
}

// unconfirmed is why nothing may rest on a line that a draft wrote.
func unconfirmed(what string) record.OpenPoint {
	return record.OpenPoint{Reason: "unconfirmed", Text: what + ": drafted, and nobody has confirmed it",
		Settle: "compare it with the page, then delete the word `unconfirmed`"}
}

// activeCites are the citations of the rows that apply.
func (y *symbol) activeCites(c *compiler) []*citation {
	rows := y.applying()
	if len(rows) == 0 || len(rows) == len(y.rows) {
		return y.cites
	}
	var l []*citation
	for _, r := range rows {
		l = append(l, c.citesOf(r.entry)...)
	}
	return l
}

func (c recorder) basis(y *symbol) record.Basis {
	b := record.Basis{Name: y.name, Assumed: y.assumed}
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
			if r.out && len(y.applying()) > 0 {
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
	for _, k := range y.activeCites(c.compiler) {
		if k.cite.Assumed == "" {
			b.Cites = append(b.Cites, k.record(c.compiler))
		}
	}
	if y.entry != nil {
		b.Position = position(y.entry.Text.Pos(0))
	}
	return b
}

// shownRange2 is shownRange, worked out once a symbol.
func (c recorder) shownRange2(y *symbol) string {
	if y.shown == "" {
		y.shown = judge(c).shownRange(y)
	}
	return y.shown
}
