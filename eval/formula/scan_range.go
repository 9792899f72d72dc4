package formula

import (
	"math/big"

	"guardband/units"
)

// set tries to scan a literal range right of inside; formulas and names are
// left to the ordinary scan.
func (s *scanner) set() {
	s.at = blanksEnd(s.text, s.at)
	if s.at >= len(s.text) {
		return
	}
	w := s.text[s.at:wordEnd(s.text, s.at)]
	if isColumn(w) && (w == "typ" || !s.callFollows(s.at+len(w))) {
		s.columns()
		return
	}
	if s.text[s.at] == '(' && s.groupedRange() {
		return
	}
	from := s.at
	lo, end, ok := s.end(from)
	if !ok {
		return
	}
	next := blanksEnd(s.text, end)
	switch rest := s.text[next:]; {
	case wordAt(rest, "to"):
		s.rangeTo(from, lo, next+len("to"))
	case len(rest) > 1 && (hasPrefix(rest, "±") || hasPrefix(rest, "+-") || hasPrefix(rest, "+/-")):
		s.deviated(from, lo, next)
	}
}

func hasPrefix(t, p string) bool { return len(t) >= len(p) && t[:len(p)] == p }

// wordAt tells whether t starts with the whole word w.
func wordAt(t, w string) bool { return hasPrefix(t, w) && wordEnd(t, 0) == len(w) }

// end scans one literal end of a range at i, sign included.
func (s *scanner) end(i int) (*Node, int, bool) {
	if i >= len(s.text) {
		return nil, i, false
	}
	switch r := nextRune(s.text, i); {
	case r >= '0' && r <= '9', r == '.', r == '+', r == '-', r == '−', r == '–':
	default:
		return nil, i, false
	}
	q, end, ok, err := units.ScanLiteral(s.text, i, true)
	if err != nil || !ok || end <= i {
		return nil, i, false
	}
	n := s.newNode(NodeLiteral, i, end)
	n.Lit = &q
	return n, end, true
}

// rangeTo finishes "lo to hi"; i is the place after `to`.
func (s *scanner) rangeTo(from int, lo *Node, i int) {
	i = blanksEnd(s.text, i)
	hi, end, ok := s.end(i)
	if !ok {
		s.rangeEndWrong(from, i)
		return
	}
	s.addRange(from, end, lo, hi)
}

// rangeEndWrong complains about an end that is no literal.
func (s *scanner) rangeEndWrong(from, i int) {
	if i < len(s.text) && (digitAt(s.text, i) || digitAt(s.text, i+1)) {
		if _, _, _, err := units.ScanLiteral(s.text, i, true); err != nil {
			s.at = i
			s.badLiteral(err)
			return
		}
	}
	s.fail(from, max(i, from+1), "formula-range", "both ends of a range right of `inside` are literals",
		"ends that are formulas make a chain: `A <= x <= B`")
	s.at, s.need, s.slip = i, true, true
}

// addRange adds a range node after carrying a unit back and checking the ends.
func (s *scanner) addRange(from, end int, lo, hi *Node) {
	n := s.newNode(NodeRange, from, end)
	n.Args = []*Node{s.absent(lo, from), s.absent(hi, from)}
	if lo != nil && hi != nil {
		s.carryUnit(lo.Lit, hi.Lit)
		s.checkEnds(n, lo.Lit, hi.Lit)
	}
	s.operand(n)
}

func (s *scanner) absent(n *Node, at int) *Node {
	if n == nil {
		return s.newNode(NodeBad, at, at)
	}
	return n
}

// isBare tells whether a literal is a number without a unit.
func isBare(q *units.Quantity) bool { return q.Unit.Symbol == "" && q.Type == units.Type{} }

// carryUnit gives the first end of "-40 to 125 °C" the unit of the second.
func (s *scanner) carryUnit(lo, hi *units.Quantity) {
	if !isBare(lo) || isBare(hi) || hi.Unit.Factor == nil {
		return
	}
	si := new(big.Rat).Mul(lo.SI, hi.Unit.Factor)
	if hi.Unit.Offset != nil {
		si.Add(si, hi.Unit.Offset)
	}
	lo.SI, lo.Type, lo.Unit = si, hi.Type, hi.Unit
}

// checkEnds complains about ends that do not fit together.
func (s *scanner) checkEnds(n *Node, lo, hi *units.Quantity) {
	if isBare(hi) && !isBare(lo) {
		a := n.Args[1]
		s.fail(a.Off(), a.End(), "range-unit", "the upper end of this range has no unit", "write `"+s.text[a.Off():a.End()]+" "+lo.Unit.Symbol+"`; a unit is carried backwards only")
		return
	}
	lt, ht := s.text[n.Args[0].Off():n.Args[0].End()], s.text[n.Args[1].Off():n.Args[1].End()]
	if _, err := units.Combine("<=", lo.Type, hi.Type, lt, ht); err != nil {
		s.fail(n.Off(), n.End(), err.Code, err.Msg, err.Hint)
		return
	}
	if lo.SI.Cmp(hi.SI) > 0 {
		s.fail(n.Off(), n.End(), "range-reversed", "the ends of this range are the wrong way round", "write `"+ht+" to "+lt+"`")
	}
}

// columns scans "min 2 V, max 3 V" right of inside.
func (s *scanner) columns() {
	from := s.at
	var lo, hi *Node
	end := from
	for i := from; ; {
		e := wordEnd(s.text, i)
		w := s.text[i:e]
		lit, le, ok := s.end(blanksEnd(s.text, e))
		switch {
		case !ok:
			s.rangeEndWrong(from, blanksEnd(s.text, e))
			return
		case w == "typ":
			s.fail(i, le, "formula-column", "a range to lie in has no typical value", "give min, max or both")
		case w == "min" && lo != nil || w == "max" && hi != nil:
			s.fail(i, le, "formula-column", "`"+w+"` is stated twice", "")
		case w == "min":
			lo = lit
		default:
			hi = lit
		}
		end = le
		i = blanksEnd(s.text, end)
		if i >= len(s.text) || s.text[i] != ',' {
			break
		}
		i = blanksEnd(s.text, i+1)
		e = wordEnd(s.text, i)
		if !isColumn(s.text[i:e]) || s.callFollows(e) {
			break
		}
	}
	s.addRange(from, end, lo, hi)
}

// groupedRange scans "(1.9 to 5.6) V" and "(1.9 V to 5.6 V)"; false where the
// bracket opens something else.
func (s *scanner) groupedRange() bool {
	from := s.at
	lo, i, ok := s.end(blanksEnd(s.text, from+1))
	if !ok {
		return false
	}
	i = blanksEnd(s.text, i)
	if !wordAt(s.text[i:], "to") {
		return false
	}
	hi, i, ok := s.end(blanksEnd(s.text, i+len("to")))
	if !ok {
		return false
	}
	i = blanksEnd(s.text, i)
	if i >= len(s.text) || s.text[i] != ')' {
		return false
	}
	end := i + 1
	if isBare(lo.Lit) && isBare(hi.Lit) {
		if u, n, ok := s.unitAfter(end); ok {
			s.giveUnit(lo.Lit, u)
			s.giveUnit(hi.Lit, u)
			end = n
		}
	}
	s.addRange(from, end, lo, hi)
	return true
}

// unitAfter reads a unit at i, with at most one blank before it.
func (s *scanner) unitAfter(i int) (units.Quantity, int, bool) {
	q, n, ok, err := units.ScanLiteral("1"+s.text[i:], 0, false)
	if err != nil || !ok || n <= 1 || q.Unit.Symbol == "" {
		return q, i, false
	}
	return q, i + n - 1, true
}

func (s *scanner) giveUnit(q *units.Quantity, unit units.Quantity) {
	s.carryUnit(q, &unit)
}

// deviated scans "3.3 V ± 2 %" right of inside; i is the place of the sign.
func (s *scanner) deviated(from int, centre *Node, i int) {
	j := i + len("±")
	if s.text[i] == '+' {
		for j = i + 1; s.text[j-1] != '-'; j++ {
		}
	}
	amount, end, ok := s.end(blanksEnd(s.text, j))
	if !ok {
		s.rangeEndWrong(from, blanksEnd(s.text, j))
		return
	}
	parts := []units.Quantity{*amount.Lit}
	lo, hi, err := units.Deviate(*centre.Lit, parts, parts)
	if err != nil {
		s.fail(from, end, err.Code, err.Msg, err.Hint)
		s.at, s.need, s.slip = end, false, true
		return
	}
	ln, hn := s.newNode(NodeLiteral, from, end), s.newNode(NodeLiteral, from, end)
	ln.Lit, hn.Lit = &lo, &hi
	s.addRange(from, end, ln, hn)
}
