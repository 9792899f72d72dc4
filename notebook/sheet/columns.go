package sheet

import "sort"

// Pages of two columns: what stands beside a line is another line, even at the
// same height, so rows are formed for each side.

// splitColumns finds the gutter of a page set in two columns by the running
// text on both sides of it, and forms the rows of either side on their own,
// wherever nothing runs across the gutter.
func (g *grid) splitColumns() {
	x, ok := g.gutter()
	if !ok {
		return
	}
	from := 0
	for i := 0; i <= len(g.rows); i++ {
		if i < len(g.rows) && !g.rows[i].crosses(x) {
			continue
		}
		if g.twoColumns(from, i, x) {
			i = g.split(from, i, x)
		}
		from = i + 1
	}
}

// eachPhrase calls fn with the first and the last word of every phrase of a row.
func (r row) eachPhrase(fn func(words []cellWord)) {
	from := 0
	for i := 1; i <= len(r.words); i++ {
		if i < len(r.words) {
			a, b := &r.words[i-1], &r.words[i]
			if b.r.x0-a.r.x1 <= phraseGap*gapSize(a, b) {
				continue
			}
		}
		fn(r.words[from:i])
		from = i
	}
}

// running says whether a phrase is a line of running text in one of two columns.
func (g *grid) running(words []cellWord) bool {
	if len(words) < 5 {
		return false
	}
	share := (words[len(words)-1].r.x1 - words[0].r.x0) / g.width()
	return share > 0.25 && share < 0.5
}

// gutter finds the stripe between two columns of running text: several lines
// that end at its left, several that begin at its right.
func (g *grid) gutter() (float64, bool) {
	var ends, begins []float64
	for _, r := range g.rows {
		r.eachPhrase(func(words []cellWord) {
			x0, x1 := words[0].r.x0, words[len(words)-1].r.x1
			switch {
			case !g.running(words):
			case x1 < 0.6*g.width() && x0 < 0.3*g.width():
				ends = append(ends, x1)
			case x0 > 0.4*g.width():
				begins = append(begins, x0)
			}
		})
	}
	if len(ends) < 4 && len(begins) < 4 {
		return 0, false
	}
	sort.Float64s(ends)
	sort.Float64s(begins)
	left, leftOK := edgeOf(ends, -1)
	right, rightOK := edgeOf(begins, 1)
	for _, h := range g.headRuns() { // a table may fill the other column
		switch {
		case leftOK && !rightOK && h.x0 > left:
			right, rightOK = h.x0, true
		case rightOK && !leftOK && h.x1 < right:
			left, leftOK = h.x1, true
		}
	}
	return (left + right) / 2, leftOK && rightOK && right-left >= 4
}

// edgeOf gives the edge that at least three lines of sorted places share, seen
// from the end that the direction names.
func edgeOf(places []float64, direction int) (float64, bool) {
	if len(places) < 3 {
		return 0, false
	}
	if direction < 0 {
		last := places[len(places)-1]
		return last, places[len(places)-3] > last-10
	}
	return places[0], places[2] < places[0]+10
}

// crosses says whether a phrase of the row runs across a place.
func (r row) crosses(x float64) bool {
	found := false
	r.eachPhrase(func(words []cellWord) {
		found = found || words[0].r.x0 < x && words[len(words)-1].r.x1 > x
	})
	return found
}

// twoColumns says whether rows from..to-1 are two columns beside a gutter:
// running text on both sides, or on one side and a table on the other.
func (g *grid) twoColumns(from, to int, x float64) bool {
	var lines [2]int
	for _, r := range g.rows[from:to] {
		r.eachPhrase(func(words []cellWord) {
			if g.running(words) {
				lines[boolIndex(words[0].r.x0 > x)]++
			}
		})
	}
	if lines[0] >= 2 && lines[1] >= 2 {
		return true
	}
	for _, h := range g.headRuns() {
		if h.row < from || h.row >= to {
			continue
		}
		if h.x0 > x && lines[0] >= 3 || h.x1 < x && lines[1] >= 3 {
			return true
		}
	}
	return false
}

func boolIndex(b bool) int {
	if b {
		return 1
	}
	return 0
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
