package sheet

import "strings"

// What tells a line that carries on a row from one that begins another.

// continues says whether a line with numbers carries on the one above: a range
// split over lines ends in "to" or a dash.
func (t *Table) continues(a, b line) bool {
	if b.y0-a.y1 > 1.2*emOf(b.y1-b.y0) || t.hasOwnName(b) {
		return false
	}
	for k, c := range t.Columns {
		if !c.Kind.isLimit() || len(a.cells[k]) == 0 || len(b.cells[k]) == 0 {
			continue
		}
		s, u := foldString(joinWords(a.cells[k])), foldString(joinWords(b.cells[k]))
		if strings.HasSuffix(s, " to") || s == "to" || hasDigit(s) && (strings.HasSuffix(s, "-") || strings.HasSuffix(s, "..")) {
			return true
		}
		close := b.y0-a.y1 < 0.9*emOf(sizeOf(a.words()))
		if close && (openEnded(s) || startsOpen(u) && !hasDigit(s)) {
			return true
		}
	}
	return false
}

// hasOwnName says whether a line names a row of its own: by a symbol, else by a
// name that is not the rest of one.
func (t *Table) hasOwnName(l line) bool {
	if k := t.column(KindSymbol); k >= 0 {
		return len(l.cells[k]) > 0
	}
	k := t.column(KindName)
	return k >= 0 && len(l.cells[k]) > 0 && !lowerCase(l.cells[k])
}

// apart says whether words of one line stand so far apart that they are two cells.
func apart(words []cellWord) bool {
	for i := 1; i < len(words); i++ {
		a, b := words[i-1], words[i]
		if b.r.y0 < a.r.y1 && b.r.x0-a.r.x1 > 1.5*emOf(a.size, b.size) {
			return true
		}
	}
	return false
}

// brokenNumber matches what ends in a point that a digit must follow.
var brokenNumber = pattern(`\d\.$|[A-Za-z)] ?[-=(]$`)

// openEnded says whether a formula in a cell must go on: "VDD +".
func openEnded(s string) bool {
	return !isBlankMark(s) && (brokenNumber().MatchString(s) || strings.HasSuffix(s, "+") || strings.HasSuffix(s, " -") ||
		strings.HasSuffix(s, " x") || strings.HasSuffix(s, "*") || strings.HasSuffix(s, "·"))
}

func startsOpen(s string) bool {
	return strings.HasPrefix(s, "+ ") || strings.HasPrefix(s, "x ") || strings.HasPrefix(s, "- ") || strings.HasPrefix(s, "* ")
}

// onlyUnit says whether a line carries on a cell with the unit of its number.
func (t *Table) onlyUnit(l line) bool {
	if t.filled(l) != 1 {
		return false
	}
	text := joinWords(l.words())
	_, ok := unitWord(text)
	return ok && plainUnit(text)
}
