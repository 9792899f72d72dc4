package html

import (
	"fmt"

	"guardband/eval"
	"guardband/report/internal/words"
)

// summary is the verdict count as a sentence, as a bar to scale, and as the
// choice of what the page shows.
func (p *page) summary() {
	s := p.r.Summary
	n := words.Total(s)
	p.raw(markup("<section class=\"summary\" aria-labelledby=\"summary\"><h2 id=\"summary\">Verdicts</h2>\n<p class=\"lead\">"))
	if n == 0 {
		p.raw("The notebook holds no claims, so nothing is judged.")
	} else {
		p.raw(words.Plural(n, "claim", "claims"), ": ", words.Counts(s), ".")
	}
	if s.Errors+s.Warnings > 0 {
		p.raw(" The notebook has ", words.Plural(s.Errors, "error", "errors"), " and ", words.Plural(s.Warnings, "warning", "warnings"), ".")
	}
	p.raw(markup("</p>\n"))
	if n > 0 {
		p.bar(s)
		if p.opt.Only == "" {
			p.filter(s, n)
		}
	}
	p.stale()
	p.raw(markup("</section>\n"))
}

func (p *page) bar(s eval.Summary) {
	p.raw(markup(`<div class="bar" aria-hidden="true">`))
	for _, v := range words.Verdicts {
		if c := words.Count(s, v); c > 0 {
			p.raw(markup(`<span class="b-`), v, markup(`" style="flex-grow:`), c, markup(`"></span>`))
		}
	}
	p.raw(markup("</div>\n"))
}

// filter is a set of radio buttons that the style sheet alone obeys; the
// script adds the search field.
func (p *page) filter(s eval.Summary, n int) {
	p.raw(markup(`<fieldset class="filter"><legend>Show claims that are</legend>`))
	p.raw(markup(`<label><input type="radio" name="show" id="show-all" checked> all <b>`), n, markup(`</b></label>`))
	for _, v := range words.Verdicts {
		if c := words.Count(s, v); c > 0 {
			p.raw(markup(`<label><input type="radio" name="show" id="show-`), v, markup(`"> <span class="v v-`), v, markup(`">`), v, markup(`</span> <b>`), c, markup(`</b></label>`))
		}
	}
	p.raw(markup("<span class=\"search\" hidden><label for=\"search\">with the words</label> <input type=\"search\" id=\"search\" autocomplete=\"off\"></span></fieldset>\n<p class=\"status small\" role=\"status\" id=\"found\"></p>\n"))
}

// stale says which documents changed and which citations did not hold.
func (p *page) stale() {
	var changed []string
	missing := 0
	for _, s := range p.r.Sources {
		if s.Changed {
			changed = append(changed, s.ID)
		}
		missing += s.Checked["not found"] + s.Checked["no page"]
	}
	if len(changed) == 0 && missing == 0 {
		return
	}
	p.raw(markup(`<p>`))
	if missing > 0 {
		p.raw(words.Plural(missing, "citation is", "citations are"), " not on the cited page. ")
	}
	if len(changed) > 0 {
		p.raw("Changed since the digest was recorded: ")
		for i, id := range changed {
			if i > 0 {
				p.raw(", ")
			}
			p.link("source", id, id)
		}
		p.raw(".")
	}
	p.raw(markup("</p>\n"))
}

// contents lists the sections and the first two levels of headings of the notes.
func (p *page) contents() {
	p.raw(markup("<nav class=\"contents\" aria-labelledby=\"contents\"><h2 id=\"contents\">Contents</h2>\n<ol>"))
	for i, s := range p.plan {
		p.raw(markup(`<li><a href="#`), s.id, markup(`"><span class="no">`), i+1, markup(`</span> `), s.name, markup(`</a>`))
		if s.id == "notes" {
			p.noteContents()
		}
		p.raw(markup("</li>"))
	}
	p.raw(markup("</ol></nav>\n<main>\n"))
}

// maxContents keeps the contents of a long notebook to about a page.
const maxContents = 60

func (p *page) noteContents() {
	n := 0
	for b, book := range p.r.Content {
		for i, node := range book.Nodes {
			if node.Kind != "heading" || node.Level > 2 || b > 0 && node.Level > 1 {
				continue
			}
			if n++; n > maxContents {
				continue
			}
			if n == 1 {
				p.raw(markup(`<ol>`))
			}
			p.raw(markup(`<li><a`))
			p.attr("href", "#"+headingID(b, i))
			p.raw(markup(`>`), nodeText(node), markup(`</a></li>`))
		}
	}
	if n > maxContents {
		p.raw(markup(`<li>and `), n-maxContents, markup(` more</li>`))
	}
	if n > 0 {
		p.raw(markup(`</ol>`))
	}
}

// headingID is the anchor of a heading of the notes: its place in the record,
// since two headings may read the same.
func headingID(book, node int) string { return fmt.Sprintf("note-%d-%d", book+1, node+1) }

// open starts a section of the body with its number.
func (p *page) open(id string) {
	number, name := "", id
	for i, s := range p.plan {
		if s.id == id {
			number, name = fmt.Sprint(i+1), s.name
		}
	}
	if number == "" {
		name = sectionNames[id]
	}
	p.raw(markup(`<section aria-labelledby="`), id, markup(`"><h2 id="`), id, markup(`">`))
	if number != "" {
		p.raw(markup(`<span class="no">`), number, markup(`</span> `))
	}
	p.raw(name, markup("</h2>\n"))
	p.level = 2
	p.side = 0
}

// sectionNames are the headings of the short version.
var sectionNames = map[string]string{
	"attention": "Needs attention", "errors": "Errors and warnings of the notebook", "look-up": "To look up",
	"actions": "Review and actions", "limits": "Limits of this record",
}

func (p *page) close() { p.raw(markup("</section>\n")) }

// filtered says that the filter leaves claims out, wherever it does.
func (p *page) filtered() {
	p.raw(markup(`<p class="filtered small">Only some claims are shown. <a href="#summary">Change what is shown</a></p>`))
}

func (p *page) foot() {
	p.raw(markup("</main>\n"))
	p.pictureStore()
	p.raw(markup("<script>"), markup(script), markup("</script>\n"))
	if p.opt.Events != "" {
		p.raw(markup("<script>"), markup(reload(p.opt.Events)), markup("</script>\n"))
	}
	p.raw(markup("</body>\n</html>\n"))
}
