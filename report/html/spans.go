package html

import (
	"strings"

	"guardband/report/draw"
	"guardband/report/outline"
)

// dress is the element of a style, in the order in which they nest.
var dress = []struct {
	style       outline.Style
	open, close markup
}{
	{outline.Quiet, `<span class="quiet">`, `</span>`}, {outline.Notice, `<span class="notice">`, `</span>`},
	{outline.Strong, `<strong>`, `</strong>`}, {outline.Emphasis, `<em>`, `</em>`}, {outline.Struck, `<del>`, `</del>`},
	{outline.Raised, `<sup>`, `</sup>`}, {outline.Code, `<code>`, `</code>`},
}

// marks are those of a formula: its fractions are set one over the other and its
// exponents raised, with a sign for whoever copies it.
var marks = map[outline.Style]markup{
	outline.Over: `<span class="fr"><span>`, outline.Under: `</span><span class="us"> / </span><span>`, outline.Whole: `</span></span>`,
	outline.Up: `<span class="us">^</span><sup>`, outline.Down: `</sup>`, outline.Flat: "",
}

func (p *page) spans(t outline.Text) {
	for i := range t {
		p.span(&t[i])
	}
}

func (p *page) span(s *outline.Span) {
	if s.Text == "\n" {
		p.raw(markup(`<br>`))
		return
	}
	if mark := s.Style &^ outline.Exponent; mark >= outline.Over {
		p.raw(marks[mark])
		return
	}
	if s.Verdict != "" {
		p.raw(markup(`<span class="v v-`), string(s.Verdict), markup(`">`))
		p.link(s.To, s.Text)
		p.raw(markup(`</span>`))
		return
	}
	for _, d := range dress {
		if s.Style&d.style != 0 {
			p.raw(d.open)
		}
	}
	href, linked := p.target(s)
	if linked {
		p.raw(markup(`<a`), markup(attr("href", href)))
		if s.URL != "" {
			p.raw(markup(` rel="noreferrer"`))
		}
		p.raw(markup(`>`))
	}
	if s.Style&outline.Name != 0 {
		p.name(s.Text)
	} else {
		p.text(s.Text)
	}
	if linked {
		p.raw(markup(`</a>`))
	}
	for i := len(dress) - 1; i >= 0; i-- {
		if s.Style&dress[i].style != 0 {
			p.raw(dress[i].close)
		}
	}
}

// target is where a span leads: a place of the page, an address that a reader
// may follow, a file of the notes.
func (p *page) target(s *outline.Span) (string, bool) {
	switch {
	case s.To != "":
		return "#" + idOf(s.To), p.o.Anchors[s.To]
	case s.URL != "":
		href, ok := address(s.URL)
		if ok && !strings.Contains(href, ":") {
			return fileURL(p.opt.Base, s.URL)
		}
		return href, ok
	case s.File != "":
		base := p.opt.Notes
		if base == "" || strings.HasPrefix(s.File, "../") || !strings.HasSuffix(s.File, ".md") {
			base = p.opt.Base
		}
		return fileURL(base, s.File)
	}
	return "", false
}

// link writes text as a link to a place that the page has, else as text.
func (p *page) link(place, text string) {
	p.span(&outline.Span{Text: text, To: place})
}

// name writes a name with italic symbol and subscript.
func (p *page) name(name string) {
	n := draw.SplitName(name)
	p.raw(markup(`<span class="n">`), n.Path)
	if n.Italic {
		p.raw(markup(`<i>`), n.Base, markup(`</i>`))
	} else {
		p.text(n.Base)
	}
	if n.Sub != "" {
		p.raw(markup(`<span class="us">_</span><sub>`), n.Sub, markup(`</sub>`))
	}
	p.raw(markup(`</span>`))
}
