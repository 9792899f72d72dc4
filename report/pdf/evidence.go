package pdf

import (
	"slices"

	"guardband/eval/record"
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
func (d *document) evidence(cs []record.Cite) {
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
		caption := []span{d.sp(to, head)}
		if c.Checked != "words" && c.Checked != "numbers" {
			caption = append(caption, d.sp(st, ": "+c.Text))
		}
		items = append(items, citedLine{q, caption, key})
	}
	for len(items) > 0 {
		items = items[d.citedRow(items):]
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

// citedRow sets as many pictures side by side as have room, and says how many
// those are.
func (d *document) citedRow(items []citedLine) int {
	const gutter = 14
	n, x, high := 0, 0.0, 0.0
	var at, width []float64
	for n < len(items) {
		it := &items[n]
		caption, _ := d.extent(it.caption)
		w := min(d.w, max(min(caption, d.w/3), float64(it.picture.w)*pictureScale(it.picture, d.w)))
		if n > 0 && x+w > d.w {
			break
		}
		high = max(high, height(d.layout(it.caption, w))+pictureHeight(it.picture, w)+3)
		at, width = append(at, x), append(width, w)
		x += w + gutter
		n++
	}
	d.space(3)
	d.put(high, func() {
		for j := range n {
			d.drawCited(items[j], d.layout(items[j].caption, width[j]), d.x+at[j], width[j])
		}
	})
	return n
}

func (d *document) drawCited(it citedLine, caption []textLine, x, w float64) {
	d.drawLines(caption, x, d.y)
	h := pictureHeight(it.picture, w)
	d.drawImage(it.picture, x, d.y+height(caption)+1, h*float64(it.picture.w)/float64(it.picture.h), h)
	d.shown[it.key] = d.sheet()
}

// pictureScale sets a picture at 150 pixels to the inch, smaller where it would
// be wider than half of the column or taller than a third of a page.
func pictureScale(q *picture, column float64) float64 {
	return min(72.0/150, (column-14)/2/float64(q.w), 230/float64(q.h))
}

// pictureHeight is the height of a picture that is at most w wide.
func pictureHeight(q *picture, w float64) float64 {
	return float64(q.h) * min(72.0/150, w/float64(q.w), 230/float64(q.h))
}
