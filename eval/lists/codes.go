package lists

import (
	"slices"
	"strings"

	"guardband/eval/circuit"
	"guardband/eval/record"
)

// Sells says that a code is one of those noted for a part, each of which may be bought.
func Sells(p *circuit.Part, code string) bool {
	bare := func(s string) string { return strings.ReplaceAll(s, " ", "") }
	return slices.ContainsFunc(p.Orders, func(o circuit.Order) bool { return strings.EqualFold(bare(code), bare(o.Code)) })
}

// OrderedAs compares a cell of order codes with those noted for a part. A cell may hold several, and words such as a
// maker's name. Open where it also holds a code that is not noted: further.
func OrderedAs(p *circuit.Part, cell string) (v record.Verdict, further string) {
	if Sells(p, cell) {
		return record.Passed, ""
	}
	noted, others := 0, []string{}
	for _, one := range strings.FieldsFunc(cell, func(r rune) bool { return strings.ContainsRune(",;|\n", r) }) {
		rest, found := withoutCode(p, strings.Fields(one))
		if found {
			noted++
		}
		if slices.ContainsFunc(rest, looksOrdered) {
			others = append(others, strings.Join(rest, " "))
		}
	}
	switch {
	case noted == 0:
		return record.Failed, ""
	case len(others) > 0:
		return record.Open, strings.Join(others, ", ")
	}
	return record.Passed, ""
}

// withoutCode takes the words of a noted code out of others.
func withoutCode(p *circuit.Part, words []string) (rest []string, found bool) {
	for len(words) > 0 {
		k := len(words)
		for k > 0 && !Sells(p, strings.Join(words[:k], "")) {
			k--
		}
		if k == 0 {
			k = 1
			rest = append(rest, strings.FieldsFunc(words[0], func(r rune) bool { return r == '/' })...)
		} else {
			found = true
		}
		words = words[k:]
	}
	return rest, found
}

// looksOrdered says that a word looks like an order code: letters and digits.
func looksOrdered(w string) bool {
	return len(w) > 3 && strings.ContainsAny(w, "0123456789") && strings.ContainsFunc(w, func(r rune) bool { return r > '9' })
}
