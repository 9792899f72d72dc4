package html

import (
	"cmp"
	"encoding/base64"
	"encoding/binary"
	"fmt"
	"strings"

	"guardband/eval/record"
	"guardband/report/internal/words"
	"guardband/report/outline"
)

// pictures keeps every picture once; the page refers to it wherever it shows.
type pictures struct {
	index map[string]int
	list  []picture
}

type picture struct {
	uri  string
	w, h int
}

const pngURI = "data:image/png;base64,"

// add gives the number of a picture. Only PNG data is taken, so that a record
// cannot bring in an address or a scripted drawing.
func (ps *pictures) add(c *record.Cite) (int, bool) {
	if !strings.HasPrefix(c.Picture, pngURI) {
		return 0, false
	}
	if n, ok := ps.index[c.Picture]; ok {
		return n, true
	}
	w, h, ok := pngSize(c.Picture)
	if !ok {
		return 0, false
	}
	n := len(ps.list)
	ps.index[c.Picture] = n
	ps.list = append(ps.list, picture{c.Picture, w, h})
	return n, true
}

// pngSize reads the size from the header chunk of a PNG in a data URI.
func pngSize(uri string) (w, h int, ok bool) {
	for _, r := range uri[len(pngURI):] {
		if !(r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '+' || r == '/' || r == '=') {
			return 0, 0, false
		}
	}
	head := uri[len(pngURI):]
	if len(head) < 32 {
		return 0, 0, false
	}
	b, err := base64.StdEncoding.DecodeString(head[:32])
	if err != nil || string(b[:8]) != "\x89PNG\r\n\x1a\n" {
		return 0, 0, false
	}
	w, h = int(binary.BigEndian.Uint32(b[16:])), int(binary.BigEndian.Uint32(b[20:]))
	return w, h, w > 0 && h > 0 && w < 1<<16 && h < 1<<16
}

// evidence is each page that a claim rests on with how far it was checked and
// the picture of the cited lines.
func (p *page) evidence(cites []record.Cite) {
	p.raw(markup(`<ul class="evidence" aria-label="Evidence">`))
	for i := range cites {
		c := &cites[i]
		p.raw(markup(`<li>`))
		p.link(outline.PageAnchor(c.Source, c.Page), words.Join(" ", c.Source, c.Page))
		if c.Section != "" {
			p.raw(" §", c.Section)
		}
		if c.Quote != "" {
			p.raw(" “", c.Quote, "”")
		}
		if grade := cmp.Or(c.Text, c.Checked); grade != "" {
			p.raw(markup(` <span class="grade`), badGrade(c.Checked), markup(`">`), grade, markup(`</span>`))
		}
		if href, ok := fileURL(p.opt.Base, c.File); ok {
			if c.Counted > 0 {
				href += fmt.Sprintf("#page=%d", c.Counted)
			}
			p.raw(markup(` <a class="small screenonly"`))
			p.attr("href", href)
			p.raw(markup(`>open the page</a>`))
		}
		p.picture(c)
		p.raw(markup(`</li>`))
	}
	p.raw(markup("</ul>\n"))
}

// badGrade marks the grades that leave a claim open.
func badGrade(g string) markup {
	switch g {
	case "not found", "no page", "other revision":
		return " bad"
	}
	return ""
}

// picture shows the cited lines.
func (p *page) picture(c *record.Cite) {
	n, ok := p.pictures.add(c)
	if !ok {
		return
	}
	pic := p.pictures.list[n]
	p.raw(markup(`<svg class="lines" role="img" viewBox="0 0 `), pic.w, markup(` `), pic.h, markup(`" style="max-width:`), pic.w, markup(`px"`))
	p.attr("aria-label", "Cited lines of "+words.Join(" ", c.Source, c.Page)+": "+cmp.Or(c.Line, c.Quote))
	p.raw(markup(`><use href="#pic-`), n, markup(`"/></svg>`))
}

// pictureStore holds the pictures that the page refers to.
func (p *page) pictureStore() {
	if len(p.pictures.list) == 0 {
		return
	}
	p.raw(markup(`<svg class="store" aria-hidden="true" width="0" height="0"><defs>`))
	for n, pic := range p.pictures.list {
		p.raw(markup(`<image id="pic-`), n, markup(`" width="`), pic.w, markup(`" height="`), pic.h, markup(`"`))
		p.attr("href", pic.uri)
		p.raw(markup(`/>`))
	}
	p.raw(markup("</defs></svg>\n"))
}
