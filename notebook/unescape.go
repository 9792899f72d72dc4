package notebook

import (
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/yuin/goldmark/util"
)

// unescape resolves the backslashes and character references of Markdown
// text (CommonMark 0.31, sections 2.4 and 2.5), in one pass so that "\&amp;"
// stays "&amp;".
func unescape(s string) string {
	if strings.IndexByte(s, '\\') < 0 && strings.IndexByte(s, '&') < 0 {
		return s
	}
	var b strings.Builder
	for i := 0; i < len(s); {
		switch {
		case s[i] == '\\' && i+1 < len(s) && util.IsPunct(s[i+1]):
			b.WriteByte(s[i+1])
			i += 2
		case s[i] == '&':
			ref, n := reference(s[i:])
			b.WriteString(ref)
			i += n
		default:
			b.WriteByte(s[i])
			i++
		}
	}
	return b.String()
}

// reference reads a character reference at the start of s; where there is
// none it gives "&" and 1.
func reference(s string) (string, int) {
	end := strings.IndexByte(s[:min(len(s), 40)], ';')
	if end < 2 {
		return "&", 1
	}
	word := s[1:end]
	if word[0] != '#' {
		if e, ok := util.LookUpHTML5EntityByName(word); ok {
			return string(e.Characters), end + 1
		}
		return "&", 1
	}
	digits, base := word[1:], 10
	if digits != "" && (digits[0] == 'x' || digits[0] == 'X') {
		digits, base = digits[1:], 16
	}
	n, err := strconv.ParseUint(digits, base, 32)
	if err != nil || digits == "" || len(digits) > 7 {
		return "&", 1
	}
	c := rune(n)
	if n > utf8.MaxRune || !utf8.ValidRune(c) || c < ' ' && c != '\t' && c != '\n' {
		c = utf8.RuneError
	}
	return string(c), end + 1
}
