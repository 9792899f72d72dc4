package formula

import (
	"strconv"
	"strings"
	"unicode/utf8"

	"guardband/units"
)

// maxRun is the longest run of designators, C1-C999.
const maxRun = 1000

// path scans a name with what qualifies it; the first name ends at end.
func (s *scanner) path(end int) {
	n := s.newNode(NodeName, s.at, end)
	p := &Path{Head: units.FoldName(s.text[s.at:end])}
	n.Path = p
	s.checkLetters(s.at, end, p.Head)
	if end < len(s.text) && (s.text[end] == '(' || s.text[end] == '.') {
		end = s.qualifier(p, end)
	}
	n.end = int32(end)
	s.operand(n)
}

// qualifier scans what follows the first name and returns where it ends.
func (s *scanner) qualifier(p *Path, end int) int {
	if s.text[end] == '(' {
		if arg, e, ok := s.argument(end, true); ok {
			p.HeadArg, p.HasArg, end = arg, true, e
		}
	}
	end = s.fields(p, end)
	if end < len(s.text) && s.text[end] == '(' && len(p.Fields) > 0 {
		if arg, e, ok := s.argument(end, false); ok {
			p.Selector, end = arg, e
			end = s.fields(p, end)
		}
	}
	if k := len(p.Fields) - 1; k >= 0 && isColumn(p.Fields[k]) {
		p.Column, p.Fields = p.Fields[k], append([]string(nil), p.Fields[:k]...)
	}
	if len(p.Fields) == 0 && p.HasArg && !takesName(p.Head) { // V_OH("D+") among a part's own names
		p.Selector, p.HeadArg, p.HasArg = p.HeadArg, "", false
	}
	return end
}

// takesName tells the words that are followed by the quoted name of a thing.
func takesName(head string) bool {
	switch head {
	case "net", "budget", "part", "bench", "claim":
		return true
	}
	return false
}

func isColumn(w string) bool { return w == "min" || w == "typ" || w == "max" }

// fields scans ".NAME.NAME" and returns where it ends.
func (s *scanner) fields(p *Path, end int) int {
	for end < len(s.text) && s.text[end] == '.' {
		e := wordEnd(s.text, end+1)
		w := s.text[end+1 : e]
		if w == "" || w[0] >= '0' && w[0] <= '9' {
			s.fail(end, max(e, end+1), "name-field", "a name is missing after the dot",
				"quote what is not a name, as in net(\"3V0\") or U1.V_OH(\"D+\")")
			return max(e, end+1)
		}
		name := units.FoldName(w)
		s.checkLetters(end+1, e, name)
		p.Fields = append(p.Fields, name)
		end = e
	}
	return end
}

// argument scans ("3V0"), or (PA3) where quoted is false, from the bracket
// at i. ok is false where the bracket holds something else.
func (s *scanner) argument(i int, quoted bool) (arg string, end int, ok bool) {
	j := blanksEnd(s.text, i+1)
	switch {
	case j < len(s.text) && s.text[j] == '"' || strings.HasPrefix(s.text[j:], "“"):
		arg, j, ok = unquote(s.text, j)
		if !ok {
			s.fail(j, len(s.text), "formula-quote", "the quotation never ends", "")
			return "", len(s.text), true
		}
	case quoted:
		return "", i, false
	default:
		e := wordEnd(s.text, j)
		arg, j = s.text[j:e], e
	}
	arg = units.FoldName(arg)
	k := blanksEnd(s.text, j)
	if k >= len(s.text) || s.text[k] != ')' {
		s.fail(i, max(k, i+1), "formula-pin", "one pin or net in these parentheses", "quote what is not a name, as in U1.V_OH(\"D+\")")
		return arg, s.skipGroup(i), true
	}
	if arg == "" {
		s.fail(i, k+1, "formula-pin", "the pin is missing in these parentheses", "")
	}
	return arg, k + 1, true
}

// skipGroup is the place after the bracket that closes the one at i.
func (s *scanner) skipGroup(i int) int {
	depth := 0
	for ; i < len(s.text); i++ {
		switch s.text[i] {
		case '(':
			depth++
		case ')':
			if depth--; depth == 0 {
				return i + 1
			}
		}
	}
	return i
}

// unquote reads a quotation at i: straight or curly pair, no escapes.
func unquote(t string, i int) (text string, end int, ok bool) {
	mark := "\""
	open := 1
	if t[i] != '"' {
		mark, open = "”", len("“")
	}
	n := strings.Index(t[i+open:], mark)
	if n < 0 {
		return "", i, false
	}
	from := i + open
	return t[from : from+n], from + n + len(mark), true
}

// quoted scans a text operand.
func (s *scanner) quoted() {
	text, end, ok := unquote(s.text, s.at)
	if !ok {
		s.fail(s.at, s.at+1, "formula-quote", "the quotation never ends", "")
		s.stop = true
		return
	}
	n := s.newNode(NodeText, s.at, end)
	n.Word = text
	s.operand(n)
}

func isName(w string) bool {
	r, _ := utf8.DecodeRuneInString(w)
	return isNameStart(r) && wordEnd(w, 0) == len(w)
}

// dot scans ".5" and, inside each, sum and the like, ".NAME".
func (s *scanner) dot() {
	i := s.at
	next := byte(0)
	if i+1 < len(s.text) {
		next = s.text[i+1]
	}
	switch {
	case next == '.':
		s.barred("..", "a range is written with `to` after `inside`")
	case s.need && next >= '0' && next <= '9':
		s.number()
	case s.need && wordEnd(s.text, i+1) > i+1:
		var p Path
		end := s.fields(&p, i)
		n := s.newNode(NodeField, i, end)
		n.Word = strings.Join(p.Fields, ".")
		s.operand(n)
	default:
		s.fail(i, i+1, "formula-syntax", "dots are allowed only between names", "")
		s.at, s.slip = max(wordEnd(s.text, i+1), i+1), true
	}
}

// designators scans C4-C9 as a list of names; the first word ends at end.
func (s *scanner) designators(w string, end int) bool {
	if !s.need || end+1 >= len(s.text) || s.text[end] != '-' {
		return false
	}
	e := wordEnd(s.text, end+1)
	p1, n1, ok1 := splitDesignator(w)
	p2, n2, ok2 := splitDesignator(s.text[end+1 : e])
	if !ok1 || !ok2 {
		return false
	}
	list := s.newNode(NodeList, s.at, e)
	switch {
	case p1 != p2:
		s.fail(s.at, e, "designator-run", "a run of designators keeps its letters", "write `"+p1+strconv.Itoa(n1)+"-"+p1+strconv.Itoa(n2)+"`")
	case n2 < n1:
		s.fail(s.at, e, "designator-run", "a run of designators rises", "write `"+p1+strconv.Itoa(n2)+"-"+p1+strconv.Itoa(n1)+"`")
	case n2-n1 >= maxRun:
		s.fail(s.at, e, "designator-run", "this run holds more than "+strconv.Itoa(maxRun)+" designators", "")
	default:
		for k := n1; k <= n2; k++ {
			name := p1 + strconv.Itoa(k)
			n := s.newNode(NodeName, s.at, e)
			n.Path = &Path{Head: name}
			list.Args = append(list.Args, n)
		}
	}
	s.operand(list)
	return true
}

// splitDesignator takes "C12" apart; leading zeros are no run.
func splitDesignator(w string) (prefix string, number int, ok bool) {
	i := len(w)
	for i > 0 && w[i-1] >= '0' && w[i-1] <= '9' {
		i--
	}
	if i == 0 || i == len(w) || w[i] == '0' {
		return "", 0, false
	}
	n, err := strconv.Atoi(w[i:])
	return w[:i], n, err == nil
}
