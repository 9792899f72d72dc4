package sheet

var footnote = pattern(`^(\(\d{1,2}\)|\d{1,2}[.)]|\[\d{1,2}\]|\*+|†|Notes?\b|NOTES?\b)`)

// ends says whether a line, with a gap above it, ends the table: another
// header, a heading, prose, a footnote.
func (g *grid) ends(t *Table, l bodyLine, gap float64) bool {
	chunks := chunksOf(l.words)
	text := joinWords(l.words)
	crossed := 0
	for _, c := range chunks {
		for _, col := range t.Columns {
			if mid := (col.head.x0 + col.head.x1) / 2; mid > c.r.x0 && mid < c.r.x1 {
				crossed++
			}
		}
	}
	switch {
	case len(chunks) == 1 && len(l.words) >= 8 && crossed >= 2,
		len(chunks) <= 2 && crossed >= 3 && len(l.words) >= 6:
		return true
	case footnote().MatchString(text) && (len(l.words) >= 4 && len(chunks) <= 2 && crossed >= 1):
		return true
	case sizeOf(l.words) > 1.3*sizeOf(inside(g.rows[t.headRow].words, t.left, t.right)) && len(chunks) <= 2 && len(l.words) <= 10:
		return true
	}
	if t.headingLine(chunks, gap, sizeOf(inside(g.rows[t.headRow].words, t.left, t.right))) {
		return true
	}
	return g.repeatsHeader(t, l)
}

// repeatsHeader says whether a line heads another table.
func (g *grid) repeatsHeader(t *Table, l bodyLine) bool {
	for _, u := range g.headersAt(l.row) {
		if u.left < t.right && u.right > t.left && sameTitles(u, t, l.words) {
			return true
		}
	}
	return false
}

// sectionNumber matches what may stand before a heading.
var sectionNumber = pattern(`^(\d{1,2}|[A-Z])(\.\d{1,2})*\.?$`)

// headingLine says whether a line with a gap above it heads what comes after the
// table: the term of a section, or larger type, set apart; size is that of the
// header's type.
func (t *Table) headingLine(chunks []chunk, gap, size float64) bool {
	numbered := len(chunks) == 2 && sectionNumber().MatchString(chunks[0].text())
	if len(chunks) != 1 && !numbered || chunks[0].r.x0 >= t.Columns[0].head.x1 {
		return false
	}
	words := chunks[len(chunks)-1].words
	own, text := sizeOf(words), joinWords(words)
	return sectionTitle(text) && (own > 1.05*size || gap > 1.1*emOf(own))
}

// sameTitles says whether a row is a header in its own right and not a row of
// data that happens to hold a title word: at least two known titles in the table.
func sameTitles(u, t *Table, words []cellWord) bool {
	n := 0
	for _, c := range u.Columns {
		if _, _, ok := headKind(c.Title); ok && c.head.x1 > t.left && c.head.x0 < t.right {
			n++
		}
	}
	return n >= 3 || n == 2 && len(chunksOf(words)) <= 3 && !hasDigit(joinWords(words))
}
