package outline

import (
	"cmp"
	"fmt"
	"slices"
	"sort"
	"strings"

	"guardband/eval/record"
	"guardband/report/draw"
	"guardband/report/internal/words"
)

// front is page one: what the board is, the verdict, the claims behind it by
// name, why it fails, hazards, the cell, the design's own claims, what nobody
// looked at.
func (b *builder) front() []Block {
	s := b.r.Summary
	out := []Block{{Kind: Paragraph, Lead: true, Verdict: worst(s), Text: plain(words.Sentence(s))}}
	if words.Total(s) > 0 {
		out = append(out, Block{Kind: Tally, Summary: s})
	}
	if t := b.about(); t != nil {
		out = append(out, para(t))
	}
	out = append(out, b.named()...)
	out = append(out, b.sinceLine()...)
	out = append(out, b.hazardLines()...)
	out = append(out, b.causes()...)
	out = append(out, b.cell()...)
	out = append(out, b.unseen()...)
	out = append(out, b.identity())
	return append(out, b.ownClaims()...)
}

func worst(s record.Summary) record.Verdict {
	for _, v := range words.Verdicts {
		if words.Count(s, v) > 0 && v != record.Skipped {
			return v
		}
	}
	return ""
}

// about is the first paragraph of the notes that says what the board is: a
// sentence that calls the whole invented, or a single line, is passed over
// where a longer one follows.
func (b *builder) about() Text {
	if len(b.r.Content) == 0 {
		return nil
	}
	var best Text
	seen := 0
	for i := range b.r.Content[0].Nodes {
		n := &b.r.Content[0].Nodes[i]
		if n.Kind != "paragraph" {
			if seen > 0 && n.Kind == "heading" {
				break
			}
			continue
		}
		if seen++; seen > 2 {
			break
		}
		t := b.inline(n.Children, 0)
		if length(t) > length(best) {
			best = t
		}
	}
	return best
}

func length(t Text) int {
	n := 0
	for _, s := range t {
		n += len(s.Text)
	}
	return n
}

// named are the claims that did not pass, by name whatever their number.
func (b *builder) named() []Block {
	const few = 8 // reasons that page one has room for
	var out []Block
	for _, v := range []record.Verdict{record.Failed, record.Open, record.Waived, record.Skipped} {
		var ids, why []string
		var texts []Text
		unsigned := 0
		for _, c := range words.ByAttention(b.r) {
			if c.Verdict != v {
				continue
			}
			ids = append(ids, c.ID)
			if w := c.Waiver; v == record.Waived && w != nil {
				texts = append(texts, append(b.attendLink(c.ID, c.ID), Span{Text: " " + words.Join(": ",
					words.Join(", ", string(c.Under), "until "+w.Until, w.Person), w.Reason)}))
			}
			if v == record.Skipped && words.Count(b.r.Summary, v) <= few {
				if n := len(why); n > 0 && why[n-1] == c.Reason { // one reason for several
					texts[n-1] = join(", ", texts[n-1], b.attendLink(c.ID, c.ID))
				} else {
					why, texts = append(why, c.Reason), append(texts, b.attendLink(c.ID, c.ID))
				}
			}
			if v == record.Skipped && c.SkippedBy == "" {
				unsigned++
			}
		}
		t := b.claimLinks(ids)
		for i := range why {
			texts[i] = append(texts[i], Span{Text: words.Prefixed(": ", why[i])})
		}
		if len(texts) > 0 {
			t = join("; ", texts...)
		}
		if unsigned > 0 {
			t = append(t, Span{Text: fmt.Sprintf("; %d without a name and a date", unsigned), Style: Notice})
		}
		if len(t) == 0 {
			continue
		}
		out = append(out, Block{Kind: Labelled, Label: fmt.Sprintf("%d %s", words.Count(b.r.Summary, v), v), Text: t})
	}
	if s := b.r.Summary; s.Errors+s.Warnings > 0 {
		t := ""
		if s.Errors > 0 {
			t = words.Plural(s.Errors, "error", "errors")
		}
		if s.Warnings > 0 {
			t = words.Join(", ", t, words.Plural(s.Warnings, "warning", "warnings"))
		}
		out = append(out, Block{Kind: Labelled, Label: "notebook", Text: Text{{Text: t, Style: Notice, To: "attention"}}})
	}
	return out
}

// hazardLines name each hazard on page one with the first lines of its message.
func (b *builder) hazardLines() []Block {
	var out []Block
	for i := range b.r.Safety {
		c := &b.r.Safety[i]
		g := Block{Kind: Group, Word: c.Word, Head: styled(Strong, c.Hazard)}
		g.Blocks = []Block{smallPara(join(" ", plain(strings.Join(c.Text[:min(1, len(c.Text))], "")),
			Text{{Text: "In full under Cautions", Style: Turn, To: "caution:" + c.ID}}))}
		out = append(out, g)
	}
	return out
}

// cautions are the safety messages, their text once in the record. Nothing
// leaves them out.
func (b *builder) cautions() []Block {
	var out []Block
	for i := range b.r.Safety {
		c := &b.r.Safety[i]
		g := Block{Kind: Group, Anchor: "caution:" + c.ID, Word: c.Word, Head: styled(Strong, c.Hazard)}
		g.Blocks = append(g.Blocks, smallPara(plain(strings.Join(c.Text, " "))))
		why := join(" · ", plain(words.Prefixed("Triggered by: ", firstOf(c.Why, 3))), plain(words.Prefixed("Source: ", c.Source)),
			plain(words.Prefixed("Acknowledged: ", c.Acknowledged)), where(c.Position))
		g.Blocks = append(g.Blocks, smallPara(why))
		out = append(out, g)
	}
	return out
}

// firstOf keeps the first reasons of a long list and counts the others.
func firstOf(s string, most int) string {
	list := strings.Split(s, "; ")
	if len(list) <= most+1 {
		return s
	}
	return strings.Join(list[:most], "; ") + fmt.Sprintf("; and %d more", len(list)-most)
}

// cell is each battery's limits against the design, with the claim that judges
// each. A battery is what has the designator BT (IEC 60617 and IEEE 315, class
// letters).
func (b *builder) cell() []Block {
	t := Table{Caption: "Limits of the cell", Columns: []Column{
		{Head: "Limit", Width: 88}, {Head: "Noted", Width: 72}, {Head: "Design reaches", Width: 92}, {Head: "Judged by"},
		{Head: "Margin", Width: 96}, {Head: "Page", Width: 36},
	}}
	for i := range b.r.Parts {
		p := &b.r.Parts[i]
		ref := ""
		for _, r := range p.Placed {
			if d := strings.TrimLeft(strings.TrimPrefix(r, "BT"), "0123456789"); strings.HasPrefix(r, "BT") && d == "" {
				ref = r
				break
			}
		}
		if ref == "" {
			continue
		}
		for k := range p.Facts {
			if f := &p.Facts[k]; f.Section == "absmax" || f.Section == "operating" {
				t.Rows = append(t.Rows, b.limitRow(ref, p, f))
			}
		}
	}
	return tableOf(t)
}

func (b *builder) limitRow(ref string, p *record.Part, f *record.Fact) Row {
	row := Row{Cells: []Text{b.basis(ref + "." + f.Section + "." + f.Name), plain(f.Text), nil,
		styled(Strong|Notice, "nothing"), nil, b.cites(f.Cites)}}
	row.Cells[0][0].To = factAnchor(p.ID, f)
	var least *record.Margin
	for n, id := range f.UsedBy {
		c := b.claims[id]
		if c == nil {
			continue
		}
		if n == 0 {
			row.Cells[3] = nil
		}
		row.Cells[3] = join(", ", row.Cells[3], append(append(verdict(c.Verdict), Span{Text: " "}), claimLink(id)...))
		for i := range c.Criteria {
			for k := range c.Criteria[i].Tests {
				x := &c.Criteria[i].Tests[k]
				value, limit, _ := words.Sides(x)
				if !strings.Contains(limit.Text, "."+f.Name) || x.Margin == nil {
					continue
				}
				if !strings.Contains(Plain(row.Cells[2]), value.Shown) {
					row.Cells[2] = join("; ", row.Cells[2], plain(value.Shown))
				}
				if least == nil || x.Margin.Key() < least.Key() {
					least = x.Margin
					row.Cells[4] = plain(words.Join(", asked ", x.Margin.Text, x.Margin.Required))
				}
			}
		}
	}
	return row
}

// unseen is what nobody looked at: limits that nothing judges, sections that
// are not noted, citations that were not checked, what is taken as given.
func (b *builder) unseen() []Block {
	var out blocks
	if s := b.r.Summary; s.LimitsNoted > 0 {
		noted := words.Plural(s.LimitsNoted, "noted limit is", "noted limits are")
		t := plain(noted + " judged")
		if s.LimitsUnjudged > 0 {
			t = plain(fmt.Sprintf("%d of %s judged by nothing", s.LimitsUnjudged, noted))
		}
		if n := len(b.limitsAside()); n > 0 {
			t = append(t, Span{Text: fmt.Sprintf(", %d set aside with a reason", n), Style: Turn, To: "limits-aside"})
		}
		out.line("limits", t)
	}
	out.line("sections", b.blankSections())
	out.line("looked up", plain(words.Evidence(b.r)))
	alone := 0
	for i := range b.r.Parts {
		if b.r.Parts[i].Checked == "" {
			alone++
		}
	}
	if alone > 0 {
		out.line("second person", plain(fmt.Sprintf("%d of %s not compared with the sheet by one", alone,
			words.Plural(len(b.r.Parts), "part", "parts"))))
	}
	var kinds []Text
	for _, k := range b.kinds() {
		many := cmp.Or(kindTexts[k.kind].many, k.kind)
		kinds = append(kinds, Text{{Text: words.Plural(len(k.list), k.kind, many), To: "assumption:" + k.kind}})
	}
	if len(kinds) > 0 {
		kinds[0][0].Style = Turn
	}
	if n := b.underUnpassed(); n > 0 {
		kinds = append(kinds, styled(Notice, fmt.Sprintf("%d of them under failed or open claims", n)))
	}
	if n := b.r.Summary.OnDefaults; n > 0 {
		kinds = append(kinds, plain(words.Plural(n, "pass rests", "passes rest")+" on assumed defaults"))
	}
	out.line("taken as given", join(", ", kinds...))
	out.line("seen in person", b.inPerson())
	if len(out) > 0 {
		out = append([]Block{{Kind: Heading, Level: 3, Text: plain("Not looked at, and seen in person")}}, out...)
	}
	return out
}

// underUnpassed counts the assumptions that a failed or open claim rests on.
func (b *builder) underUnpassed() (n int) {
	for _, a := range b.r.Assumptions {
		if slices.ContainsFunc(a.Claims, func(id string) bool {
			c := b.claims[id]
			return c != nil && (c.Verdict == record.Failed || c.Verdict == record.Open)
		}) {
			n++
		}
	}
	return n
}

// limitsAside are the limits that were set aside by name, each with its reason.
func (b *builder) limitsAside() []string {
	var out []string
	if c := b.claims["limits"]; c != nil {
		for i := range c.Criteria {
			if name, reason, ok := strings.Cut(c.Criteria[i].Text, " is skipped: "); ok {
				out = append(out, name+": "+reason)
			}
		}
	}
	return out
}

// inPerson is what somebody looked at with their own eyes.
func (b *builder) inPerson() Text {
	var out []Text
	for i := range b.r.Claims {
		if in := b.r.Claims[i].Inspection; in != nil && in.Result != "" {
			out = append(out, append(claimLink(b.r.Claims[i].ID), Span{Text: " " + words.Join(", ", in.Result, in.Person, in.Date)}))
		}
	}
	for i := range b.r.Readings {
		r := &b.r.Readings[i]
		out = append(out, join(" ", Text{{Text: "reading of " + r.Name, To: "bring-up"}}, b.cites(r.Cites)))
	}
	seen := map[string]bool{}
	b.eachCite(func(c *record.Cite, _ string) {
		if key := PageAnchor(c.Source, c.Page) + c.Text; c.Checked == "read by a person" && !seen[key] {
			seen[key] = true
			out = append(out, Text{{Text: words.Join(" ", c.Source, c.Page) + " " + c.Text, To: PageAnchor(c.Source, c.Page)}})
		}
	})
	for i := range b.r.Parts {
		if p := &b.r.Parts[i]; p.Checked != "" {
			out = append(out, Text{{Text: p.ID + " compared with the sheet, " + p.Checked, To: "part:" + p.ID}})
		}
	}
	return join("; ", out...)
}

func (b *builder) blankSections() Text {
	var out []string
	for i := range b.r.Parts {
		p := &b.r.Parts[i]
		var blank []string
		for _, s := range record.SheetSections {
			if !p.Sections[s].Noted {
				blank = append(blank, s)
			}
		}
		if len(blank) > 0 {
			out = append(out, p.ID+" "+strings.Join(blank, ", "))
		}
	}
	if len(out) == 0 {
		return nil
	}
	if len(out) > 12 {
		out = append(out[:12], fmt.Sprintf("and %d more parts", len(out)-12))
	}
	return plain("not noted: " + strings.Join(out, "; "))
}

// identity is what was judged, and when.
func (b *builder) identity() Block {
	g := b.r.Design
	out := Block{Kind: Fields}
	for _, p := range [][2]string{
		{"Revision", g.Revision}, {"Date", g.Date}, {"Author", g.Author}, {"As of", g.AsOf}, {"Ambient", g.Ambient}, {"Commit", g.Commit},
		{"States", strings.Join(g.States, ", ")}, {"Made by", g.Tool},
	} {
		if p[1] != "" {
			out.Pairs = append(out.Pairs, p)
		}
	}
	return out
}

// ownClaims are the claims that the notes state, with their margins drawn to
// one scale: percent of the limit.
func (b *builder) ownClaims() []Block {
	t := Table{Caption: "The design's own claims; bars: margin in percent of the limit, to one scale", Columns: []Column{
		{Head: "Claim", Width: 88}, {Head: "States"}, {Head: "Reaches; limit", Width: 98}, {Head: "Margin; asked", Width: 80},
		{Head: "0 to 100 %", Gauge: true, Width: 54},
	}}
	for i := range b.r.Claims {
		c := &b.r.Claims[i]
		if c.Kind == "built-in" {
			continue
		}
		r := Row{Verdict: c.Verdict, Cells: []Text{join(" ", verdict(c.Verdict), claimLink(c.ID)), plain(c.Statement)}}
		if x := words.Thinnest(c); x != nil {
			r.Cells = append(r.Cells, reaches(c, x))
			if m := x.Margin; m != nil {
				r.Cells = append(r.Cells, plain(words.Join("; ", m.Text, m.Required)))
				r.Gauge = draw.NewGauge(m)
			}
		} else if c.Inspection != nil {
			in := c.Inspection
			r.Cells = append(r.Cells, plain(words.Join(", ", "inspection", in.Result, in.Date, in.Person)))
		} else if x := b.readingOf(c); x != nil {
			r.Cells = append(r.Cells, plain("read "+x.Reading), plain("predicted "+x.Predicted))
		}
		t.Rows = append(t.Rows, r)
	}
	sort.SliceStable(t.Rows, func(i, j int) bool { return rank(t.Rows[i].Verdict) < rank(t.Rows[j].Verdict) })
	return tableOf(t)
}

// readingOf is the reading that a claim of that kind is about.
func (b *builder) readingOf(c *record.Claim) *record.Reading {
	for i := range b.r.Readings {
		r := &b.r.Readings[i]
		if c.Kind == "reading" && c.Position != nil && r.Position != nil && *c.Position == *r.Position {
			return r
		}
	}
	return nil
}

func rank(v record.Verdict) int {
	for i, w := range words.Verdicts {
		if v == w {
			return i
		}
	}
	return len(words.Verdicts)
}

// sinceLine is what changed since an earlier record, in one line.
func (b *builder) sinceLine() []Block {
	s := b.r.Since
	if s == nil {
		return []Block{labelled("since", styled(Quiet, "no earlier record was given to compare with"))}
	}
	better := 0
	for _, c := range s.Verdicts {
		if c.Way == record.Better {
			better++
		}
	}
	t := fmt.Sprintf("%d verdicts worse, %d better; %s, %s and %s changed", s.Worse(), better, words.Plural(len(s.Facts), "fact", "facts"),
		words.Plural(len(s.Values), "given value", "given values"), words.Plural(len(s.Documents), "document", "documents"))
	style := Turn
	if n := len(s.Eased); n > 0 {
		t += "; " + words.Plural(n, "thing was judged more easily: a limit, margin, range, condition, skip, waiver or assumption",
			"things were judged more easily: limits, margins, ranges, conditions, skips, waivers, assumptions")
		style |= Notice
	}
	return []Block{labelled("since "+s.Name, Text{{Text: t, Style: style, To: "since"}})}
}
