package sheet

import (
	"math"
	"unicode"
)

// carry fills the empty cells of a column whose cells may span rows. Where a
// spanning cell is set at its top or in its middle differs from sheet to sheet;
// the reading that fits the places of the cells better is taken.
func (t *Table) carry(k Kind) {
	col := t.column(k)
	if col < 0 {
		return
	}
	for from := 0; from < len(t.Rows); {
		to := from + 1
		for to < len(t.Rows) && t.Rows[to].Group == t.Rows[from].Group {
			to++
		}
		t.carryRange(col, k, from, to)
		from = to
	}
}

// carryRange works on rows under one heading.
func (t *Table) carryRange(col int, k Kind, from, to int) {
	var given []int
	for i := from; i < to; i++ {
		if t.Rows[i].Cells[col].Given {
			given = append(given, i)
		}
	}
	if len(given) == 0 || len(given) == to-from {
		return
	}
	if k == KindSymbol { // a symbol spans exactly the rows its name spans
		t.carrySymbols(col, from, to)
		return
	}
	top, topCost := t.spans(col, given, from, to, false)
	mid, midCost := t.spans(col, given, from, to, true)
	owner, middle := top, false
	if topCost < 0 || midCost >= 0 && midCost < 0.8*topCost {
		owner, middle = mid, true
	}
	for i := from; i < to && owner != nil; i++ {
		c, src := &t.Rows[i].Cells[col], t.Rows[owner[i-from]].Cells[col]
		if !c.Given && !src.Unread && t.reaches(col, k, i, owner, from, middle) {
			c.Text, c.words = src.Text, src.words
		}
	}
}

// reaches says whether the cell that row i would take over spans it beyond
// doubt. An empty cell may as well be meant to be empty: a unit or a package at
// the top of its run is only taken over along with the name of the row, one in
// the middle only if it stands there.
func (t *Table) reaches(col int, k Kind, i int, owner []int, from int, middle bool) bool {
	src := owner[i-from]
	if !middle {
		name := t.column(KindName)
		return k == KindName || name >= 0 && t.sameName(i, src, name)
	}
	first, last := i, i
	for first > from && owner[first-1-from] == src {
		first--
	}
	for last+1-from < len(owner) && owner[last+1-from] == src {
		last++
	}
	a, b := t.Rows[first], t.Rows[last]
	pitch := (b.y1 - a.y0) / float64(last-first+1)
	return t.misfit(col, src, first, last, true) < 0.3*pitch
}

// spans shares rows out to the given cells, each a run around its cell, so that
// the cells stand as near as can be to the top (or middle) of their runs. The
// cost is negative where that cannot be done.
func (t *Table) spans(col int, given []int, from, to int, middle bool) ([]int, float64) {
	if !middle && given[0] != from {
		return nil, -1
	}
	n := to - from
	// cost[j][e]: the least cost of giving rows from..from+e-1 to cells 0..j-1.
	cost := make([][]float64, len(given)+1)
	prev := make([][]int, len(given)+1)
	for j := range cost {
		cost[j], prev[j] = make([]float64, n+1), make([]int, n+1)
		for e := range cost[j] {
			cost[j][e] = math.Inf(1)
		}
	}
	cost[0][0] = 0
	for j, cell := range given {
		limit := n
		if j+1 < len(given) {
			limit = given[j+1] - from
		}
		for e := cell - from + 1; e <= limit; e++ {
			for s := 0; s <= cell-from; s++ {
				if c := cost[j][s] + t.misfit(col, cell, from+s, from+e-1, middle); c < cost[j+1][e] {
					cost[j+1][e], prev[j+1][e] = c, s
				}
			}
		}
	}
	if math.IsInf(cost[len(given)][n], 1) {
		return nil, -1
	}
	owner := make([]int, n)
	e := n
	for j := len(given); j > 0; j-- {
		s := prev[j][e]
		for i := s; i < e; i++ {
			owner[i] = given[j-1]
		}
		e = s
	}
	return owner, cost[len(given)][n]
}

// misfit is how far a cell stands from where it would stand in a run of rows.
// What letters with and without descenders make of the middle does not count.
func (t *Table) misfit(col, cell, first, last int, middle bool) float64 {
	words := t.Rows[cell].Cells[col].words
	y0, y1 := span1(words)
	a, b := t.Rows[first], t.Rows[last]
	off := math.Abs(y0 - a.y0)
	if middle { // of the lines with numbers, or of all lines where cells wrap
		m := (y0 + y1) / 2
		off = math.Min(math.Abs(m-(a.y0+b.y1)/2), math.Abs(m-(a.f0+b.f1)/2))
	}
	return math.Max(0, off-0.15*emOf(sizeOf(words)))
}

// plainWord says whether a word is of three or more small letters: no symbol.
func plainWord(s string) bool {
	n := 0
	for _, r := range s {
		if !unicode.IsLower(r) && !unicode.IsPunct(r) {
			return false
		}
		n++
	}
	return n >= 3
}

// carrySymbols copies a symbol to the rows that share its name.
func (t *Table) carrySymbols(col, from, to int) {
	name := t.column(KindName)
	if name < 0 {
		return
	}
	for i := from; i < to; i++ {
		c := &t.Rows[i].Cells[col]
		if c.Given || t.Rows[i].Cells[name].Given && i > from && !t.sameName(i, i-1, name) {
			continue
		}
		for j := from; j < to; j++ {
			src := t.Rows[j].Cells[col]
			if src.Given && t.sameName(i, j, name) {
				c.Text, c.words = src.Text, src.words
				break
			}
		}
	}
}

// sameName says whether two rows share one name cell.
func (t *Table) sameName(i, j, name int) bool {
	a, b := t.Rows[i].Cells[name].words, t.Rows[j].Cells[name].words
	return len(a) > 0 && len(b) > 0 && a[0].at == b[0].at
}
