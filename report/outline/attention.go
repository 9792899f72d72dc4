package outline

import (
	"cmp"
	"fmt"
	"regexp"
	"strings"

	"guardband/eval/record"
	"guardband/report/internal/words"
)

// attention is page two: every claim that failed, is open, waived or skipped
// in full, how far the citations were checked, and what to look up.
func (b *builder) attention() []Block {
	var out []Block
	out = append(out, b.diagnostics()...)
	n := 0
	for _, c := range words.ByAttention(b.r) {
		if c.Verdict != record.Passed {
			out = append(out, b.attend(c))
			n++
		}
	}
	if n == 0 && words.Total(b.r.Summary) > 0 {
		out = append(out, para(plain("Nothing failed, is open, waived or skipped.")))
	}
	if left := words.Total(b.r.Summary) - b.r.Summary.Passed - n; left > 0 {
		out = append(out, smallPara(styled(Notice, fmt.Sprintf("and %d more that this record does not hold", left))))
	}
	out = append(out, b.lookUp()...)
	out = append(out, labelled("citations", plain(words.Evidence(b.r))))
	if aside := b.limitsAside(); len(aside) > 0 {
		out = append(out, Block{Kind: Labelled, Anchor: "limits-aside", Label: "limits set aside", Text: plain(strings.Join(aside, "; "))})
	}
	out = append(out, b.since()...)
	return append(out, b.thinnest()...)
}

// attend is what a decision about a claim needs: numbers, corner, what turns
// it, pages, who and by when.
func (b *builder) attend(c *record.Claim) Block {
	g := Block{Kind: Group, Anchor: "attention:" + c.ID, Verdict: c.Verdict, Head: b.claimHead(c)}
	g.Blocks = append(g.Blocks, para(join("  ", plain(c.Statement), where(c.Position))))
	for _, k := range alike(c.Criteria) {
		if k.Verdict == record.Passed {
			continue
		}
		head := join(" ", styled(Code, k.Text), styled(Quiet, prefixed("in state ", k.State)))
		g.Blocks = append(g.Blocks, labelled(words.Join(" ", string(k.Verdict), k.Failure), head))
		for j := range k.Tests {
			g.Blocks = append(g.Blocks, labelled("", testLine(&k.Tests[j])))
		}
		if t := b.corner(&k); k.Verdict == record.Failed && len(t) > 0 {
			g.Blocks = append(g.Blocks, labelled(words.CornerName(&k), t))
			g.Blocks = append(g.Blocks, labelled("verdict changes", b.contributions(k.Contributions)))
		}
		for _, o := range k.Open {
			g.Blocks = append(g.Blocks, labelled("open", b.openPoint(&o)))
		}
	}
	g.Blocks = append(g.Blocks, b.claimNotes(c)...)
	if c.Verdict == record.Failed && c.Rule != "" {
		g.Blocks = append(g.Blocks, labelled("rule", ruleText(c)))
	}
	if c.Verdict == record.Skipped {
		by := plain(c.SkippedBy)
		if by == nil {
			by = styled(Notice, "no person and no date noted")
		}
		g.Blocks = append(g.Blocks, labelled("by", by))
	}
	if t := join("  ", b.cites(c.Cites), b.hazards(c.Safety)); len(t) > 0 {
		g.Blocks = append(g.Blocks, labelled("pages", t))
	}
	return g
}

// alike puts criteria together that differ in their text alone: a rail against
// the same limit of five parts.
func alike(list []record.Criterion) []record.Criterion {
	var out []record.Criterion
	said := func(k *record.Criterion) string {
		s := fmt.Sprint(k.Verdict, k.Failure, k.State, k.CornerText, k.Open)
		for i := range k.Tests {
			s += words.Numbers(&k.Tests[i])
		}
		return s
	}
	at := map[string]int{}
	for i := range list {
		k := list[i]
		if n, ok := at[said(&k)]; ok && len(k.Tests) > 0 {
			out[n].Text += "; " + k.Text
			continue
		}
		at[said(&k)] = len(out)
		out = append(out, k)
	}
	return out
}

// ruleText is what a check asks, in its first sentence, and where it is from.
func ruleText(c *record.Claim) Text {
	out := plain(firstSentence(c.Rule))
	if c.RuleSource != "" {
		out = append(out, Span{Text: " (" + c.RuleSource + ")", Style: Quiet})
	}
	return out
}

// thinnest are the passes nearest to their limit.
func (b *builder) thinnest() []Block {
	var out []Text
	for _, id := range b.r.Attention {
		c := b.claims[id]
		if c == nil || c.Verdict != record.Passed {
			continue
		}
		if t := words.Thinnest(c); t != nil && t.Margin != nil && !words.AsAsked(c, t) {
			out = append(out, append(claimLink(id), Span{Text: " " + t.Margin.Text}))
		}
	}
	if len(out) == 0 {
		return nil
	}
	return []Block{labelled("thinnest passes", join("; ", out...))}
}

// lookUp is what to find in which document to settle open claims.
func (b *builder) lookUp() []Block {
	t := Table{Caption: "To look up", Columns: []Column{{Head: "Document and page", Most: 110}, {Head: "Look for"}, {Head: "Settles"}}}
	for _, l := range b.r.LookUp {
		page := Text{{Text: words.Join(" ", l.Source, l.Page), To: PageAnchor(l.Source, l.Page)}}
		t.Rows = append(t.Rows, Row{Cells: []Text{page, plain(l.Text), b.claimLinks(l.Claims)}})
	}
	return tableOf(t)
}

// diagnostics are the complaints about the notebook, with the line they mean.
func (b *builder) diagnostics() []Block {
	t := Table{Caption: "Errors and warnings of the notebook", Columns: []Column{{Head: "Place", Most: 120}, {Head: "Kind", Most: 70}, {Head: "Message"}}}
	quoted, last := regexp.MustCompile("`[^`]*`"), ""
	for _, d := range b.r.Diagnostics {
		hint := quoted.ReplaceAllString(d.Code+d.Hint, "``")
		if hint == last { // the row above says it
			d.Hint = ""
		}
		last = hint
		place := Text{{Text: fmt.Sprintf("%s:%d:%d", d.File, d.Line, d.Column), File: d.File}}
		what := lines(plain(d.Message), styled(Code|Quiet, strings.TrimSpace(d.Source)), plain(prefixed("Hint: ", d.Hint)))
		for _, rel := range d.Related {
			what = lines(what, styled(Quiet, fmt.Sprintf("%s:%d: %s", rel.File, rel.Line, rel.Message)))
		}
		kind := styled(Strong, d.Severity)
		if d.Severity == "error" {
			kind = styled(Strong|Notice, d.Severity)
		}
		t.Rows = append(t.Rows, Row{Cells: []Text{place, lines(kind, styled(Quiet, d.Code)), what}})
	}
	return tableOf(t)
}

// since is what differs from an earlier record: verdicts, and how green was
// reached.
func (b *builder) since() []Block {
	s := b.r.Since
	if s == nil {
		return nil
	}
	changes := func(caption string, rows []record.Change, word func(record.Change) string) []Block {
		t := Table{Caption: caption, Columns: []Column{{Head: "What", Most: 160}, {Head: "Before"}, {Head: "Now"}, {Head: "", Most: 70}}}
		for _, c := range rows {
			before, now := plain(cmp.Or(c.Old, "—")), plain(cmp.Or(c.New, "—"))
			t.Rows = append(t.Rows, Row{Cells: []Text{styled(Code, c.Name), before, now, plain(word(c))}})
		}
		return tableOf(t)
	}
	out := changes("Verdicts since "+s.Name, s.Verdicts, func(c record.Change) string {
		return map[record.Way]string{record.Worse: "worse", record.Better: "better"}[c.Way]
	})
	out = append(out, changes("Judged more easily than in "+s.Name, s.Eased, func(c record.Change) string {
		return map[record.Way]string{record.Worse: "easier", record.Other: "look"}[c.Way]
	})...)
	if len(out) == 0 {
		return []Block{labelled("since "+s.Name, plain("no verdict differs, and nothing is judged more easily"))}
	}
	return out
}
