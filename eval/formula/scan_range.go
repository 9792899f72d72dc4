package formula

import (
	"strings"

	"guardband/units"
)

// set tries to read a literal range right of inside, in the forms of a
// right-hand side; formulas and names are left to the ordinary scan.
func (s *scanner) set() {
	s.at = blanksEnd(s.text, s.at)
	from := s.at
	end := s.setEnd()
	text := s.text[from:end]
	if !s.columnAt(from) && strings.IndexAny(text, "0123456789.+-(−–") != 0 {
		return
	}
	if in, ok := strings.CutPrefix(text, "("); ok && strings.HasSuffix(in, ")") { // (1.9 V to 5.6 V)
		if p, err := units.Split(in[:len(in)-1]); err == nil && p.Shape == units.Range {
			text, from = in[:len(in)-1], from+1
		}
	}
	p, err := units.Split(text)
	if err == nil && p.Shape == units.Single || text != "" && text[0] == '(' && p.Shape != units.Range {
		return
	}
	v := units.Value{}
	if err == nil {
		v, err = units.ParseValue(text)
	}
	switch {
	case err == nil && v.Typ != nil && v.Shape == units.Columns:
		err = &units.Error{Off: p.Typ.Off, End: p.Typ.End, Code: units.CodeFormColumn,
			Msg: "a range to be inside has no typical value", Hint: "give min, max or both"}
	case err != nil && err.Code == units.CodeNumberMissing:
		err.Code, err.Msg = units.CodeFormRange, "both ends of a range right of `inside` are literals"
		err.Hint = "ends that are formulas make a chain: `A <= x <= B`"
	}
	if err != nil {
		s.fail(from+err.Off, from+err.End, err.Code, err.Msg, err.Hint)
		s.at, s.need, s.slip = end, false, true
		return
	}
	n := s.newNode(NodeRange, s.at, end)
	lo, hi := p.Lo, p.Hi
	switch p.Shape {
	case units.Columns:
		lo, hi = p.Min, p.Max
	case units.Deviated:
		lo, hi = units.Leaf{End: len(text)}, units.Leaf{End: len(text)}
	}
	n.Args = []*Node{s.rangeEnd(from, lo, v.Min), s.rangeEnd(from, hi, v.Max)}
	s.operand(n)
}

// rangeEnd is one end of a range, bad where that is absent.
func (s *scanner) rangeEnd(from int, l units.Leaf, q *units.Quantity) *Node {
	if q == nil {
		return s.newNode(NodeBad, from, from)
	}
	n := s.newNode(NodeLiteral, from+l.Off, from+l.End)
	n.Lit = q
	return n
}

// setEnd is where the text that could be a range ends: at a word or a sign
// that goes on with the formula, or a bracket that was opened before.
func (s *scanner) setEnd() int {
	depth, end := 0, s.at
	for i := s.at; i < len(s.text); {
		switch c := s.text[i]; {
		case isNameStart(nextRune(s.text, i)):
			e := wordEnd(s.text, i)
			if w := s.text[i:e]; w == "and" || w == "or" || w == "not" || w == "inside" {
				return end
			}
			i, end = e, e
			continue
		case c == '(':
			depth++
		case c == ')' && depth > 0:
			depth--
		case c == ',' && depth == 0 && s.columnAt(blanksEnd(s.text, i+1)):
		case c == ',' && depth == 0, strings.IndexByte(")]?:<>=\"", c) >= 0:
			return end
		}
		if next := blanksEnd(s.text, i); next > i {
			i = next
			continue
		}
		i++
		end = i
	}
	return end
}

// columnAt says that a column word, not a call, is at i.
func (s *scanner) columnAt(i int) bool {
	w := s.text[i:wordEnd(s.text, i)]
	return isColumn(w) && (w == "typ" || !s.callFollows(i+len(w)))
}
