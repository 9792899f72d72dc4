package sheet

import (
	"regexp"
	"strings"
)

// otherVersions marks rows that speak of another version than the one of the
// first order code: by its package, by its order code.
func (d *drafter) otherVersions() {
	if len(d.Orders) == 0 {
		return
	}
	mine, others := d.versionWords()
	for _, rows := range []*[]DraftRow{&d.Ratings, &d.Operating, &d.Spec} {
		for i := range *rows {
			r := &(*rows)[i]
			r.Other = otherVersion(r.Name+" | "+r.Group, mine, others)
		}
	}
}

// versionWords are words for the version of the first order code, and for others.
func (d *drafter) versionWords() (mine, others []string) {
	first := d.Orders[0]
	mine = append(mine, first.Code, first.Package)
	for _, m := range first.More {
		mine = append(mine, m.Text)
	}
	for _, o := range d.Orders[1:] {
		others = append(others, o.Code, o.Package)
		for _, m := range o.More {
			others = append(others, m.Text)
		}
	}
	if len(d.Packages) > 0 {
		mine = append(mine, d.Packages[0].Name)
		for _, p := range d.Packages[1:] {
			others = append(others, p.Name)
		}
	}
	return telling(mine), telling(others)
}

// telling keeps the words by which a row may name a version: those with a
// digit, whole and by their first word where that is a name of its own
// ("DFN4" of "DFN4 1x1 + EP").
func telling(list []string) []string {
	var out []string
	for _, s := range list {
		s = strings.TrimSpace(foldString(s))
		if !hasDigit(s) || len(s) < 3 {
			continue
		}
		out = append(out, s)
		if first, _, more := strings.Cut(s, " "); more && packageName().MatchString(first) {
			out = append(out, first)
		}
	}
	return out
}

// otherVersion gives the words of another version that stand in a text which
// does not name this one.
func otherVersion(text string, mine, others []string) string {
	text = foldString(text)
	for _, w := range mine {
		if holdsWords(text, w) {
			return ""
		}
	}
	for _, w := range others {
		if holdsWords(text, w) {
			return w
		}
	}
	return ""
}

// holdsWords says whether words stand in a text with borders on both sides.
func holdsWords(text, words string) bool {
	re, err := regexp.Compile(`(^|[^A-Za-z0-9.-])` + regexp.QuoteMeta(words) + `($|[^A-Za-z0-9-])`)
	return err == nil && re.MatchString(text)
}
