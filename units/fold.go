package units

import (
	"strings"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
)

// FoldRune writes look-alikes of one letter in one way. NFC alone leaves the
// micro sign and the increment sign; NFKC would turn V² into V2.
func FoldRune(r rune) rune {
	switch r {
	case '\u00B5': // micro sign
		return 'μ'
	case '\u2206': // increment
		return 'Δ'
	case '\u2126': // ohm sign
		return 'Ω'
	case '\u212A': // kelvin sign
		return 'K'
	case '\u212B': // angstrom sign
		return 'Å'
	case '\u00BA': // masculine ordinal, typed for a degree
		return '°'
	}
	return r
}

// FoldName gives the one form of a name under which it is looked up: Unicode
// NFC, with the look-alikes of μ, Ω, Δ and K written in one way.
func FoldName(s string) string {
	for i := 0; i < len(s); i++ {
		if s[i] >= utf8.RuneSelf {
			return strings.Map(FoldRune, norm.NFC.String(s))
		}
	}
	return s
}
