package pdf

import (
	"slices"

	"guardband/eval"
	"guardband/report/internal/words"
	"guardband/report/outline"
)

// citedLine is a citation with the picture of its line.
type citedLine struct {
	picture *picture
	caption []span
	key     string
}

// evidence shows the pictures of the cited lines, two abreast, each once in
// the document; of those shown before it names the pages.
func (d *document) evidence(cs []eval.Cite) {
	const gutter = 12
	var items []citedLine
	var before []int // pages of pictures shown before
	var line []span
	st := tiny()
	for i := range cs {
		c := &cs[i]
		q := d.image(c.Picture)
		if q == nil {
			continue
		}
		key := c.Source + "\x00" + c.Page + "\x00" + c.Quote
		head := words.Join(" ", c.Source, c.Section, c.Page)
		if at, seen := d.shown[key]; seen {
			if !slices.Contains(before, at) {
				before = append(before, at)
			}
			continue
		}
		if c.Quote != "" {
			head += " “" + c.Quote + "”"
		}
		d.shown[key] = d.sheet()
		to := st
		if a := outline.PageAnchor(c.Source, c.Page); d.o.Anchors[a] {
			to = st.to(a)
		}
		items = append(items, citedLine{q, []span{d.sp(to, head), d.sp(st, ": "+c.Text)}, key})
	}
	colW := (d.w - gutter) / 2
	for i := 0; i < len(items); i += 2 {
		pair := items[i:min(i+2, len(items))]
		h := 0.0
		laid := make([][]textLine, len(pair))
		for j, it := range pair {
			laid[j] = d.layout(it.caption, colW)
			h = max(h, height(laid[j])+pictureHeight(it.picture, colW)+3)
		}
		d.space(3)
		d.put(h, func() {
			for j, it := range pair {
				d.drawCited(it, laid[j], d.x+float64(j)*(colW+gutter), colW)
			}
		})
	}
	for i, n := range before {
		text := ", "
		if i == 0 {
			text = "other lines are pictured on page "
		}
		line = append(line, d.sp(st, text+itoa(n)))
	}
	if line != nil {
		d.space(2)
		d.para(line...)
	}
}

func (d *document) drawCited(it citedLine, caption []textLine, x, w float64) {
	y := d.y
	for _, l := range caption {
		d.drawLine(l, x, y, w, 'l')
		y += l.high
	}
	h := pictureHeight(it.picture, w)
	d.drawImage(it.picture, x, y+1, h*float64(it.picture.w)/float64(it.picture.h), h)
	d.shown[it.key] = d.sheet()
}

// pictureHeight sets a picture at 150 pixels to the inch, smaller where the
// column is narrower or it would be taller than a third of a page.
func pictureHeight(q *picture, w float64) float64 {
	scale := min(72.0/150, w/float64(q.w), 230/float64(q.h))
	return float64(q.h) * scale
}
