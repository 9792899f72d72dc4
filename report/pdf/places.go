package pdf

import "io"

type place struct {
	page int
	y    float64
}

type link struct {
	page       int
	x, y, w, h float64
	anchor     string
}

// lateText is text whose content is known when all pages are: page numbers.
type lateText struct {
	page     int
	x, base  float64 // x is the right end
	style    style
	text     func() string
	leaderTo float64 // dots back to this x, 0 for none
}

// mark names the present place so that links can lead to it. Only the first
// place of a name counts.
func (p *page) mark(name string) {
	if _, ok := p.places[name]; !ok && name != "" {
		p.places[name] = place{p.sheet(), p.y}
	}
}

// markNext names the place of what comes next.
func (p *page) markNext(name string) {
	if name != "" {
		p.keep(0, func() { p.mark(name) })
	}
}

// bookmark adds an entry to the outline. fpdf takes its text for UTF-8 only
// while a UTF-8 font is current, and breaks when a level is left out.
func (p *page) bookmark(level int, text string) {
	if !p.set.ok {
		p.f.SetFont("text", "", bodySize)
	}
	level = min(level, p.level+1)
	p.level = level
	p.f.Bookmark(p.g.clean(text), level, p.y)
}

// finish resolves links and late texts, sets the running lines and writes.
func (p *page) finish(w io.Writer, running func(p *page, n, of int)) error {
	p.flush()
	p.drawBars(p.y)
	of := p.f.PageCount()
	next, nextLink := 0, 0
	for n := 1; n <= of; n++ {
		p.f.SetPage(n)
		p.set.ok, p.stroke, p.drawn = false, -1, rgb{1, 2, 3}
		p.f.SetFillColor(int(ink.r), int(ink.g), int(ink.b))
		p.fill = ink
		for ; nextLink < len(p.links) && p.links[nextLink].page == n; nextLink++ {
			p.resolve(p.links[nextLink])
		}
		for ; next < len(p.late) && p.late[next].page == n; next++ {
			p.drawLate(p.late[next])
		}
		running(p, n, of)
	}
	p.f.SetPage(of) // fpdf writes the pages up to the current one
	return p.f.Output(w)
}

func (p *page) resolve(l link) {
	to, ok := p.places[l.anchor]
	if !ok {
		return
	}
	id := p.f.AddLink()
	p.f.SetLink(id, max(0, to.y-6), to.page)
	p.f.Link(l.x, l.y, l.w, l.h, id)
}

func (p *page) drawLate(t lateText) {
	s := p.g.clean(t.text())
	w := p.g.stringWidth(t.style.face, t.style.size, s)
	p.run(t.x-w, t.base, t.style.face, t.style, s)
	if t.leaderTo > 0 {
		p.dots(t.leaderTo, t.x-w-4, t.base)
	}
}

// dots leads the eye from a title to its page number.
func (p *page) dots(from, to, base float64) {
	p.setStroke(0.5, hairline)
	p.f.SetDashPattern([]float64{0.5, 2.5}, 0)
	if to > from {
		p.f.Line(from, base-0.5, to, base-0.5)
	}
	p.f.SetDashPattern(nil, 0)
}

// number is the page of a place, "" where there is none.
func (p *page) number(anchor string) string {
	if to, ok := p.places[anchor]; ok {
		return itoa(to.page)
	}
	return ""
}
