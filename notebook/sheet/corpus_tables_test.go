package sheet

import "strings"

// gridRow is a row of cells; span is over how many rows the cell reaches, 0 for
// a cell that another covers.
type corpusGridRow struct {
	cells []string
	span  []int
	group string // a heading over the whole width instead of cells
}

// grid draws a table from x0 to x1. Shares are of the width.
type corpusGrid struct {
	titles  []string
	shares  []float64
	centred []bool
	symbols int // column of symbols, counted from 1; 0 for none
	rows    []corpusGridRow
	above   string // printed over the columns of numbers
	first   int    // the first of them
	last    int
}

const corpusLineStep = 1.22 // line pitch in type sizes

func (w *corpusWriter) grid(g corpusGrid, x0, x1 float64) {
	size := w.l.Size
	total := 0.0
	for _, s := range g.shares {
		total += s
	}
	xs := []float64{x0}
	for _, s := range g.shares {
		xs = append(xs, xs[len(xs)-1]+s/total*(x1-x0))
	}
	w.y += 4
	if g.above != "" {
		w.font(true, size)
		mid := (xs[g.first] + xs[g.last+1]) / 2
		w.text(mid-w.width(g.above)/2, w.y+size, g.above)
		w.y += size * corpusLineStep
	}
	w.font(true, size)
	w.cells(g, xs, g.titles, w.rowHeight(xs, g.titles), true)
	w.font(false, size)
	for i := 0; i < len(g.rows); {
		if g.rows[i].group != "" {
			h := size*corpusLineStep + 2*w.l.Padding
			w.font(true, size)
			w.text(xs[0]+2, w.y+w.l.Padding+size, g.rows[i].group)
			if w.l.Rules {
				w.Line(xs[0], w.y+h, x1, w.y+h)
			}
			w.y += h
			w.font(false, size)
			i++
			continue
		}
		i = w.block(g, xs, i)
	}
	w.y += 8
}

// block draws the rows that spanning cells tie together.
func (w *corpusWriter) block(g corpusGrid, xs []float64, i int) int {
	size := w.l.Size
	n := 1
	for _, s := range g.rows[i].span {
		n = max(n, s)
	}
	tops := []float64{w.y}
	for k := i; k < i+n; k++ {
		tops = append(tops, tops[len(tops)-1]+w.rowHeight(xs, g.rows[k].cells))
	}
	for k := i; k < i+n; k++ {
		for c, s := range g.rows[k].cells {
			span := 1
			if g.rows[k].span != nil {
				span = g.rows[k].span[c]
			}
			if span == 0 {
				continue
			}
			top, bottom := tops[k-i], tops[min(k-i+span, n)]
			lines := w.wrap(s, xs[c+1]-xs[c]-4)
			y := top + w.l.Padding + size
			if span > 1 && w.l.Merge == "middle" {
				y = (top+bottom)/2 - float64(len(lines))*size*corpusLineStep/2 + size
			}
			for _, line := range lines {
				w.cell(g, xs, c, y, line)
				y += size * corpusLineStep
			}
			if w.l.Rules {
				w.Rect(xs[c], top, xs[c+1]-xs[c], bottom-top, "D")
			}
		}
	}
	w.y = tops[n]
	return i + n
}

func (w *corpusWriter) cells(g corpusGrid, xs []float64, cells []string, height float64, bold bool) {
	_ = bold
	for c, s := range cells {
		y := w.y + w.l.Padding + w.l.Size
		for _, line := range w.wrap(s, xs[c+1]-xs[c]-4) {
			w.cell(g, xs, c, y, line)
			y += w.l.Size * corpusLineStep
		}
		if w.l.Rules {
			w.Rect(xs[c], w.y, xs[c+1]-xs[c], height, "D")
		}
	}
	w.y += height
}

// cell draws a line of a cell as its column is set.
func (w *corpusWriter) cell(g corpusGrid, xs []float64, c int, y float64, line string) {
	x := xs[c] + 2
	if g.centred != nil && g.centred[c] {
		x = (xs[c]+xs[c+1])/2 - w.width(line)/2
		if w.l.Right {
			x = xs[c+1] - 3 - w.width(line)
		}
	}
	if !w.l.Lowered || g.symbols != c+1 || line == w.l.Titles[corpusSymbol] || len(line) < 2 {
		w.text(x, y, line)
		return
	}
	size, _ := w.GetFontSize()
	head := string([]rune(line)[:1])
	w.text(x, y, head)
	x += w.width(head)
	w.font(false, size*0.7)
	w.text(x, y+size*0.2, string([]rune(line)[1:]))
	w.font(false, size)
}

func (w *corpusWriter) rowHeight(xs []float64, cells []string) float64 {
	n := 1
	for c, s := range cells {
		n = max(n, len(w.wrap(s, xs[c+1]-xs[c]-4)))
	}
	return float64(n)*w.l.Size*corpusLineStep + 2*w.l.Padding
}

// ratings draws rows of ratings or characteristics.
func (w *corpusWriter) ratings(rows []corpusRow, x0, x1 float64) {
	if !w.l.UnitHead {
		w.ratingTable(rows, "", x0, x1)
		return
	}
	var units []string
	by := map[string][]corpusRow{}
	for _, r := range rows {
		if by[r.Unit] == nil {
			units = append(units, r.Unit)
		}
		by[r.Unit] = append(by[r.Unit], r)
	}
	for _, u := range units {
		w.room(60)
		w.ratingTable(by[u], u, x0, x1)
	}
}

func (w *corpusWriter) ratingTable(rows []corpusRow, unit string, x0, x1 float64) {
	g := corpusGrid{}
	for i, c := range w.l.Columns {
		title := w.l.Titles[c]
		if unit != "" && (c == corpusMin || c == corpusTyp || c == corpusMax) {
			title += " (" + unit + ")"
		}
		g.titles, g.shares = append(g.titles, title), append(g.shares, w.l.Widths[c])
		limit := c == corpusMin || c == corpusTyp || c == corpusMax || c == corpusUnit
		g.centred = append(g.centred, (w.l.Centre || w.l.Right) && limit)
		if c == corpusSymbol {
			g.symbols = i + 1
		}
		if w.l.TwoLine && c == corpusMin {
			g.above, g.first = "Limits", i
		}
		if w.l.TwoLine && c == corpusMax {
			g.last = i
		}
	}
	group := ""
	for i, r := range rows {
		if w.l.Groups && r.Group != group && r.Group != "" {
			group = r.Group
			g.rows = append(g.rows, corpusGridRow{group: group})
		}
		g.rows = append(g.rows, w.ratingRow(rows, i))
	}
	w.grid(g, x0, x1)
}

func (w *corpusWriter) ratingRow(rows []corpusRow, i int) corpusGridRow {
	r := rows[i]
	row := corpusGridRow{}
	first := w.l.Merge == "" || i == 0 || rows[i-1].Name != r.Name
	n := 1
	for w.l.Merge != "" && i+n < len(rows) && rows[i+n].Name == r.Name {
		n++
	}
	for _, c := range w.l.Columns {
		text := w.cellText(r, c)
		span := 1
		if c == corpusName || c == corpusSymbol || c == corpusUnit && w.l.Merge == "middle" {
			span = n
			if !first {
				span, text = 0, ""
			}
		}
		row.cells, row.span = append(row.cells, text), append(row.span, span)
	}
	return row
}

func (w *corpusWriter) cellText(r corpusRow, c corpusColumn) string {
	blank := func(s string) string {
		if s == "" {
			return w.l.Blank
		}
		return strings.ReplaceAll(s, "-", w.minus())
	}
	switch c {
	case corpusName:
		return r.Name
	case corpusSymbol:
		return r.Symbol
	case corpusCondition:
		return strings.ReplaceAll(r.Condition, "= -", "= "+w.minus())
	case corpusMin:
		return blank(r.Min)
	case corpusTyp:
		return blank(r.Typ)
	case corpusMax:
		return blank(r.Max)
	}
	return r.Unit
}

// minus is how the layout prints the sign.
func (w *corpusWriter) minus() string {
	switch w.l.Font {
	case "core":
		return "-"
	case "serif":
		return "–"
	}
	return "−"
}

// room begins a new page if less than h points are left.
func (w *corpusWriter) room(h float64) {
	if w.y+h > w.h-40 {
		w.page()
	}
}
