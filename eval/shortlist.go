package eval

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"guardband/eval/record"
	"guardband/notebook"
)

func (c chooser) readShortlist(b *notebook.Block) {
	l := &shortlist{block: b}
	l.out = record.Shortlist{ID: b.ID, Candidates: []string{}, Criteria: []string{},
		Cells: [][]record.ShortlistCell{}, Position: position(b.Pos)}
	for _, e := range b.Entries {
		switch e.Label {
		case "candidates":
			for _, id := range notebook.SplitList(e.Trimmed()) {
				if _, ok := c.Parts.Get(id); !ok {
					c.diagnose(notebook.Err, "part-unknown", e.Value, "no part `"+id+"` is noted", notebook.HintNear(id, c.Parts.Names()))
					continue
				}
				if slices.Contains(l.out.Candidates, id) {
					c.diagnose(notebook.Err, "candidate-twice", e.Value, "`"+id+"` appears twice among the candidates", "keep one of the two")
					continue
				}
				l.out.Candidates = append(l.out.Candidates, id)
			}
		case "criterion":
			l.out.Criteria = append(l.out.Criteria, e.Trimmed())
			l.criteria = append(l.criteria, e)
		case "choice":
			l.out.Choice, l.choice = e.Trimmed(), e
		case "reason":
			l.out.Reason = strings.TrimSpace(l.out.Reason + " " + e.Trimmed())
		}
	}
	if l.choice != nil && !slices.Contains(l.out.Candidates, l.out.Choice) {
		c.diagnose(notebook.Err, "choice-unknown", l.choice.Value, "the choice `"+l.out.Choice+"` is not a candidate",
			notebook.HintNear(l.out.Choice, l.out.Candidates))
	}
	reader(c).readCommon(b, "shortlist "+b.ID)
	if c.work.cells += len(l.out.Candidates) * len(l.criteria); c.work.cells > mostCells {
		c.diagnose(notebook.Err, "shortlist-large", b.Entries[0].Text,
			fmt.Sprintf("the shortlists up to here have more than %d cells", mostCells), "ask less, or check them as several designs")
		return
	}
	c.lists = append(c.lists, l)
}

// lowerShortlists makes one claim a candidate; the choice's counts as a claim
// of the design.
func (c chooser) lowerShortlists() {
	for _, l := range c.lists {
		how := c.analysisOf(l)
		for _, id := range l.out.Candidates {
			p, _ := c.Parts.Get(id)
			cl := &Claim{id: "shortlist." + l.block.ID + "." + id, kind: "shortlist", block: l.block, candidate: p,
				asked: how.asked, errors: how.errors,
				samples: how.samples, yield: how.yield, normal: how.normal}
			cl.begin(id + " meets every criterion of shortlist " + l.block.ID)
			cl.Out.Analysis, cl.Out.States = how.Out.Analysis, how.Out.States
			for _, e := range l.criteria {
				claimant(c).addCriterion(cl, e.Value)
			}
			l.rows = append(l.rows, cl)
			if id == l.out.Choice {
				cl.Out.Statement = "The choice " + id + " meets every criterion of shortlist " + l.block.ID
				cl.Out.Waiver, cl.accepts = how.Out.Waiver, how.accepts
				c.addClaim(cl)
			} else {
				c.others = append(c.others, cl)
			}
		}
	}
}

// analysisOf reads once what the candidates of a shortlist share: how they are
// judged, and the waiver of the choice.
func (c chooser) analysisOf(l *shortlist) *Claim {
	how := &Claim{id: l.block.ID, block: l.block, Out: record.Claim{Analysis: "worst case"}}
	claimant(c).readMargin(how)
	for _, e := range l.block.Entries {
		switch e.Label {
		case "analysis", "yield", "spread", "state", notebook.Waiver, "accepts":
			claimant(c).readLabel(how, e)
		}
	}
	claimant(c).checkYield(how)
	return how
}

// shortlistRecords fills the tables: candidates that meet every criterion
// first, each group by its least margin, the roomiest first.
func (c chooser) shortlistRecords() {
	for _, l := range c.lists {
		slices.SortStableFunc(l.rows, func(a, b *Claim) int {
			return cmp.Or(cmp.Compare(rankOf(&a.Out), rankOf(&b.Out)), cmp.Compare(leastMargin(b), leastMargin(a)))
		})
		l.out.Candidates = l.out.Candidates[:0]
		for _, cl := range l.rows {
			l.out.Candidates = append(l.out.Candidates, cl.candidate.ID)
			l.out.Cells = append(l.out.Cells, c.shortlistRow(cl))
		}
	}
}

// leastMargin is the thinnest margin of a candidate as a share of its limit,
// -Inf where it shows none.
func leastMargin(cl *Claim) float64 {
	if m := cl.Out.Thinnest(); m != nil {
		return m.Key()
	}
	return math.Inf(-1)
}

func (c chooser) shortlistRow(cl *Claim) []record.ShortlistCell {
	row := []record.ShortlistCell{}
	for i, k := range cl.Out.Criteria {
		x := record.ShortlistCell{Verdict: k.Verdict}
		m := k.Thinnest()
		if m != nil {
			x.Margin = m.Text
		}
		if len(k.Tests) > 0 {
			x.Text = k.Tests[0].Left.Shown + " " + signOf(k.Tests[0].Op) + " " + k.Tests[0].Right.Shown
		}
		switch {
		case m == nil || k.Verdict != record.Failed:
		case k.Failure == "short":
			x.Text = "short of the margin asked, " + m.Required + ": " + x.Text
		default:
			x.Text = "misses by " + strings.TrimPrefix(m.Text, "-") + ": " + x.Text
		}
		if len(k.Open) > 0 {
			x.Text = k.Open[0].Text
		}
		if i < len(cl.Crit) {
			for _, y := range closure(cl.Crit[i].uses) {
				for _, q := range y.activeCites(c.compiler) {
					x.Cites = append(x.Cites, q.record(c.compiler))
				}
			}
		}
		row = append(row, x)
	}
	return row
}
