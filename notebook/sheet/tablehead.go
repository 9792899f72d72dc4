package sheet

import (
	"slices"
	"sort"
	"strings"
	"unicode"
	"unicode/utf8"
)

// headersAt reads a row of the page as the header of one or more tables side by side.
func (g *grid) headersAt(i int) []*Table {
	var out []*Table
	var cols []Column
	left := g.rows[i].left
	finish := func(right float64) {
		nameSymbols(cols)
		if isHeader(cols) {
			out = append(out, &Table{Page: g.page.Number, Columns: cols, left: left, right: right, top: g.rows[i].y0, headRow: i})
		}
		cols = nil
	}
	units := g.rows[i].titlesUnits()
	for _, c := range headerChunks(withoutNotes(g.rows[i].words)) {
		kind, unit, ok := headKind(c.text())
		switch {
		case !ok && (prose(c) || hasDigit(c.text()) && !(units && len(c.words) < 4) || len(c.words) > 4):
			finish(c.r.x0)
			left = c.r.x1
			continue
		case !ok:
			kind = KindOther
		case kind == KindName && ratingTitle().MatchString(c.text()) && named(cols): // "Parameter | Symbol | Rating | Unit"
			kind = KindValue
		case repeats(cols, kind):
			edge := (cols[len(cols)-1].head.x1 + c.r.x0) / 2
			finish(edge)
			left = edge
		}
		cols = append(cols, Column{Kind: kind, Title: c.text(), Unit: unitText(c.text(), unit), head: c.r})
	}
	finish(g.rows[i].right)
	if len(out) > 0 && g.rows[i].wideHeading() {
		return nil
	}
	return out
}

// wideHeading says whether a row is the heading of a section whose words stand
// wide apart, as in justified lines.
func (r row) wideHeading() bool {
	for k, w := range r.words[1:] {
		if w.r.x0-r.words[k].r.x1 > 2.5*emOf(w.size) {
			return false
		}
	}
	return len(r.words) > 1 && len(r.words) <= 10 && headsSection(r.text())
}

// titlesUnits says whether a row titles a column of units and, first, one of
// names: what stands between may be the titles of parts or grades.
func (r row) titlesUnits() bool {
	chunks := headerChunks(withoutNotes(r.words))
	_, _, first := headKind(chunks[0].text())
	return first && slices.ContainsFunc(chunks[1:], func(c chunk) bool {
		k, _, ok := headKind(c.text())
		return ok && k == KindUnit
	})
}

var partWord = pattern(`^[A-Z]{2,}[A-Z0-9/-]*[0-9][A-Z0-9/-]*$`)

var ratingTitle = pattern(`(?i)^(ratings?|specifications?|characteristics?)\b`)

// named says whether a column of names stands among columns.
func named(cols []Column) bool {
	for _, c := range cols {
		if c.Kind == KindName {
			return true
		}
	}
	return false
}

// nameSymbols takes a column of symbols for the names of pins where pins are numbered.
func nameSymbols(cols []Column) {
	symbol := -1
	for i, c := range cols {
		switch c.Kind {
		case KindSymbol:
			symbol = i
		case KindPinName, KindMin, KindTyp, KindMax, KindValue, KindUnit, KindName:
			return
		}
	}
	for _, c := range cols {
		if c.Kind == KindPin && symbol >= 0 {
			cols[symbol].Kind = KindPinName
		}
	}
}

func unitText(title string, m measure) string {
	if m.kind == "" {
		return ""
	}
	i := strings.IndexAny(title, "([")
	if i < 0 { // a full-width bracket: the unit was read from folded text
		title = foldString(title)
		i = max(0, strings.IndexAny(title, "(["))
	}
	return strings.Trim(title[i:], "()[] ")
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
	case has[KindValue] > 0 && (has[KindUnit] > 0 || named > 0), has[KindUnit] > 0 && len(cols) > 2 && has[KindOther] < len(cols)-1:
		return true // "Parameter | Version A | Version B | Unit": what the columns hold tells the rest
	case has[KindPin] > 0 && (has[KindPinName]+has[KindFunction]+has[KindType] > 0), has[KindPinName] > 0 && has[KindFunction] > 0:
		return true
	case len(cols) > 1 && len(cols) < 5 && has[KindPin] == 1 && has[KindOther] == len(cols)-1 && strings.EqualFold(cols[0].Title, "pin"):
		return true // "Pin | Single | Dual"
	case smallLetters(cols): // running text that holds such a word
		return false
	case has[KindOrder] > 0 && len(cols) >= 2 && (has[KindPackage] > 0 || has[KindOther] > 0):
		return true
	case has[KindPackage] > 0 && has[KindOther] > 0, has[KindOther] >= 2 && has[KindOther] == len(cols) && knownOthers(cols) == len(cols):
		return true
	}
	return false
}

// smallLetters says whether some title begins with a small letter.
func smallLetters(cols []Column) bool {
	return slices.ContainsFunc(cols, func(c Column) bool {
		r, _ := utf8.DecodeRuneInString(c.Title)
		return unicode.IsLower(r)
	})
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
	return len(c.words) >= 4 && lower >= 2 || strings.HasSuffix(c.text(), ".") && len(c.words) > 2 && !limitWord(c.words[len(c.words)-1].text)
}

func hasDigit(s string) bool { return strings.ContainsAny(s, "0123456789") }

// maxTitleLines is how many more lines of titles may stand below the first.
const maxTitleLines = 3

// extendHeader takes in lines of titles and of units below the first, and titles
// above it that no column below has.
func (g *grid) extendHeader(t *Table, head int) {
	if head > 0 {
		g.mergeTitles(t, head-1, true)
	}
	for i := head + 1; i < len(g.rows) && i <= head+maxTitleLines && g.titleLine(t, i); i++ {
		g.mergeTitles(t, i, false)
		t.headRow = i
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
		if !(isUnit && isBracketed(text)) && !isHead {
			return false
		}
		n++
	}
	return n > 0
}

func openBracket(s string) bool { return strings.Count(s, "(") > strings.Count(s, ")") }

// mergeTitles joins the chunks of a neighbouring row to the titles they stand over.
func (g *grid) mergeTitles(t *Table, i int, above bool) {
	em := emOf(g.rows[i].y1 - g.rows[i].y0)
	gap := g.rows[t.headRow].y0 - g.rows[i].y1
	if !above {
		gap = g.rows[i].y0 - g.rows[t.headRow].y1
	}
	if gap > em && (!above || gap > 2*em || g.titlesIn(i) < 2) {
		return
	}
	for _, c := range headerChunks(inside(g.rows[i].words, t.left, t.right)) {
		k, unit, known := headKind(c.text())
		if col := t.under(c.r); col >= 0 {
			t.Columns[col].join(c.text(), above)
			continue
		}
		if known && (!above || k == KindName || k == KindSymbol || k == KindCondition || k == KindUnit ||
			k == KindPinName || k == KindFunction || k == KindType) && !crosses(t, c.r) {
			t.Columns = append(t.Columns, Column{Kind: k, Title: c.text(), Unit: unitText(c.text(), unit), head: c.r})
			sort.SliceStable(t.Columns, func(a, b int) bool { return t.Columns[a].head.x0 < t.Columns[b].head.x0 })
		}
	}
}

// titlesIn counts the known titles of a row.
func (g *grid) titlesIn(i int) int {
	n := 0
	for _, c := range headerChunks(g.rows[i].words) {
		if _, _, ok := headKind(c.text()); ok {
			n++
		}
	}
	return n
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
	if _, ok := unitWord(text); ok && isBracketed(text) && !above {
		c.Title, c.Unit = whole, strings.Trim(text, "()[] ")
		return
	}
	if k, _, ok := headKind(whole); ok {
		c.Title, c.Kind = whole, k
		return
	}
	switch k, _, ok := headKind(text); {
	case ok && (c.Kind == KindOther || c.Kind == KindValue && k.isLimit() && !above): // "Limits" over "Typ"
		c.Title, c.Kind = whole, k
	case !ok && c.Kind == KindOther && len(whole) < 20: // the name of a part in two lines
		c.Title = whole
	}
}
