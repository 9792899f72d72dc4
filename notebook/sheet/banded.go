package sheet

import (
	"math"
	"sort"
	"strings"
)

// Modules, relays and connectors have lists without a header, ruled off entry by
// entry: the name on the left, what tells its values apart in the middle, and
// on the right the values with their units, one below the other.

// minBands is the fewest ruled entries that make a list.
const minBands = 3

// banded finds the ruled lists of the page outside of its tables.
func (g *grid) banded(tables []*Table) []*Table {
	var out []*Table
	var stacks [][]rect
next:
	for _, r := range g.flat {
		if r.x1-r.x0 < 120 {
			continue
		}
		for i, s := range stacks {
			if last := s[len(s)-1]; math.Abs(last.x0-r.x0) < 3 && math.Abs(last.x1-r.x1) < 3 && r.y0-last.y0 < 110 {
				stacks[i] = append(s, r)
				continue next
			}
		}
		stacks = append(stacks, []rect{r})
	}
	for _, s := range stacks {
		if len(s) <= minBands {
			continue
		}
		if t := g.bandedTable(s, tables); t != nil {
			out = append(out, t)
		}
	}
	return out
}

// bandLine is a line of a ruled entry, taken apart.
type bandLine struct {
	row    int
	band   int
	chunks []chunk
	value  []cellWord
	stated statedValue
	ok     bool // the value is understood
}

// bandedTable makes a table of the entries between ruled lines.
func (g *grid) bandedTable(rules []rect, tables []*Table) *Table {
	var lines []bandLine
	for i, r := range g.rows {
		mid := (r.y0 + r.y1) / 2
		band := sort.Search(len(rules), func(k int) bool { return rules[k].y0 > mid }) // of the line below
		words := inside(r.words, rules[0].x0-2, rules[0].x1+2)
		if band == 0 || band == len(rules) || len(words) == 0 || inTable(tables, r) {
			continue
		}
		lines = append(lines, bandLine{row: i, band: band, chunks: chunksOf(withoutNotes(words))})
	}
	at := valueEdge(lines, rules[0])
	if at == 0 {
		return nil
	}
	t := &Table{Page: g.page.Number, Title: " ", left: rules[0].x0, right: rules[0].x1, top: rules[0].y0, bottom: rules[len(rules)-1].y1}
	kinds := map[Kind]bool{}
	for i := range lines {
		l := &lines[i]
		for k, c := range l.chunks {
			if c.r.x0 > at-3 {
				for _, c := range l.chunks[k:] {
					l.value = append(l.value, c.words...)
				}
				l.chunks = l.chunks[:k]
				break
			}
		}
		l.takeRemark()
		if l.stated, l.ok = readStated(strings.TrimSuffix(joinWords(l.value), "..")); !l.ok {
			l.stated = statedValue{kind: KindValue, text: joinWords(l.value)}
		}
		for k, c := range l.chunks {
			v, ok := readStated(c.text())
			if ok && k > 0 && (v.kind != KindValue || k == 1 && len(l.chunks) == 2) { // in two columns: which is which?
				l.stated = statedValue{kind: KindValue, text: c.text() + " | " + joinWords(l.value)}
			}
		}
		if len(l.value) > 0 {
			kinds[l.stated.kind] = true
		}
	}
	for _, k := range []Kind{KindName, KindCondition, KindMin, KindTyp, KindMax, KindValue, KindUnit} {
		if kinds[k] || !k.isLimit() {
			t.Columns = append(t.Columns, Column{Kind: k, Title: string(k)})
		}
	}
	for i := 0; i < len(lines); {
		j := i
		for j < len(lines) && lines[j].band == lines[i].band {
			j++
		}
		t.bandRows(g, lines[i:j])
		i = j
	}
	if len(t.Rows) < minBands {
		return nil
	}
	t.Title = oneSection(t.bars)
	t.headRow = t.Rows[0].Lines[0]
	return t
}

// oneSection gives the first of several headings if all are of its section.
func oneSection(bars []string) string {
	if len(bars) == 0 {
		return " "
	}
	first, _, _ := sectionHeading(bars[0])
	for _, b := range bars[1:] {
		if sec, _, _ := sectionHeading(b); sec != first || isOperating(b) != isOperating(bars[0]) {
			return " "
		}
	}
	return bars[0]
}

// takeRemark moves what stands in brackets behind a value to what the line says of it.
func (l *bandLine) takeRemark() {
	for i, w := range l.value {
		if _, ok := readStated(joinWords(l.value[:i])); ok && isBracketed(w.text) && strings.HasSuffix(joinWords(l.value), ")") {
			l.chunks, l.value = append(l.chunks, newChunk(l.value[i:])), l.value[:i:i]
			return
		}
	}
}

// valueEdge finds where the values begin that stand below each other, flush or
// about one middle; 0 if few are understood.
func valueEdge(lines []bandLine, rule rect) float64 {
	left := map[int]int{}
	var values []rect
	for _, l := range lines {
		if c := l.lastValue(); c != nil && c.r.x0 >= rule.x0+30 {
			values = append(values, c.r)
			left[int(c.r.x0/4)]++
		}
	}
	x, n := crowded(left)
	at, end, in := 4*float64(x), 4*float64(x)+8, 0
	for _, v := range values {
		if v.x0 >= at && v.x0 < at+8 {
			end = math.Max(end, v.x1)
		}
	}
	edge := at
	for _, v := range values {
		if v.x0 < end && v.x1 > at {
			in, edge = in+1, math.Min(edge, v.x0)
		}
	}
	if in < minBands || n < 2 || 2*in < len(values) {
		return 0
	}
	return edge
}

// lastValue gives the last phrase of a line that is understood as a value with
// its unit; a remark in brackets may follow it.
func (l *bandLine) lastValue() *chunk {
	for i := len(l.chunks) - 1; i >= 0 && i >= len(l.chunks)-2; i-- {
		c := &l.chunks[i]
		text := c.text()
		if m := remarkBehind().FindStringSubmatch(text); m != nil {
			text = m[1]
		}
		if _, ok := readStated(text); ok {
			return c
		}
	}
	return nil
}

// crowded gives the number that most have, its next counted in.
func crowded(m map[int]int) (x, n int) {
	for k := range m {
		if c := m[k] + m[k+1]; c > n || c == n && k < x {
			x, n = k, c
		}
	}
	return x, n
}

// bandRows makes the rows of one entry, one for each line with a value. The name
// at the left of its lines is that of all, unless each has its own, below a line
// without a value, which then opens it, or several begin with a capital.
func (t *Table) bandRows(g *grid, lines []bandLine) {
	var name []cellWord
	own := make([][]cellWord, len(lines))
	values, named, begun := 0, 0, 0
	for i := range lines {
		l := &lines[i]
		if len(l.chunks) > 0 && len(l.value) == 0 && len(name) == 0 && headsSection(l.chunks[0].text()) { // a bar over the entry
			t.bars = append(t.bars, l.chunks[0].text())
			continue
		}
		if len(l.chunks) > 0 && l.chunks[0].r.x0 < t.left+14 {
			own[i] = l.chunks[0].words
			for l.chunks = l.chunks[1:]; len(l.chunks) > 0 && openBracket(joinWords(own[i])); l.chunks = l.chunks[1:] {
				own[i] = append(own[i][:len(own[i]):len(own[i])], l.chunks[0].words...)
			}
			name = append(name, own[i]...)
		}
		if len(l.value) > 0 {
			values++
			named += boolIndex(len(own[i]) > 0)
			begun += boolIndex(len(own[i]) > 0 && !lowerCase(own[i]))
		}
	}
	if !lettersIn(name) {
		return
	}
	each := values > 1 && named == values || begun > 1
	group, last := "", []cellWord(nil)
	for i, l := range lines {
		if each && len(l.value) == 0 && len(own[i]) > 0 {
			group = joinWords(own[i])
		}
		if len(l.value) == 0 {
			continue
		}
		r := TableRow{Cells: make([]Cell, len(t.Columns)), Lines: []int{l.row}, y0: g.rows[l.row].y0, y1: g.rows[l.row].y1}
		if each {
			if r.Group = group; len(own[i]) > 0 {
				last = own[i]
			}
			if name = last; len(name) == 0 {
				continue
			}
		}
		var cond []cellWord
		for _, c := range l.chunks {
			cond = append(cond, c.words...)
		}
		for k, c := range t.Columns {
			switch c.Kind {
			case KindName:
				r.Cells[k] = listCell(name, joinWrapped(name))
			case KindCondition:
				r.Cells[k] = listCell(cond, strings.Trim(joinWords(cond), ":;– "))
			case KindUnit:
				r.Cells[k] = listCell(l.value, l.stated.unit)
			case l.stated.kind:
				r.Cells[k] = listCell(l.value, l.stated.text)
			}
			r.Cells[k].Unread = hasUnnamed(r.Cells[k].Text) && (c.Kind.isLimit() || c.Kind == KindUnit)
		}
		t.Rows = append(t.Rows, r)
	}
}

// lettersIn says whether some word has two letters side by side.
func lettersIn(words []cellWord) bool {
	for _, w := range words {
		if twoLetters().MatchString(w.text) {
			return true
		}
	}
	return false
}

var twoLetters = pattern(`\pL\pL`)
