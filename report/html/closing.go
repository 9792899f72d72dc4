package html

import (
	"guardband/eval"
	"guardband/report/draw"
	"guardband/report/internal/words"
)

// errors lists what the compiler has to say about the notebook.
func (p *page) errors() {
	if len(p.r.Diagnostics) == 0 {
		return
	}
	p.open("errors")
	for _, d := range p.r.Diagnostics {
		p.raw(markup(`<div class="diagnostic"><p><span class="lab">`), d.Severity, markup(`</span> `), d.Message, " ")
		p.place(&eval.Position{File: d.File, Line: d.Line, Column: d.Column})
		p.raw(" ", markup(`<span class="small">`), d.Code, markup(`</span></p>`))
		if d.Source != "" {
			p.raw(markup(`<pre tabindex="0">`), d.Source, markup(`</pre>`))
		}
		if d.Hint != "" {
			p.raw(markup(`<p>`), d.Hint, markup(`</p>`))
		}
		for _, r := range d.Related {
			p.raw(markup(`<p class="small">`), r.Message, " ")
			p.place(&r.Position)
			p.raw(markup(`</p>`))
		}
		p.raw(markup("</div>\n"))
	}
	p.close()
}

// lookUp is the list to take to the data sheets.
func (p *page) lookUp() {
	if len(p.r.LookUp) == 0 {
		return
	}
	p.open("look-up")
	p.raw(markup(`<div class="wide" tabindex="0" role="group" aria-label="To look up"><table><thead><tr><th scope="col">Document and page</th><th scope="col">What to find</th><th scope="col">Settles</th></tr></thead><tbody>`))
	for _, l := range p.r.LookUp {
		p.raw(markup(`<tr><th scope="row">`))
		p.link("source", l.Source, words.Join(" ", l.Source, l.Page))
		p.raw(markup(`</th><td>`), l.Text, markup(`</td><td>`))
		p.claimLinks(l.Claims)
		p.raw(markup(`</td></tr>`))
	}
	p.raw(markup("</tbody></table></div>\n"))
	p.close()
}

func (p *page) assumptions() {
	p.open("assumptions")
	p.raw(markup(`<div class="wide" tabindex="0" role="group" aria-label="Assumptions"><table><thead><tr><th scope="col">Taken as given</th><th scope="col">Kind</th><th scope="col">Claims that rest on it</th><th scope="col">Place</th></tr></thead><tbody>`))
	for _, a := range p.r.Assumptions {
		p.raw(markup(`<tr><td>`), a.Text, markup(`</td><td>`), a.Kind, markup(`</td><td>`))
		p.claimLinks(a.Claims)
		p.raw(markup(`</td><td>`))
		p.place(a.Position)
		p.raw(markup(`</td></tr>`))
	}
	p.raw(markup("</tbody></table></div>\n"))
	p.close()
}

func (p *page) waivers() {
	p.open("waivers")
	p.raw(markup(`<div class="wide" tabindex="0" role="group" aria-label="Waivers"><table><thead><tr><th scope="col">Claim</th><th scope="col">Without it</th><th scope="col">Until</th><th scope="col">Who</th><th scope="col">Reason</th><th scope="col">In force</th></tr></thead><tbody>`))
	for i := range p.r.Claims {
		c := &p.r.Claims[i]
		w := c.Waiver
		if w == nil {
			continue
		}
		force := "yes"
		if !w.InForce {
			force = words.Join(": ", "no", w.Why)
		}
		p.raw(markup(`<tr><th scope="row">`))
		p.link("claim", c.ID, c.ID)
		p.raw(markup(`</th><td>`), c.Under, markup(`</td><td class="num">`), w.Until, markup(`</td><td>`), w.Person, markup(`</td><td>`), w.Reason)
		if w.Accepts != "" {
			p.raw(" Accepts ", w.Accepts, ".")
		}
		p.raw(markup(`</td><td>`), force, markup(`</td></tr>`))
	}
	p.raw(markup("</tbody></table></div>\n"))
	p.close()
}

func (p *page) actions() {
	r := p.r.Review
	if len(r.Actions)+len(r.Participants) == 0 {
		return
	}
	p.open("actions")
	p.fields(r.Participants)
	if len(r.Actions) > 0 {
		p.raw(markup(`<div class="wide" tabindex="0" role="group" aria-label="Actions"><table><thead><tr><th scope="col">Action</th><th scope="col">Claim</th><th scope="col">What</th><th scope="col">Owner</th><th scope="col">Due</th><th scope="col">Closed</th></tr></thead><tbody>`))
		for _, a := range r.Actions {
			p.raw(markup(`<tr><th scope="row">`), a.ID, markup(`</th><td>`))
			p.link("claim", a.Claim, a.Claim)
			p.raw(markup(`</td><td>`), a.Text, markup(`</td><td>`), a.Owner, markup(`</td><td class="num">`), a.Due, markup(`</td><td>`), orElse(a.Closed, "open"), markup(`</td></tr>`))
		}
		p.raw(markup(`</tbody></table></div>`))
	}
	p.close()
}

// window is one line of the bring-up table: what to measure and where it must lie.
type window struct {
	claim, state string
	bar          draw.Bar
	text         string
}

// windows lists the comparisons that a measurement on the board can answer:
// those of one range against limits without spread.
func (p *page) windows() []window {
	var out []window
	for i := range p.r.Claims {
		c := &p.r.Claims[i]
		if c.Kind == "shortlist" || c.Verdict == eval.Skipped {
			continue
		}
		for k := range c.Criteria {
			for _, b := range draw.Bars(c.Criteria[k].Tests) {
				out = append(out, window{c.ID, c.Criteria[k].State, b, b.ValueText})
			}
		}
	}
	return out
}

func (p *page) bringUp() {
	p.open("bring-up")
	p.raw(markup(`<p>What to measure on the board, where the claims put it, and room for the reading with its instrument. Read the cautions first.</p><div class="wide" tabindex="0" role="group" aria-label="Bring-up table"><table class="bringup"><thead><tr><th scope="col">Claim</th><th scope="col">Measure</th><th scope="col">At least</th><th scope="col">At most</th><th scope="col">Predicted</th><th scope="col">Reading</th><th scope="col">Instrument</th></tr></thead><tbody>`))
	for _, w := range p.windows() {
		p.raw(markup(`<tr><th scope="row">`))
		p.link("claim", w.claim, w.claim)
		p.raw(markup(`</th><td>`))
		p.name(w.text)
		if w.state != "" {
			p.raw(" in ", w.state)
		}
		p.raw(markup(`</td><td class="num">`), label(w.bar.Low), markup(`</td><td class="num">`), label(w.bar.High), markup(`</td><td class="num">`), w.bar.ValueLabel, markup("</td><td class=\"blank\"></td><td class=\"blank\"></td></tr>\n"))
	}
	p.raw(markup("</tbody></table></div>\n"))
	p.close()
}

func label(b *draw.Bound) string {
	if b == nil {
		return ""
	}
	return b.Label
}

// sources is the register of documents and of the notebooks themselves.
func (p *page) sources() {
	p.open("sources")
	if len(p.r.Sources) > 0 {
		p.raw(markup(`<div class="wide" tabindex="0" role="group" aria-label="Documents"><table class="sources"><thead><tr><th scope="col">Document</th><th scope="col">Title</th><th scope="col">Revision</th><th scope="col">File and digest</th><th scope="col">State</th><th scope="col">Citations by check</th></tr></thead><tbody>`))
		for i := range p.r.Sources {
			p.source(&p.r.Sources[i])
		}
		p.raw(markup("</tbody></table></div>\n"))
	}
	if len(p.r.Design.Notebooks) > 0 {
		p.raw(markup(`<div class="wide" tabindex="0" role="group" aria-label="Notebooks"><table><caption>Notebooks</caption><thead><tr><th scope="col">File</th><th scope="col">SHA-256</th></tr></thead><tbody>`))
		for _, n := range p.r.Design.Notebooks {
			p.raw(markup(`<tr><td>`))
			p.file(n.Path, "", n.Path)
			p.raw(markup(`</td><td class="hash">`), n.SHA256, markup(`</td></tr>`))
		}
		p.raw(markup("</tbody></table></div>\n"))
	}
	p.close()
}

// grades in the order in which they are listed, with their words.
var grades = []struct{ key, words string }{
	{"words", "words found"}, {"numbers", "numbers found"}, {"page", "page exists"}, {"read by a person", "read by a person"}, {"no text", "no text layer"}, {"no file", "no file"},
	{"not checked", "not checked"}, {"other revision", "other revision"}, {"no page", "no such page"}, {"not found", "not on the page"},
}

func (p *page) source(s *eval.Source) {
	p.raw(markup(`<tr`))
	p.id("source", s.ID)
	p.raw(markup(`><th scope="row">`), s.ID, markup(`</th><td>`), s.Title)
	if s.Issuer != "" {
		p.raw(markup(`<span class="small block">`), s.Issuer, markup(`</span>`))
	}
	if s.Corrects != "" {
		p.raw(markup(`<span class="small block">corrects `), s.Corrects, markup(`</span>`))
	}
	p.raw(markup(`</td><td>`), words.Join(", ", s.Revision, s.Date), markup(`</td><td>`))
	p.fileFrom(p.opt.Base, s.File, "", s.File)
	if s.SHA256 != "" {
		p.raw(markup(`<span class="hash block">`), s.SHA256, markup(`</span>`))
	}
	p.raw(markup(`</td><td><span class="grade`))
	if s.Changed {
		p.raw(markup(` bad`))
	}
	p.raw(markup(`">`), s.State, markup(`</span>`))
	if s.Pages > 0 {
		p.raw(markup(`<span class="small block">`), words.Plural(s.Pages, "page", "pages"), markup(`</span>`))
	}
	p.raw(markup(`</td><td>`))
	first := true
	for _, g := range grades {
		if n := s.Checked[g.key]; n > 0 {
			if !first {
				p.raw(", ")
			}
			first = false
			p.raw(g.words, " ", n)
		}
	}
	if first {
		p.raw("not cited")
	}
	p.raw(markup("</td></tr>\n"))
}

// signOff leaves lines to sign on paper.
func (p *page) signOff() {
	p.open("sign-off")
	p.raw(markup(`<div class="wide" tabindex="0" role="group" aria-label="Sign-off"><table class="sign"><thead><tr><th scope="col">Role</th><th scope="col">Name</th><th scope="col">Accepted, accepted with actions, or rejected</th><th scope="col">Signature</th><th scope="col">Date</th></tr></thead><tbody>`))
	people := p.r.Review.Participants
	if len(people) == 0 {
		people = []eval.Field{{Name: p.r.Design.Author, Value: "author"}, {Value: "reviewer"}}
	}
	for _, f := range people {
		p.raw(markup(`<tr><th scope="row">`), f.Value, markup(`</th><td>`), f.Name, markup(`</td><td class="blank"></td><td class="blank"></td><td class="blank"></td></tr>`))
	}
	p.raw(markup("</tbody></table></div>\n"))
	p.close()
}

// limits says what the record is not. No option leaves it out.
func (p *page) limits() {
	p.open("limits")
	p.raw(markup(`<ul>
<li>This record is computed from the entries of the notebook and the documents it names. It is no certificate, no test report and no approval by any authority.</li>
<li>Passed means true for every value that the noted facts allow, under the assumptions listed. A fact left out, mistyped or not true of the piece in hand lies outside of it.</li>
<li>A checked citation shows that words or numbers stand on a page. Whether they are the right ones, a person judges.</li>
<li>Where mains, batteries, stored energy, heat or motion can hurt someone, the applicable standard, the local code and the judgement of a licensed or qualified person come before this record. Passing claims are no approval to energise.</li>
</ul>
`))
	p.close()
}
