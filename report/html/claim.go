package html

import (
	"strings"

	"guardband/eval"
	"guardband/report/internal/words"
)

// heading opens a heading that never skips a level below the one before.
func (p *page) heading(level int) markup {
	level = max(3, min(6, level, p.level+1))
	p.level = level
	return markup([]string{"h3", "h4", "h5", "h6"}[level-3])
}

// claim writes a claim in full: sentence, verdict, criteria with numbers and
// margin, what it rests on, evidence.
func (p *page) claim(c *eval.Claim, level int) {
	before := p.level
	h := p.heading(level)
	p.raw(markup(`<article class="claim"`))
	p.id("claim", c.ID)
	p.attr("data-verdict", string(c.Verdict))
	p.raw(markup(`><`), h, markup(`><span class="v v-`), c.Verdict, markup(`">`), c.Verdict, markup(`</span> `))
	p.link("claim", c.ID, c.ID)
	p.raw(markup(`</`), h, markup(`><p class="statement">`), c.Statement, markup(`</p>`))
	p.claimMeta(c)
	for i := range c.Criteria {
		p.criterion(c, &c.Criteria[i])
	}
	p.inspection(c.Inspection)
	p.openPoints(c.Open)
	p.waiver(c)
	p.claimNotes(c)
	p.rests(c)
	p.cites(c.Cites)
	p.raw(markup("</article>\n"))
	p.set["claim "+c.ID] = true
	p.level = before
}

func (p *page) claimMeta(c *eval.Claim) {
	p.raw(markup(`<p class="meta">`))
	if c.Headline != "" {
		p.raw(markup(`<strong>`), c.Headline, markup(`</strong> · `))
	}
	kind := words.Join(", ", c.Method, c.Analysis)
	if c.Kind == "built-in" {
		kind = words.Join(", ", "built-in check "+c.Check, c.Analysis)
	}
	p.raw(words.Join(" · ", kind, statesText(c.States)), " ")
	p.place(c.Position)
	p.raw(markup(`</p>`))
	if c.Rule != "" {
		p.raw(markup(`<p class="small">Rule: `), c.Rule, " ")
		if c.RuleSource != "" {
			p.raw("Source: ", c.RuleSource, ".")
		}
		p.raw(markup(`</p>`))
	}
}

func statesText(states []string) string {
	if len(states) == 0 {
		return ""
	}
	return "in " + strings.Join(states, ", ")
}

func (p *page) inspection(in *eval.Inspection) {
	if in == nil {
		return
	}
	p.raw(markup(`<p><span class="lab">Inspection</span> `), in.Text, markup(`</p><p><span class="lab">Result</span> `))
	if in.Result == "" {
		p.raw("none yet")
	} else {
		p.raw(words.Join(", ", in.Result, in.Date, in.Person, in.Note))
	}
	p.raw(markup(`</p>`))
}

func (p *page) openPoints(points []eval.OpenPoint) {
	if len(points) == 0 {
		return
	}
	p.raw(markup(`<ul class="open">`))
	for _, o := range points {
		p.raw(markup(`<li><span class="lab">`), o.Reason, markup(`</span> `), o.Text)
		if o.Settle != "" {
			p.raw(markup(` <span class="settle">What would settle it: `), o.Settle)
			if o.Source != "" {
				p.raw(" (")
				p.link("source", o.Source, words.Join(" ", o.Source, o.Page))
				p.raw(")")
			}
			p.raw(markup(`.</span>`))
		}
		p.raw(markup(`</li>`))
	}
	p.raw(markup(`</ul>`))
}

func (p *page) waiver(c *eval.Claim) {
	w := c.Waiver
	if w == nil {
		return
	}
	p.raw(markup(`<p class="waiver"><span class="lab">Waiver</span> `))
	if c.Under != "" {
		p.raw(c.Under, " without it. ")
	}
	p.raw("Until ", w.Until, ", ", w.Person, ": ", w.Reason)
	if w.Accepts != "" {
		p.raw(" Accepts ", w.Accepts, ".")
	}
	if !w.InForce {
		p.raw(markup(` <strong>Not in force: `), w.Why, markup(`.</strong>`))
	}
	p.raw(markup(`</p>`))
}

// claimNotes are the reason, requirements, cautions and actions of a claim.
func (p *page) claimNotes(c *eval.Claim) {
	for _, id := range c.Safety {
		for i := range p.r.Safety {
			if s := &p.r.Safety[i]; s.ID == id {
				p.raw(markup(`<p class="beside"><span class="word">`), s.Word, markup(`</span> `))
				p.link("caution", s.ID, s.Hazard)
				if len(s.Text) > 0 {
					p.raw(": ", s.Text[0])
				}
				p.raw(markup(`</p>`))
			}
		}
	}
	if c.Reason != "" && c.Verdict != eval.Skipped { // whose headline gives it
		p.raw(markup(`<p><span class="lab">Reason</span> `), c.Reason, markup(`</p>`))
	}
	if len(c.Meets) > 0 {
		p.raw(markup(`<p><span class="lab">Meets</span> `), strings.Join(c.Meets, ", "), markup(`</p>`))
	}
	for _, a := range c.Actions {
		p.raw(markup(`<p><span class="lab">Action `), a.ID, markup(`</span> `), a.Text, " ", words.Join(", ", a.Owner, "due "+a.Due))
		if a.Closed != "" {
			p.raw(", closed ", a.Closed)
		}
		p.raw(markup(`</p>`))
	}
}

// rests is the table of facts and values a claim rests on, and what it assumes.
func (p *page) rests(c *eval.Claim) {
	if len(c.RestsOn) > 0 {
		p.raw(markup(`<table class="rests"><caption>Rests on</caption><thead><tr><th scope="col">Name</th><th scope="col">Value</th><th scope="col">Conditions</th><th scope="col">Page</th></tr></thead><tbody>`))
		for _, b := range c.RestsOn {
			p.raw(markup(`<tr><td>`))
			p.basis(b.Name)
			p.raw(markup(`</td><td class="num">`), b.Shown, markup(`</td><td>`), b.At, markup(`</td><td>`))
			p.citeLine(b.Cites)
			if b.Assumed != "" {
				p.raw(markup(`<span class="assumed">assumed: `), b.Assumed, markup(`</span>`))
			}
			p.raw(markup(`</td></tr>`))
		}
		p.raw(markup(`</tbody></table>`))
	}
	for _, i := range c.Assumes {
		if i >= 0 && i < len(p.r.Assumptions) {
			p.raw(markup(`<p class="small"><span class="lab">Assumes</span> `), p.r.Assumptions[i].Text, markup(`</p>`))
		}
	}
}

// attention sets, in the short version, the listed claims in full; in the
// full page it sums each up and links to its place in the notes.
func (p *page) attention() {
	if p.opt.Only != "" {
		p.raw(markup("<main>\n"))
	}
	p.open("attention")
	if len(p.r.Attention) == 0 {
		p.raw(markup(`<p>Nothing: there are no claims.</p>`))
	}
	p.filtered()
	thin := false
	for i, id := range p.r.Attention {
		c := p.index.claims[id]
		if c != nil && c.Verdict == eval.Passed && !thin {
			thin = true
			p.thinnest(i == 0)
		}
		switch {
		case c == nil:
		case p.opt.Only != "":
			p.claim(c, 3)
		default:
			p.brief(c)
		}
	}
	p.close()
}

// thinnest says that what follows has passed.
func (p *page) thinnest(nothing bool) {
	p.raw(markup(`<p class="thin">`))
	if nothing {
		p.raw("Nothing failed, is open or waived. ")
	}
	p.raw("The claims that passed with the thinnest margins:", markup("</p>\n"))
}

// brief is the sentence, the numbers, the corner and the pages of a claim.
func (p *page) brief(c *eval.Claim) {
	p.raw(markup(`<article class="brief"`))
	p.id("attention", c.ID)
	p.attr("data-verdict", string(c.Verdict))
	p.raw(markup(`><h3><span class="v v-`), c.Verdict, markup(`">`), c.Verdict, markup(`</span> `))
	p.link("claim", c.ID, c.ID)
	p.raw(markup(`</h3><p class="statement">`), c.Statement, markup(`</p><p class="meta"><strong>`), c.Headline, markup(`</strong> `))
	p.place(c.Position)
	p.raw(markup(`</p>`))
	for i := range c.Criteria {
		k := &c.Criteria[i]
		if k.Verdict == c.Verdict || c.Verdict == eval.Waived && k.Verdict != eval.Passed {
			p.margins(k)
			p.corner(k)
			p.openPoints(k.Open)
		}
	}
	p.openPoints(c.Open)
	p.waiver(c)
	if len(c.Cites) > 0 {
		p.raw(markup(`<p class="small"><span class="lab">Pages</span> `))
		p.citeLine(c.Cites)
		p.raw(markup(`</p>`))
	}
	p.raw(markup("</article>\n"))
}
