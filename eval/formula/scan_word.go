package formula

import (
	"strings"
	"unicode/utf8"

	"guardband/units"
)

// wordEnd is the end of the name that starts at i.
func wordEnd(t string, i int) int {
	for i < len(t) {
		c := t[i]
		if c < utf8.RuneSelf {
			if !isNamePart(rune(c)) {
				return i
			}
			i++
			continue
		}
		r, n := utf8.DecodeRuneInString(t[i:])
		if !isNamePart(r) {
			return i
		}
		i += n
	}
	return i
}

// barredWords are words that the parser would read in its own way.
var barredWords = map[string]string{
	"if": "write `condition ? one : other`", "else": "write `condition ? one : other`",
	"let": "give the value a name in a `values` block", "nil": "", "matches": "", "contains": "",
	"startsWith": "", "endsWith": "",
}

// lineWords belong to the line around a formula, never into one.
var lineWords = map[string]string{
	"to":    "write a range after `inside`, or is a whole right-hand side",
	"at":    "conditions follow the whole value, as in `= 3 V at I_OUT <= 150 mA`",
	"of":    "`of limit`, `of span` and `of nominal` belong to a margin",
	"for":   "`for ... every ...` belongs to a row of a budget",
	"every": "`for ... every ...` belongs to a row of a budget",
	"from":  "`from` belongs to a row of a budget",
	"typ":   "columns are allowed only alone, as in `typ 3.3 V, max 3.6 V`; one column of a fact is `U1.V_OUT.typ`",
}

// word scans whatever starts with a letter.
func (s *scanner) word() {
	end := wordEnd(s.text, s.at)
	w := s.text[s.at:end]
	if s.keyword(w, end) {
		return
	}
	if hint, ok := barredWords[w]; ok {
		s.refuse(end-s.at, "name-reserved", "`"+w+"` is a reserved word", hint)
		return
	}
	if hint, ok := lineWords[w]; ok {
		s.lineWord(w, hint, end)
		return
	}
	if s.callFollows(end) {
		s.function(w, end)
		return
	}
	if w == "min" || w == "max" {
		s.column(w, end)
		return
	}
	if s.top().refs && s.designators(w, end) {
		return
	}
	s.path(end)
}

// keyword handles the operators and constants that are spelled as words.
func (s *scanner) keyword(w string, end int) bool {
	switch w {
	case "and", "or":
		s.operator(w, len(w))
	case "inside":
		s.operator("in", len(w))
		s.set()
	case "in":
		s.fail(s.at, end, "formula-in", "`in` is not an operator here", "write `inside`; the inch is `inch`")
		s.operator("in", len(w))
		s.set()
	case "not":
		s.not(end)
	case "true", "false":
		n := s.newNode(NodeBool, s.at, end)
		n.Word = w
		s.operand(n)
	default:
		return false
	}
	return true
}

// not scans "not (" and "not inside".
func (s *scanner) not(end int) {
	next := blanksEnd(s.text, end)
	if !s.need {
		e := wordEnd(s.text, next)
		if s.text[next:e] != "inside" {
			s.refuse(end-s.at, "formula-syntax", "`not` is allowed only before a condition in parentheses, or before `inside`", "write `not (...)`")
			return
		}
		s.operator("not in", e-s.at)
		s.set()
		return
	}
	if next >= len(s.text) || s.text[next] != '(' {
		s.fail(s.at, end, "formula-not", "`not` needs parentheses round the condition it turns", "write `not (...)`")
	}
	s.prefix("not", len("not"))
}

// lineWord complains about a word of the surrounding line.
func (s *scanner) lineWord(w, hint string, end int) {
	code := "name-reserved"
	msg := "`" + w + "` is not allowed inside a formula"
	if w == "to" {
		code = "formula-range"
		if k := len(s.toks); k >= 2 && strings.HasSuffix(s.toks[k-2].op, "in") {
			hint = "ends that are formulas make a chain: `A <= x <= B`"
		}
	}
	s.refuse(end-s.at, code, msg, hint)
}

// column complains about "min 2 V" or "2 V min" within a formula.
func (s *scanner) column(w string, end int) {
	last := s.last()
	if !s.need && last.kind == tokOperand {
		s.fail(s.at, end, "formula-column", "write a column before its value", "write `"+w+" "+s.text[last.off:last.end]+"`")
	} else {
		s.fail(s.at, end, "formula-column", "`"+w+"` without parentheses is a column and is allowed only alone",
			"the function is `"+w+"(a, b)`; columns make a whole right-hand side or follow `inside`")
		s.need, s.slip = true, true
	}
	s.at = end
}

// callFollows tells whether the name that ends at end is called. net("3V0")
// is a path instead, so a string right after the bracket says no.
func (s *scanner) callFollows(end int) bool {
	i := blanksEnd(s.text, end)
	if i >= len(s.text) || s.text[i] != '(' {
		return false
	}
	j := blanksEnd(s.text, i+1)
	return j >= len(s.text) || s.text[j] != '"' && !strings.HasPrefix(s.text[j:], "“")
}

// function adds the name of a call; its bracket follows.
func (s *scanner) function(w string, end int) {
	n := s.newNode(NodeCall, s.at, end)
	n.Word = units.FoldName(w)
	s.checkLetters(s.at, end, n.Word)
	if !s.need {
		s.missingOperator(n)
	}
	s.toks = append(s.toks, token{kind: tokFunction, off: s.at, end: end, node: n})
	s.need, s.signs = true, 0
	s.at = blanksEnd(s.text, end)
	s.push(tokCall)
	s.top().refs = n.Word == "each"
}

// checkLetters complains about letters that names cannot have.
func (s *scanner) checkLetters(off, end int, folded string) {
	if r := foreign(folded); r >= 0 {
		s.fail(off, end, "name-letters", "`"+string(r)+"` is not allowed in a name: Latin and Greek letters, digits and `_`", "")
	}
}
