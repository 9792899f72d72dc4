package sheet

// dropTail takes running text off the end of a table: a last line whose words
// stand as close as those of a phrase and yet run through several columns is a
// sentence below the table, or the caption of the next one, not a row of cells.
func (t *Table) dropTail(g *grid) {
	for len(t.Rows) > 0 {
		if r := t.Rows[len(t.Rows)-1]; len(r.Lines) != 1 || !t.runsThrough(g, r.Lines[0]) {
			return
		}
		t.Rows = t.Rows[:len(t.Rows)-1]
	}
}

// runsThrough says whether a row of the page is one phrase over more than one
// column of the table.
func (t *Table) runsThrough(g *grid, i int) bool {
	words := inside(g.rows[i].words, g.rows[i].left, g.rows[i].right)
	if len(words) < 2 || !closeSet(words) {
		return false
	}
	r := newChunk(words).r
	n := 0
	for _, c := range t.Columns {
		if r.x0 < c.x1-1 && r.x1 > c.x0+1 {
			n++
		}
	}
	return n > 1 || r.x1 < t.left || r.x0 < t.left
}

// closeSet says whether words stand as close as those of a phrase, by the size
// of most of the type: beside "%" or "+" the gap is that of the line.
func closeSet(words []cellWord) bool {
	em := emOf(sizeOf(words))
	for i, w := range words[1:] {
		if w.r.x0-words[i].r.x1 > 1.1*phraseGap*em {
			return false
		}
	}
	return true
}
