package pdf

import (
	"fmt"
	"strings"

	"guardband/eval"
)

// titleBlock tells what was checked and how it came out: in words, in numbers
// and as a bar.
func (d *document) titleBlock() {
	g := d.r.Design
	d.bookmark(0, "Identity and verdict")
	d.mark("top")
	d.para(d.sp(style{face: regular, size: smallSize, colour: soft}, "Design review record"))
	d.space(2)
	d.para(d.sp(style{face: bold, size: 18, colour: ink}, orDash(oneLine(g.Title))))
	d.space(5)
	d.verdictLine()
	d.verdictBar()
	d.space(7)
	d.identity()
	d.sourceList()
}

// identity sets the short fields in two columns and the notebooks below.
func (d *document) identity() {
	g := d.r.Design
	st := small()
	var pairs [][2]string
	for _, p := range [][2]string{
		{"Revision", g.Revision}, {"Date", g.Date}, {"Author", g.Author}, {"As of", g.AsOf},
		{"Ambient", g.Ambient}, {"Commit", g.Commit}, {"States", strings.Join(g.States, ", ")}, {"Made by", g.Tool},
	} {
		if p[1] != "" {
			pairs = append(pairs, p)
		}
	}
	for i := 0; i < len(pairs); i += 2 {
		d.identityPair(pairs[i:min(i+2, len(pairs))])
	}
	for i, n := range g.Notebooks {
		name := ""
		if i == 0 {
			name = "Notebooks"
		}
		digest := n.SHA256
		if len(digest) > 16 {
			digest = digest[:16] + "…"
		}
		d.labelled(name, identityLabel, d.sp(st, n.Path), d.sp(st.in(soft), "  SHA-256 "), d.code(st.in(soft), digest))
	}
}

const identityLabel = 58

// identityPair sets one or two fields side by side.
func (d *document) identityPair(pair [][2]string) {
	const gutter = 16
	half := (d.w - gutter) / 2
	laid := make([][]textLine, len(pair))
	lines := 0
	for i, f := range pair {
		laid[i] = d.layout([]span{d.sp(small(), f[1])}, half-identityLabel)
		lines = max(lines, len(laid[i]))
	}
	for k := range lines {
		d.put(small().leading(), func() {
			for i, f := range pair {
				x := d.x + float64(i)*(half+gutter)
				if k == 0 {
					d.text(x, d.y+small().ascent(), small().in(soft), f[0])
				}
				if k < len(laid[i]) {
					d.drawLine(laid[i][k], x+identityLabel, d.y, half-identityLabel, 'l')
				}
			}
		})
	}
}

// verdictLine is the count in a sentence.
func (d *document) verdictLine() {
	s := d.r.Summary
	total := s.Passed + s.Failed + s.Open + s.Waived + s.Skipped
	st := body().at(10)
	if total == 0 {
		d.para(d.sp(st, "This design has no claims yet. Nothing was checked."))
		return
	}
	var out []span
	for _, c := range d.tally() {
		if c.n == 0 {
			continue
		}
		if len(out) > 0 {
			out = append(out, d.sp(st, ", "))
		}
		out = append(out, d.sp(st.with(bold).in(verdictColour(c.v)), itoa(c.n)+" "), d.verdict(c.v, st.size))
	}
	out = append(out, d.sp(st, fmt.Sprintf(" of %s.", count(total, "claim", "claims"))))
	var said []string
	if s.Errors > 0 {
		said = append(said, count(s.Errors, "error", "errors"))
	}
	if s.Warnings > 0 {
		said = append(said, count(s.Warnings, "warning", "warnings"))
	}
	if len(said) > 0 {
		out = append(out, d.sp(st.at(bodySize).to("chapter:diagnostics"), " "+strings.Join(said, ", ")+" about the notebook."))
	}
	d.para(out...)
}

type tallied struct {
	n int
	v eval.Verdict
}

func (d *document) tally() []tallied {
	s := d.r.Summary
	return []tallied{{s.Failed, eval.Failed}, {s.Open, eval.Open}, {s.Waived, eval.Waived}, {s.Passed, eval.Passed}, {s.Skipped, eval.Skipped}}
}

// verdictBar shows the counts in proportion; the number stands in each part
// that has room for it.
func (d *document) verdictBar() {
	total := 0
	for _, c := range d.tally() {
		total += c.n
	}
	if total == 0 {
		return
	}
	d.space(4)
	const h = 11.0
	d.put(h, func() {
		x, st := d.x, style{face: bold, size: 7, colour: white}
		for _, c := range d.tally() {
			if c.n == 0 {
				continue
			}
			w := d.w * float64(c.n) / float64(total)
			d.rect(x, d.y, w, h, verdictColour(c.v))
			d.rect(x+w-0.6, d.y, 0.6, h, white)
			label := verdictMark(c.v) + " " + itoa(c.n)
			if lw := d.g.stringWidth(bold, st.size, label); lw+6 < w {
				d.text(x+3, d.y+8, st, label)
			}
			x += w
		}
	})
}

// sourceList is the revision of every document at a glance; the register at
// the end says the rest.
func (d *document) sourceList() {
	if len(d.r.Sources) == 0 {
		return
	}
	d.space(8)
	t := table{cols: []column{{head: "Document", most: 70}, {head: "Title"}, {head: "Revision, date", most: 110}, {head: "State"}}}
	st := small()
	for _, s := range d.r.Sources {
		state := st
		if s.Changed || !s.OnFile {
			state = st.in(verdictColour(eval.Open))
		}
		t.rows = append(t.rows, row{cells: []cell{
			{d.code(st.to("source:"+s.ID), s.ID)}, {d.sp(st, s.Title)}, {d.sp(st, orDash(joinText(", ", s.Revision, s.Date)))}, {d.sp(state, s.State)},
		}})
	}
	d.table(t)
}

// contents lists the chapters and the upper headings of the notes with their
// pages, in two columns.
func (d *document) contents(list []section) {
	type entry struct {
		title, anchor string
		level         int
	}
	var es []entry
	for _, s := range list {
		es = append(es, entry{s.title, "chapter:" + s.anchor, 0})
		if s.anchor == "notes" {
			for _, h := range d.noteHeadings(40) {
				es = append(es, entry{h.title, h.anchor, 1})
			}
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
			if e.level == 0 {
				st.face = bold
			}
			left := x + float64(e.level)*10
			end := d.text(left, d.y+8, st, d.fit(e.title, st.face, st.size, colW-40-float64(e.level)*10))
			d.late = append(d.late, lateText{d.sheet(), x + colW, d.y + 8, small(), func() string { return d.number(e.anchor) }, end + 4})
		}
		d.y += line
	}
}

type noteHeading struct{ title, anchor string }

// noteHeadings are the headings of the first two levels, as many as most.
func (d *document) noteHeadings(most int) []noteHeading {
	var out []noteHeading
	for i, n := range d.r.Content {
		for j, node := range n.Nodes {
			if node.Kind == "heading" && node.Level <= 2 && len(out) < most {
				out = append(out, noteHeading{plain(node.Children), headingAnchor(i, j)})
			}
		}
	}
	return out
}
