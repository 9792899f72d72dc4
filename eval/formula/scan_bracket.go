package formula

// ask scans the ? of a condition.
func (s *scanner) ask() {
	s.top().asks++
	s.ternary(tokAsk, "?")
}

// choose scans the : of a condition.
func (s *scanner) choose() {
	if s.top().asks == 0 {
		s.refuse(1, "formula-syntax", "`:` needs a `?` before it", "write `condition ? one : other`")
		return
	}
	s.top().asks--
	s.ternary(tokChoose, ":")
}

func (s *scanner) ternary(k tokenKind, op string) {
	if s.need {
		s.missingOperand(s.at, s.at+1)
	}
	s.emit(k, op, 1)
	s.need = true
}

// push opens a bracket at the current place.
func (s *scanner) push(k tokenKind) {
	if len(s.frames) > MaxDepth {
		s.fail(s.at, s.at+1, "formula-deep", "brackets are nested too deep", "give parts of the formula names of their own")
		s.stop = true
		return
	}
	op := "("
	if k == tokList {
		op = "["
	}
	refs := k == tokList && s.top().refs && s.top().args == 0
	s.emit(k, op, 1)
	s.frames = append(s.frames, frame{tok: len(s.toks) - 1, refs: refs})
	s.need, s.signs = true, 0
}

// open scans an opening bracket that calls nothing.
func (s *scanner) open(r rune) {
	if !s.need {
		hint := ""
		if last := s.last(); r == '(' && last.kind == tokOperand {
			hint = "for a product write `*`"
		}
		msg := "an operator is missing before `" + string(r) + "`"
		if r == '[' {
			msg, hint = "values are not picked from a list by number", "name the value, or use sum, all, any, count"
		}
		s.fail(s.at, s.at+1, "formula-syntax", msg, hint)
	}
	if r == '[' {
		s.push(tokList)
		return
	}
	s.push(tokOpen)
}

// closeBracket scans ) and ].
func (s *scanner) closeBracket(r rune) {
	f := *s.top()
	if f.tok < 0 {
		s.fail(s.at, s.at+1, "formula-bracket", "`"+string(r)+"` closes nothing", "")
		s.at++
		return
	}
	o := &s.toks[f.tok]
	if (o.kind == tokList) != (r == ']') {
		s.fail(s.at, s.at+1, "formula-bracket", "`"+string(r)+"` does not match `"+o.op+"`", "")
	}
	empty := o.kind != tokOpen && f.tok == len(s.toks)-1
	if s.need && !empty {
		s.missingOperand(s.at, s.at+1)
	}
	s.checkAsks(f, s.at+1)
	o.match = len(s.toks)
	op := ")"
	if o.kind == tokList {
		op = "]"
	}
	s.toks = append(s.toks, token{kind: tokClose, off: s.at, end: s.at + 1, op: op, match: f.tok})
	s.frames = s.frames[:len(s.frames)-1]
	s.at++
	s.need = false
}

// comma scans the comma between arguments or list items.
func (s *scanner) comma() {
	f := s.top()
	if digitAt(s.text, s.at-1) && digitAt(s.text, s.at+1) {
		s.refuse(1, "number-comma", "use a point, not a comma, as decimal separator",
			"write `.` for the decimal point, or a space after the comma of a list")
		return
	}
	if f.tok < 0 || s.toks[f.tok].kind == tokOpen {
		s.refuse(1, "formula-syntax", "commas are allowed only between the arguments of a function or the items of a list", "")
		return
	}
	if s.need {
		s.missingOperand(s.at, s.at+1)
	}
	s.checkAsks(*f, s.at+1)
	f.asks = 0
	f.args++
	if s.toks[f.tok].kind == tokCall {
		f.refs = false
	}
	s.emit(tokSplit, ",", 1)
	s.need, s.signs = true, 0
}

func digitAt(t string, i int) bool {
	return i >= 0 && i < len(t) && t[i] >= '0' && t[i] <= '9'
}
