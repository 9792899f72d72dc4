package sheet

import (
	"slices"
	"strings"
)

// A number that its page gives as typical promises nothing, however it is
// noted. That is said only where every place that states it says so.

// typical says whether a number stands as a typical value and as nothing else:
// in the rows meant where they state it, otherwise on all cited pages.
func typical(w wanted, rows []tableRow, views []*view) bool {
	if w.Column != "" {
		return false
	}
	var kinds []Kind
	for _, r := range rows {
		kinds = append(kinds, r.limitsOf(w)...)
	}
	if len(kinds) > 0 {
		return onlyTypical(kinds)
	}
	for _, v := range views {
		kinds = append(kinds, v.kindsOf(w)...)
	}
	return onlyTypical(kinds)
}

func onlyTypical(kinds []Kind) bool {
	return len(kinds) > 0 && !slices.ContainsFunc(kinds, func(k Kind) bool { return k != KindTyp })
}

// limitsOf gives the columns of numbers in which a row states a number. A lone
// column of values under or beside the word "typical" is one of those.
func (r tableRow) limitsOf(w wanted) []Kind {
	var out []Kind
	for _, k := range r.columnsOf(w) {
		switch {
		case k == KindValue && (saysTypical(r.table.Title) || saysTypical(r.label())):
			out = append(out, KindTyp)
		case k.isLimit():
			out = append(out, k)
		}
	}
	return out
}

// kindsOf says how each place of a page that states a number gives it. What is
// neither in a column of numbers nor marked as typical counts as a value;
// cells of names and conditions do not count.
func (v *view) kindsOf(w wanted) []Kind {
	cells := map[place]bool{}
	var out []Kind
	for _, r := range v.allRows() {
		for _, c := range r.row.Cells {
			for _, word := range c.words {
				cells[word.at] = true
			}
		}
		out = append(out, r.limitsOf(w)...)
	}
	for _, t := range v.find(w) {
		switch words := v.grid().rows[t.row].words; {
		case cells[words[t.first].at]:
		case markedTypical(words, t):
			out = append(out, KindTyp)
		default:
			out = append(out, KindValue)
		}
	}
	return out
}

// markedTypical says whether the word "typical" stands with a number in running
// text: right behind it, or before it in the same clause.
func markedTypical(words []cellWord, t token) bool {
	for i := t.last + 1; i < len(words) && i <= t.last+2; i++ {
		if saysTypical(words[i].text) {
			return true
		}
	}
	for i := t.first - 1; i >= 0 && i >= t.first-8; i-- {
		if strings.ContainsAny(words[i].text[len(words[i].text)-1:], ",;:") || hasDigit(words[i].text) {
			return false
		}
		if saysTypical(words[i].text) {
			return true
		}
	}
	return false
}

// saysTypical looks for the word in a text.
func saysTypical(s string) bool {
	for _, f := range strings.Fields(strings.ToLower(foldString(s))) {
		if k, ok := statedWords[strings.Trim(f, "()[],;:")]; ok && k == KindTyp {
			return true
		}
	}
	return false
}
