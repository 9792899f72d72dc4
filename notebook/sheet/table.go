package sheet

import (
	"cmp"
	"math"
	"strings"
	"unicode/utf8"
)

// Table is a table of a page, found by its header row.
type Table struct {
	Page    int
	Columns []Column
	Rows    []TableRow
	Title   string // the line above the header that says what the table is, "" if none

	left, right, top, bottom float64 // upright
	headRow                  int     // last grid row of the header
	rules                    frameRules
	other                    *Table   // the same as its white gaps alone say, where ruled lines settle it
	byGaps                   bool     // this is such another reading
	bars                     []string // headings inside a ruled list
	valuesAre                Kind     // what a title over several columns of values says they are, "" if none does
	version                  int      // which of several columns of numbers side by side this reads, from 1; 0 if there are none
	of                       string   // the title of that column: a part, a grade, a package; "" if none
}

// Column is one column of a table.
type Column struct {
	Kind   Kind
	Title  string
	Unit   string // of a title like "Max (mV)", "" if none
	x0, x1 float64
	clear  bool // few phrases cross its left border
	part   bool // its left border is a line that cuts some rows alone
	head   rect
}

// TableRow is one row as the reader understands it: wrapped lines joined, cells
// that span rows repeated.
type TableRow struct {
	Cells  []Cell  // one per column
	Group  string  // the heading inside the table that stands above the row
	Lines  []int   // rows of the page grid
	y0, y1 float64 // of its lines with numbers
	f0, f1 float64 // of all its lines
}

// Cell is the text of one cell.
type Cell struct {
	Text   string
	Given  bool // false when the text was carried over from a cell that spans rows
	Unread bool // a number or unit that cannot be told for sure: Text is ""
	words  []cellWord
}

// Cell gives the text in the first column of a kind, "" if there is none.
func (t *Table) Cell(r *TableRow, k Kind) string {
	if i := t.column(k); i >= 0 {
		return r.Cells[i].Text
	}
	return ""
}

func (t *Table) column(k Kind) int {
	for i, c := range t.Columns {
		if c.Kind == k {
			return i
		}
	}
	return -1
}

// chunk is a run of words that stand as close as words of a phrase do.
type chunk struct {
	words []cellWord
	r     rect
	title string // of one whose signs are set wide apart
}

func (c chunk) text() string { return cmp.Or(c.title, joinWords(c.words)) }

func joinWords(ws []cellWord) string {
	s := make([]string, len(ws))
	for i, w := range ws {
		s[i] = w.text
	}
	return strings.Join(s, " ")
}

// phraseGap is the widest gap inside a phrase, in type sizes.
const phraseGap = 0.55

// gapSize is the size by which the gap between two words is judged: the smaller
// of theirs, but not that of a sign, whose height says little.
func gapSize(a, b *cellWord) float64 {
	switch {
	case isSign(a.text):
		return emOf(b.size)
	case isSign(b.text):
		return emOf(a.size)
	}
	return emOf(math.Min(a.size, b.size))
}

func isSign(s string) bool {
	switch s {
	case "=", "<", ">", "≤", "≥", "±", "+", "−", "×", "~", "≈":
		return true
	}
	return false
}

func chunksOf(words []cellWord) []chunk {
	var out []chunk
	for i, w := range words {
		if n := len(out); n > 0 && w.r.x0-words[i-1].r.x1 <= phraseGap*gapSize(&words[i-1], &w) {
			c := &out[n-1]
			c.words, c.r = append(c.words[:len(c.words):len(c.words)], w), c.r.union(w.r)
			continue
		}
		out = append(out, chunk{words: []cellWord{w}, r: w.r})
	}
	return out
}

// headerChunks gives the titles of a row, a unit in brackets with the title before it.
func headerChunks(words []cellWord) []chunk {
	var out []chunk
	for _, c := range spacedTitles(chunksOf(words)) {
		if n := len(out); n > 0 && isBracketed(c.text()) && len(c.words) == 1 && c.r.x0-out[n-1].r.x1 < 1.2*emOf(c.words[0].size) {
			out[n-1] = newChunk(append(out[n-1].words[:len(out[n-1].words):len(out[n-1].words)], c.words...)) // "Min" "(mV)"
			continue
		}
		out = append(out, c)
	}
	return out
}

// spacedTitles joins the signs of titles that are set wide apart: "项 目".
func spacedTitles(chunks []chunk) []chunk {
	var out []chunk
next:
	for i := 0; i < len(chunks); i++ {
		for j := min(i+4, len(chunks)); j > i+1; j-- {
			text := ""
			for _, c := range chunks[i:j] {
				if text += c.text(); utf8.RuneCountInString(c.text()) > 1 || text[0] < 0x80 {
					text = "-"
				}
			}
			if _, ok := headWords[text]; ok {
				var words []cellWord
				for _, c := range chunks[i:j] {
					words = append(words, c.words...)
				}
				c := newChunk(words)
				c.title = text
				out, i = append(out, c), j-1
				continue next
			}
		}
		out = append(out, chunks[i])
	}
	return out
}

func newChunk(ws []cellWord) chunk {
	c := chunk{words: ws, r: ws[0].r}
	for _, w := range ws[1:] {
		c.r = c.r.union(w.r)
	}
	return c
}

func isBracketed(s string) bool { return strings.HasPrefix(s, "(") || strings.HasPrefix(s, "[") }

// limitWord says whether a word alone titles a column of numbers or units.
func limitWord(s string) bool {
	k, _, ok := headKind(s)
	return ok && (k == KindMin || k == KindTyp || k == KindMax || k == KindUnit)
}

// tables finds the tables of the page.
func (v *view) tables() []*Table {
	if v.tabled {
		return v.tabs
	}
	v.tabled = true
	g := v.grid()
	for i := range g.rows {
		if g.titlesVersions(i) {
			continue
		}
		known := len(v.tabs)
		for _, t := range g.beside(g.headersAt(i), i) {
			if !v.covered(t, i, known) && g.fill(t, i) {
				v.tabs = append(v.tabs, t)
			}
		}
	}
	v.tabs = append(v.tabs, g.banded(v.tabs)...)
	v.tabs = append(v.tabs, g.lists(v.tabs)...)
	return v.tabs
}

// covered says whether the header row belongs to one of the first n tables found.
func (v *view) covered(t *Table, row, n int) bool {
	for i, u := range v.tabs {
		if (i < n || t.version == 0) && row <= u.headRow && t.left < u.right && t.right > u.left {
			return true
		}
	}
	return false
}

// line is a row of the page inside a table, cut into cells.
type line struct {
	row    int
	y0, y1 float64
	cells  [][]cellWord
	limits bool // a column of numbers is filled
	span   bool // text runs across columns
}

// fill reads the body below the header and says whether there is one.
func (g *grid) fill(t *Table, head int) bool {
	if t.version == 0 {
		g.extendHeader(t, head)
	}
	t.rules = g.frame(t)
	body := g.body(t)
	if len(body) == 0 {
		return false
	}
	t.Title = g.titleAbove(t, head)
	t.setColumns(body)
	if t.rules.boxed {
		t.splitRuled(g, body)
	}
	t.splitBeside(body)
	t.splitSymbols(body)
	t.conditionColumns()
	g.valueColumns(t, body)
	t.namesByContent(body)
	return t.rowsOf(body)
}

// rowsOf makes the rows of a body whose columns are known.
func (t *Table) rowsOf(body []bodyLine) bool {
	lines := t.cut(body)
	t.bottom = lines[len(lines)-1].y1
	other := *t
	if t.assembleRuled(lines) {
		other.byGaps = true
		other.assemble(lines)
		t.other = &other
	} else {
		t.assemble(lines)
	}
	t.nameColumns()
	return len(t.Rows) > 0
}

func inside(words []cellWord, left, right float64) []cellWord {
	var out []cellWord
	for _, w := range words {
		if mid := (w.r.x0 + w.r.x1) / 2; mid > left && mid < right {
			out = append(out, w)
		}
	}
	return out
}
