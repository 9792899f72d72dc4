package sheet

import "math"

// Tables side by side, each with a header of its own: their rows need not stand
// level, so they are formed for each side, as those of columns of text.

// headRun is a run of column titles in a row, enough to head a table.
type headRun struct {
	row    int
	x0, x1 float64
	own    bool // has more than numbers, units and conditions: it is no second column of values of the table beside it
}

// maxStagger is how far the headers of tables side by side may stand apart in
// height, in points.
const maxStagger = 220.0

// splitTables forms the rows of tables side by side on their own, down to the
// first line that runs across the gap between them.
func (g *grid) splitTables() {
	const rounds = 12 // bounds what a hostile page costs
	for range rounds {
		if !g.splitNextPair() {
			return
		}
	}
}

// splitNextPair splits the rows below the first two headers that stand side by
// side and are not yet apart.
func (g *grid) splitNextPair() bool {
	runs := g.headRuns()
	for k, a := range runs {
		for _, b := range runs[k+1:] {
			first, second := g.rows[a.row], g.rows[b.row]
			if first.left != second.left || second.y0-first.y0 > maxStagger {
				break
			}
			l, r := a, b
			if l.x0 > r.x0 {
				l, r = r, l
			}
			if a.row == b.row && !r.own {
				continue
			}
			if r.x0-l.x1 < 4 {
				if a.row != b.row { // the one stands below the other
					break
				}
				continue
			}
			if end, x := g.gapBetween(a.row, b.row, l.x1, r.x0); end > b.row+1 {
				g.split(a.row, end, x)
				return true
			}
		}
	}
	return false
}

// headRuns finds the runs of known titles that head a table by themselves.
func (g *grid) headRuns() []headRun {
	var out []headRun
	for i, r := range g.rows {
		if !r.titled() {
			continue
		}
		var cols []Column
		flush := func() {
			if len(cols) >= 3 && isHeader(cols) {
				run := headRun{row: i, x0: cols[0].head.x0, x1: cols[len(cols)-1].head.x1}
				for _, c := range cols {
					run.own = run.own || !c.Kind.isLimit() && c.Kind != KindUnit && c.Kind != KindCondition && c.Kind != KindNote
				}
				out = append(out, run)
			}
			cols = nil
		}
		for _, c := range headerChunks(r.words) {
			k, _, ok := headKind(c.text())
			if !ok || repeats(cols, k) {
				flush()
			}
			if ok {
				cols = append(cols, Column{Kind: k, Title: c.text(), head: c.r})
			}
		}
		flush()
	}
	return out
}

// titled says whether a row has words enough that alone title a column.
func (r row) titled() bool {
	if len(r.words) < 3 {
		return false
	}
	n := 0
	for _, w := range r.words {
		if len(w.text) <= 16 && !hasDigit(w.text) {
			if _, _, ok := headKind(w.text); ok {
				n++
			}
		}
	}
	return n >= 3
}

// gapBetween follows two tables whose headers stand in rows i and j down to the
// first row that runs across the stripe between x0 and x1, and gives that row
// and the middle of the stripe.
func (g *grid) gapBetween(i, j int, x0, x1 float64) (end int, x float64) {
	var body []bodyLine
	bottom := g.rows[i].y1
	for end = i; end < len(g.rows); end++ {
		r := g.rows[end]
		if r.left != g.rows[i].left || r.y0-bottom > maxTableGap*emOf(sizeOf(r.words)) {
			break
		}
		body = append(body, bodyLine{words: r.words})
		bottom = math.Max(bottom, r.y1)
	}
	x, width, crossings := clearest(body, x0, x1)
	for (crossings > 0 || width < 4) && len(body) > 0 { // a line below the tables runs across
		body, end = body[:len(body)-1], end-1
		x, width, crossings = clearest(body, x0, x1)
	}
	return end, x
}

// split forms rows from..to-1 anew, those left of x before those right of it,
// and gives the number of the row behind them.
func (g *grid) split(from, to int, x float64) int {
	var left, right []cellWord
	x0, x1 := g.rows[from].left, g.rows[from].right
	for _, r := range g.rows[from:to] {
		for _, w := range r.words {
			if (w.r.x0+w.r.x1)/2 < x {
				left = append(left, w)
			} else {
				right = append(right, w)
			}
		}
	}
	rows := append(formRows(left, x0, x), formRows(right, x, x1)...)
	g.rows = append(append(append([]row(nil), g.rows[:from]...), rows...), g.rows[to:]...)
	return from + len(rows)
}
