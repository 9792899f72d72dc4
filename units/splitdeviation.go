package units

import (
	"slices"
	"strings"
)

// deviated takes "Centre ± amount" apart.
func (x *splitter) deviated() (Parts, *Error) {
	if len(x.pm) > 1 {
		return Parts{}, &Error{x.pm[1].Off, x.pm[1].End, CodeFormDeviation, "duplicate \"±\"",
			"amounts add in parentheses: ± (1.2 % + 3 µA)"}
	}
	if len(x.to) > 0 {
		return Parts{}, &Error{x.to[0].Off, x.to[0].End, CodeFormDeviation, "a value is either a range or has a tolerance",
			"work the ends out and write the range"}
	}
	if len(x.comma) > 0 {
		return Parts{}, x.strayComma()
	}
	pm := x.pm[0]
	p := Parts{Shape: Deviated, Centre: x.leaf(x.start, pm.Off)}
	amounts, err := x.amount(x.leaf(pm.End, x.stop), pm)
	if err != nil {
		return Parts{}, err
	}
	p.Plus, p.Minus = amounts, slices.Clone(amounts)
	return p, x.checkCentre(p)
}

// amount reads what follows "±": a literal, or two or more in parentheses.
func (x *splitter) amount(l Leaf, pm Leaf) ([]Leaf, *Error) {
	if !l.Present() {
		return nil, &Error{pm.Off, pm.End, CodeFormDeviation, "an amount is missing after \"±\"", "write e.g. ± 2 %"}
	}
	text := l.Text(x.s)
	if text[0] != '(' {
		return x.amountLiteral(l)
	}
	if text[len(text)-1] != ')' {
		return nil, &Error{l.Off, l.End, CodeFormDeviation, "what follows \"±\" is one amount",
			"write ± 2 %, or ± (1.2 % + 3 µA)"}
	}
	var out []Leaf
	at := l.Off + 1
	for {
		plus := strings.Index(x.s[at:l.End-1], "+ ")
		stop := l.End - 1
		if plus >= 0 {
			stop = at + plus
		}
		one, err := x.amountLiteral(x.leaf(at, stop))
		if err != nil {
			return nil, err
		}
		out = append(out, one...)
		if plus < 0 {
			return out, nil
		}
		at = stop + 1
	}
}

func (x *splitter) amountLiteral(l Leaf) ([]Leaf, *Error) {
	bad := &Error{l.Off, l.End, CodeFormDeviation, "the amount after \"±\" is a literal without a sign",
		"write ± 2 %, ± 50 mV or ± (1.2 % + 3 µA)"}
	if !l.Present() {
		bad.Off, bad.End = x.pm[0].Off, x.pm[0].End
		return nil, bad
	}
	_, end, ok, err := ScanLiteral(x.s[:l.End], l.Off, false)
	if err != nil {
		return nil, err
	}
	if !ok || end != l.End {
		return nil, bad
	}
	return []Leaf{l}, nil
}

// checkCentre refuses a sum as a centre, and percent of a percentage.
func (x *splitter) checkCentre(p Parts) *Error {
	if !p.Centre.Present() {
		return nil
	}
	centre, literal := x.literal(p.Centre, true)
	if !literal {
		if _, _, ok, err := ScanLiteral(x.s[:p.Centre.End], p.Centre.Off, true); ok && err != nil {
			return err
		}
		if !plainOperand(p.Centre.Text(x.s)) {
			return &Error{p.Centre.Off, p.Centre.End, CodeFormDeviation, "write a quantity or a name before \"±\"",
				"give the formula a name, or put it in parentheses"}
		}
		return nil
	}
	for _, l := range p.Plus {
		if q, ok := x.literal(l, false); ok && isRelative(q.Unit) && isRelative(centre.Unit) {
			return percentError(l, centre.Text)
		}
	}
	return nil
}

func percentError(l Leaf, centre string) *Error {
	return &Error{l.Off, l.End, CodeFormPercent, "a tolerance in percent on " + centre + " can be read in two ways",
		"write the range, e.g. 48 % to 52 %"}
}

// plainOperand reports whether s is a path of names, perhaps with an argument,
// or wholly in parentheses.
func plainOperand(s string) bool {
	depth := 0
	for i := 0; i < len(s); i++ {
		switch c := s[i]; {
		case c == '"':
			i = skipQuote(s, i) - 1
		case c == '(':
			depth++
		case c == ')':
			depth--
		case depth == 0 && !wordByte(c) && c != '.':
			return false
		}
	}
	return true
}

func isRelative(u Unit) bool {
	switch u.Symbol {
	case "%", "‰", "ppm", "ppb", "ppt":
		return true
	}
	return false
}

// signed reads "3.3 V +5 % -3 %": a literal and two amounts, each with its
// sign glued on. done is false where the text is no such value.
func (x *splitter) signed() (p Parts, done bool, err *Error) {
	_, end, ok, scanErr := ScanLiteral(x.s, x.start, true)
	if !ok || scanErr != nil {
		return Parts{}, false, nil
	}
	first, plus, ok := x.glued(end)
	if !ok {
		return Parts{}, false, nil
	}
	second, plusToo, ok := x.glued(first.End)
	if !ok || second.End != x.stop || plus == plusToo {
		return Parts{}, false, signError(x.s, first)
	}
	p = Parts{Shape: Deviated, Centre: Leaf{x.start, end}, Plus: []Leaf{first}, Minus: []Leaf{second}}
	if !plus {
		p.Plus, p.Minus = p.Minus, p.Plus
	}
	if err := x.checkCentre(p); err != nil {
		return Parts{}, false, err
	}
	return p, true, nil
}

// glued reads a blank, a sign and a literal right after it. The leaf leaves
// the sign out.
func (x *splitter) glued(at int) (l Leaf, plus, ok bool) {
	i := skipBlanks(x.s, at)
	if i == at || i >= x.stop {
		return Leaf{}, false, false
	}
	after, neg := scanSign(x.s, i)
	if after == i {
		return Leaf{}, false, false
	}
	_, end, ok, err := ScanLiteral(x.s, after, false)
	if !ok || err != nil {
		return Leaf{}, false, false
	}
	return Leaf{after, end}, !neg, true
}

func signError(s string, l Leaf) *Error {
	return &Error{l.Off - 1, l.End, CodeFormSign, "a sign with a space only before it is neither a tolerance nor arithmetic",
		"write \" - \" with spaces on both sides to subtract, or \"+5 % -3 %\" with one of each sign for a tolerance"}
}

// slips refuses what reads like a range between two literals and is none:
// "1.9V-5.6V", "1.9 V–5.6 V", "1.9 V .. 5.6 V", "1.9 V ... 5.6 V".
func (x *splitter) slips() *Error {
	_, end, ok, err := ScanLiteral(x.s, x.start, true)
	if !ok || err != nil {
		return nil // the formula's own scan complains with the same words
	}
	i := skipBlanks(x.s, end)
	marks := []string{"...", "..", "…", "–", "—", "~", "-", "−", ""}
	sep := marks[slices.IndexFunc(marks, func(mark string) bool { return strings.HasPrefix(x.s[i:], mark) })]
	if sep == "" || (sep == "-" || sep == "−") && i > end {
		return nil
	}
	if _, _, ok, _ := ScanLiteral(x.s, skipBlanks(x.s, i+len(sep)), true); !ok {
		return nil
	}
	return &Error{i, i + len(sep), CodeFormRange, "\"" + sep + "\" between two quantities is not a range",
		"write \"to\" for a range, or \" - \" with spaces to subtract"}
}

func skipBlanks(s string, i int) int {
	return len(s) - len(strings.TrimLeft(s[i:], " "))
}
