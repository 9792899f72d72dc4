package sheet

import (
	"fmt"
	"strconv"
	"strings"
	"unicode"
)

// A number that stands on the page may have been copied from the wrong row or
// the wrong column. That is said only where table, row and column are beyond
// doubt: no suspicion is better than a wrong one.

// tableRow is a row of a table on a page.
type tableRow struct {
	view  *view
	table *Table
	row   *TableRow
}

// slip looks for numbers that do not stand where the fact says; "" if there
// are none or it cannot be told.
func slip(views []*view, want []wanted, rows []tableRow) string {
	if len(rows) == 0 {
		return ""
	}
	for _, w := range want {
		if s := slipOf(w, rows, views); s != "" {
			return s
		}
	}
	return ""
}

// rowsMeant gives the table rows that a citation speaks of: by its quoted words,
// else by the symbol of the fact.
func rowsMeant(q Query, views []*view, found []sighting) []tableRow {
	if rows := rowsOfWords(found); len(rows) > 0 {
		return append(rows, rowsUnder(q.Quote, views)...)
	}
	return rowsOfSymbol(views, q.Name)
}

// rowsUnder gives the rows that stand under a heading with the quoted words.
func rowsUnder(quote string, views []*view) (out []tableRow) {
	for _, v := range views {
		for _, r := range v.allRows() {
			if r.row.Group != "" && strings.Contains(foldQuote(r.row.Group).text, foldQuote(quote).text) {
				out = append(out, r)
			}
		}
	}
	return out
}

// statingRows are the rows that state one of the numbers, all of them where none does.
func statingRows(rows []tableRow, want []wanted) []tableRow {
	var out []tableRow
	for _, r := range rows {
		for _, w := range want {
			if len(r.columnsOf(w)) > 0 {
				out = append(out, r)
				break
			}
		}
	}
	if len(out) == 0 {
		return rows
	}
	return out
}

// rowsOfWords gives the table rows that the quoted words name.
func rowsOfWords(found []sighting) []tableRow {
	var out []tableRow
	for _, s := range found {
		for _, r := range s.view.allRows() {
			if r.names(s.span.words[0]) {
				out = append(out, r)
			}
		}
	}
	return out
}

// names says whether a word is part of what names the row.
func (r tableRow) names(at place) bool {
	for i, c := range r.table.Columns {
		if c.Kind != KindName && c.Kind != KindSymbol && c.Kind != KindCondition {
			continue
		}
		for _, w := range r.row.Cells[i].words {
			if w.at == at {
				return true
			}
		}
	}
	return false
}

// rowsOfSymbol gives the rows that carry the symbol of the fact.
func rowsOfSymbol(views []*view, name string) []tableRow {
	want := symbolForm(name)
	if want == "" {
		return nil
	}
	var out []tableRow
	for _, v := range views {
		for _, r := range v.allRows() {
			if symbolForm(r.table.Cell(r.row, KindSymbol)) == want {
				out = append(out, r)
			}
		}
	}
	return out
}

// symbolForm drops what differs between a typed and a printed symbol.
func symbolForm(s string) string {
	var b strings.Builder
	for _, r := range foldString(s) {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			b.WriteRune(unicode.ToLower(r))
		}
	}
	return b.String()
}

// allRows gives the rows of all tables with columns of numbers, as ruled lines
// settle them and as white gaps do: a number that either way puts into a row
// stands there, and only one that neither does is blamed.
func (v *view) allRows() []tableRow {
	if v.ways != nil {
		return v.ways
	}
	for _, t := range v.tables() {
		for ; t != nil && t.hasLimits(); t = t.other {
			for i := range t.Rows {
				v.ways = append(v.ways, tableRow{v, t, &t.Rows[i]})
			}
		}
	}
	return v.ways
}

// settled leaves of rows those that the first way gives, all of them where it
// gives none: what is said of a row in words is said once.
func settled(rows []tableRow) []tableRow {
	var out []tableRow
	for _, r := range rows {
		if !r.table.byGaps {
			out = append(out, r)
		}
	}
	if len(out) == 0 {
		return rows
	}
	return out
}

// columnsOf gives the kinds of the columns in which a row states a number. A
// bare number among words ("code 1") has nothing of the unit column's unit.
func (r tableRow) columnsOf(w wanted) []Kind {
	var out []Kind
	for _, t := range r.view.find(w) {
		at := r.view.grid().rows[t.row].words[t.first].at
		for i, c := range r.table.Columns {
			words := c.Kind == KindName || c.Kind == KindSymbol || c.Kind == KindCondition
			for _, word := range r.row.Cells[i].words {
				if word.at == at && (!words || t.sure || w.m.kind == "") {
					if out = append(out, c.Kind); t.both && c.Kind == KindMax {
						out = append(out, KindMin)
					}
				}
			}
		}
	}
	return out
}

// slipOf looks at one number.
func slipOf(w wanted, rows []tableRow, views []*view) string {
	var other []Kind
	var endOf Kind // the end of a range that it is
	for _, r := range rows {
		for _, k := range r.columnsOf(w) {
			if end, ok := r.otherEnd(w); ok && k == KindValue {
				endOf = end
				continue
			}
			if w.Column == "" || string(k) == w.Column || k != KindMin && k != KindTyp && k != KindMax {
				return "" // it stands where it should, or where nobody can tell
			}
			other = append(other, k)
		}
	}
	if endOf != "" {
		return fmt.Sprintf("%s is the %s of the range of “%s”, not its %s", w, endOf, rows[0].label(), w.Column)
	}
	if len(other) > 0 {
		if rows[0].table.column(Kind(w.Column)) < 0 {
			if w.Column == "typ" || onlyTypical(other) {
				return fmt.Sprintf("%s is in the %s column of “%s”, which has no %s column", w, other[0], rows[0].label(), w.Column)
			}
			return ""
		}
		return fmt.Sprintf("%s is in the %s column of “%s”, not in the %s column", w, other[0], rows[0].label(), w.Column)
	}
	return elsewhereInTables(w, rows, views)
}

// otherEnd says whether a number noted as one end of a range is the other end of
// the range that the row states, and which that is.
func (r tableRow) otherEnd(w wanted) (Kind, bool) {
	d := DraftRow{Value: r.table.limit(r.row, KindValue)}
	d.splitRange()
	low, err := strconv.ParseFloat(d.Min, 64)
	high, err2 := strconv.ParseFloat(strings.TrimPrefix(d.Max, "+"), 64)
	switch {
	case err != nil || err2 != nil || low == high:
	case w.Column == string(KindMin) && w.Value == high:
		return KindMax, true
	case w.Column == string(KindMax) && w.Value == low:
		return KindMin, true
	}
	return "", false
}

// elsewhereInTables names another row that states the number, when the rows
// meant hold numbers and not this one.
func elsewhereInTables(w wanted, rows []tableRow, views []*view) string {
	for _, r := range rows {
		if !r.filled() {
			return ""
		}
	}
	if outside(w, views) {
		return ""
	}
	for _, v := range views {
		for _, r := range v.allRows() {
			for _, k := range r.columnsOf(w) {
				if k.isLimit() && r.label() != rows[0].label() {
					return fmt.Sprintf("%s is in the row “%s”, not in “%s”", w, r.label(), rows[0].label())
				}
			}
		}
	}
	return ""
}

// outside says whether the number stands outside of the tables too: then the
// fact may well come from there.
func outside(w wanted, views []*view) bool {
	for _, v := range views {
		in := map[place]bool{}
		for _, r := range v.allRows() {
			for _, c := range r.row.Cells {
				for _, word := range c.words {
					in[word.at] = true
				}
			}
		}
		for _, t := range v.find(w) {
			if (t.sure || w.m.kind == "") && !in[v.grid().rows[t.row].words[t.first].at] {
				return true
			}
		}
	}
	return false
}

// filled says whether a row states a number in a column of numbers, and none
// that cannot be read.
func (r tableRow) filled() bool {
	n := 0
	for i, c := range r.table.Columns {
		switch {
		case !c.Kind.isLimit():
		case r.row.Cells[i].Unread:
			return false
		case hasDigit(r.row.Cells[i].Text):
			n++
		}
	}
	return n > 0
}

// label names a row to a reader.
func (r tableRow) label() string {
	if s := r.table.Cell(r.row, KindName); s != "" {
		return s
	}
	return r.table.Cell(r.row, KindSymbol)
}
