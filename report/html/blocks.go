package html

import (
	"fmt"
	"slices"
	"strings"

	"guardband/eval"
	"guardband/report/internal/words"
)

// block sets one block of the notes as what it is, with the lines as typed
// behind a disclosure.
func (n *notePrinter) block(b *eval.BlockRef) {
	p := n.page
	p.raw(markup("<div class=\"set\">\n"))
	known := true
	switch b.Kind {
	case "claim":
		if c := p.index.claims[b.ID]; c != nil && !p.set["claim "+b.ID] {
			p.claim(c, p.level+1)
		} else {
			known = false
		}
	case "part":
		if t := p.index.parts[b.ID]; t != nil && !p.set["facts "+b.ID] {
			p.facts(t)
		} else {
			known = false
		}
	case "values":
		p.valueTable(b.Names)
	case "circuit":
		p.placements(b.Names)
	case "source":
		p.sourceLine(b.ID)
	case "budget":
		known = p.budgetBlock(b.ID)
	case "shortlist":
		known = p.shortlistBlock(b.ID)
	case "readings":
		p.readingTable(b.Names)
	case "review":
		p.raw(markup(`<p class="blockname">Review: see <a href="#actions">review and actions</a></p>`))
	case "design":
		p.fields(b.Fields)
	default:
		known = false
	}
	if !known {
		p.raw(markup(`<p class="blockname">`), words.Join(" ", b.Kind, b.ID), " ")
		p.place(b.Position)
		p.raw(markup(`</p>`))
	}
	p.typed(b)
	p.raw(markup("</div>\n"))
}

// typed shows the lines as typed, with the way back to the file.
func (p *page) typed(b *eval.BlockRef) {
	if b.Lines == "" {
		return
	}
	p.raw(markup(`<details class="typed"><summary>`), words.Join(", ", "as typed", words.Place(b.Position)), markup(`</summary>`))
	if b.Position != nil && p.opt.Base != "" {
		p.raw(markup(`<p class="small">`))
		p.file(b.Position.File, "", "open "+b.Position.File)
		p.raw(markup(`</p>`))
	}
	p.raw(markup(`<pre tabindex="0">`), strings.TrimRight(b.Lines, "\n"), markup(`</pre></details>`))
}

func (p *page) fields(fields []eval.Field) {
	if len(fields) == 0 {
		return
	}
	p.raw(markup(`<dl class="fields">`))
	for _, f := range fields {
		p.raw(markup(`<div><dt>`), f.Name, markup(`</dt><dd>`), f.Value, markup(`</dd></div>`))
	}
	p.raw(markup(`</dl>`))
}

func (p *page) sourceLine(id string) {
	s := p.index.sources[id]
	if s == nil {
		return
	}
	p.raw(markup(`<p class="doc"><span class="lab">Document</span> `))
	p.link("source", s.ID, s.ID)
	p.raw(" ", words.Join(", ", s.Title, s.Issuer, revision(s), s.Date), markup(`. <span class="grade">`), s.State, markup(`</span></p>`))
}

func revision(s *eval.Source) string {
	if s.Revision == "" {
		return ""
	}
	return "revision " + s.Revision
}

// valueTable sets values with their formulas typeset and the numbers put in.
func (p *page) valueTable(names []string) {
	names = slices.DeleteFunc(slices.Clone(names), func(n string) bool { return p.index.values[n] == nil || p.set["value "+n] })
	if len(names) == 0 {
		return
	}
	p.raw(markup(`<div class="wide" tabindex="0" role="group" aria-label="Values"><table class="values"><thead><tr><th scope="col">Value</th><th scope="col">Formula</th><th scope="col">Comes to</th><th scope="col">Page</th></tr></thead><tbody>`))
	for _, name := range names {
		p.value(p.index.values[name])
	}
	p.raw(markup("</tbody></table></div>\n"))
}

func (p *page) value(v *eval.Value) {
	p.set["value "+v.Name] = true
	p.raw(markup(`<tr`))
	p.id("value", v.Name)
	p.raw(markup(`><th scope="row">`))
	p.name(v.Name)
	p.raw(markup(`</th><td>`))
	if v.Derived && v.Math != nil {
		p.formula(v.Math, "f")
		p.formula(v.Numbers, "f put")
	} else {
		p.raw(v.Formula)
	}
	if v.Source != "" {
		p.raw(markup(`<span class="small block">Formula: `), v.Source, markup(`</span>`))
	}
	p.raw(markup(`</td><td class="num">`))
	if v.Derived || v.Text != v.Formula {
		p.raw(v.Text)
		if v.Derived && !v.Exact && v.Min != nil && v.Max != nil {
			p.raw(" at most")
		}
	}
	p.raw(markup(`</td><td>`))
	p.citeLine(v.Cites)
	switch {
	case v.Assumed != "":
		p.raw(markup(`<span class="assumed">assumed: `), v.Assumed, markup(`</span>`))
	case !v.Derived && len(v.Cites) == 0:
		p.raw(markup(`<span class="assumed">assumption</span>`))
	}
	p.usedBy(v.UsedBy)
	p.raw(markup("</td></tr>\n"))
}

// maxUsed keeps a cell readable where very many claims rest on one fact.
const maxUsed = 12

func (p *page) usedBy(ids []string) {
	if len(ids) == 0 {
		return
	}
	p.raw(markup(`<span class="used small block">used by `))
	p.claimLinks(ids[:min(len(ids), maxUsed)])
	if more := len(ids) - maxUsed; more > 0 {
		p.raw(fmt.Sprintf(" and %d more", more))
	}
	p.raw(markup(`</span>`))
}
