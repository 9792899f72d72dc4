package pdf

import (
	"sort"

	"guardband/eval"
)

// trace is the record turned round: for every cited page, what rests on it.
type trace struct {
	docs map[string][]*cited // by source
	by   map[string]*cited
	rows map[string]bool // page anchors
	ids  []string        // sources, sorted
}

// cited is one citation with all that rests on it.
type cited struct {
	cite   eval.Cite
	claims []string
	facts  []string
	seen   map[string]bool
}

// pageAnchor names the row of a citation in the list of pages.
func pageAnchor(c eval.Cite) string {
	return "page:" + c.Source + "\x00" + c.Section + "\x00" + c.Page
}

// pageOf leads to the row of a page, or to the document where nothing is cited
// from that page yet.
func (d *document) pageOf(source, page string) string {
	if a := pageAnchor(eval.Cite{Source: source, Page: page}); d.trace.rows[a] {
		return a
	}
	return "source:" + source
}

func newTrace(r *eval.Record) *trace {
	t := &trace{docs: map[string][]*cited{}, by: map[string]*cited{}, rows: map[string]bool{}}
	for i := range r.Claims {
		c := &r.Claims[i]
		t.add(c.Cites, "claim", c.ID)
		for j := range c.RestsOn {
			t.add(c.RestsOn[j].Cites, "claim", c.ID)
		}
	}
	for i := range r.Parts {
		t.part(&r.Parts[i])
	}
	for i := range r.Values {
		t.add(r.Values[i].Cites, "fact", r.Values[i].Name)
	}
	for i := range r.Budgets {
		for j := range r.Budgets[i].Rows {
			l := &r.Budgets[i].Rows[j]
			t.add(l.Cites, "fact", "budget "+r.Budgets[i].Net+" "+l.Ref)
		}
	}
	for i := range r.Shortlists {
		for _, row := range r.Shortlists[i].Cells {
			for _, c := range row {
				t.add(c.Cites, "fact", "shortlist "+r.Shortlists[i].ID)
			}
		}
	}
	for i := range r.Readings {
		t.add(r.Readings[i].Cites, "fact", "reading "+r.Readings[i].Name)
	}
	for i := range r.Content {
		t.prose(r.Content[i].Nodes)
	}
	for id, list := range t.docs {
		t.ids = append(t.ids, id)
		sort.SliceStable(list, func(i, j int) bool { return list[i].before(list[j]) })
	}
	sort.Strings(t.ids)
	return t
}

func (c *cited) before(o *cited) bool {
	a, b := c.cite, o.cite
	if a.Counted != b.Counted {
		return a.Counted < b.Counted
	}
	if a.Page != b.Page {
		return a.Page < b.Page
	}
	return a.Quote < b.Quote
}

func (t *trace) part(p *eval.Part) {
	for i := range p.Facts {
		f := &p.Facts[i]
		t.add(f.Cites, "fact", p.ID+"."+f.Section+"."+f.Name)
	}
	for i := range p.Pins {
		t.add(p.Pins[i].Cites, "fact", p.ID+" pins")
	}
	for i := range p.Decoded {
		t.add(p.Decoded[i].Cites, "fact", p.ID+" order code")
	}
	for i := range p.Needs {
		t.add(p.Needs[i].Cites, "fact", p.ID+" application circuit")
	}
	for i := range p.Notes {
		t.add(p.Notes[i].Cites, "fact", p.ID+" "+p.Notes[i].Name)
	}
}

func (t *trace) prose(nodes []eval.Node) {
	for i := range nodes {
		if nodes[i].Cite != nil {
			t.add([]eval.Cite{*nodes[i].Cite}, "", "")
		}
		t.prose(nodes[i].Children)
	}
}

func (t *trace) add(cs []eval.Cite, kind, name string) {
	for _, c := range cs {
		key := pageAnchor(c) + "\x00" + c.Quote
		e := t.by[key]
		if e == nil {
			e = &cited{cite: c, seen: map[string]bool{}}
			t.by[key] = e
			t.rows[pageAnchor(c)] = true
			t.docs[c.Source] = append(t.docs[c.Source], e)
		}
		if name == "" || e.seen[kind+name] {
			continue
		}
		e.seen[kind+name] = true
		if kind == "claim" {
			e.claims = append(e.claims, name)
		} else {
			e.facts = append(e.facts, name)
		}
	}
}

// traceability lists each document's cited pages, how far each citation was
// checked, and the claims that rest on it.
func (d *document) traceability() {
	st := small()
	t := table{cols: []column{{head: "Page", most: 70}, {head: "Cited words"}, {head: "Checked", fixed: 82}, {head: "Noted as"}, {head: "Claims that rest on it"}}}
	for _, id := range d.trace.ids {
		title := cell{d.code(st.with(bold).to("source:"+id), id)}
		if s := d.sources[id]; s != nil {
			title = append(title, d.sp(st.with(bold), "  "+s.Title), d.sp(st, joinText(", ", prefixed("  revision ", s.Revision), s.Date)))
		}
		t.rows = append(t.rows, row{title: title})
		for _, e := range d.trace.docs[id] {
			t.rows = append(t.rows, d.traceRow(e, st))
		}
	}
	d.table(t)
}

func (d *document) traceRow(e *cited, st style) row {
	c := e.cite
	page := joinText(" ", c.Section, c.Page)
	if c.Counted > 0 && c.Printed != "" && c.Printed != itoa(c.Counted) {
		page += " (counted " + itoa(c.Counted) + ")"
	}
	checked := st
	if graded(c.Checked) != "" {
		checked = st.in(verdictColour(eval.Open))
	}
	claims := cell(d.claimLinks(e.claims, st))
	if len(claims) == 0 {
		claims = d.words(st.in(soft), "none")
	}
	var facts cell
	for i, f := range e.facts {
		if i > 0 {
			facts = append(facts, d.sp(st, ", "))
		}
		facts = append(facts, d.code(st, f))
	}
	return row{anchor: pageAnchor(c), cells: []cell{
		d.words(st, orDash(page)), d.words(st, prefixedQuote(c.Quote)), d.words(checked, c.Text), facts, claims,
	}}
}

func prefixedQuote(s string) string {
	if s == "" {
		return ""
	}
	return "“" + s + "”"
}
