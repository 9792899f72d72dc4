package formula

import (
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// FoldName brings a name to the one spelling by which it is looked up:
// composed (Unicode NFC, which also turns the ohm, kelvin and ångström signs
// into letters), the micro sign as Greek mu, the increment sign as Delta.
func FoldName(name string) string {
	for i := 0; i < len(name); i++ {
		if name[i] >= 0x80 {
			return foldWide(name)
		}
	}
	return name
}

func foldWide(name string) string {
	return strings.Map(func(r rune) rune {
		switch r {
		case 'µ': // U+00B5
			return 'μ' // U+03BC
		case '∆': // U+2206
			return 'Δ' // U+0394
		}
		return r
	}, norm.NFC.String(name))
}

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
