package formula

import (
	"unicode"
)

// isNameStart tells whether a name may begin with r.
func isNameStart(r rune) bool {
	switch {
	case 'a' <= r && r <= 'z' || 'A' <= r && r <= 'Z' || r == '_':
		return true
	case r < 0x80:
		return false
	case r == 'µ' || r == '∆' || r == 'Ω' || r == 'K': // signs that fold to letters
		return true
	}
	return unicode.IsLetter(r)
}

// isNamePart tells whether r may stand inside a name; marks are composed by
// FoldName afterwards.
func isNamePart(r rune) bool {
	return isNameStart(r) || '0' <= r && r <= '9' || r >= 0x80 && unicode.Is(unicode.Mn, r)
}

// foreign finds the first rune of a folded name that is neither Latin nor
// Greek, nor a digit or underscore; -1 if there is none.
func foreign(name string) rune {
	for _, r := range name {
		if r < 0x80 {
			continue
		}
		if !unicode.In(r, unicode.Lu, unicode.Ll, unicode.Lt) || !unicode.In(r, unicode.Latin, unicode.Greek) {
			return r
		}
	}
	return -1
}
