package pdf

import (
	"sort"
	"strings"

	"guardband/eval"
)

// unwritten tells that some claim stands in no notebook block.
func (d *document) unwritten() bool {
	in := map[string]bool{}
	for i := range d.r.Content {
		blocksOf(d.r.Content[i].Nodes, func(b *eval.BlockRef) {
			if b.Kind == "claim" {
				in[b.ID] = true
			}
		})
	}
	for i := range d.r.Claims {
		if !in[d.r.Claims[i].ID] {
			return true
		}
	}
	return false
}

func blocksOf(nodes []eval.Node, do func(*eval.BlockRef)) {
	for i := range nodes {
		if nodes[i].Block != nil {
			do(nodes[i].Block)
		}
		blocksOf(nodes[i].Children, do)
	}
}

// otherClaims are the built-in checks and whatever else no block states:
// those that did not pass in full, the others as a table by check.
func (d *document) otherClaims() {
	checks := map[string][]*eval.Claim{}
	var names []string
	var full []*eval.Claim
	for i := range d.r.Claims {
		c := &d.r.Claims[i]
		if d.set["claim:"+c.ID] {
			continue
		}
		if c.Kind != "built-in" || c.Verdict != eval.Passed && c.Verdict != eval.Skipped {
			full = append(full, c)
			continue
		}
		if checks[c.Check] == nil {
			names = append(names, c.Check)
		}
		checks[c.Check] = append(checks[c.Check], c)
	}
	sort.Strings(names)
	for _, c := range full {
		d.space(8)
		d.claim(c)
	}
	if len(names) == 0 {
		return
	}
	if len(full) > 0 {
		d.space(12)
	}
	d.keepPara(d.sp(small().in(soft), "Checks that follow from the facts and what is placed, by check:"))
	st := small()
	t := table{cols: []column{{head: "Check", most: 170}, {head: "States"}, {head: "Verdict", most: 60}, {head: "Comes to"}, {head: "Page", most: 110}}}
	for _, n := range names {
		first := checks[n][0]
		title := cell{d.sp(small().with(bold), orDash(n))}
		if first.Rule != "" {
			title = append(title, d.sp(small(), "  "+first.Rule))
		}
		if first.RuleSource != "" {
			title = append(title, d.sp(small().in(soft), " ("+first.RuleSource+")"))
		}
		t.rows = append(t.rows, row{title: title})
		for _, c := range checks[n] {
			d.set["claim:"+c.ID] = true
			t.rows = append(t.rows, row{anchor: "claim:" + c.ID, cells: []cell{
				{d.code(st.to("matrix:"+c.ID), c.ID)}, d.words(st, c.Statement), {d.verdict(c.Verdict, st.size)}, d.words(st, c.Headline), d.cites(c.Cites, st),
			}})
		}
	}
	d.table(t)
}

// matrix is the verification matrix: every claim with its method, verdict,
// margin and evidence.
func (d *document) matrix() {
	st := small()
	t := table{cols: []column{
		{head: "Claim", most: 110}, {head: "Statement", most: 200}, {head: "Method", most: 50}, {head: "Verdict", most: 58},
		{head: "Comes to; asked", most: 260}, {head: "Evidence", most: 90}, {head: "Mark", fixed: 28},
	}}
	for i := range d.r.Claims {
		c := &d.r.Claims[i]
		t.rows = append(t.rows, row{anchor: "matrix:" + c.ID, cells: []cell{
			{d.claimLink(c.ID, st)}, d.words(st, c.Statement), d.words(st, joinText(", ", c.Method, c.Analysis)),
			{d.verdict(c.Verdict, st.size)}, d.marginCell(c, st), d.evidence(c, st),
		}})
	}
	d.table(t)
	d.space(3)
	d.note("The last column is the reviewer's: tick what has been checked against the page.")
}

// marginCell is what each comparison comes to, its limit and its margin.
func (d *document) marginCell(c *eval.Claim, st style) cell {
	var groups [][]span
	for i := range c.Criteria {
		for j := range c.Criteria[i].Tests {
			t := &c.Criteria[i].Tests[j]
			g := d.words(st, compared(t))
			if t.Margin != nil {
				g = append(g, d.sp(st, ": "), d.sp(st.with(bold), t.Margin.Text))
				if t.Margin.Required != "" {
					g = append(g, d.sp(st, ", asked "+t.Margin.Required))
				}
			}
			groups = append(groups, g)
		}
	}
	if len(groups) == 0 {
		return d.words(st, c.Headline)
	}
	var out cell
	for i, g := range groups {
		if i > 0 {
			out = append(out, newLine(st))
		}
		out = append(out, g...)
	}
	return out
}

func (d *document) evidence(c *eval.Claim, st style) cell {
	if n := c.Inspection; n != nil && n.Result != "" {
		return d.join(st, "; ", d.words(st, joinText(", ", n.Result, n.Date, n.Person)), d.pages(c.Cites, st))
	}
	if len(c.Cites) == 0 {
		return d.words(st.in(soft), "no page")
	}
	return d.pages(c.Cites, st)
}

// pages are the cited pages of a claim, each once, those of one document
// together.
func (d *document) pages(cs []eval.Cite, st style) []span {
	var docs []string
	of := map[string][][]span{}
	seen := map[string]bool{}
	for _, c := range cs {
		key := joinText(" ", c.Source, c.Section, c.Page, graded(c.Checked))
		if seen[key] {
			continue
		}
		seen[key] = true
		if of[c.Source] == nil {
			docs = append(docs, c.Source)
		}
		spans := d.cite(c, st)
		if len(of[c.Source]) > 0 { // the document is named once
			spans[0].text = strings.TrimPrefix(spans[0].text, c.Source+" ")
		}
		of[c.Source] = append(of[c.Source], spans)
	}
	var out []span
	for i, id := range docs {
		if i > 0 {
			out = append(out, d.sp(st, "; "))
		}
		out = append(out, d.join(st, ", ", of[id]...)...)
	}
	return out
}

// requirements sets requirements against claims, those without a claim first.
func (d *document) requirements() {
	st := small()
	t := table{cols: []column{{head: "Requirement", most: 110}, {head: "Text"}, {head: "Document", most: 90}, {head: "Claims"}}}
	list := make([]*eval.Requirement, len(d.r.Requirements))
	for i := range d.r.Requirements {
		list[i] = &d.r.Requirements[i]
	}
	sort.SliceStable(list, func(i, j int) bool { return len(list[i].Claims) == 0 && len(list[j].Claims) > 0 })
	for _, q := range list {
		claims := d.words(st.with(bold).in(verdictColour(eval.Open)), "no claim")
		if len(q.Claims) > 0 {
			claims = nil
			for i, id := range q.Claims {
				if i > 0 {
					claims = append(claims, newLine(st))
				}
				if c := d.claims[id]; c != nil {
					claims = append(claims, d.verdict(c.Verdict, st.size), d.sp(st, " "))
				}
				claims = append(claims, d.claimLink(id, st))
			}
		}
		t.rows = append(t.rows, row{cells: []cell{{d.code(st, q.ID)}, d.words(st, q.Text), {d.code(st.to("source:"+q.Source), q.Source)}, claims}})
	}
	d.table(t)
}
