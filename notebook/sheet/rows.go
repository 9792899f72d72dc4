package sheet

import (
	"math"
	"strings"
)

// assemble joins lines to rows. Lines with numbers begin rows; wrapped lines
// join the row they stand closest to; cells that span rows are carried over.
func (t *Table) assemble(lines []line) {
	if !t.hasLimits() {
		t.assembleText(lines)
		return
	}
	groups := t.groupLines(lines)
	var rows []rowPlan
	for i, l := range lines {
		switch {
		case groups[i]:
			continue
		case !l.limits:
			continue
		case len(rows) > 0 && t.continues(lines[rows[len(rows)-1].last()], l):
			rows[len(rows)-1].lines = append(rows[len(rows)-1].lines, i)
		default:
			rows = append(rows, rowPlan{lines: []int{i}})
		}
	}
	if len(rows) == 0 {
		return
	}
	t.attachWrapped(lines, groups, rows)
	t.build(lines, groups, rows)
}

// rowPlan lists the lines of a row; the first ones hold its numbers.
type rowPlan struct {
	lines []int
	wrap  []int // lines without numbers
}

func (r rowPlan) last() int { return r.lines[len(r.lines)-1] }

func (t *Table) hasLimits() bool {
	for _, c := range t.Columns {
		if c.Kind.isLimit() {
			return true
		}
	}
	return false
}

func (t *Table) filled(l line) int {
	n := 0
	for _, c := range l.cells {
		if len(c) > 0 {
			n++
		}
	}
	return n
}

// rowPitch is the least usual distance between lines with numbers.
func (t *Table) rowPitch(lines []line) float64 {
	best := math.Inf(1)
	prev := -1
	for i, l := range lines {
		if !l.limits {
			continue
		}
		if prev >= 0 {
			if d := l.y0 - lines[prev].y0; d > 2 && i == prev+1 && !t.continues(lines[prev], l) {
				best = math.Min(best, d)
			}
		}
		prev = i
	}
	if math.IsInf(best, 1) { // no two rows follow each other directly
		size := 0.0
		for i := 1; i < len(lines); i++ {
			best = math.Min(best, math.Max(lines[i].y0-lines[i-1].y0, 2))
			size = math.Max(size, sizeOf(lines[i].words()))
		}
		best = math.Min(1.3*best, looseLines*size/0.93)
	}
	return best
}

// attachWrapped gives every line without numbers to the row above or below:
// each run of them is split at its widest gap, and goes to the row above when
// no gap stands out.
func (t *Table) attachWrapped(lines []line, groups []bool, rows []rowPlan) {
	next := 0 // first row that begins below
	for i := 0; i < len(lines); {
		for next < len(rows) && rows[next].lines[0] <= i {
			next++
		}
		if lines[i].limits || groups[i] {
			i++
			continue
		}
		j := i
		for j+1 < len(lines) && !lines[j+1].limits && !groups[j+1] {
			j++
		}
		t.splitRun(lines, rows, next, i, j, groups)
		i = j + 1
	}
}

// splitRun shares lines i to j out between row next-1 above and row next below.
func (t *Table) splitRun(lines []line, rows []rowPlan, next, i, j int, groups []bool) {
	above := next > 0 && !groupBetween(groups, rows[next-1].last(), i)
	below := next < len(rows) && !groupBetween(groups, j, rows[next].lines[0])
	cut := j + 1 // first line that goes below
	switch {
	case !above && below:
		cut = i
	case above && below:
		cut = t.widestGap(lines, i, j)
		for cut <= j && t.onlyUnit(lines[cut]) { // "TA = 25" goes on in "°C"
			cut++
		}
	case !above && !below:
		return
	}
	for k := i; k <= j; k++ {
		if k < cut {
			rows[next-1].wrap = append(rows[next-1].wrap, k)
		} else {
			rows[next].wrap = append(rows[next].wrap, k)
		}
	}
}

func groupBetween(groups []bool, a, b int) bool {
	for k := a; k <= b; k++ {
		if groups[k] {
			return true
		}
	}
	return false
}

// widestGap gives the line before which the run i..j is cut. Gaps are looked at
// from the line above the run to the line below it.
func (t *Table) widestGap(lines []line, i, j int) int {
	best, widest, least := j+1, -1.0, math.Inf(1)
	for k := i; k <= j+1; k++ {
		gap := lines[k].y0 - lines[k-1].y1
		least = math.Min(least, gap)
		if gap > widest {
			best, widest = k, gap
		}
	}
	if widest-least < 0.15*emOf(lines[i].y1-lines[i].y0) { // all alike: names are set at the top
		return j + 1
	}
	return best
}

// build makes the rows: own cells first, then those carried over.
func (t *Table) build(lines []line, groups []bool, rows []rowPlan) {
	group := ""
	at := 0
	for _, r := range rows {
		for ; at < r.lines[0]; at++ {
			if groups[at] {
				group = joinWords(lines[at].words())
			}
		}
		t.Rows = append(t.Rows, t.makeRow(lines, r, group))
	}
	t.carry(KindName)
	t.carry(KindSymbol)
	t.carry(KindUnit)
}

// words gives the words of all cells.
func (l line) words() []cellWord {
	var words []cellWord
	for _, c := range l.cells {
		words = append(words, c...)
	}
	return words
}

func (t *Table) makeRow(lines []line, r rowPlan, group string) TableRow {
	all := mergeSorted(r.lines, r.wrap)
	row := TableRow{Cells: make([]Cell, len(t.Columns)), Group: group, y0: lines[r.lines[0]].y0, y1: lines[r.last()].y1,
		f0: lines[all[0]].y0, f1: lines[all[len(all)-1]].y1}
	for _, i := range all {
		row.Lines = append(row.Lines, lines[i].row)
		for k := range t.Columns {
			row.Cells[k].words = append(row.Cells[k].words, lines[i].cells[k]...)
		}
	}
	for k := range row.Cells {
		c := &row.Cells[k]
		c.Text, c.Given = cellText(t.Columns[k].Kind, c.words), len(c.words) > 0
		if c.Unread = unreadable(t.Columns[k].Kind, c.Text) || t.Columns[k].Kind.isLimit() && apart(c.words); c.Unread {
			c.Text = ""
		}
	}
	return row
}

func mergeSorted(a, b []int) []int {
	out := make([]int, 0, len(a)+len(b))
	for len(a) > 0 || len(b) > 0 {
		if len(b) == 0 || len(a) > 0 && a[0] < b[0] {
			out, a = append(out, a[0]), a[1:]
		} else {
			out, b = append(out, b[0]), b[1:]
		}
	}
	return out
}

// cellText joins the words of a cell. Raised numbers are powers of ten in cells
// of numbers, and else marks of notes, which are left out.
func cellText(k Kind, words []cellWord) string {
	if k.isLimit() {
		joined := make([]cellWord, 0, len(words))
		for _, w := range words {
			n := len(joined) - 1
			switch {
			case n >= 0 && strings.HasSuffix(joined[n].text, "e-") && digits(w.text): // a raised minus apart from its digits
				joined[n].text += w.text
			case !w.note || n < 0:
				joined = append(joined, w)
			case joined[n].text == "10" && n > 1 && isTimes(joined[n-1].text): // "5 x 10" and the power
				joined = joined[:n-1]
				joined[n-2].text += "e" + foldString(w.text)
			case joined[n].text == "10":
				joined[n].text = "1e" + foldString(w.text)
			}
		}
		return joinWrapped(joined)
	}
	return joinWrapped(withoutNotes(words))
}

func isTimes(s string) bool { return s == "x" || s == "×" || s == "·" || s == "*" }

// joinWrapped joins the words of a cell; a hyphen at the end of a line joins
// the two halves of a word.
func joinWrapped(words []cellWord) string {
	var b strings.Builder
	for i, w := range words {
		if i > 0 {
			prev := words[i-1]
			if len(prev.text) > 2 && strings.HasSuffix(prev.text, "-") && w.r.y0 > prev.r.y0+1 &&
				w.text == strings.ToLower(w.text) && !hasDigit(w.text) {
				s := strings.TrimSuffix(b.String(), "-")
				b.Reset()
				b.WriteString(s)
			} else {
				b.WriteByte(' ')
			}
		}
		b.WriteString(w.text)
	}
	return b.String()
}
