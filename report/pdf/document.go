// Package pdf writes a record as a PDF: it draws the record's outline on
// paper. What is said and in which order is the outline's; nothing is decided
// here but places on the page.
package pdf

import (
	"cmp"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"
	"time"

	"guardband/eval/record"
	"guardband/report/internal/words"
	"guardband/report/outline"
)

// Write prints the record, or the short version for a meeting: page one and
// what needs attention. The same record gives the same bytes: the dates in the
// file are those of the record. Errors are those of w.
func Write(w io.Writer, r *record.Record, short bool) error {
	p, err := newPage(dateOf(r.Design))
	if err != nil {
		return fmt.Errorf("pdf: %w", err)
	}
	d := newDocument(p, r, short)
	d.compose()
	if err := p.finish(w, d.running); err != nil {
		return fmt.Errorf("pdf: %w", err)
	}
	return nil
}

// dateOf is the day of the record, or the start of Unix time where it has
// none: never the clock.
func dateOf(d record.Design) time.Time {
	for _, s := range []string{d.AsOf, d.Date} {
		if t, err := time.Parse(time.DateOnly, s); err == nil {
			return t
		}
	}
	return time.Unix(0, 0).UTC()
}

// document is a record on its way to paper.
type document struct {
	*page
	r     *record.Record
	o     *outline.Document
	whole bool
	under int // level of the heading that the bookmarks hang claims below
}

func newDocument(p *page, r *record.Record, short bool) *document {
	return &document{page: p, r: r, o: outline.Make(r, short), whole: !short}
}

func (d *document) compose() {
	d.describe()
	d.bookmark(0, "Identity and verdict")
	d.mark("top")
	d.para(d.sp(small().in(soft), "Design review record"))
	d.space(2)
	d.para(d.sp(style{face: bold, size: 18, colour: ink}, cmp.Or(oneLine(d.r.Design.Title), "—")))
	d.space(5)
	d.blocks(d.o.Front)
	for i := range d.o.Chapters {
		c := &d.o.Chapters[i]
		d.chapter(c.Title, c.Anchor)
		d.blocks(c.Blocks)
		d.flush()
		if i == 0 && d.whole {
			d.contents()
		}
	}
	d.replacedCharacters()
}

// describe fills the file's own description.
func (d *document) describe() {
	c := d.g.clean
	d.f.SetTitle(c(oneLine(d.r.Design.Title)), true)
	d.f.SetAuthor(c(oneLine(d.r.Design.Author)), true)
	d.f.SetSubject(c("Design review record, revision "+cmp.Or(d.r.Design.Revision, "—")+", "+words.Counts(d.r.Summary)), true)
	d.f.SetCreator(c(oneLine(d.r.Design.Tool)), true)
	d.f.SetProducer(c(oneLine(d.r.Design.Tool)), true)
	d.f.SetLang("en")
}

// contents lists the chapters and the upper headings of the notes with their
// pages, in two columns.
func (d *document) contents() {
	type entry struct {
		title, anchor string
		indent        float64
	}
	var es []entry
	for _, c := range d.o.Chapters {
		es = append(es, entry{c.Title, "chapter:" + c.Anchor, 0})
		for _, h := range c.Entries {
			es = append(es, entry{h.Title, h.Anchor, 10})
		}
	}
	const line = 11.2
	half := (len(es) + 1) / 2
	d.space(12)
	d.keep(16, func() { d.text(d.x, d.y+9, body().with(bold), "Contents") })
	d.ready(min(line*float64(half), 120))
	colW := (d.w - 22) / 2
	for i := 0; i < half; i++ {
		d.ready(line)
		for c, j := range []int{i, half + i} {
			if j >= len(es) || c == 1 && j < half {
				continue
			}
			e := es[j]
			x := d.x + float64(c)*(colW+22)
			st := small().keepTo(e.anchor)
			if e.indent == 0 {
				st.face = bold
			}
			end := d.text(x+e.indent, d.y+8, st, d.fit(e.title, st.face, st.size, colW-40-e.indent))
			d.late = append(d.late, lateText{d.sheet(), x + colW, d.y + 8, small(), func() string { return d.number(e.anchor) }, end + 4})
		}
		d.y += line
	}
}

// replacedCharacters lists what the document's fonts could not set.
func (d *document) replacedCharacters() {
	var list []string
	for _, r := range slices.Sorted(maps.Keys(d.g.replaced)) {
		if shown := d.g.replaced[r]; shown != "" {
			list = append(list, fmt.Sprintf("U+%04X as %s", r, shown))
		} else {
			list = append(list, fmt.Sprintf("U+%04X left out (it prints nothing)", r))
		}
	}
	if len(list) == 0 {
		return
	}
	text := "Characters that this document's fonts do not have, and what is printed in their place: " + strings.Join(list, ", ")
	d.space(4)
	d.para(d.sp(small().in(soft), text+"."))
}

// running sets the head and foot of a page.
func (d *document) running(p *page, n, of int) {
	st := tiny()
	right := words.Counts(d.r.Summary)
	rw := p.g.stringWidth(bold, st.size, right)
	y := p.top - 22
	p.text(p.right-rw, y, st.with(bold), right)
	left := d.r.Design.Title + " · revision " + cmp.Or(d.r.Design.Revision, "—")
	p.text(p.left, y, st, p.fit(left, regular, st.size, p.right-p.left-rw-12))
	p.line(p.left, y+5, p.right, y+5, 0.4, hairline)

	y = p.bottom + 22
	p.line(p.left, y-10, p.right, y-10, 0.4, hairline)
	foot := "Page " + itoa(n) + " of " + itoa(of)
	fw := p.g.stringWidth(regular, st.size, foot)
	p.text(p.right-fw, y, st, foot)
	about := "Design review record, as of " + cmp.Or(d.r.Design.AsOf, "—")
	if d.r.Design.Commit != "" {
		about += " · commit " + d.r.Design.Commit
	}
	p.text(p.left, y, st, p.fit(about, regular, st.size, p.right-p.left-fw-12))
}

// fit cuts a line with an ellipsis where it is wider than w.
func (p *page) fit(s string, f faceID, size, w float64) string {
	s = oneLine(p.g.clean(s))
	if p.g.stringWidth(f, size, s) <= w {
		return s
	}
	room := w - p.g.stringWidth(f, size, "…")
	sum, at := 0.0, 0
	for i, r := range s {
		if sum += p.g.stringWidth(f, size, string(r)); sum > room {
			break
		}
		at = i + len(string(r))
	}
	return s[:at] + "…"
}
