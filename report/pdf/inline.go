package pdf

import (
	"strconv"
	"strings"

	"guardband/eval"
)

func orDash(s string) string {
	if s == "" {
		return "—"
	}
	return s
}

// count is a number with its noun: "1 claim", "3 claims".
func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + many
}

// counts is the verdict count in words.
func (d *document) counts() string {
	s := d.r.Summary
	var parts []string
	for _, c := range []struct {
		n int
		v eval.Verdict
	}{{s.Failed, eval.Failed}, {s.Open, eval.Open}, {s.Waived, eval.Waived}, {s.Passed, eval.Passed}, {s.Skipped, eval.Skipped}} {
		if c.n > 0 {
			parts = append(parts, strconv.Itoa(c.n)+" "+string(c.v))
		}
	}
	if len(parts) == 0 {
		return "no claims"
	}
	return strings.Join(parts, ", ")
}

// verdict is the word with its mark in the verdict's colour.
func (d *document) verdict(v eval.Verdict, size float64) span {
	return span{style{face: bold, size: size, colour: verdictColour(v)}, verdictMark(v) + "\u00a0" + d.g.clean(string(v))}
}

// claimLink is a claim's ID, leading to where the claim stands.
func (d *document) claimLink(id string, st style) span {
	return d.code(st.to("claim:"+id), id)
}

// claimLinks are IDs parted by commas.
func (d *document) claimLinks(ids []string, st style) []span {
	var out []span
	for i, id := range ids {
		if i > 0 {
			out = append(out, d.sp(st, ", "))
		}
		out = append(out, d.claimLink(id, st))
	}
	return out
}

// cites are citations parted by blanks, each leading to its row in the
// list of pages. What was not found there is said in words.
func (d *document) cites(cs []eval.Cite, st style) []span {
	var out []span
	for i, c := range cs {
		if i > 0 {
			out = append(out, d.sp(st, "; "))
		}
		out = append(out, d.cite(c, st)...)
	}
	return out
}

func (d *document) cite(c eval.Cite, st style) []span {
	text := c.Source
	for _, s := range []string{c.Section, c.Page} {
		if s != "" {
			text += " " + s
		}
	}
	if c.Counted > 0 && c.Printed != "" && c.Printed != strconv.Itoa(c.Counted) {
		text += " (counted page " + strconv.Itoa(c.Counted) + ")"
	}
	out := []span{d.sp(st.to(pageAnchor(c)), text)}
	if note := graded(c.Checked); note != "" {
		out = append(out, d.sp(st.in(verdictColour(eval.Open)), " ("+note+")"))
	}
	return out
}

// graded is what is said beside a citation that was not found as it stands.
func graded(grade string) string {
	switch grade {
	case "words", "numbers", "":
		return ""
	case "page":
		return "page only"
	case "not found":
		return "not on the page"
	}
	return grade
}

// where is a place in the notes: file and line.
func (d *document) where(pos *eval.Position, st style) []span {
	if pos == nil || pos.File == "" {
		return nil
	}
	return []span{d.sp(st.in(soft), pos.File+":"+strconv.Itoa(pos.Line))}
}

// join puts groups of spans after one another with a separator between.
func (d *document) join(st style, sep string, groups ...[]span) []span {
	var out []span
	for _, g := range groups {
		if len(g) == 0 {
			continue
		}
		if len(out) > 0 {
			out = append(out, d.sp(st, sep))
		}
		out = append(out, g...)
	}
	return out
}

// newLine ends a line within a paragraph or a cell.
func newLine(st style) span { return span{st, "\n"} }

// words is one span of plain text as a list, for cells and joins.
func (d *document) words(st style, s string) []span {
	if s == "" {
		return nil
	}
	return []span{d.sp(st, s)}
}

// chapter begins a section of the record.
func (d *document) chapter(title, anchor string) {
	st := style{face: bold, size: 13, colour: ink}
	d.space(20)
	d.keep(26, func() {
		d.line(d.x, d.y, d.x+d.w, d.y, 1.1, ink)
		d.mark("chapter:" + anchor)
		d.under = 0
		d.bookmark(0, title)
		d.text(d.x, d.y+17, st, d.g.clean(title))
	})
}

// heading sets a heading inside a chapter; level counts from 1.
func (d *document) heading(level int, anchor string, spans []span, outline string) {
	size := [...]float64{11.4, 10, 9.2, 8.6}[min(max(level, 1), 4)-1]
	for i := range spans {
		spans[i].style.size *= size / bodySize
		if spans[i].style.face == regular {
			spans[i].style.face = bold
		}
	}
	ls := d.layout(spans, d.w)
	d.space(size * 1.15)
	x, w := d.x, d.w
	d.keep(height(ls)+size*0.3, func() {
		y := d.y
		d.mark(anchor)
		if outline != "" {
			d.under = min(max(level, 1), 4)
			d.bookmark(d.under, outline)
		}
		for _, l := range ls {
			d.drawLine(l, x, y, w, 'l')
			y += l.high
		}
	})
}

// note is a paragraph of small print.
func (d *document) note(s string) { d.para(d.sp(small().in(soft), s)) }
