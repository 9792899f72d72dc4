package terminal

import (
	"strings"
	"unicode"

	eastasian "golang.org/x/text/width"
)

// columns a rune takes: none for combining marks, two for wide characters
// (Unicode Standard Annex 11).
func columns(r rune) int {
	switch {
	case r < 0x300:
		return 1
	case unicode.In(r, unicode.Mn, unicode.Me) || r == 0x200b || r == 0x200d:
		return 0
	}
	if kind := eastasian.LookupRune(r).Kind(); kind == eastasian.EastAsianWide || kind == eastasian.EastAsianFullwidth {
		return 2
	}
	return 1
}

func width(s string) int {
	n := 0
	for _, r := range s {
		n += columns(r)
	}
	return n
}

func spaces(n int) string { return strings.Repeat(" ", max(0, n)) }

// split cuts s so that its first part is at most w columns wide, and not empty.
func split(s string, w int) (head, rest string) {
	n := 0
	for i, r := range s {
		if n += columns(r); n > w && i > 0 {
			return s[:i], s[i:]
		}
	}
	return s, ""
}

// cut shortens s to w columns with an ellipsis.
func cut(s string, w int) string {
	if width(s) <= w {
		return s
	}
	head, _ := split(s, w-1)
	return head + "…"
}

// cutLeft shortens s to w columns, keeping its end.
func cutLeft(s string, w int) string {
	if width(s) <= w {
		return s
	}
	rest := []rune(s)
	for len(rest) > 0 && width(string(rest)) > w-1 {
		rest = rest[1:]
	}
	return "…" + string(rest)
}

// tokens are the words of s; a number and the unit after it are one.
func tokens(s string) []string {
	var out []string
	for _, w := range strings.Fields(s) {
		if n := len(out); n > 0 && isNumber(out[n-1]) && isUnit(w) {
			out[n-1] += " " + w
			continue
		}
		out = append(out, w)
	}
	return out
}

func isNumber(s string) bool {
	s = strings.TrimLeft(s, "([±-−+")
	return s != "" && strings.Trim(s, "0123456789.") == ""
}

func isUnit(s string) bool {
	s = strings.TrimRight(s, ".,;:)]")
	switch s {
	case "to", "of", "and", "or", "is", "in", "at", "on", "by", "per":
		return false
	}
	return len(s) > 0 && len(s) <= 5 && !strings.ContainsAny(s, "0123456789=_")
}

// wrap breaks s at blanks into rows of at most w columns; a longer word is
// broken. There is always at least one row.
func wrap(s string, w int) []string {
	w = max(w, 8)
	var rows []string
	row := ""
	for _, word := range tokens(s) {
		if row != "" && width(row)+1+width(word) <= w {
			row += " " + word
			continue
		}
		if row != "" {
			rows = append(rows, row)
		}
		for rest := width(word); rest > w; {
			var head string
			head, word = split(word, w)
			rest -= width(head)
			rows = append(rows, head)
		}
		row = word
	}
	if row != "" || len(rows) == 0 {
		rows = append(rows, row)
	}
	return rows
}
