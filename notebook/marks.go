package notebook

import "strings"

// This file finds where the parts of a right-hand side begin.

type partKind uint8

const (
	valuePart partKind = iota
	condPart
	refPart
	citePart
	unconfirmedPart
	afterCite
)

// mark is where a part begins: at its word or bracket, its content at end.
type mark struct {
	at, end int
	part    partKind
}

// findMarks lists the parts after the value, outside quotes and brackets: the
// first word "at", "ref NAME =", citations, and "unconfirmed" at the end.
// Without words only citations are looked for.
func findMarks(s string, words bool) []mark {
	var out []mark
	depth := 0
	for i := 0; i < len(s); i++ {
		switch c := s[i]; c {
		case '"', 0xE2:
			if k := quoteEnd(s, i); k > i {
				i = k - 1
			}
		case '[':
			if depth == 0 && opensCite(s, i) {
				out = append(out, mark{i, i + 1, citePart})
				i = closeCite(s, i) - 1
				continue
			}
			depth++
		case '(':
			depth++
		case ')', ']':
			depth = max(0, depth-1)
		case 'a', 'r', 'u':
			if words && depth == 0 && (i == 0 || isBlank(s[i-1])) {
				if m, ok := wordMark(s, i); ok {
					out = append(out, m)
					i = m.end - 1
				}
			}
		}
	}
	return out
}

// wordMark reads "at", "ref NAME =" or "unconfirmed" at s[i].
func wordMark(s string, i int) (mark, bool) {
	rest := s[i:]
	switch {
	case isWord(rest, "at"):
		return mark{i, i + 2, condPart}, true
	case rest == "unconfirmed" || strings.HasPrefix(rest, "unconfirmed ["):
		return mark{i, i + len("unconfirmed"), unconfirmedPart}, true
	case isWord(rest, "ref"):
		after := strings.TrimLeft(rest[3:], " ")
		n := nameLen(after)
		tail := strings.TrimLeft(after[n:], " ")
		if n > 0 && strings.HasPrefix(tail, "=") && !strings.HasPrefix(tail, "==") {
			return mark{i, i + 3, refPart}, true
		}
	}
	return mark{}, false
}

func isWord(s, word string) bool {
	return strings.HasPrefix(s, word) && (len(s) == len(word) || isBlank(s[len(word)]))
}

// opensCite says whether the "[" at s[i] opens a citation: it stands after a
// blank and an operand. After "=", "(", "," or an operator it opens a list.
func opensCite(s string, i int) bool {
	if i == 0 {
		return true
	}
	if !isBlank(s[i-1]) {
		return s[i-1] == ']' // [reg p.6][reg p.7]
	}
	head := strings.TrimRight(s[:i], " \t")
	if head == "" {
		return true
	}
	if strings.IndexByte("=(,+-*/^<>!?:;[{", head[len(head)-1]) >= 0 {
		return false
	}
	for _, op := range []string{"±", "≤", "≥", "·", "−", "×"} {
		if strings.HasSuffix(head, op) {
			return false
		}
	}
	k := strings.LastIndexAny(head, " \t(") + 1
	switch head[k:] {
	case "and", "or", "not", "inside", "to", "in", "at":
		return false
	}
	return true
}

// closeCite is the offset behind the "]" that closes the bracket at s[i],
// quotes respected; len(s) where it is not closed.
func closeCite(s string, i int) int {
	depth := 0
	for k, c := range unquoted(s[i:]) {
		switch c {
		case '[':
			depth++
		case ']':
			if depth--; depth == 0 {
				return i + k + 1
			}
		}
	}
	return len(s)
}
