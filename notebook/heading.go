package notebook

import (
	"strconv"
	"strings"
	"unicode"
)

// headingIDs makes the ids of headings, no two alike.
type headingIDs map[string]int // how often each is in use

// next makes a stable id from the words of a heading: letters and digits of
// any script, the rest turned into single hyphens.
func (heads headingIDs) next(n *Node) string {
	var b strings.Builder
	for _, r := range strings.ToLower(plainText(n.Children)) {
		switch {
		case unicode.IsLetter(r) || unicode.IsDigit(r) || unicode.Is(unicode.Mn, r) || r == '_':
			b.WriteRune(r)
		case b.Len() > 0 && !strings.HasSuffix(b.String()[max(0, b.Len()-1):], "-"):
			b.WriteByte('-')
		}
	}
	base := strings.Trim(b.String(), "-")
	if base == "" {
		base = "section"
	}
	id := base
	for {
		k := heads[base]
		heads[base]++
		if k > 0 {
			id = base + "-" + strconv.Itoa(k+1)
		}
		if id == base || heads[id] == 0 {
			break
		}
	}
	if id != base {
		heads[id]++
	}
	return id
}
