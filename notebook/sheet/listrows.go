package sheet

import (
	"math"
	"slices"
	"strings"
)

// Some sheets give ratings as lists: "Supply voltage, VDD ..... -0.3 V to 6 V"
// or "Supply voltage: 2.7 V to 5.5 V". A list becomes a table without a header
// where every line is understood to its end; what is not is left out.

// listLine is a line of such a list, taken apart.
type listLine struct {
	row                       int
	r                         rect
	whole                     bool   // nothing else stands in the row
	group                     string // the line without a value under which it is set in
	name, symbol, value, unit []cellWord
	cond                      []cellWord // in brackets or behind a colon of the name
	stated                    statedValue
	dotted, worded            bool // with leader dots; with a value that is no number
}

// minListLines is the fewest lines that make a list.
const minListLines = 2

// rowPart is what stands by itself in a row of the page: an entry of a list, or
// what is beside one.
type rowPart struct {
	words []cellWord
	whole bool // nothing else stands in the row
}

// parts takes a row apart behind headings and behind each value that leader dots
// or a colon announce, where a wide gap follows: lists side by side.
func (r row) parts() []rowPart {
	const before, announced, stated = 0, 1, 2
	var out []rowPart
	at, state := 0, before
	chunks := chunksOf(r.words)
	for i, c := range chunks {
		dots := insideDots().MatchString(c.text()) || c.text() == "."
		colon := strings.HasSuffix(c.text(), ":")
		gap := i > 0 && c.r.x0-chunks[i-1].r.x1 > 1.5*emOf(c.words[0].size)
		if gap && (state == stated || colon && state == before && at < i || at == i-1 && headsSection(chunks[at].text())) {
			out, at, state = append(out, rowPart{words: joinChunks(chunks[at:i])}), i, before
		}
		switch last := c.text()[len(c.text())-1]; {
		case dots && (last == '.' || last == '_'), colon:
			state = announced
		case dots, state == announced:
			state = stated
		}
	}
	return append(out, rowPart{joinChunks(chunks[at:]), at == 0})
}

func joinChunks(chunks []chunk) (out []cellWord) {
	for _, c := range chunks {
		out = append(out, c.words...)
	}
	return out
}

// listRun is a list in the making: lines below each other.
type listRun struct {
	lines   []listLine
	x       float64 // where it begins
	opens   string  // the line that heads what is set in below it
	openX   float64
	between int // lines since the last of the list
}

// lists finds the lists of the page outside of its tables. A line that names
// something and gives no value heads the lines set in below it.
func (g *grid) lists(tables []*Table) []*Table {
	var out []*Table
	var runs []*listRun
	finish := func(r *listRun) {
		if t := g.listTable(r.lines, len(out) > 0); t != nil {
			out = append(out, t)
		}
		r.lines, r.opens, r.between = nil, "", 0
	}
	for i := range g.rows {
		for _, p := range g.rows[i].parts() {
			first := chunksOf(p.words)[0]
			x := first.r.x0
			l, ok := g.listLine(i, p)
			cond := ok && len(l.name) == 0 // of the line above, set in far
			at := slices.IndexFunc(runs, func(r *listRun) bool {
				n := len(r.lines)
				return cond && n > 0 && r.lines[n-1].row == i-1 || !cond && x > r.x-40 && x < r.x+60
			})
			if at < 0 {
				at, runs = len(runs), append(runs, &listRun{x: x})
			}
			r := runs[at]
			if ok && inTable(tables, g.rows[i]) {
				ok = false
			}
			if cond {
				if ok = len(r.lines) > 0; ok {
					above := r.lines[len(r.lines)-1]
					l.name, l.symbol, l.group = above.name, above.symbol, above.group
				}
			}
			if n := len(r.lines); n > 0 {
				last := g.rows[r.lines[n-1].row]
				far := g.rows[i].y0-last.y1 > maxTableGap*emOf(last.y1-last.y0) // dots have no size
				if r.between++; far || ok && l.dotted != r.lines[0].dotted || !ok && (!r.lines[0].dotted || r.between > 2) {
					finish(r)
				}
			}
			switch {
			case ok:
				switch {
				case r.opens != "" && x > r.openX+3:
					l.group = r.opens
				case l.group == "":
					r.opens = ""
				}
				r.lines, r.between = append(r.lines, l), 0
			case headsSection(joinWords(p.words)):
				finish(r)
			case len(first.words) <= 8 && !hasDigit(first.text()) && titled(first.text()):
				r.opens, r.openX = first.text(), x
			default:
				r.opens = ""
			}
		}
	}
	for _, r := range runs {
		finish(r)
	}
	return out
}

func headsSection(s string) bool {
	_, _, ok := sectionHeading(s)
	return ok
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
	bulletMark  = pattern(`^[•▪◦·*–\-\x{FFFD}]$`)
	listSymbol  = pattern(`^[A-Za-zΔθ][A-Za-z0-9()_/-]{1,11}$`)
	plainSymbol = pattern(`^[VITPRCf][A-Z0-9][A-Za-z0-9()_-]{0,9}$`)
)

// listLine takes a row apart; false if it is no line of a list.
func (g *grid) listLine(i int, p rowPart) (listLine, bool) {
	words := slices.Clone(p.words)
	if len(words) > 1 && bulletMark().MatchString(words[0].text) {
		words = words[1:]
	}
	l := listLine{row: i, r: newChunk(p.words).r, whole: p.whole}
	name, value, ok := atLeader(words)
	l.dotted = ok
	if !ok {
		name, value, ok = atColon(words)
	}
	if !ok {
		name, value, ok = atGap(words)
	}
	if c, found := atCells(words); !ok && found {
		c.row, c.r, c.whole = i, l.r, l.whole
		return c, true
	}
	if l.dotted {
		name, l.cond = takeConditions(name)
	}
	if !ok || len(name)+len(l.cond) == 0 || len(value) == 0 || len(name) > 12 || hasUnnamed(joinWords(name)) ||
		strings.ContainsAny(joinWords(name), ":=") {
		return l, false
	}
	for len(value) > 1 && (listNote().MatchString(value[len(value)-1].text) || value[len(value)-1].text == "(Note") {
		value = value[:len(value)-1]
	}
	last := &value[len(value)-1]
	if at := strings.Index(last.text, "(Note"); at > 0 {
		last.text = last.text[:at]
	}
	if l.stated, ok = readStated(joinWords(value)); !ok {
		if !l.dotted || strings.ToUpper(joinWords(value)) == strings.ToLower(joinWords(value)) {
			return l, false
		}
		l.worded = true
		l.stated = statedValue{kind: KindValue, text: joinWords(value)} // in words, for the reader
	}
	l.value, l.unit = value[:len(value)-1], value[len(value)-1:]
	if len(l.value) == 0 { // "38V"
		l.value = l.unit
	}
	for n := len(name); n > 1 && (listNote().MatchString(name[n-1].text) || name[n-1].text == "(Note"); n-- {
		name = name[:n-1]
	}
	l.name, l.symbol = splitSymbol(name)
	return l, true
}

// takeConditions takes out of a name what stands in brackets or behind a colon
// and states a condition: "Output current (tW = 10 ms)", "Current: TA = 25 °C".
// A name that is nothing but conditions leaves none.
func takeConditions(name []cellWord) (rest, cond []cellWord) {
	depth, from := 0, -1
	for i, w := range name {
		rest = append(rest, w)
		opens, closes := strings.Count(w.text, "("), strings.Count(w.text, ")")
		if depth == 0 && opens > 0 && strings.HasPrefix(w.text, "(") {
			from = len(rest) - 1
		}
		depth = max(0, depth+opens-closes)
		if part := joinWords(rest[max(from, 0):]); from >= 0 && depth == 0 {
			if strings.Contains(part, "=") {
				rest, cond = rest[:from:from], append(cond, rest[from:]...)
			}
			from = -1
		}
		if strings.HasSuffix(w.text, ":") && strings.Contains(joinWords(name[i+1:]), "=") {
			rest[len(rest)-1].text = strings.TrimSuffix(w.text, ":")
			return rest, append(cond, name[i+1:]...)
		}
	}
	if len(rest) > 1 && strings.HasPrefix(rest[1].text, "=") || len(rest) > 0 && strings.Contains(rest[0].text, "=") {
		return nil, append(rest, cond...)
	}
	return rest, cond
}

// listNote matches a reference to a note, or the end of one, behind a name or value.
var listNote = pattern(`^(\(?[Nn]otes?|\d{1,2}\)|\((Note ?)?\d{1,2}\))$`)

// atLeader cuts a row at its only run of leader dots, which may be glued to what
// stands before and behind. What follows the value after a wide gap is another
// column of the page.
func atLeader(words []cellWord) (name, value []cellWord, ok bool) {
	first, last := -1, -1
	for i, w := range words {
		at := insideDots().FindStringIndex(w.text)
		if at == nil && !(w.text == "." && i > 0) {
			continue
		}
		if first >= 0 && last != i-1 || value != nil {
			return nil, nil, false
		}
		if first < 0 {
			first, name = i, words[:i:i]
		}
		if last = i; at == nil {
			continue
		}
		if before := strings.Trim(w.text[:at[0]], ". "); before != "" {
			if i != first {
				return nil, nil, false
			}
			part := w
			part.text = before
			name = append(name, part)
		}
		if behind := w.text[at[1]:]; behind != "" {
			part := w
			part.text, part.r.x0 = behind, w.r.x1-(w.r.x1-w.r.x0)*float64(len(behind))/float64(len(w.text))
			value = []cellWord{part}
		}
	}
	if first < 0 || last == first && words[first].text == "." {
		return nil, nil, false
	}
	for i, w := range words[last+1:] {
		if prev := words[last+i]; len(value) > 0 && w.r.x0-prev.r.x1 > 1.5*emOf(w.size) {
			break
		}
		value = append(value, w)
	}
	return name, value, true
}

// insideDots matches leader dots wherever they stand in a word: three, or two
// that leave another mark beside them.
var insideDots = pattern(`[.…·_]*(\.{3}|…|[·]{2}|_{3})[.…·_]*`)

// atGap cuts a row of two phrases at the white gap between them.
func atGap(words []cellWord) (name, value []cellWord, ok bool) {
	chunks := chunksOf(words)
	if len(chunks) != 2 || chunks[1].r.x0-chunks[0].r.x1 < 1.2*emOf(chunks[0].words[0].size) || !hasDigit(chunks[1].text()) {
		return nil, nil, false
	}
	return chunks[0].words, append([]cellWord(nil), chunks[1].words...), true
}

// atCells takes a row of cells apart that has a number and its unit in its last
// two: "RTH | Thermal resistance | Max | 3.1 | K/W".
func atCells(words []cellWord) (l listLine, ok bool) {
	chunks := chunksOf(withoutNotes(words))
	n := len(chunks)
	if n < 3 {
		return l, false
	}
	value, unit := foldString(chunks[n-2].text()), chunks[n-1].text()
	m, known := parseMeasure(unit)
	v, stated := readStated(value + " V")
	if !known || m.kind == "" || !stated || v.kind != KindValue || hasDigit(unit) {
		return l, false
	}
	l.stated = statedValue{kind: KindValue, text: v.text, unit: unit}
	l.value, l.unit = chunks[n-2].words, chunks[n-1].words
	rest := chunks[:n-2]
	if k, _, ok := headKind(rest[len(rest)-1].text()); ok && k.isLimit() && k != KindValue && len(rest) > 1 {
		l.stated.kind, rest = k, rest[:len(rest)-1]
	}
	if len(rest) > 1 && symbolLike(rest[0].words) {
		l.symbol, rest = rest[0].words, rest[1:]
	}
	for _, c := range rest {
		l.name = append(l.name, c.words...)
	}
	return l, lettersIn(l.name) && len(l.name) <= 12
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
	case !bracketed && strings.Count(text, "(") != strings.Count(text, ")"): // of a bracket that opened before it
		return name, nil
	case bracketed && listSymbol().MatchString(text[1:len(text)-1]) && hasCapital(text):
		last.text = text[1 : len(text)-1]
	case comma && listSymbol().MatchString(text) && hasCapital(text):
		before.text = strings.TrimSuffix(before.text, ",")
	case !comma && plainSymbol().MatchString(text) && !wrapsOn(name[:n-1]) && strings.ToUpper(joinWords(name)) != joinWords(name):
	default:
		return name, nil
	}
	rest = append(append([]cellWord(nil), name[:n-2]...), before)
	return rest, []cellWord{last}
}

func hasCapital(s string) bool { return strings.ToLower(s) != s }

// listTable makes a table of the lines of a list; nil if they make none.
// A list without leader dots must stand under the heading of a section.
// One line makes a list under a heading of its own below another list.
func (g *grid) listTable(run []listLine, another bool) *Table {
	understood := 0
	for _, l := range run {
		if !l.worded {
			understood++
		}
	}
	x := 0.0
	if len(run) > 0 {
		x = run[0].r.x0
	}
	if understood < minListLines && (understood == 0 || !another || !g.headsList(run[0].row, x)) {
		return nil
	}
	first, last := g.rows[run[0].row], g.rows[run[len(run)-1].row]
	t := &Table{Page: g.page.Number, left: first.left, right: first.right, top: first.y0, bottom: last.y1, headRow: run[0].row}
	if slices.ContainsFunc(run, func(l listLine) bool { return !l.whole }) {
		t.left, t.right = x-2, x
		for _, l := range run {
			t.left, t.right = math.Min(t.left, l.r.x0-2), math.Max(t.right, l.r.x1+2)
		}
	}
	t.Title = g.titleAbove(t, run[0].row)
	kinds := map[Kind]bool{}
	for _, l := range run {
		kinds[l.stated.kind] = true
	}
	if t.Title == "" && g.headsList(run[0].row, x) {
		t.Title = " " // a heading stands over it
	}
	if t.Title == "" && (!run[0].dotted || kinds[KindMin] || kinds[KindMax] || kinds[KindTyp]) {
		return nil
	}
	for _, k := range []Kind{KindName, KindSymbol, KindCondition, KindMin, KindTyp, KindMax, KindValue, KindUnit} {
		if !k.isLimit() || kinds[k] {
			t.Columns = append(t.Columns, Column{Kind: k, Title: string(k)})
		}
	}
	for _, l := range run {
		t.Rows = append(t.Rows, t.listRow(l, g.rows[l.row]))
	}
	return t
}

// headsList says whether the heading of a section stands closely over a list.
func (g *grid) headsList(row int, x float64) bool {
	for i := row - 1; i >= 0 && i >= row-10; i-- {
		for _, c := range chunksOf(g.rows[i].words) {
			if _, _, ok := sectionHeading(c.text()); ok && c.r.x0 < x+40 && c.r.x1 > x {
				return g.rows[row].y0-g.rows[i].y1 < 75
			}
		}
	}
	return false
}

func (t *Table) listRow(l listLine, r row) TableRow {
	out := TableRow{Cells: make([]Cell, len(t.Columns)), Group: l.group, Lines: []int{l.row}, y0: r.y0, y1: r.y1}
	for i, c := range t.Columns {
		switch c.Kind {
		case KindName:
			out.Cells[i] = listCell(l.name, joinWords(l.name))
		case KindSymbol:
			out.Cells[i] = listCell(l.symbol, joinWords(l.symbol))
		case KindCondition:
			out.Cells[i] = listCell(l.cond, strings.TrimSuffix(strings.TrimPrefix(joinWords(l.cond), "("), ")"))
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
