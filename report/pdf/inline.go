package pdf

import (
	"net/url"
	"strings"

	"guardband/eval/record"
	"guardband/report/draw"
	"guardband/report/outline"
)

// spans sets a text of the outline in a style.
func (d *document) spans(t outline.Text, st style) []span {
	out := make([]span, 0, len(t))
	for i := range t {
		s := &t[i]
		if s.Text == "\n" {
			out = append(out, span{st, "\n"})
			continue
		}
		at := st
		if s.Style&outline.Exponent != 0 {
			at.raise, at.size = at.size*0.3, at.size*0.75
		}
		switch {
		case s.Style&^outline.Exponent == outline.Name: // of a formula
			out = append(out, d.name(at, s.Text)...)
		case s.Text != "" && s.Style&outline.Up == 0:
			out = append(out, d.span(s, at))
		}
		if s.Style&outline.Turn != 0 && d.o.Anchors[s.To] {
			at := small().in(soft)
			at.turn = s.To
			out = append(out, span{at, "\u00a0p.00"})
		}
	}
	return out
}

func (d *document) span(s *outline.Span, st style) span {
	if s.Verdict != "" {
		st = st.with(bold).in(verdictColour(s.Verdict))
		if d.o.Anchors[s.To] {
			st.anchor = s.To
		}
		return span{st, verdictMark(s.Verdict) + "\u00a0" + d.g.clean(s.Text)}
	}
	has := func(x outline.Style) bool { return s.Style&x != 0 }
	switch {
	case has(outline.Strong):
		st.face = bold
	case has(outline.Emphasis):
		st.face = oblique
	}
	switch {
	case has(outline.Notice):
		st.colour = verdictColour(record.Open)
	case has(outline.Quiet):
		st.colour = soft
	}
	st.strike = has(outline.Struck)
	if d.o.Anchors[s.To] {
		st.anchor = s.To
		if quantity := strings.HasPrefix(s.To, "fact:") || strings.HasPrefix(s.To, "value:"); !quantity && !has(outline.Quiet|outline.Notice) {
			st.colour = pointer
		}
	}
	if u, ok := liveURL(s.URL); ok {
		st.colour, st.url = pointer, u
	}
	if has(outline.Raised) {
		st.raise, st.size = st.size*0.3, st.size*0.75
	}
	if has(outline.Code) {
		if len(s.Text) == 64 {
			st.size = 5.5 / monoScale // a hash fits its column on one line
		}
		return d.code(st, s.Text)
	}
	return d.sp(st, s.Text)
}

// name sets a name as formulas do: the symbol italic, its subscript lowered.
func (d *document) name(st style, name string) []span {
	n := draw.SplitName(name)
	var out []span
	put := func(st style, s string) {
		if s != "" {
			out = append(out, d.sp(st, s))
		}
	}
	put(st, n.Path)
	base, sub := st, st
	if n.Italic {
		base.face = oblique
	}
	sub.size, sub.raise = st.size*0.75, st.raise-st.size*0.2
	put(base, n.Base)
	put(sub, n.Sub)
	return out
}

func liveURL(s string) (string, bool) {
	u, err := url.Parse(s)
	if err != nil || u.Scheme != "http" && u.Scheme != "https" && u.Scheme != "mailto" {
		return "", false
	}
	for _, r := range u.String() {
		if r <= ' ' || r > '~' {
			return "", false
		}
	}
	return u.String(), true
}

// chapter begins a section of the record.
func (d *document) chapter(title, anchor string) {
	st := style{face: bold, size: 13, colour: ink}
	d.space(16)
	d.keep(26, func() {
		d.line(d.x, d.y, d.x+d.w, d.y, 1.1, ink)
		d.mark("chapter:" + anchor)
		d.mark(anchor)
		d.under = 0
		d.bookmark(0, title)
		d.text(d.x, d.y+17, st, d.g.clean(title))
	})
}

// heading sets a heading inside a chapter; level counts from 1.
func (d *document) heading(b *outline.Block) {
	size := [...]float64{11.4, 10, 9.2, 8.6}[min(max(b.Level, 1), 4)-1]
	spans := d.spans(b.Text, body())
	title := ""
	for i := range spans {
		title += spans[i].text
		spans[i].style.size *= size / bodySize
		if spans[i].style.face == regular {
			spans[i].style.face = bold
		}
	}
	ls := d.layout(spans, d.w)
	d.space(size * 1.15)
	x := d.x
	d.keep(height(ls)+size*0.3, func() {
		d.mark(b.Anchor)
		if b.Anchor != "" {
			d.under = min(max(b.Level, 1), 4)
			d.bookmark(d.under, oneLine(title))
		}
		d.drawLines(ls, x, d.y)
	})
}
