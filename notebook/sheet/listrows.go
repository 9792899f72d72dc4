package sheet

import (
	"strings"
)

// Some sheets give ratings as lists: "Supply voltage, VDD ..... -0.3 V to 6 V"
// or "Supply voltage: 2.7 V to 5.5 V". A list becomes a table without a header
// where every line is understood to its end; what is not is left out.

// listLine is a line of such a list, taken apart.
type listLine struct {
	row                       int
	name, symbol, value, unit []cellWord
	stated                    statedValue
	dotted                    bool
}

// minListLines is the fewest lines that make a list.
const minListLines = 2

// lists finds the lists of the page outside of its tables.
func (g *grid) lists(tables []*Table) []*Table {
	var out []*Table
	var run []listLine
	finish := func() {
		if t := g.listTable(run); t != nil {
			out = append(out, t)
		}
		run = nil
	}
	for i := range g.rows {
		l, ok := g.listLine(i)
		if ok && inTable(tables, g.rows[i]) {
			ok = false
		}
		if len(run) > 0 {
			last := g.rows[run[len(run)-1].row]
			if !ok || l.dotted != run[0].dotted || g.rows[i].left != last.left || g.rows[i].y0-last.y1 > maxTableGap*emOf(sizeOf(l.name)) {
				finish()
			}
		}
		if ok {
			run = append(run, l)
		}
	}
	finish()
	return out
}

func inTable(tables []*Table, r row) bool {
	for _, t := range tables {
		if r.y0 < t.bottom && r.y1 > t.top && r.words[0].r.x0 < t.right && r.words[len(r.words)-1].r.x1 > t.left {
			return true
		}
	}
	return false
}

var (
	leaderDots  = pattern(`^(\.{3,}|[·…]+|_{3,})$`)
	gluedDots   = pattern(`\.{3,}$`)
	bulletMark  = pattern(`^[•▪◦·*–\-\x{FFFD}]$`)
	listSymbol  = pattern(`^[A-Za-zΔθ][A-Za-z0-9()_/-]{1,11}$`)
	plainSymbol = pattern(`^[VITPRCf][A-Z0-9][A-Za-z0-9()_-]{0,9}$`)
)

// listLine takes a row apart; false if it is no line of a list.
func (g *grid) listLine(i int) (listLine, bool) {
	words := g.rows[i].words
	if len(words) > 1 && bulletMark().MatchString(words[0].text) {
		words = words[1:]
	}
	l := listLine{row: i}
	name, value, ok := atLeader(words)
	l.dotted = ok
	if !ok {
		if name, value, ok = atColon(words); !ok {
			return l, false
		}
	}
	if len(name) == 0 || len(value) == 0 || len(name) > 12 || hasUnnamed(joinWords(name)) || strings.ContainsAny(joinWords(name), ":=") {
		return l, false
	}
	if l.stated, ok = readStated(joinWords(value)); !ok {
		return l, false
	}
	l.value, l.unit = value[:len(value)-1], value[len(value)-1:]
	if len(l.value) == 0 { // "38V"
		l.value = l.unit
	}
	l.name, l.symbol = splitSymbol(name)
	return l, true
}

// atLeader cuts a row at its only run of leader dots.
func atLeader(words []cellWord) (name, value []cellWord, ok bool) {
	first, last := -1, -1
	for i, w := range words {
		glued := gluedDots().MatchString(w.text)
		if !leaderDots().MatchString(w.text) && !glued && !(w.text == "." && i > 0) {
			continue
		}
		if first < 0 {
			first = i
			if glued && !leaderDots().MatchString(w.text) {
				w.text = strings.TrimRight(w.text, ".")
				name = append(append([]cellWord(nil), words[:i]...), w)
			} else {
				name = words[:i]
			}
		} else if last != i-1 {
			return nil, nil, false
		}
		last = i
	}
	if first < 0 || last == first && words[first].text == "." {
		return nil, nil, false
	}
	return name, words[last+1:], true
}

// atColon cuts a row behind the word that ends in its only colon.
func atColon(words []cellWord) (name, value []cellWord, ok bool) {
	for i, w := range words {
		switch {
		case !strings.Contains(w.text, ":"):
		case ok || !strings.HasSuffix(w.text, ":") || strings.Count(w.text, ":") > 1:
			return nil, nil, false
		default:
			name, value, ok = append([]cellWord(nil), words[:i]...), words[i+1:], true
			if w.text = strings.TrimSuffix(w.text, ":"); w.text != "" {
				name = append(name, w)
			}
		}
	}
	return name, value, ok
}

// splitSymbol takes the symbol off the end of a name: "Supply voltage, VDD",
// "Supply voltage (VDD)", "Supply voltage VDD".
func splitSymbol(name []cellWord) (rest, symbol []cellWord) {
	n := len(name)
	if n < 2 {
		return name, nil
	}
	last, before := name[n-1], name[n-2]
	text := foldString(last.text)
	bracketed := strings.HasPrefix(text, "(") && strings.HasSuffix(text, ")")
	comma := strings.HasSuffix(before.text, ",")
	switch {
	case bracketed && listSymbol().MatchString(text[1:len(text)-1]) && hasCapital(text):
		last.text = text[1 : len(text)-1]
	case comma && listSymbol().MatchString(text) && hasCapital(text):
		before.text = strings.TrimSuffix(before.text, ",")
	case !comma && plainSymbol().MatchString(text) && !wrapsOn(name[:n-1]):
	default:
		return name, nil
	}
	rest = append(append([]cellWord(nil), name[:n-2]...), before)
	return rest, []cellWord{last}
}

func hasCapital(s string) bool { return strings.ToLower(s) != s }

// listTable makes a table of the lines of a list; nil if they make none.
// A list without leader dots must stand under the heading of a section.
func (g *grid) listTable(run []listLine) *Table {
	if len(run) < minListLines {
		return nil
	}
	first, last := g.rows[run[0].row], g.rows[run[len(run)-1].row]
	t := &Table{Page: g.page.Number, left: first.left, right: first.right, top: first.y0, bottom: last.y1, headRow: run[0].row}
	t.Title = g.titleAbove(t, run[0].row)
	kinds := map[Kind]bool{}
	for _, l := range run {
		kinds[l.stated.kind] = true
	}
	if t.Title == "" && (!run[0].dotted || kinds[KindMin] || kinds[KindMax] || kinds[KindTyp]) {
		return nil
	}
	for _, k := range []Kind{KindName, KindSymbol, KindMin, KindTyp, KindMax, KindValue, KindUnit} {
		if k == KindName || k == KindSymbol || k == KindUnit || kinds[k] {
			t.Columns = append(t.Columns, Column{Kind: k, Title: string(k)})
		}
	}
	for _, l := range run {
		t.Rows = append(t.Rows, t.listRow(l, g.rows[l.row]))
	}
	return t
}

func (t *Table) listRow(l listLine, r row) TableRow {
	out := TableRow{Cells: make([]Cell, len(t.Columns)), Lines: []int{l.row}, y0: r.y0, y1: r.y1}
	for i, c := range t.Columns {
		switch c.Kind {
		case KindName:
			out.Cells[i] = listCell(l.name, joinWords(l.name))
		case KindSymbol:
			out.Cells[i] = listCell(l.symbol, joinWords(l.symbol))
		case KindUnit:
			out.Cells[i] = listCell(l.unit, l.stated.unit)
		case l.stated.kind:
			out.Cells[i] = listCell(l.value, l.stated.text)
		}
	}
	return out
}

func listCell(words []cellWord, text string) Cell {
	return Cell{Text: text, Given: len(words) > 0, words: words}
}
