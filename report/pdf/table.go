package pdf

import (
	"guardband/report/draw"
	"guardband/report/outline"
)

// cell is the content of one field.
type cell []span

// row of a table. A row with a title is a line over the whole width that
// stays with the row after it.
type row struct {
	cells  []cell
	title  cell
	anchor string // place name that links lead to
	places []string
	shade  bool
	flows  bool    // a cell takes the room of empty ones right of it
	blank  float64 // least height: room to write by hand
	gauge  *draw.Gauge
}

// table is a grid with a head that is repeated on every page.
type table struct {
	cols  []outline.Column
	rows  []row
	ruled bool // vertical rules too, for tables that are filled in by hand
}

const (
	cellPad = 3.2
	rowPad  = 1.7
)

// laidRow is a row broken into lines.
type laidRow struct {
	cells [][]textLine
	title []textLine
	h     float64
}

// table sets t over the width of the column. A row goes to the next page whole
// unless it is taller than half a page; neither the first nor the last row
// stands alone.
func (p *page) table(t table) {
	if len(t.rows) == 0 {
		return
	}
	widths := p.columnWidths(t)
	head := p.layRow(row{cells: p.headCells(t)}, widths)
	laid := make([]laidRow, len(t.rows))
	for i, r := range t.rows {
		laid[i] = p.layRow(r, widths)
	}
	half := (p.bottom - p.top) / 2
	first := p.together(laid, 0, 2, half)
	if all := p.together(laid, 0, len(laid), half); len(laid) < 9 && all < 130 {
		first = all // a small table is not torn
	}
	p.ready(head.h + first)
	p.drawHead(t, head, widths)
	for i := range laid {
		need := laid[i].h
		switch {
		case laid[i].title != nil, i == len(laid)-2:
			need = p.together(laid, i, 2, half)
		}
		if laid[i].h > half {
			p.tallRow(t, i, laid[i], head, widths)
			continue
		}
		if p.y+need > p.bottom {
			p.endTable(t, widths)
			p.newSheet()
			p.drawHead(t, head, widths)
		}
		p.drawRow(t, i, laid[i], widths)
	}
	p.endTable(t, widths)
}

// together is the height of n rows from i, as far as that is reasonable.
func (p *page) together(laid []laidRow, i, n int, most float64) float64 {
	h := 0.0
	for j := i; j < len(laid) && j < i+n; j++ {
		if h+laid[j].h > most {
			break
		}
		h += laid[j].h
	}
	return max(h, min(laid[i].h, most))
}

func (p *page) headCells(t table) []cell {
	cs := make([]cell, len(t.cols))
	for i, c := range t.cols {
		cs[i] = cell{p.sp(style{face: bold, size: tinySize, colour: ink}, c.Head)}
	}
	return cs
}

func (p *page) layRow(r row, widths []float64) laidRow {
	if r.title != nil {
		ls := p.layout(r.title, p.w-2*cellPad)
		return laidRow{title: ls, h: height(ls) + 2*rowPad + 2}
	}
	l := laidRow{cells: make([][]textLine, len(widths))}
	for i := range widths {
		if i < len(r.cells) && len(r.cells[i]) > 0 {
			w := widths[i]
			for j := i + 1; r.flows && j < len(r.cells) && len(r.cells[j]) == 0; j++ {
				w += widths[j]
			}
			l.cells[i] = p.layout(r.cells[i], w-2*cellPad)
			level(l.cells[i])
			l.h = max(l.h, height(l.cells[i]))
		}
	}
	l.h = max(l.h, tiny().leading(), r.blank) + 2*rowPad
	return l
}

// level gives lines of smaller faces the height of the table's text, so that
// the baselines of a row agree.
func level(ls []textLine) {
	for i := range ls {
		ls[i].asc = max(ls[i].asc, small().ascent())
		ls[i].high = max(ls[i].high, small().leading())
	}
}

func (p *page) drawHead(t table, head laidRow, widths []float64) {
	p.rect(p.x, p.y, p.w, head.h, panel)
	p.line(p.x, p.y, p.x+p.w, p.y, 0.7, ink)
	p.drawCells(t, head.cells, widths, p.y+rowPad)
	p.y += head.h
	p.line(p.x, p.y, p.x+p.w, p.y, 0.4, ink)
}

func (p *page) endTable(t table, widths []float64) {
	p.line(p.x, p.y, p.x+p.w, p.y, 0.7, ink)
}

func (p *page) drawCells(t table, cells [][]textLine, widths []float64, y float64) {
	x := p.x
	for i, ls := range cells {
		at := y
		for k := range ls {
			left := x + cellPad
			if t.cols[i].Right {
				left = x + widths[i] - cellPad - ls[k].w
			}
			p.drawLines(ls[k:k+1], left, at)
			at += ls[k].high
		}
		x += widths[i]
	}
}

func (p *page) drawRow(t table, i int, l laidRow, widths []float64) {
	p.markRow(&t.rows[i])
	if t.rows[i].shade {
		p.rect(p.x, p.y, p.w, l.h, panel)
	}
	if l.title != nil {
		p.drawLines(l.title, p.x+cellPad, p.y+rowPad+2)
	} else {
		p.drawCells(t, l.cells, widths, p.y+rowPad)
		p.uprights(t, l.h, widths)
		p.drawGauge(t, t.rows[i].gauge, widths)
	}
	p.y += l.h
	if i+1 < len(t.rows) {
		p.line(p.x, p.y, p.x+p.w, p.y, 0.3, hairline)
	}
}

func (p *page) markRow(r *row) {
	for _, a := range append(r.places, r.anchor) {
		p.mark(a)
	}
}

func (p *page) drawGauge(t table, g *draw.Gauge, widths []float64) {
	x := p.x
	for i := range t.cols {
		if t.cols[i].Gauge && g != nil {
			p.drawing(g.Picture(widths[i]-2*cellPad, 9), x+cellPad, p.y+rowPad, ink)
		}
		x += widths[i]
	}
}

func (p *page) uprights(t table, h float64, widths []float64) {
	if !t.ruled {
		return
	}
	x := p.x
	for _, w := range widths[:len(widths)-1] {
		x += w
		p.line(x, p.y, x, p.y+h, 0.3, hairline)
	}
}

// tallRow sets a row that may break: as many lines of each cell as fit, then
// the rest under a new head.
func (p *page) tallRow(t table, i int, l laidRow, head laidRow, widths []float64) {
	p.markRow(&t.rows[i])
	rest := l.cells
	if l.title != nil {
		rest = [][]textLine{l.title}
	}
	for {
		room := p.bottom - p.y - 2*rowPad
		now, later, h := splitLines(rest, room)
		if h == 0 && p.y > p.top+head.h+1 {
			later = rest
		} else {
			p.drawCells(t, now, widths, p.y+rowPad)
			p.y += h + 2*rowPad
		}
		if later == nil {
			break
		}
		rest = later
		p.endTable(t, widths)
		p.newSheet()
		p.drawHead(t, head, widths)
	}
	p.line(p.x, p.y, p.x+p.w, p.y, 0.3, hairline)
}

// splitLines takes the lines of each cell that fit in room; later is nil when
// nothing is left. At least one line is taken where room is not empty.
func splitLines(cells [][]textLine, room float64) (now, later [][]textLine, h float64) {
	now = make([][]textLine, len(cells))
	rest := make([][]textLine, len(cells))
	left := false
	for i, ls := range cells {
		n, at := 0, 0.0
		for n < len(ls) && at+ls[n].high <= room {
			at += ls[n].high
			n++
		}
		now[i], rest[i] = ls[:n], ls[n:]
		h = max(h, at)
		left = left || n < len(ls)
	}
	if left {
		later = rest
	}
	return now, later, h
}
