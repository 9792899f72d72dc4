package formula

import (
	"strings"
)

// barredSymbols are spellings that the parser behind us would read in its own
// way, or that engineers type out of habit; longest first.
var barredSymbols = []struct{ text, hint string }{
	{"||", "write `or`; resistors in parallel are `parallel(R1, R2)`"},
	{"&&", "write `and`"},
	{"//", "resistors in parallel are `parallel(R1, R2)`; a division is one `/`"},
	{"/*", "a comment is `#` after a space"},
	{"**", "a power is `^`"},
	{"?.", ""},
	{"??", ""},
	{"::", ""},
	{"=<", "write `<=`"},
	{"=>", "write `>=`"},
	{"<>", "write `!=`"},
	{"|", "the magnitude is `abs(x)`"},
	{"!", "write `not (...)`"},
	{"&", "write `and`"},
	{";", ""},
	{"$", ""},
	{"#", "a comment is `#` after a space"},
	{"{", "use parentheses"},
	{"}", "use parentheses"},
	{"`", "texts are quoted with \""},
	{"'", "texts are quoted with \""},
	{"=", "equality is `==`"},
}

// operators that are symbols, with how expr spells them; longest first.
var operators = []struct{ text, op string }{
	{"<=", "<="}, {">=", ">="}, {"==", "=="}, {"!=", "!="},
	{"≤", "<="}, {"≥", ">="}, {"≠", "!="},
	{"<", "<"}, {">", ">"}, {"*", "*"}, {"×", "*"}, {"·", "*"}, {"⋅", "*"},
	{"/", "/"}, {"÷", "/"}, {"^", "^"},
}

// symbol scans an operator, or complains about what is none.
func (s *scanner) symbol(r rune, size int) {
	rest := s.text[s.at:]
	switch r {
	case '+', '-', '−', '–':
		s.sign(r, size)
		return
	case '±':
		s.tolerance(size)
		return
	case '?':
		if !strings.HasPrefix(rest, "??") && !strings.HasPrefix(rest, "?.") {
			s.ask()
			return
		}
	case ':':
		if !strings.HasPrefix(rest, "::") {
			s.choose()
			return
		}
	case '%':
		s.percent()
		return
	}
	for _, b := range barredSymbols {
		if strings.HasPrefix(rest, b.text) && !strings.HasPrefix(rest, "!=") && !strings.HasPrefix(rest, "==") {
			s.barred(b.text, b.hint)
			return
		}
	}
	for _, o := range operators {
		if strings.HasPrefix(rest, o.text) {
			s.operator(o.op, len(o.text))
			return
		}
	}
	s.stray(r, size)
}

// sign scans + and - in their roles: part of a literal on a scale, prefix,
// operator, or a tolerance that has no place here.
func (s *scanner) sign(r rune, size int) {
	rest := s.text[s.at:]
	if strings.HasPrefix(rest, "+-") || strings.HasPrefix(rest, "+/-") {
		s.tolerance(strings.IndexByte(rest, '-') + 1)
		return
	}
	if s.need {
		s.leadingSign(r, size)
		return
	}
	end := s.at + size
	last := s.last()
	literal := last.node != nil && last.node.Kind == NodeLiteral
	number := end < len(s.text) && (s.text[end] >= '0' && s.text[end] <= '9' || s.text[end] == '.')
	after := s.blankAt(end)
	switch {
	case r == '–':
		s.fail(s.at, end, "formula-dash", "a dash is not an operator", "write `to` for a range, ` - ` for a difference")
	case s.blank && !after && literal && number:
		s.fail(s.at, end, "formula-blank", "a sign with a space only before it is a tolerance, and a tolerance ends a whole right-hand side",
			"for a sum or difference put spaces on both sides; for a range write `to`")
	case s.blank && !after:
		s.fail(s.at, end, "formula-blank", "a sign between two values has spaces on both sides or on none", "")
	case !s.blank && !after && literal && number && r != '+':
		s.fail(s.at, end, "formula-dash", "it is open whether this is a range or a difference", "write `to` for a range, ` - ` for a difference")
	}
	op := "-"
	if r == '+' {
		op = "+"
	}
	s.operator(op, size)
}

// leadingSign scans a sign with no operand before it. Of a temperature or a
// level it belongs to the number: -40 °C is a point of its own.
func (s *scanner) leadingSign(r rune, size int) {
	i := s.at + size
	if i < len(s.text) && (s.text[i] >= '0' && s.text[i] <= '9' || s.text[i] == '.') && s.signedLiteral(size) {
		return
	}
	if r == '+' {
		if s.blankAt(i) || s.signs > 0 {
			s.missingOperand(s.at, i)
		}
		s.at = i
		return
	}
	s.prefix("-", size)
}

// tolerance complains about a tolerance within a formula.
func (s *scanner) tolerance(size int) {
	s.refuse(size, "formula-tolerance", "a tolerance is allowed only at the end of a whole right-hand side, not inside a formula",
		"give the value with its tolerance a name of its own")
}

// percent complains about a % that belongs to no number.
func (s *scanner) percent() {
	s.refuse(1, "formula-percent", "`%` belongs to the number before it; there is no remainder", "a share of x is `x * 5 %`")
}

// barred complains about a spelling that formulas do not have.
func (s *scanner) barred(text, hint string) {
	s.refuse(len(text), "formula-barred", "`"+text+"` is not an operator of formulas", hint)
}

// stray complains about a character that stands for nothing here.
func (s *scanner) stray(r rune, size int) {
	hint := ""
	switch {
	case r >= '₀' && r <= '₉':
		hint = "lowered digits are typed plain: `R" + string('0'+(r-'₀')) + "` or `R_" + string('0'+(r-'₀')) + "`"
	case strings.ContainsRune("¹²³⁰⁴⁵⁶⁷⁸⁹", r):
		hint = "a power of a value is written `x^2`"
	case r == '√':
		hint = "write `sqrt(...)`"
	case r == '°' || r == '℃' || r == 'º':
		hint = "a unit follows a number, as in `25 °C`"
	case r == '∞':
		hint = "leave an open end out"
	case r == '”':
		hint = "quotations begin with \" or “"
	case r == '\\':
		hint = "a division is `/`"
	}
	s.fail(s.at, s.at+size, "formula-character", "`"+string(r)+"` is not allowed here", hint)
	s.at += size
	s.slip = true
}
