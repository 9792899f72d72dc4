package html

import (
	"slices"

	"guardband/eval"
	"guardband/report/draw"
	"guardband/report/internal/words"
)

// budgets is the section: an overview of what the notes set, and in full what
// they did not.
func (p *page) budgets() {
	p.open("budgets")
	for i := range p.r.Budgets {
		b := &p.r.Budgets[i]
		if !p.set["budget "+b.Net] {
			p.budget(b)
			continue
		}
		p.raw(markup(`<p><a`))
		p.attr("href", "#"+anchor("budget", b.Net))
		p.raw(markup(`>Budget `), b.Net, markup(`</a>: `))
		for k, v := range b.Results {
			if k > 0 {
				p.raw("; ")
			}
			p.raw(v.Name, " ", v.Text)
		}
		p.raw(markup(`</p>`))
	}
	for i := range p.r.Shortlists {
		s := &p.r.Shortlists[i]
		if !p.set["shortlist "+s.ID] {
			p.shortlist(s)
			continue
		}
		p.raw(markup(`<p><a`))
		p.attr("href", "#"+anchor("shortlist", s.ID))
		p.raw(markup(`>Shortlist `), s.ID, markup(`</a>: `))
		if s.Choice == "" {
			p.raw("no choice made.")
		} else {
			p.raw("chosen ", s.Choice, ". ", s.Reason)
		}
		p.raw(markup(`</p>`))
	}
	p.readingTable(p.unset("reading", len(p.r.Readings), func(i int) string { return p.r.Readings[i].Name }))
	p.close()
}

func (p *page) budgetBlock(net string) bool {
	for i := range p.r.Budgets {
		if b := &p.r.Budgets[i]; b.Net == net && !p.set["budget "+net] {
			p.budget(b)
			return true
		}
	}
	return false
}

func (p *page) budget(b *eval.Budget) {
	p.set["budget "+b.Net] = true
	p.raw(markup(`<figure class="budget"`))
	p.id("budget", b.Net)
	p.raw(markup(`><figcaption><span class="lab">Budget</span> `), b.Net)
	if b.Supply != "" {
		p.raw(" from ")
		p.link("placed", b.Supply, b.Supply)
	}
	p.raw(" ")
	p.place(b.Position)
	p.raw(markup(`</figcaption><div class="wide" tabindex="0" role="group" aria-label="Loads"><table><thead><tr><th scope="col">Load</th><th scope="col">State</th><th scope="col">Draws</th><th scope="col">When</th><th scope="col" class="r">Average</th><th scope="col">Page</th></tr></thead><tbody>`))
	rows := make([]draw.Row, 0, len(b.Rows))
	for _, l := range b.Rows {
		p.raw(markup(`<tr><th scope="row">`))
		p.link("placed", l.Ref, l.Ref)
		p.raw(markup(`</th><td>`), l.State, markup(`</td><td class="num">`), l.Text, markup(`</td><td>`), l.Duty, markup(`</td><td class="num r">`), l.AverageText, markup(`</td><td>`))
		p.citeLine(l.Cites)
		p.raw(markup(`</td></tr>`))
		rows = append(rows, draw.Row{Label: words.Join(" ", l.Ref, l.State), Value: l.Average, Text: l.AverageText})
	}
	p.raw(markup(`</tbody></table></div>`))
	if len(rows) > 0 {
		p.raw(markup(`<div class="plot">`), markup(draw.SVG(draw.RowChart(rows, draw.Plain{}, plotWidth, plotText), "")), markup(`</div>`))
	}
	for i := range b.Results {
		v := &b.Results[i]
		p.raw(markup(`<p class="result"><span class="num">`), v.Name, " = ", v.Text, markup(`</span> <span class="small">`), v.Formula, markup(`</span></p>`))
	}
	p.raw(markup("</figure>\n"))
}

func (p *page) shortlistBlock(id string) bool {
	for i := range p.r.Shortlists {
		if s := &p.r.Shortlists[i]; s.ID == id && !p.set["shortlist "+id] {
			p.shortlist(s)
			return true
		}
	}
	return false
}

func (p *page) shortlist(s *eval.Shortlist) {
	p.set["shortlist "+s.ID] = true
	p.raw(markup(`<figure class="shortlist"`))
	p.id("shortlist", s.ID)
	p.raw(markup(`><figcaption><span class="lab">Shortlist</span> `), s.ID, " ")
	p.place(s.Position)
	p.raw(markup(`</figcaption><div class="wide" tabindex="0" role="group" aria-label="Candidates"><table><thead><tr><th scope="col">Candidate</th>`))
	for _, c := range s.Criteria {
		p.raw(markup(`<th scope="col" class="typed">`), c, markup(`</th>`))
	}
	p.raw(markup(`</tr></thead><tbody>`))
	for i, name := range s.Candidates {
		p.raw(markup(`<tr><th scope="row">`))
		p.link("part", name, name)
		if name == s.Choice {
			p.raw(markup(` <span class="chosen">chosen</span>`))
		}
		p.raw(markup(`</th>`))
		if i < len(s.Cells) {
			for k := range s.Cells[i] {
				p.shortlistCell(&s.Cells[i][k])
			}
		}
		p.raw(markup(`</tr>`))
	}
	p.raw(markup(`</tbody></table></div>`))
	if s.Reason != "" {
		p.raw(markup(`<p><span class="lab">Reason</span> `), s.Reason, markup(`</p>`))
	}
	p.raw(markup("</figure>\n"))
}

func (p *page) shortlistCell(c *eval.ShortlistCell) {
	p.raw(markup(`<td><span class="v v-`), c.Verdict, markup(`">`), c.Verdict, markup(`</span> <span class="num">`), c.Text, markup(`</span>`))
	if c.Margin != "" {
		p.raw(markup(` <span class="small">margin `), c.Margin, markup(`</span>`))
	}
	if len(c.Cites) > 0 {
		p.raw(" ")
		p.citeLine(c.Cites)
	}
	p.raw(markup(`</td>`))
}

func (p *page) readingTable(names []string) {
	names = slices.DeleteFunc(slices.Clone(names), func(n string) bool { return p.set["reading "+n] })
	if len(names) == 0 {
		return
	}
	p.raw(markup(`<div class="wide" tabindex="0" role="group" aria-label="Readings"><table class="readings"><caption>Readings on the built board</caption><thead><tr><th scope="col">Quantity</th><th scope="col">Reading</th><th scope="col">Predicted</th><th scope="col">Verdict</th><th scope="col">Settles</th></tr></thead><tbody>`))
	for _, name := range names {
		p.set["reading "+name] = true
		for i := range p.r.Readings {
			if r := &p.r.Readings[i]; r.Name == name {
				p.reading(r)
			}
		}
	}
	p.raw(markup("</tbody></table></div>\n"))
}

func (p *page) reading(r *eval.Reading) {
	p.raw(markup(`<tr><th scope="row">`))
	p.name(r.Name)
	p.raw(markup(`</th><td class="num">`), r.Reading, markup(`</td><td class="num">`), r.Predicted, markup(`</td><td><span class="v v-`), r.Verdict, markup(`">`), r.Verdict, markup(`</span> `), r.Text, " ")
	for i := range r.Cites {
		p.citeWords(&r.Cites[i])
	}
	p.raw(markup(`</td><td>`))
	p.link("claim", r.Settles, r.Settles)
	p.raw(markup(`</td></tr>`))
}
