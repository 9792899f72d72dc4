package html

import (
	"cmp"
	"slices"
	"strings"

	"guardband/eval"
	"guardband/report/draw"
	"guardband/report/internal/words"
)

// placed lists the claims that the notes set.
func (p *page) placedClaims() map[string]bool {
	out := map[string]bool{}
	for _, book := range p.r.Content {
		for i := range book.Nodes {
			if b := book.Nodes[i].Block; b != nil && b.Kind == "claim" {
				out[b.ID] = true
			}
		}
	}
	return out
}

// unplaced counts the claims that the notes do not set.
func (p *page) unplaced() int {
	placed, n := p.placedClaims(), 0
	for i := range p.r.Claims {
		if !placed[p.r.Claims[i].ID] {
			n++
		}
	}
	return n
}

// checks sets the claims that no block of the notes holds: the built-in
// checks, and the claims that shortlists and readings make.
func (p *page) checks() {
	p.open("checks")
	p.filtered()
	for i := range p.r.Claims {
		if c := &p.r.Claims[i]; !p.set["claim "+c.ID] {
			p.level = 2
			p.claim(c, 3)
		}
	}
	p.close()
}

// matrix is the verification matrix: every claim in one row.
func (p *page) matrix() {
	p.open("matrix")
	p.filtered()
	p.raw(markup(`<div class="wide" tabindex="0" role="group" aria-label="Verification matrix"><table class="matrix"><thead><tr><th scope="col">Claim</th><th scope="col">Statement</th><th scope="col">Method</th><th scope="col">Verdict</th><th scope="col">Reaches</th><th scope="col">Limit</th><th scope="col">Margin</th><th scope="col">Evidence</th></tr></thead><tbody>`))
	for i := range p.r.Claims {
		p.matrixRow(&p.r.Claims[i])
	}
	p.raw(markup("</tbody></table></div>\n"))
	p.close()
}

func (p *page) matrixRow(c *eval.Claim) {
	p.raw(markup(`<tr`))
	p.attr("data-verdict", string(c.Verdict))
	p.raw(markup(`><th scope="row" class="id">`))
	p.link("claim", c.ID, c.ID)
	p.raw(markup(`</th><td>`), c.Statement, markup(`</td><td>`), words.Join(", ", c.Method, c.Analysis), markup(`</td><td><span class="v v-`), c.Verdict, markup(`">`), c.Verdict, markup(`</span></td>`))
	t := words.Thinnest(c)
	switch {
	case t != nil:
		value, limit, op := words.Sides(t)
		margin := ""
		if t.Margin != nil {
			margin = words.Join("; asked ", t.Margin.Text, t.Margin.Required)
		}
		p.raw(markup(`<td class="num">`), words.Reach(value), markup(`</td><td class="num">`), draw.Sign(op), " ", limit.Shown, markup(`</td><td class="num">`), margin, markup(`</td>`))
	case c.Inspection != nil:
		p.raw(markup(`<td colspan="3">`), words.Join(", ", orElse(c.Inspection.Result, "no result yet"), c.Inspection.Date, c.Inspection.Person), markup(`</td>`))
	default:
		p.raw(markup(`<td colspan="3">`), c.Headline, markup(`</td>`))
	}
	p.raw(markup(`<td>`))
	p.citeLine(c.Cites)
	p.raw(markup("</td></tr>\n"))
}

// requirements is the matrix of requirements, those that no claim answers first.
func (p *page) requirements() {
	p.open("requirements")
	p.raw(markup(`<div class="wide" tabindex="0" role="group" aria-label="Requirements"><table class="requirements"><thead><tr><th scope="col">Requirement</th><th scope="col">Text</th><th scope="col">Answered by</th></tr></thead><tbody>`))
	for _, answered := range []bool{false, true} {
		for i := range p.r.Requirements {
			if q := &p.r.Requirements[i]; (len(q.Claims) > 0) == answered {
				p.requirement(q)
			}
		}
	}
	p.raw(markup("</tbody></table></div>\n"))
	p.close()
}

func (p *page) requirement(q *eval.Requirement) {
	p.raw(markup(`<tr><th scope="row">`))
	p.link("source", q.Source, q.Source)
	p.raw(" ", q.ID, markup(`</th><td>`), q.Text, markup(`</td><td>`))
	if len(q.Claims) == 0 {
		p.raw(markup(`<strong>no claim answers it</strong>`))
	}
	for i, id := range q.Claims {
		if i > 0 {
			p.raw(", ")
		}
		p.link("claim", id, id)
		if c := p.index.claims[id]; c != nil {
			p.raw(markup(` <span class="v v-`), c.Verdict, markup(`">`), c.Verdict, markup(`</span>`))
		}
	}
	p.raw(markup(`</td></tr>`))
}

// cited is one place of a document and what rests on it.
type cited struct {
	cite           eval.Cite
	claims, values []string
	facts          [][2]string // anchor name, text
}

// pages lists the cited places by document, in the order of their pages.
func (p *page) pages() []*cited {
	var out []*cited
	at := map[[4]string]*cited{}
	see := func(c eval.Cite) *cited {
		key := [4]string{c.Source, c.Page, c.Section, c.Quote}
		if at[key] == nil {
			at[key] = &cited{cite: c}
			out = append(out, at[key])
		}
		return at[key]
	}
	for i := range p.r.Claims {
		for _, c := range p.r.Claims[i].Cites {
			e := see(c)
			if n := len(e.claims); n == 0 || e.claims[n-1] != p.r.Claims[i].ID {
				e.claims = append(e.claims, p.r.Claims[i].ID)
			}
		}
	}
	for i := range p.r.Values {
		for _, c := range p.r.Values[i].Cites {
			e := see(c)
			e.values = append(e.values, p.r.Values[i].Name)
		}
	}
	for i := range p.r.Parts {
		t := &p.r.Parts[i]
		for _, f := range t.Facts {
			for _, c := range f.Cites {
				e := see(c)
				e.facts = append(e.facts, [2]string{factName(t.ID, f), t.ID + "." + f.Name})
			}
		}
	}
	order := map[string]int{}
	for i, s := range p.r.Sources {
		order[s.ID] = i + 1
	}
	slices.SortStableFunc(out, func(a, b *cited) int {
		return cmp.Or(cmp.Compare(order[a.cite.Source], order[b.cite.Source]), strings.Compare(a.cite.Source, b.cite.Source), cmp.Compare(a.cite.Counted, b.cite.Counted), strings.Compare(a.cite.Page, b.cite.Page))
	})
	return out
}

// evidence goes from each cited page to what rests on it.
func (p *page) evidence() {
	p.open("evidence")
	p.raw(markup(`<div class="wide" tabindex="0" role="group" aria-label="Cited pages"><table class="trace"><thead><tr><th scope="col">Page</th><th scope="col">Words and check</th><th scope="col">Claims</th><th scope="col">Facts and values</th></tr></thead><tbody>`))
	for _, e := range p.pages() {
		p.raw(markup(`<tr><th scope="row">`))
		p.citeRef(&e.cite)
		p.raw(markup(`</th><td>`))
		if e.cite.Section != "" {
			p.raw("§", e.cite.Section, " ")
		}
		if e.cite.Quote != "" {
			p.raw("“", e.cite.Quote, "” ")
		}
		p.raw(markup(`<span class="grade`), badGrade(e.cite.Checked), markup(`">`), gradeText(&e.cite), markup(`</span></td><td>`))
		p.claimLinks(e.claims)
		p.raw(markup(`</td><td>`))
		first := true
		comma := func() {
			if !first {
				p.raw(", ")
			}
			first = false
		}
		for _, f := range e.facts {
			comma()
			p.linkName("fact", f[0], f[1])
		}
		for _, v := range e.values {
			comma()
			p.linkName("value", v, v)
		}
		p.raw(markup("</td></tr>\n"))
	}
	p.raw(markup("</tbody></table></div>\n"))
	p.close()
}
