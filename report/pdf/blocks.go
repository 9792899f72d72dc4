package pdf

import (
	"strings"

	"guardband/eval/record"
	"guardband/report/draw"
	"guardband/report/internal/words"
	"guardband/report/outline"
)

const (
	labelWidth  = 66
	groupIndent = 10
	valueName   = 84
	maxIndent   = 12 // quotes in lists in quotes; what is deeper is set flat
)

func (d *document) blocks(list []outline.Block) { d.nested(list, 0) }

func (d *document) nested(list []outline.Block, depth int) {
	for i := range list {
		d.block(&list[i], depth)
	}
}

func (d *document) block(b *outline.Block, depth int) {
	switch b.Kind {
	case outline.Paragraph:
		d.paragraph(b)
	case outline.Heading:
		d.heading(b)
	case outline.Labelled:
		d.space(1.5)
		d.markNext(b.Anchor)
		d.beside([]span{d.sp(small().in(soft), b.Label)}, labelWidth, d.spans(b.Text, small())...)
	case outline.Group:
		d.group(b, depth)
	case outline.List:
		for i := range b.Blocks {
			d.item(&b.Blocks[i], body(), depth)
		}
	case outline.Footnote:
		d.item(b, small().in(soft), depth)
	case outline.Quote:
		d.space(5)
		d.barred(hairline, 1.4, 9, 26, depth, func() { d.nested(b.Blocks, depth+1) })
	case outline.CodeBlock:
		d.verbatim(b)
	case outline.TableBlock:
		d.gridOf(b.Table)
	case outline.Formula:
		d.formulas(b)
	case outline.Value:
		d.value(b)
	case outline.Evidence:
		d.evidence(b.Cites)
	case outline.Rule:
		d.space(6)
		d.put(6, func() { d.line(d.x, d.y, d.x+d.w, d.y, 0.4, hairline) })
	case outline.Fields:
		d.space(6)
		for i := 0; i < len(b.Pairs); i += 2 {
			d.pair(b.Pairs[i:min(i+2, len(b.Pairs))])
		}
		d.space(6)
	case outline.Tally:
		d.tally(b.Summary)
	}
}

func (d *document) paragraph(b *outline.Block) {
	st := body()
	switch {
	case b.Lead:
		st = body().at(11).with(bold).in(verdictColour(b.Verdict))
	case b.Small:
		st = small()
		d.space(2)
	default:
		d.space(4.5)
	}
	if b.Anchor != "" {
		d.space(9)
		d.markNext(b.Anchor)
		if strings.HasPrefix(b.Anchor, "part:") {
			d.keep(0, func() { d.bookmark(d.under+1, strings.Replace(b.Anchor, "part:", "Part ", 1)) })
		}
		d.keepPara(d.spans(b.Text, st)...)
		return
	}
	d.para(d.spans(b.Text, st)...)
}

// barred sets something right of a rule; deeper than maxIndent it is set flat.
func (d *document) barred(c rgb, w, indent, need float64, depth int, do func()) {
	if depth > maxIndent {
		do()
		return
	}
	d.openBar(c, w, indent, need)
	do()
	d.flush()
	d.closeBar(indent)
}

// group is a claim or a safety message.
func (d *document) group(b *outline.Block, depth int) {
	colour, need := verdictColour(b.Verdict), 96.0
	head := d.spans(b.Head, body())
	if b.Word != "" {
		colour, need = signalColour(b.Word), 40
		head = append([]span{d.sp(body().with(bold).in(colour), b.Word+"  ")}, head...)
	}
	d.space(8)
	d.barred(colour, 2.6, groupIndent, need, depth, func() {
		d.mark(b.Anchor)
		if b.Label != "" {
			d.bookmark(d.under+1, b.Label)
		}
		d.para(head...)
		d.nested(b.Blocks, depth+1)
	})
	d.space(6)
}

// signalColour repeats the signal words of ANSI Z535.
func signalColour(word string) rgb {
	switch word {
	case "DANGER":
		return verdictColour(record.Failed)
	case "WARNING":
		return rgb{0x9a, 0x4a, 0x00}
	case "CAUTION":
		return verdictColour(record.Open)
	}
	return rgb{0x24, 0x4b, 0x73}
}

// item is an item of a list or a footnote: a marker and what belongs to it.
func (d *document) item(b *outline.Block, marker style, depth int) {
	d.space(3)
	x := d.x
	d.keep(0, func() {
		d.mark(b.Anchor)
		d.text(x+2, d.y+body().ascent(), marker, d.fit(b.Label, marker.face, marker.size, 60))
	})
	by := 15.0
	if depth > maxIndent {
		by = 0
	}
	d.x += by
	d.w -= by
	for i := range b.Blocks {
		if c := &b.Blocks[i]; c.Kind == outline.Paragraph {
			d.space(2)
			d.para(d.spans(c.Text, body())...)
			continue
		}
		d.block(&b.Blocks[i], depth+1)
	}
	d.flush()
	d.x -= by
	d.w += by
}

// verbatim keeps blanks and line ends.
func (d *document) verbatim(b *outline.Block) {
	text := ""
	if len(b.Text) > 0 {
		text = b.Text[0].Text
	}
	d.space(5)
	st := style{face: mono, size: smallSize * monoScale, colour: ink}
	d.openBar(hairline, 0.8, 8, 2*st.leading())
	for line := range strings.Lines(strings.TrimRight(text, "\n")) {
		line = strings.ReplaceAll(strings.TrimRight(line, "\r\n"), "\t", "    ")
		s := strings.ReplaceAll(d.g.clean(line), " ", "\u00a0")
		d.para(span{st, s})
	}
	d.closeBar(8)
}

// gridOf sets a table of the outline.
func (d *document) gridOf(t *outline.Table) {
	out := table{cols: t.Columns, ruled: t.Ruled}
	blank := 0.0
	if t.Ruled {
		blank = 17
	}
	for i := range t.Rows {
		r := &t.Rows[i]
		q := row{anchor: r.Anchor, shade: r.Shade, gauge: r.Gauge, blank: blank, flows: !t.Ruled && !t.Halves && r.Gauge == nil}
		for k := range r.Fold { // what it folds on a screen is here on paper
			q.places = append(q.places, r.Fold[k].Anchor)
		}
		if r.Title != nil {
			q.title = d.spans(r.Title, small())
		}
		for _, c := range r.Cells {
			q.cells = append(q.cells, d.spans(c, small()))
		}
		out.rows = append(out.rows, q)
	}
	if t.Halves && len(out.rows) > 5 {
		out = halved(out)
	}
	d.space(6)
	if t.Caption != "" && !t.Named {
		d.keepPara(d.sp(tiny().with(bold), t.Caption))
	}
	d.table(out)
	d.space(5)
}

// halved puts the second half of the rows beside the first.
func halved(t table) table {
	n := (len(t.rows) + 1) / 2
	out := table{cols: append(t.cols[:len(t.cols):len(t.cols)], t.cols...)}
	for i := range n {
		r := row{}
		for _, k := range []int{i, n + i} {
			if k < len(t.rows) {
				t.rows[k].cells[0][0].place = t.rows[k].anchor
				r.cells = append(r.cells, t.rows[k].cells...)
			}
		}
		out.rows = append(out.rows, r)
	}
	return out
}

// pair sets one or two fields side by side.
func (d *document) pair(pair [][2]string) {
	const gutter, label = 16, 58
	half := (d.w - gutter) / 2
	laid := make([][]textLine, len(pair))
	rows := 0
	for i, f := range pair {
		laid[i] = d.layout([]span{d.sp(small(), f[1])}, half-label)
		rows = max(rows, len(laid[i]))
	}
	for k := range rows {
		d.put(small().leading(), func() {
			for i, f := range pair {
				x := d.x + float64(i)*(half+gutter)
				if k == 0 {
					d.text(x, d.y+small().ascent(), small().in(soft), f[0])
				}
				if k < len(laid[i]) {
					d.drawLines(laid[i][k:k+1], x+label, d.y)
				}
			}
		})
	}
}

// tally shows the counts in proportion; each has its mark, so that it is read
// in grey.
func (d *document) tally(s record.Summary) {
	d.space(4)
	const h = 11.0
	total := float64(words.Total(s))
	d.put(h, func() {
		x, st := d.x, style{face: bold, size: 7, colour: white}
		for _, v := range words.Verdicts {
			n := words.Count(s, v)
			if n == 0 {
				continue
			}
			w := d.w * float64(n) / total
			fill, text := verdictColour(v), st
			if v == record.Passed { // pale, so that in grey too the others are seen
				fill, text = roleColours[draw.Allowed], st.in(ink)
			}
			d.rect(x, d.y, w, h, fill)
			d.rect(x+w-0.6, d.y, 0.6, h, white)
			for _, label := range []string{verdictMark(v) + " " + itoa(n) + " " + string(v), verdictMark(v) + " " + itoa(n)} {
				if lw := d.g.stringWidth(bold, st.size, label); lw+4 < w {
					d.text(x+2, d.y+8, text, label)
					break
				}
			}
			x += w
		}
	})
	d.space(4)
}

// formulas sets formula and numbers left and the plots right where they have
// room, else below each other.
func (d *document) formulas(b *outline.Block) {
	const gutter = 16.0
	text := b.Text
	if len(b.Math) > 0 {
		text = b.Math
	}
	spans := d.spans(text, body())
	if len(b.Numbers) > 0 {
		spans = append(append(spans, span{body(), "\n"}), d.spans(b.Numbers, small().in(soft))...)
	}
	plotW := d.w*0.42 - gutter
	left := d.layout(spans, d.w-plotW-gutter)
	bars := draw.Bars(b.Tests)
	beside := len(bars) > 0 && height(left) < 100
	if !beside {
		plotW = min(d.w, 300)
	}
	var plots []draw.Picture
	high := 0.0
	for _, x := range bars {
		if q := draw.MarginBar(x, d.g.width, plotW, 6.6); q.H > 0 {
			plots = append(plots, q)
			high += q.H + 4
		}
	}
	d.space(6)
	if !beside {
		d.para(spans...)
		for _, q := range plots {
			d.put(q.H+4, func() { d.drawing(q, d.x, d.y+2, ink) })
		}
		return
	}
	d.put(max(height(left), high), func() {
		d.drawLines(left, d.x, d.y)
		at := d.y
		for _, q := range plots {
			d.drawing(q, d.x+d.w-plotW, at, ink)
			at += q.H + 4
		}
	})
}

// value sets a name, and beside it its formula, the numbers put in, and the
// result.
func (d *document) value(b *outline.Block) {
	d.space(4)
	d.markNext(b.Anchor)
	var spans []span
	set := func(t outline.Text, st style) {
		if len(t) > 0 {
			spans = append(append(append(spans, d.sp(st, "= ")), d.spans(t, st)...), span{st, "\n"})
		}
	}
	set(b.Math, body())
	set(b.Numbers, small().in(soft))
	if spans != nil {
		spans = append(spans, d.sp(small(), "= "))
	}
	d.beside(d.name(body(), b.Label), valueName, append(spans, d.spans(b.Text, small())...)...)
}
