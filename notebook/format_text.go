package notebook

import (
	"regexp"
	"strings"
	"unicode/utf8"
)

// unitTwins maps units as keyboards give them to the form of the SI Brochure
// (9th edition, table 4 and section 5). Only these are respelled.
var unitTwins = map[string]string{
	"uF": "µF", "uA": "µA", "uV": "µV", "uH": "µH", "us": "µs", "uW": "µW", "um": "µm", "uC": "µC", "uJ": "µJ",
	"ohm": "Ω", "ohms": "Ω", "mohm": "mΩ", "kohm": "kΩ", "Mohm": "MΩ", "degC": "°C",
}

// tidy writes a value with single blanks and canonical signs; what stands in
// quotes is kept.
func tidy(s string) string {
	var b strings.Builder
	for i := 0; i < len(s); {
		if k := quoteEnd(s, i); k > i {
			b.WriteString(s[i:k])
			i = k
			continue
		}
		switch c := s[i]; {
		case isBlank(c):
			from := i
			for i < len(s) && isBlank(s[i]) {
				i++
			}
			if b.Len() > 0 && i < len(s) {
				b.WriteByte(' ')
				if i-from > 1 && isDigit(s[from-1]) && (isNameStart(rune(s[i])) || s[i] == '%') {
					b.WriteByte(' ') // two blanks keep a number and a name apart
				}
			}
		case strings.HasPrefix(s[i:], "+/-"):
			b.WriteString("±")
			i += 3
		case strings.HasPrefix(s[i:], "+-"):
			b.WriteString("±")
			i += 2
		case isDigit(c) || c == '.' && i+1 < len(s) && isDigit(s[i+1]):
			i += tidyNumber(&b, s[i:], i > 0 && isNameByte(s, i))
		default:
			b.WriteByte(c)
			i++
		}
	}
	return b.String()
}

// isNameByte says that the digit at s[i] belongs to a name: V_3, R1.
func isNameByte(s string, i int) bool {
	r, _ := utf8.DecodeLastRuneInString(s[:i])
	return isNameRune(r)
}

// unitAfter is a word of letters after a number.
var unitAfter = regexp.MustCompile(`^( ?)([A-Za-z]+)`)

// tidyNumber writes the number at the start of s and a unit after it that has
// a canonical twin, and gives how many bytes were read.
func tidyNumber(b *strings.Builder, s string, name bool) int {
	n := len(s) - len(strings.TrimLeft(s, "0123456789."))
	b.WriteString(s[:n])
	m := unitAfter.FindStringSubmatch(s[n:])
	if name || m == nil {
		return n
	}
	twin, rest := unitTwins[m[2]], s[n+len(m[0]):]
	if twin == "" || rest != "" && (isNameRune(rune(rest[0])) || rest[0] >= utf8.RuneSelf) {
		return n
	}
	b.WriteString(m[1] + twin)
	return n + len(m[0])
}

// cellsWide is how many columns of a fixed-width screen a text takes.
func cellsWide(s string) int {
	n := 0
	for _, r := range s {
		n += runeCells(r)
	}
	return n
}

// padTo fills a text with blanks up to a width.
func padTo(s string, width int) string {
	if n := width - cellsWide(s); n > 0 {
		return s + strings.Repeat(" ", n)
	}
	return s
}
