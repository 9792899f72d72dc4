package sheet

import (
	"math"
	"strings"
	"unicode"
	"unicode/utf8"
)

// groupLines finds headings inside the table: a line with one phrase, no
// numbers, set apart from the rows as rows are from each other.
func (t *Table) groupLines(lines []line) []bool {
	pitch := t.rowPitch(lines)
	groups := make([]bool, len(lines))
	for i, l := range lines {
		if l.limits || i+1 >= len(lines) || t.filled(l) != 1 && !l.span {
			continue
		}
		first := -1
		for k := range t.Columns {
			if len(l.cells[k]) > 0 {
				first = k
				break
			}
		}
		next := lines[i+1]
		ownName := len(next.cells[first]) > 0 || !next.limits || first == 0 && t.centredBelow(lines, i, pitch)
		apart := next.y0-l.y0 > 0.93*pitch && (i == 0 || l.y0-lines[i-1].y0 > 0.93*pitch)
		if first == 0 && ownName && apart && !lowerCase(l.cells[0]) && !wrapsOn(l.cells[0]) && (i == 0 || !wrapsOn(lines[i-1].cells[0])) {
			groups[i] = true
		}
	}
	return groups
}

// looseLines is the distance of lines, in type sizes, from which they hardly
// belong to one cell.
const looseLines = 1.36

// lowerCase says whether a phrase begins with a small letter, as no heading does.
func lowerCase(words []cellWord) bool {
	r, _ := utf8.DecodeRuneInString(words[0].text)
	return unicode.IsLower(r)
}

// wrapsOn says whether a name cannot end here.
func wrapsOn(words []cellWord) bool {
	if len(words) == 0 {
		return false
	}
	s := strings.ToLower(words[len(words)-1].text)
	switch s {
	case "and", "or", "of", "to", "from", "with", "at", "in", "per", "for", "the", "between":
		return true
	}
	return strings.HasSuffix(s, ",") || strings.HasSuffix(s, "-") || strings.HasSuffix(s, "/")
}

// centredBelow says whether the next name below a line stands in the middle of
// the rows that follow the line: a cell that spans them, and the line over it is
// no part of it.
func (t *Table) centredBelow(lines []line, i int, pitch float64) bool {
	named := i + 1
	for named < len(lines) && len(lines[named].cells[0]) == 0 {
		named++
	}
	if named == len(lines) {
		return false
	}
	name := append([]cellWord(nil), lines[named].cells[0]...)
	end := named + 1
	for ; end < len(lines); end++ {
		if cell := lines[end].cells[0]; len(cell) > 0 {
			if _, bottom := span1(name); cell[0].r.y0-bottom > 0.45*emOf(sizeOf(name)) {
				break // the next name
			}
			name = append(name, cell...)
		}
	}
	n0, n1 := span1(name)
	for last := named; last < end; last++ { // the rows behind may be those of the next name
		if math.Abs(n0+n1-lines[i+1].y0-lines[last].y1)/2 < 0.3*pitch {
			return true
		}
	}
	return false
}
