package outline

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strings"

	"guardband/eval/record"
	"guardband/report/internal/words"
)

// attention is page two: every claim that failed, is open, waived or skipped
// in full, how far the citations were checked, and what to look up.
func (b *builder) attention() []Block {
	out := b.diagnostics("error")
	left := words.Total(b.r.Summary) - b.r.Summary.Passed
	if left == 0 && b.r.Summary.Passed > 0 {
		out = append(out, para(plain("Nothing failed, is open, waived or skipped.")))
	}
	for _, c := range b.r.Claims {
		if c.Verdict != record.Passed {
			left--
		}
	}
	out = append(out, merged(b.unpassed(false))...)
	if left > 0 {
		out = append(out, smallPara(styled(Notice, fmt.Sprintf("and %d more that this record does not hold", left))))
	}
	out = append(out, b.lookUp()...)
	out = append(out, labelled("looked up", plain(words.Evidence(b.r))))
	out = append(out, b.toCheck()...)
	out = append(out, b.diagnostics("warning")...)
	if aside := b.limitsAside(); len(aside) > 0 {
		out = append(out, Block{Kind: Labelled, Anchor: "limits-aside", Label: "limits set aside", Text: plain(strings.Join(aside, "; "))})
	}
	out = append(out, b.since()...)
	return append(out, b.thinnest()...)
}

// Claims are the claims that did not pass, those that need a decision first,
// each as a group; those that are open for one reason are one group. With
// whole each claim has its own group, those that passed too.
func Claims(r *record.Record, whole bool) []Block { return newBuilder(r).unpassed(whole) }

func (b *builder) unpassed(whole bool) []Block {
	var out []Block
	told := map[string]bool{}
	all := words.ByAttention(b.r)
	for _, v := range words.Verdicts {
		if v == record.Open && !whole {
			out = append(out, b.waiting(told)...)
			out = append(out, b.roots(told)...)
		}
		for _, c := range all {
			if c.Verdict == v && (v != record.Passed || whole) && !told[c.ID] {
				b.set["attention:"+c.ID] = true
				out = append(out, b.attend(c, whole))
			}
		}
	}
	return out
}

// waiting are the claims that are open because the notebook has errors: one
// line while those remain.
func (b *builder) waiting(told map[string]bool) []Block {
	var ids []string
	for i := range b.r.Claims {
		c := &b.r.Claims[i]
		points := words.OpenPoints(c)
		follows := b.r.Summary.Errors > 0 && c.Verdict == record.Open && len(points) > 0
		for _, o := range points {
			follows = follows && (o.Reason == "not evaluated" || o.Reason == "undefined")
		}
		if follows {
			ids, told[c.ID] = append(ids, c.ID), true
		}
	}
	if len(ids) == 0 {
		return nil
	}
	head := join("  ", verdict(record.Open), plain(words.Plural(len(ids), "claim waits", "claims wait")+" for the errors above"))
	return []Block{{Kind: Group, Verdict: record.Open, Head: head, Blocks: []Block{labelled("claims", b.claimLinks(ids))}}}
}

// roots are the claims that are open for one shared reason, told once.
func (b *builder) roots(told map[string]bool) []Block {
	var out []Block
	for _, r := range b.r.Roots {
		if len(r.Claims) < 2 || told[r.Claims[0]] {
			continue
		}
		for _, id := range r.Claims {
			told[id] = true
		}
		g := Block{Kind: Group, Verdict: record.Open, Head: join("  ", verdict(record.Open),
			plain(fmt.Sprintf("%d claims for one reason, %s", len(r.Claims), r.Reason)))}
		g.Blocks = append(g.Blocks, para(plain(r.Text)))
		g.Blocks = append(g.Blocks, b.settle(&record.OpenPoint{Settle: r.Settle, Source: r.Source, Page: r.Page})...)
		g.Blocks = append(g.Blocks, labelled("claims", b.claimLinks(r.Claims)))
		out = append(out, g)
	}
	return out
}

// attend is what a decision about a claim needs: numbers, corner, what turns
// it, pages, who and by when. Small lines are for a second look.
func (b *builder) attend(c *record.Claim, whole bool) Block {
	g := blocks{para(join("  ", plain(c.Statement), where(c.Position)))}
	for _, k := range alike(c.Criteria) {
		if k.Verdict == record.Passed && !whole {
			continue
		}
		label := string(k.Verdict)
		if k.Failure == "short" {
			label = "margin too small"
		}
		g.line(label, join(" ", styled(Code, k.Text), styled(Quiet, words.Prefixed("in state ", k.State))))
		for _, t := range tested(&k) {
			g.line("", t)
		}
		if k.Verdict == record.Failed || whole {
			g.line(words.CornerName(&k), b.corner(&k))
			g.line("largest effect", b.contributions(k.Contributions))
		}
		g.add(b.openPoints(k.Open)...)
	}
	g.add(b.claimNotes(c)...)
	if c.Verdict == record.Failed {
		g.small("rule", ruleText(c))
	}
	if c.Verdict == record.Skipped {
		by := plain(c.SkippedBy)
		if by == nil {
			by = styled(Notice, "no person and no date noted")
		}
		g.line("by", by)
	}
	g.small("pages", join("  ", b.cites(c.Cites), b.hazards(c.Safety)))
	return Block{Kind: Group, Anchor: "attention:" + c.ID, Verdict: c.Verdict, Head: b.claimHead(c), Claim: c, Blocks: g}
}

// alike puts criteria together that differ in their text alone: a rail against
// the same limit of five parts.
func alike(list []record.Criterion) []record.Criterion {
	var out []record.Criterion
	said := func(k *record.Criterion) string {
		s := fmt.Sprint(k.Verdict, k.Failure, k.State, k.CornerText, k.Open)
		for i := range k.Tests {
			s += Plain(testLine(&k.Tests[i]))
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

var quotedCode = regexp.MustCompile("`[^`]*`")

// alikeHint is a hint without what it quotes: equal ones need no second reading.
func alikeHint(s string) string { return quotedCode.ReplaceAllString(s, "``") }

// ruleText is what a check asks, in its first sentence, and where it is from.
func ruleText(c *record.Claim) Text {
	out := plain(firstSentence(c.Rule))
	if c.Rule != "" && c.RuleSource != "" {
		out = append(out, Span{Text: " (" + c.RuleSource + ")", Style: Quiet})
	}
	return out
}

// thinnest are the passes nearest to their limit.
func (b *builder) thinnest() (line blocks) {
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
	line.line("thinnest passes", join("; ", out...))
	return line
}

// lookUp is what to find in which document to settle open claims.
func (b *builder) lookUp() []Block {
	t := Table{Caption: "To look up", Columns: []Column{{Head: "Document and page", Most: 110}, {Head: "Look for"}, {Head: "Settles"}}}
	for _, l := range b.r.LookUp {
		page := Text{{Text: words.Join(" ", l.Source, l.Page), To: PageAnchor(l.Source, l.Page)}}
		t.Rows = append(t.Rows, Row{Cells: []Text{page, plain(l.Text), b.claimGroups(l.Claims)}})
	}
	return tableOf(t)
}

// diagnostics are the complaints about the notebook, with the line they mean.
func (b *builder) diagnostics(severity string) []Block {
	t := Table{Caption: map[string]string{"error": "Errors", "warning": "Warnings"}[severity] + " of the notebook",
		Columns: []Column{{Head: "Place", Most: 120},
			{Head: "Kind", Most: 70}, {Head: "Message"}}}
	const few = 3 // of one message in full; of the others the place
	last, count, others := "", map[string]int{}, map[string]int{}
	for _, d := range b.r.Diagnostics {
		if (d.Severity == "error") != (severity == "error") {
			continue
		}
		said := d.Code + d.Message
		if count[said]++; count[said] > few && len(d.Related) == 0 {
			at := Text{{Text: words.Place(&record.Position{File: d.File, Line: d.Line}), File: d.File}}
			n, ok := others[said]
			if !ok {
				others[said] = len(t.Rows)
				t.Rows = append(t.Rows, Row{Cells: []Text{plain("likewise"), styled(Quiet, d.Code), at}})
				continue
			}
			t.Rows[n].Cells[2] = join(", ", t.Rows[n].Cells[2], at)
			continue
		}
		hint := d.Code + alikeHint(d.Hint)
		if hint == last { // the row above says it
			d.Hint = ""
		}
		last = hint
		place := Text{{Text: fmt.Sprintf("%s:%d:%d", d.File, d.Line, d.Column), File: d.File}}
		what := lines(plain(d.Message), styled(Code|Quiet, strings.TrimSpace(d.Source)), plain(words.Prefixed("Hint: ", d.Hint)))
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

// since is what differs from an earlier record: verdicts, facts, given values,
// documents, and how green was reached.
func (b *builder) since() []Block {
	s := b.r.Since
	if s == nil {
		return nil
	}
	t := Table{Caption: "Changes since " + s.Name, Named: true, Columns: []Column{
		{Head: "What", Most: 260}, {Head: "Before"}, {Head: "Now"}}}
	section := func(title string, rows []record.Change, name func(string) Text) {
		at := map[string]int{} // claims that turned alike are one row
		for i, c := range rows {
			if i == 0 {
				t.Rows = append(t.Rows, Row{Shade: true, Title: styled(Strong, title)})
			}
			key := c.Old + "\x00" + c.New
			if n, ok := at[key]; ok && title == "Verdicts" {
				t.Rows[n].Cells[0] = join(", ", t.Rows[n].Cells[0], name(c.Name))
				continue
			}
			at[key] = len(t.Rows)
			t.Rows = append(t.Rows, Row{Cells: []Text{name(c.Name), plain(cmp.Or(c.Old, "—")), plain(cmp.Or(c.New, "—"))}})
		}
	}
	code := func(s string) Text { return styled(Code, s) }
	section("Verdicts", s.Verdicts, claimLink)
	section("Facts", s.Facts, code)
	section("Given values", s.Values, code)
	section("Documents", s.Documents, code)
	for _, way := range []record.Way{record.Worse, record.Other} {
		title := map[record.Way]string{record.Worse: "Judged more easily", record.Other: "Judged otherwise, perhaps more easily"}[way]
		section(title, slices.DeleteFunc(slices.Clone(s.Eased), func(c record.Change) bool { return c.Way != way }), code)
	}
	head := Block{Kind: Heading, Level: 3, Anchor: "since", Text: plain(words.Join(", ", "Since "+s.Name, words.Prefixed("as of ", s.AsOf)))}
	if len(t.Rows) == 0 {
		return []Block{head, para(plain("No verdict, fact, given value or document differs, and nothing is judged more easily."))}
	}
	return append([]Block{head}, tableOf(t)...)
}

// toCheck are the cited pages that were not found as cited, by how far they
// were looked up: a person turns to them.
func (b *builder) toCheck() []Block {
	var kinds []string
	pages, seen := map[string][]record.Cite{}, map[string]bool{}
	b.eachCite(func(c *record.Cite, _ string) {
		kind := b.notFound(c)
		if strings.HasSuffix(kind, "not on the page") {
			kind = "not as cited"
		}
		key := kind + PageAnchor(c.Source, c.Page)
		if kind == "" || seen[key] {
			return
		}
		seen[key] = true
		if pages[kind] == nil {
			kinds = append(kinds, kind)
		}
		pages[kind] = append(pages[kind], record.Cite{Source: c.Source, Page: c.Page, Counted: c.Counted})
	})
	var out []Block
	for _, k := range kinds {
		slices.SortStableFunc(pages[k], func(x, y record.Cite) int {
			return cmp.Or(strings.Compare(x.Source, y.Source), cmp.Compare(x.Counted, y.Counted))
		})
		out = append(out, labelled(k, b.cites(pages[k])))
	}
	return out
}

// merged puts failed claims of one check that say the same under the first of
// them, each with its criterion and its pages.
func merged(groups []Block) []Block {
	var out []Block
	at := map[string]int{}
	for _, g := range groups {
		c := g.Claim
		if c == nil || c.Check == "" || c.Verdict != record.Failed {
			out = append(out, g)
			continue
		}
		key := c.Check
		var own []Text
		for i, x := range g.Blocks {
			if i > 0 && x.Label != "pages" && x.Label != string(c.Verdict) {
				key += "\x00" + x.Line()
			} else if i > 0 {
				own = append(own, x.Text)
			}
		}
		n, ok := at[key]
		if !ok {
			at[key] = len(out)
			out = append(out, g)
			continue
		}
		out[n].Blocks = append(out[n].Blocks, Block{Kind: Labelled, Anchor: g.Anchor, Label: "likewise",
			Text: join("  ", append([]Text{claimLink(c.ID)}, own...)...)})
	}
	return out
}
