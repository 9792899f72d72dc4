package formula

import (
	"unicode"
	"unicode/utf8"
)

// tokenKind tells what a token is to the state of the scan.
type tokenKind uint8

const (
	tokOperand  tokenKind = iota // literal, name, string, range: node is set
	tokFunction                  // name before the bracket of a call
	tokOperator
	tokOpen   // ( of a group
	tokCall   // ( of a call
	tokList   // [
	tokClose  // ) or ]
	tokSplit  // comma
	tokAsk    // ?
	tokChoose // :
)

// token is one piece of the masked text with its range in the typed text.
type token struct {
	kind     tokenKind
	off, end int
	op       string // as expr spells it
	match    int    // partner of a bracket
	node     *Node
}

// frame is one open bracket.
type frame struct {
	tok  int
	asks int  // ? still without :
	args int  // commas seen
	refs bool // C4-C9 is a run of designators here
}

// scanner splits a formula and masks it for expr's parser.
type scanner struct {
	text   string
	at     int
	toks   []token
	frames []frame
	need   bool // an operand must come next
	blank  bool // blanks stood before the current place
	errs   []*Error
	stop   bool // past a limit: no further scanning
	slip   bool // a slip was just complained about: what it brings along is not
	signs  int  // prefix signs in a row
}

func (s *scanner) newNode(k NodeKind, off, end int) *Node {
	return &Node{Kind: k, off: int32(off), end: int32(end)}
}

func (s *scanner) fail(off, end int, code, msg, hint string) {
	if len(s.errs) < maxErrors {
		s.errs = append(s.errs, &Error{Off: off, End: min(end, len(s.text)), Code: code, Msg: msg, Hint: hint})
	}
}

// refuse complains about a piece of so many bytes and goes on behind it as if an
// operator had been there.
func (s *scanner) refuse(size int, code, msg, hint string) {
	s.fail(s.at, s.at+size, code, msg, hint)
	s.at += size
	s.need, s.slip = true, true
}

// emit adds a token of so many bytes.
func (s *scanner) emit(k tokenKind, op string, size int) {
	s.toks = append(s.toks, token{kind: k, off: s.at, end: s.at + size, op: op})
	s.at += size
}

// run scans the whole text.
func (s *scanner) run() {
	s.need = true
	s.frames = append(s.frames, frame{tok: -1})
	for !s.stop {
		s.skipBlanks()
		if s.at >= len(s.text) {
			break
		}
		s.step()
	}
	if !s.stop {
		s.finish()
	}
}

// step scans one token.
func (s *scanner) step() {
	r, size := utf8.DecodeRuneInString(s.text[s.at:])
	switch {
	case r == utf8.RuneError && size <= 1:
		s.fail(s.at, s.at+1, "formula-encoding", "the text is not valid UTF-8 here", "save the file as UTF-8")
		s.at++
		s.slip = true
	case isNameStart(r):
		s.word()
	case '0' <= r && r <= '9':
		s.number()
	case r == '.':
		s.dot()
	case r == '"' || r == '“':
		s.quoted()
	case r == '(' || r == '[':
		s.open(r)
	case r == ')' || r == ']':
		s.closeBracket(r)
	case r == ',':
		s.comma()
	default:
		s.symbol(r, size)
	}
}

// skipBlanks moves over blanks and remembers whether there were any.
func (s *scanner) skipBlanks() {
	from := s.at
	s.at = blanksEnd(s.text, s.at)
	s.blank = s.at > from
}

// blanksEnd is the first place at or after i that is no blank.
func blanksEnd(t string, i int) int {
	for i < len(t) {
		switch c := t[i]; {
		case c == ' ' || c == '\t' || c == '\n' || c == '\r':
			i++
		case c >= utf8.RuneSelf:
			r, n := utf8.DecodeRuneInString(t[i:])
			if !unicode.IsSpace(r) {
				return i
			}
			i += n
		default:
			return i
		}
	}
	return i
}

// blankAt tells whether a blank, or nothing, stands at i.
func (s *scanner) blankAt(i int) bool {
	return i >= len(s.text) || blanksEnd(s.text, i) > i
}

// last is the previous token, or a zero token.
func (s *scanner) last() token {
	if len(s.toks) == 0 {
		return token{kind: tokOperator}
	}
	return s.toks[len(s.toks)-1]
}

func (s *scanner) top() *frame { return &s.frames[len(s.frames)-1] }

// operand adds an operand, complaining when an operator is missing before it.
func (s *scanner) operand(n *Node) {
	if !s.need {
		s.missingOperator(n)
	}
	s.toks = append(s.toks, token{kind: tokOperand, off: n.Off(), end: n.End(), node: n})
	s.need, s.signs, s.at, s.slip = false, 0, n.End(), false
}

// operator adds an operator of size bytes, complaining when its left side is
// missing.
func (s *scanner) operator(op string, size int) {
	if s.need {
		s.missingOperand(s.at, s.at+size)
	}
	s.emit(tokOperator, op, size)
	s.need, s.signs, s.slip = true, 0, false
}

// prefix adds a sign or a not.
func (s *scanner) prefix(op string, size int) {
	s.signs++
	if s.signs > MaxDepth {
		s.fail(s.at, s.at+size, "formula-deep", "too many signs in a row", "")
		s.stop = true
		return
	}
	s.emit(tokOperator, op, size)
}

// missingOperand complains, unless a slip just before explains it.
func (s *scanner) missingOperand(off, end int) {
	if s.slip {
		return
	}
	what := s.text[off:end]
	last := s.last()
	if len(s.toks) == 0 {
		s.fail(off, end, "formula-syntax", "a value is missing before `"+what+"`", "")
		return
	}
	s.fail(off, end, "formula-syntax", "a value is missing between `"+s.text[last.off:last.end]+"` and `"+what+"`", "")
}

// missingOperator says which slip brought two operands together.
func (s *scanner) missingOperator(n *Node) {
	if s.slip {
		return
	}
	last := s.last()
	prev, cur := s.text[last.off:last.end], s.text[n.Off():n.End()]
	msg := "an operator is missing between `" + prev + "` and `" + cur + "`"
	hint := ""
	switch {
	case last.node != nil && last.node.Kind == NodeLiteral:
		hint = "write `" + prev + " * " + cur + "`"
	case s.text[n.Off()] == '"':
		hint = "a quoted pin or net follows its name without a space, as in net(\"3V0\")"
	}
	s.fail(n.Off(), n.End(), "formula-syntax", msg, hint)
}

// finish complains about what the end of the text leaves open.
func (s *scanner) finish() {
	end := len(s.text)
	if s.need {
		if len(s.toks) == 0 {
			if len(s.errs) == 0 {
				s.fail(0, end, "formula-empty", "missing formula", "")
			}
		} else if last := s.last(); !s.slip {
			s.fail(last.off, last.end, "formula-syntax", "a value is missing after `"+s.text[last.off:last.end]+"`", "")
		}
	}
	s.checkAsks(s.frames[0], end)
	for _, f := range s.frames[1:] {
		t := s.toks[f.tok]
		s.fail(t.off, t.end, "formula-bracket", "`"+s.text[t.off:t.end]+"` is never closed", "")
	}
}

func (s *scanner) checkAsks(f frame, end int) {
	if f.asks > 0 {
		s.fail(end-1, end, "formula-syntax", "`?` needs a `:` and a second value", "write `condition ? one : other`")
	}
}
