package sheet

import (
	_ "embed"
	"strings"
)

// titlesText lists the titles of columns and the headings of sections.
//
//go:embed titles.txt
var titlesText string

var (
	headWords      = map[string]Kind{}      // titles of columns
	headingTerms   = map[Section][]string{} // headings of the sections
	operatingTerms []string                 // what headings of tables of operating limits hold
)

func init() {
	for _, line := range strings.Split(titlesText, "\n") {
		what, list, ok := strings.Cut(line, ": ")
		kind, name, _ := strings.Cut(what, " ")
		if !ok || kind == "#" {
			continue
		}
		for _, title := range strings.Split(list, "; ") {
			switch title = foldString(title); kind {
			case "column":
				headWords[title] = Kind(name)
			case "section":
				headingTerms[Section(name)] = append(headingTerms[Section(name)], title)
			case "operating":
				operatingTerms = append(operatingTerms, title)
			}
		}
	}
}

// mistyped gives the title that a word of a header was meant to be: two of its
// letters changed places, or one is missing, added or wrong in a long word.
func mistyped(s string) (Kind, bool) {
	if len(s) < 3 || strings.ContainsAny(s, " 0123456789/") {
		return "", false
	}
	for _, title := range []string{"parameter", "symbol", "condition", "conditions", "minimum", "typical", "maximum",
		"description", "function", "typ"} {
		if swapped(s, title) || len(title) > 5 && oneOff(s, title) {
			return headWords[title], true
		}
	}
	return "", false
}

// swapped says whether two neighbouring letters changed places.
func swapped(a, b string) bool {
	if len(a) != len(b) || a == b {
		return false
	}
	i := 0
	for a[i] == b[i] {
		i++
	}
	return i+1 < len(a) && a[i] == b[i+1] && a[i+1] == b[i] && a[i+2:] == b[i+2:]
}

// oneOff says whether one letter is missing, added or wrong.
func oneOff(a, b string) bool {
	if len(a) > len(b) {
		a, b = b, a
	}
	i := 0
	for i < len(a) && a[i] == b[i] {
		i++
	}
	switch len(b) - len(a) {
	case 0:
		return i < len(a) && a[i+1:] == b[i+1:]
	case 1:
		return a[i:] == b[i+1:]
	}
	return false
}
