package formula

import (
	"unicode/utf8"

	"guardband/units"
)

// number scans a literal that starts with a digit or a point.
func (s *scanner) number() {
	q, end, ok, err := units.ScanLiteral(s.text, s.at, false)
	switch {
	case err != nil:
		s.badLiteral(err)
	case !ok || end <= s.at:
		s.fail(s.at, s.at+1, "formula-character", "a number was expected here", "")
		s.at++
		s.need, s.slip = false, true
	default:
		s.literal(q, end)
	}
}

// literal adds a literal as an operand and looks at what stands right after.
func (s *scanner) literal(q units.Quantity, end int) {
	n := s.newNode(NodeLiteral, s.at, end)
	n.Lit = &q
	s.operand(n)
	if r := nextRune(s.text, end); r >= 0 && isNamePart(r) {
		e := wordEnd(s.text, end)
		s.fail(end, e, "formula-syntax", "`"+s.text[end:e]+"` runs into the number before it",
			"write `"+s.text[n.Off():end]+" * "+s.text[end:e]+"`, or quote a name that starts with a digit")
		s.at, s.slip = e, true
	}
}

// badLiteral passes on a complaint about a number and goes on after it.
func (s *scanner) badLiteral(err *units.Error) {
	e := *err
	if e.Off < s.at || e.Off > len(s.text) {
		e.Off = s.at
	}
	if e.End < e.Off {
		e.End = e.Off
	}
	s.fail(e.Off, e.End, e.Code, e.Msg, e.Hint)
	s.at = wordEnd(s.text, max(e.End, s.at+1))
	s.need, s.signs, s.slip = false, 0, true
}

// signedLiteral scans "-40 °C" or "-10 dBm" as one literal. Of other kinds
// the sign is an operation, so that -2^2 is -4; false then, nothing consumed.
func (s *scanner) signedLiteral(size int) bool {
	q, end, ok, err := units.ScanLiteral(s.text, s.at, true)
	if err != nil || !ok || end <= s.at+size {
		return false
	}
	if q.Type.Kind != units.Point && q.Type.Kind != units.Level {
		return false
	}
	s.literal(q, end)
	return true
}

// nextRune is the rune at i, or -1 at the end.
func nextRune(t string, i int) rune {
	if i >= len(t) {
		return -1
	}
	r, _ := utf8.DecodeRuneInString(t[i:])
	return r
}
