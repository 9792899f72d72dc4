package sheet

import (
	"math"
	"sort"
	"strings"
)

// Table is a table of a page, found by its header row.
type Table struct {
	Page    int
	Columns []Column
	Rows    []TableRow
	Title   string // the line above the header that says what the table is, "" if none

	left, right, top, bottom float64 // upright
	headRow                  int     // last grid row of the header
}

// Column is one column of a table.
type Column struct {
	Kind   Kind
	Title  string
	Unit   string // of a title like "Max (mV)", "" if none
	x0, x1 float64
	clear  bool // few phrases cross its left border
	head   rect
}

// TableRow is one row as the reader understands it: wrapped lines joined, cells
// that span rows repeated.
type TableRow struct {
	Cells  []Cell  // one per column
	Group  string  // the heading inside the table that stands above the row
	Lines  []int   // rows of the page grid
	Quote  string  // words that stand on the page in this order and name the row
	y0, y1 float64 // of its lines with numbers
}

// Cell is the text of one cell.
type Cell struct {
	Text  string
	Given bool // false when the text was carried over from a cell that spans rows
	words []cellWord
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
}

func (c chunk) text() string { return joinWords(c.words) }

func joinWords(ws []cellWord) string {
	s := make([]string, len(ws))
	for i, w := range ws {
		s[i] = w.text
	}
	return strings.Join(s, " ")
}

// phraseGap is the widest gap inside a phrase, in type sizes.
const phraseGap = 0.55

func chunksOf(words []cellWord) []chunk {
	var out []chunk
	for i, w := range words {
		if n := len(out); n > 0 && w.r.x0-words[i-1].r.x1 <= phraseGap*emOf(math.Min(w.size, words[i-1].size)) {
			c := &out[n-1]
			c.words, c.r = append(c.words[:len(c.words):len(c.words)], w), c.r.union(w.r)
			continue
		}
		out = append(out, chunk{words: []cellWord{w}, r: w.r})
	}
	return out
}

// headerChunks cuts a row where a title ends, since narrow columns stand closer
// than the words of a phrase: "Min Typ Max Unit" are four.
func headerChunks(words []cellWord) []chunk {
	var out []chunk
	for _, c := range chunksOf(words) {
		if _, _, ok := headKind(c.text()); ok || limitWords(c.words) < 2 {
			out = append(out, c)
			continue
		}
		start := 0
		for i := 0; i <= len(c.words); i++ {
			if i < len(c.words) && !limitWord(c.words[i].text) {
				continue
			}
			if i > start {
				out = append(out, newChunk(c.words[start:i]))
			}
			if i < len(c.words) {
				j := i + 1
				for open := false; j < len(c.words) && (open || isBracketed(c.words[j].text)); j++ {
					open = !strings.ContainsAny(c.words[j].text, ")]")
				}
				out = append(out, newChunk(c.words[i:j]))
				i = j - 1
			}
			start = i + 1
		}
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

// limitWords counts them: "Typical Characteristics" has one and is a heading.
func limitWords(words []cellWord) int {
	n := 0
	for _, w := range words {
		if limitWord(w.text) {
			n++
		}
	}
	return n
}

// tables finds the tables of the page.
func (v *view) tables() []*Table {
	if v.tabled {
		return v.tabs
	}
	v.tabled = true
	g := v.grid()
	for i := range g.rows {
		for _, t := range g.headersAt(i) {
			if v.covered(t, i) {
				continue
			}
			if g.fill(t, i) {
				v.tabs = append(v.tabs, t)
			}
		}
	}
	return v.tabs
}

// covered says whether the header row belongs to a table already found.
func (v *view) covered(t *Table, row int) bool {
	for _, u := range v.tabs {
		if row <= u.headRow && t.left < u.right && t.right > u.left {
			return true
		}
	}
	return false
}

// headersAt reads a row of the page as the header of one or more tables side by side.
func (g *grid) headersAt(i int) []*Table {
	var out []*Table
	var cols []Column
	limits := g.page.Width
	if g.turn&1 == 1 {
		limits = g.page.Height
	}
	left := 0.0
	finish := func(right float64) {
		if isHeader(cols) {
			out = append(out, &Table{Page: g.page.Number, Columns: cols, left: left, right: right, top: g.rows[i].y0, headRow: i})
		}
		cols = nil
	}
	for _, c := range headerChunks(g.rows[i].words) {
		kind, unit, ok := headKind(c.text())
		switch {
		case !ok && (prose(c) || hasDigit(c.text()) || len(c.words) > 4):
			finish(c.r.x0)
			left = c.r.x1
			continue
		case !ok:
			kind = KindOther
		case repeats(cols, kind):
			edge := (cols[len(cols)-1].head.x1 + c.r.x0) / 2
			finish(edge)
			left = edge
		}
		cols = append(cols, Column{Kind: kind, Title: c.text(), Unit: unitText(c.text(), unit), head: c.r})
	}
	finish(limits)
	return out
}

func unitText(title string, m measure) string {
	if m.kind == "" {
		return ""
	}
	return strings.Trim(title[strings.IndexAny(title, "(["):], "()[] ")
}

// repeats says whether a second table begins beside the first.
func repeats(cols []Column, k Kind) bool {
	if k != KindName && k != KindPin && k != KindMin && k != KindSymbol && k != KindTyp && k != KindMax {
		return false
	}
	for _, c := range cols {
		if c.Kind == k {
			return true
		}
	}
	return false
}

// isHeader asks for titles that make a table of the kinds we read.
func isHeader(cols []Column) bool {
	has := map[Kind]int{}
	for _, c := range cols {
		has[c.Kind]++
	}
	limits := min(has[KindMin], 1) + min(has[KindTyp], 1) + min(has[KindMax], 1)
	named := has[KindName] + has[KindSymbol] + has[KindCondition]
	switch {
	case limits >= 2, limits == 1 && (has[KindUnit] > 0 || named > 0):
		return true
	case has[KindValue] > 0 && (has[KindUnit] > 0 || named > 0), has[KindUnit] > 0 && named > 1:
		return true
	case has[KindPin] > 0 && (has[KindPinName]+has[KindFunction]+has[KindType] > 0), has[KindPinName] > 0 && has[KindFunction] > 0:
		return true
	case has[KindOrder] > 0 && len(cols) >= 2 && (has[KindPackage] > 0 || has[KindOther] > 0):
		return true
	case has[KindPackage] > 0 && has[KindOther] > 0, has[KindOther] >= 2 && has[KindOther] == len(cols) && knownOthers(cols) == len(cols):
		return true
	}
	return false
}

func knownOthers(cols []Column) int {
	n := 0
	for _, c := range cols {
		if _, _, ok := headKind(c.Title); ok {
			n++
		}
	}
	return n
}

func prose(c chunk) bool {
	lower := 0
	for _, w := range c.words {
		if len(w.text) > 2 && w.text == strings.ToLower(w.text) {
			lower++
		}
	}
	return len(c.words) >= 4 && lower >= 2 || strings.HasSuffix(c.text(), ".") && len(c.words) > 2
}

func hasDigit(s string) bool { return strings.ContainsAny(s, "0123456789") }

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
	g.extendHeader(t, head)
	body := g.body(t)
	if len(body) == 0 {
		return false
	}
	t.setColumns(body)
	lines := t.cut(body)
	t.bottom = lines[len(lines)-1].y1
	t.Title = g.titleAbove(t, head)
	t.assemble(lines)
	return len(t.Rows) > 0
}

// extendHeader takes in a second line of titles and of units below the first,
// and titles above it that no column below has.
func (g *grid) extendHeader(t *Table, head int) {
	if head > 0 {
		g.mergeTitles(t, head-1, true)
	}
	if head+1 < len(g.rows) && g.titleLine(t, head+1) {
		g.mergeTitles(t, head+1, false)
		t.headRow = head + 1
	}
}

// titleLine says whether a row only carries on titles: units in brackets or
// known title words, and no numbers.
func (g *grid) titleLine(t *Table, i int) bool {
	if g.rows[i].y0-g.rows[t.headRow].y1 > 1.0*emOf(g.rows[i].y1-g.rows[i].y0) {
		return false
	}
	n := 0
	for _, c := range chunksOf(inside(g.rows[i].words, t.left, t.right)) {
		text := c.text()
		_, isUnit := unitWord(text)
		_, _, isHead := headKind(text)
		if !(isUnit && isBracketed(text)) && !isHead && !t.closesTitle(c) {
			return false
		}
		n++
	}
	return n > 0
}

// closesTitle says whether a chunk ends a bracket that the title above opened.
func (t *Table) closesTitle(c chunk) bool {
	col := t.under(c.r)
	return col >= 0 && strings.HasSuffix(c.text(), ")") && !isBracketed(c.text()) && openBracket(t.Columns[col].Title)
}

func openBracket(s string) bool { return strings.Count(s, "(") > strings.Count(s, ")") }

// mergeTitles joins the chunks of a neighbouring row to the titles they stand over.
func (g *grid) mergeTitles(t *Table, i int, above bool) {
	em := emOf(g.rows[i].y1 - g.rows[i].y0)
	gap := g.rows[t.headRow].y0 - g.rows[i].y1
	if !above {
		gap = g.rows[i].y0 - g.rows[t.headRow].y1
	}
	if gap > em {
		return
	}
	for _, c := range headerChunks(inside(g.rows[i].words, t.left, t.right)) {
		k, unit, known := headKind(c.text())
		if col := t.under(c.r); col >= 0 {
			t.Columns[col].join(c.text(), above)
			continue
		}
		if known && (!above || k == KindName || k == KindSymbol || k == KindCondition || k == KindUnit || k == KindPinName || k == KindFunction || k == KindType) && !crosses(t, c.r) {
			t.Columns = append(t.Columns, Column{Kind: k, Title: c.text(), Unit: unitText(c.text(), unit), head: c.r})
			sort.SliceStable(t.Columns, func(a, b int) bool { return t.Columns[a].head.x0 < t.Columns[b].head.x0 })
		}
	}
}

// under finds the only column whose title shares its width with a rectangle.
func (t *Table) under(r rect) int {
	found := -1
	for i, c := range t.Columns {
		if c.head.x0 < r.x1 && c.head.x1 > r.x0 {
			if found >= 0 {
				return -1
			}
			found = i
		}
	}
	return found
}

func crosses(t *Table, r rect) bool {
	for _, c := range t.Columns {
		if c.head.x0 < r.x1 && c.head.x1 > r.x0 {
			return true
		}
	}
	return false
}

// join adds a second line to a title, if the result or the addition is one.
func (c *Column) join(text string, above bool) {
	whole := c.Title + " " + text
	if above {
		whole = text + " " + c.Title
	}
	if !above && openBracket(c.Title) {
		c.Title = whole
		if _, m, ok := headKind(whole); ok {
			c.Unit = unitText(whole, m)
		}
		return
	}
	if _, ok := unitWord(text); ok && isBracketed(text) && !above {
		c.Title, c.Unit = whole, strings.Trim(text, "()[] ")
		return
	}
	if k, _, ok := headKind(whole); ok {
		c.Title, c.Kind = whole, k
		return
	}
	if k, _, ok := headKind(text); ok && c.Kind == KindOther {
		c.Title, c.Kind = whole, k
	}
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
