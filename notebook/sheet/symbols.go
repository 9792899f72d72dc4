package sheet

import (
	"math"
	"regexp"
	"strings"
	"unicode"
)

// Sheets set the symbol of a quantity in a column of its own, with a title,
// without one, or under one title with the name.

// symbolWord matches what can be the symbol of a quantity: a letter, then
// letters, digits and the marks of subscripts.
var symbolWord = pattern(`^[A-Za-zΔθδμηρ∑][A-Za-z0-9_/(),.:+θΔ*-]{0,17}$`)

// thermalSymbol matches thermal resistances, whose subscripts may be words.
var thermalSymbol = pattern(`^[RZ]_?(?:th|TH|θ)_?\(?[jJ]-?[a-z]*\)?$`)

// symbolLike says whether a cell holds a symbol and no words.
func symbolLike(words []cellWord) bool {
	if len(words) == 0 || len(words) > 4 {
		return false
	}
	s := strings.ReplaceAll(foldString(joinWords(words)), " ", "")
	if !symbolWord().MatchString(s) || len(words) > 1 && plainWord(words[0].text) {
		return false
	}
	small := 0
	if thermalSymbol().MatchString(s) {
		return true
	}
	for _, w := range words {
		if plainWord(w.text) && len(w.text) > 4 && !strings.ContainsAny(w.text, "_(/") {
			return false
		}
	}
	for _, r := range s {
		if unicode.IsLower(r) {
			small++
		}
	}
	return len([]rune(s)) <= 3 || small < len([]rune(s))-2 || strings.ContainsAny(s, "_(/")
}

// splitSymbols finds symbols and names that stand under one title: most names
// begin at one place, and what stands before it is symbols.
func (t *Table) splitSymbols(body []bodyLine) {
	col := t.column(KindName)
	if col < 0 || t.column(KindSymbol) >= 0 || !t.hasLimits() {
		return
	}
	c := &t.Columns[col]
	type start struct {
		x float64
		n int
	}
	var starts []start
	lines := 0
	for _, b := range body {
		words := inside(b.words, c.x0, c.x1)
		if len(words) == 0 {
			continue
		}
		lines++
		for i, w := range words {
			if i == 0 && w.r.x0 < c.x0+8 || i > 0 && w.r.x0-words[i-1].r.x1 < 0.3*emOf(w.size) {
				continue
			}
			found := false
			for k := range starts {
				if math.Abs(starts[k].x-w.r.x0) < 1.5 {
					starts[k].n++
					found = true
				}
			}
			if !found {
				starts = append(starts, start{w.r.x0, 1})
			}
		}
	}
	for _, s := range starts {
		if 2*s.n < lines || s.n < 3 {
			continue
		}
		symbols, others := 0, 0
		for _, b := range body {
			left := inside(b.words, c.x0, s.x)
			switch {
			case len(left) == 0 || len(inside(b.words, c.x0, c.x1)) == len(b.words) && !symbolLike(left): // a heading of rows
			case symbolLike(left):
				symbols++
			default:
				others++
			}
		}
		if symbols >= 2 && 6*others <= symbols {
			at := s.x - 0.7
			symbol := Column{Kind: KindSymbol, x0: c.x0, x1: at, clear: c.clear}
			symbol.head = rect{c.x0 + 1, c.head.y0, at - 1, c.head.y1}
			c.x0, c.clear, c.head.x0 = at, true, math.Max(at, c.head.x0)
			t.Columns = append(t.Columns[:col:col], append([]Column{symbol}, t.Columns[col:]...)...)
			return
		}
	}
}

// splitBeside finds a column without a title before the first column of numbers:
// what stands clearly left of its title is no number of it.
func (t *Table) splitBeside(body []bodyLine) {
	for k := 1; k < len(t.Columns); k++ {
		c := &t.Columns[k]
		if !c.Kind.isLimit() || t.Columns[k-1].Kind.isLimit() {
			continue
		}
		left, right, n := c.x0, c.x1, 0
		for _, b := range body {
			for _, w := range chunksOf(inside(b.words, c.x0, c.x1)) {
				if w.r.x1 < c.head.x0-0.7*emOf(w.words[0].size) {
					left, n = math.Max(left, w.r.x1), n+1
				} else {
					right = math.Min(right, w.r.x0)
				}
			}
		}
		if n < 2 || right-left < 4 {
			continue
		}
		beside := Column{Kind: KindCondition, x0: c.x0, x1: (left + right) / 2, clear: c.clear}
		beside.head = rect{beside.x0 + 1, c.head.y0, beside.x1 - 1, c.head.y1}
		c.x0, c.clear = beside.x1, true
		t.Columns = append(t.Columns[:k:k], append([]Column{beside}, t.Columns[k:]...)...)
		return
	}
}

// valueColumns finds the columns of a table that has units and no titles such
// as Max: those that hold numbers are values, one column for each grade, version
// or package, whatever their titles say; names are what holds words.
func (g *grid) valueColumns(t *Table, body []bodyLine) {
	unit := t.column(KindUnit)
	if unit < 0 || t.column(KindMin) >= 0 || t.column(KindTyp) >= 0 || t.column(KindMax) >= 0 {
		return
	}
	for k := range t.Columns {
		if c := &t.Columns[k]; c.Title != "" && k > 0 && mayHoldValues(c.Kind) && c.mostly(body, beginsNumber()) {
			c.Kind = KindValue
		}
	}
	t.namesByContent(body)
	if values := t.versions(); values != nil { // "Typical values" over several
		x0, x1 := t.Columns[values[0]].head.x1, t.Columns[values[len(values)-1]].head.x0
		for i := t.headRow - 1; i >= 0 && g.rows[t.headRow].y0-g.rows[i].y1 < 2.5*emOf(sizeOf(g.rows[t.headRow].words)); i-- {
			for _, c := range chunksOf(inside(g.rows[i].words, t.left, t.right)) {
				if k, _, ok := headKind(c.text()); ok && k.isLimit() && c.r.x0 < x1 && c.r.x1 > x0 {
					t.valuesAre = k
				}
			}
		}
	}
}

// beginsNumber matches a cell that states a number.
var beginsNumber = pattern(`^[-+−–±<>≤≥~≈≦≧ ]*[0-9.]|^[-–— .]+$|^[0-9A-Z][A-Za-z0-9]*[-+±]?[0-9]`)

func mayHoldValues(k Kind) bool {
	return k == KindOther || k == KindName || k == KindFunction || k == KindOrder || k == KindPackage
}

// namesByContent takes the first column of words for the names where no title
// says which they are: "Pins", "Description".
func (t *Table) namesByContent(body []bodyLine) {
	if !t.hasLimits() || t.column(KindName) >= 0 {
		return
	}
	for _, kind := range []Kind{KindFunction, KindPinName, KindPin, KindType, KindOther} {
		for k := range t.Columns {
			if c := &t.Columns[k]; c.Kind == kind && c.Title != "" && c.mostly(body, twoLetters()) {
				c.Kind = KindName
				return
			}
		}
	}
}

// mostly says whether four of five filled lines of a column match.
func (c *Column) mostly(body []bodyLine, want *regexp.Regexp) bool {
	filled, n := 0, 0
	for _, b := range body {
		if words := inside(b.words, c.x0, c.x1); len(words) > 0 {
			filled++
			n += boolIndex(want.MatchString(joinWords(words)))
		}
	}
	return filled > 0 && 10*n >= 8*filled
}

// versions gives the columns of values where there are several.
func (t *Table) versions() []int {
	var out []int
	for k, c := range t.Columns {
		if c.Kind == KindValue {
			out = append(out, k)
		}
	}
	if len(out) < 2 {
		return nil
	}
	return out
}

// nameColumns tells symbols from names by what the columns hold.
func (t *Table) nameColumns() {
	t.bracketedSymbols()
	symbol, words := t.column(KindSymbol), -1
	if symbol >= 0 && t.column(KindName) >= 0 || !t.hasLimits() {
		return
	}
	for k, c := range t.Columns {
		if c.Kind != KindName && (c.Kind != KindOther || c.Title != "") {
			continue
		}
		given, short := 0, 0
		for i := range t.Rows {
			if cell := t.Rows[i].Cells[k]; cell.Given {
				given++
				if symbolLike(cell.words) {
					short++
				}
			}
		}
		switch {
		case given > 0 && 10*short >= 8*given && symbol < 0:
			symbol = k
		case given > 0 && 2*short < given && words < 0:
			words = k
		}
	}
	switch {
	case symbol < 0:
	case words >= 0:
		t.Columns[symbol].Kind, t.Columns[words].Kind = KindSymbol, KindName
	case t.column(KindName) == symbol: // there are no names but the symbols
		t.Columns[symbol].Kind = KindSymbol
	}
}

var bracketedSymbol = pattern(`^\(([A-Za-z][A-Za-z0-9_]{0,7})\)$`)

// bracketedSymbols takes for symbols a column between names and numbers that
// holds nothing but symbols in brackets: "Supply voltage | (Vcc)". What else
// stands under the first of two titles "Unit" is no unit.
func (t *Table) bracketedSymbols() {
	units := 0
	for _, c := range t.Columns {
		units += boolIndex(c.Kind == KindUnit)
	}
	for k := range t.Columns {
		c := &t.Columns[k]
		second := c.Kind == KindUnit && units > 1
		if !second && (c.Title != "" || c.Kind != KindCondition && c.Kind != KindOther) {
			continue
		}
		filled, symbols, known := 0, 0, 0
		for i := range t.Rows {
			if cell := t.Rows[i].Cells[k]; cell.Text != "" {
				filled++
				_, ok := unitWord(cell.Text)
				known += boolIndex(ok)
				symbols += boolIndex(bracketedSymbol().MatchString(cell.Text))
			}
		}
		switch {
		case filled > 0 && symbols == filled && t.column(KindSymbol) < 0:
			units -= boolIndex(second)
			c.Kind = KindSymbol
			for i := range t.Rows {
				cell := &t.Rows[i].Cells[k]
				cell.Text = strings.Trim(cell.Text, "()")
			}
		case second && 2*known < filled || second && filled == 0:
			c.Kind = KindOther
			units--
		}
	}
}

func boolIndex(b bool) int {
	if b {
		return 1
	}
	return 0
}
