package sheet

// dropTail takes running text off the end of a table: a last line whose words
// stand as close as those of a phrase and yet run through several columns is a
// sentence below the table, or the caption of the next one, not a row of cells.
// So is a phrase right above the header of another table; headers are its rows.
func (t *Table) dropTail(g *grid, headers map[int]bool) {
	for len(t.Rows) > 0 {
		r := &t.Rows[len(t.Rows)-1]
		if len(r.Lines) == 0 {
			return
		}
		last := r.Lines[len(r.Lines)-1]
		if !t.runsThrough(g, last) && !(len(r.Lines) > 1 && headers[last+1] && setApart(g, r.Lines)) {
			return
		}
		if len(r.Lines) == 1 {
			t.Rows = t.Rows[:len(t.Rows)-1]
			continue
		}
		r.dropLine(g, last)
	}
}

// runsThrough says whether a row of the page is one phrase over more than one
// column of the table.
func (t *Table) runsThrough(g *grid, i int) bool {
	words := inside(g.rows[i].words, g.rows[i].left, g.rows[i].right)
	if len(words) < 2 || !closeSet(words, 1.1) {
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

// setApart says whether the last line of a row is a phrase with a gap above it.
func setApart(g *grid, lines []int) bool {
	last, above := g.rows[lines[len(lines)-1]], g.rows[lines[len(lines)-2]]
	return last.y0-above.y1 > 0.7*emOf(sizeOf(last.words)) && closeSet(last.words, 1.6)
}

// closeSet says whether words stand as close as those of a phrase, by the size
// of most of the type and a share of the gap in a phrase: beside "%" or "+" the gap is that of the line.
func closeSet(words []cellWord, share float64) bool {
	em := emOf(sizeOf(words))
	for i, w := range words[1:] {
		if w.r.x0-words[i].r.x1 > share*phraseGap*em {
			return false
		}
	}
	return true
}

// dropLine takes the words of one row of the page out of the cells.
func (r *TableRow) dropLine(g *grid, line int) {
	gone := map[place]bool{}
	for _, w := range g.rows[line].words {
		gone[w.at] = true
	}
	for i := range r.Cells {
		c := &r.Cells[i]
		if len(c.words) == 0 || !c.Given {
			continue
		}
		var kept []cellWord
		for _, w := range c.words {
			if !gone[w.at] {
				kept = append(kept, w)
			}
		}
		if len(kept) < len(c.words) {
			c.words, c.Text = kept, joinWrapped(kept)
		}
	}
	r.Lines = r.Lines[:len(r.Lines)-1]
}
