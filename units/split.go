package units

import (
	"strings"
)

// Shape is the form of a right-hand side.
type Shape uint8

const (
	Single   Shape = iota // one literal or formula
	Range                 // "Lo to Hi"
	Deviated              // "Centre ± amount", "Centre +5 % -3 %"
	Columns               // "min 1 V, typ 2 V, max 3 V"
)

// Leaf is the byte range of a sub-text; the zero value means that it is absent.
type Leaf struct{ Off, End int }

// Present reports whether the sub-text is there.
func (l Leaf) Present() bool { return l != Leaf{} }

// Text cuts the sub-text out of the text that was split.
func (l Leaf) Text(s string) string { return s[l.Off:l.End] }

// Parts are the sub-texts of a right-hand side.
type Parts struct {
	Shape  Shape
	Single Leaf // Single: the text, literal or formula
	// Lo and Hi of a Range. Lo may be a bare number whose unit is Hi's; where
	// Unit is present ("(1.9 to 5.6) V") both are bare and Unit is theirs.
	Lo, Hi, Unit  Leaf
	Centre        Leaf   // Deviated: absent means 0
	Plus, Minus   []Leaf // Deviated: literals whose magnitudes add; percent is of |Centre|
	Min, Typ, Max Leaf   // Columns
	MaxDev        Leaf   // Columns: "max ± 2 mV" means min -2 mV, max 2 mV
}

// Split takes apart the right-hand side of a definition by its form, without
// looking into formulas. Offsets of leaves and errors count from the start of
// s.
func Split(s string) (Parts, *Error) {
	start, stop := trimmed(s)
	if start == stop {
		return Parts{}, &Error{0, len(s), CodeFormEmpty, "a value is missing", "write e.g. 3.3 V"}
	}
	x := splitter{s: s[:stop], start: start, stop: stop}
	if err := x.survey(); err != nil {
		return Parts{}, err
	}
	if x.isColumns() {
		return x.columns()
	}
	if len(x.pm) > 0 {
		return x.deviated()
	}
	if p, done, err := x.signed(); done || err != nil {
		return p, err
	}
	if p, ok := x.bracketRange(); ok {
		return p, nil
	}
	if len(x.to) > 0 {
		return x.rangeOf()
	}
	if err := x.slips(); err != nil {
		return Parts{}, err
	}
	return Parts{Shape: Single, Single: Leaf{start, stop}}, nil
}

// splitter holds the places of what parts a right-hand side, found outside
// brackets and quotes.
type splitter struct {
	s           string
	start, stop int
	pm          []Leaf // "±", "+-", "+/-"
	to          []Leaf // the word "to"
	comma       []int
	words       []Leaf // the words min, typ, max
}

// survey passes over the text once.
func (x *splitter) survey() *Error {
	depth := 0
	for i := x.start; i < x.stop; {
		switch c := x.s[i]; {
		case c == '"':
			i = skipQuote(x.s, i)
			continue
		case c == '(' || c == '[':
			depth++
		case c == ')' || c == ']':
			depth--
		}
		if w := plusMinus(x.s[i:]); w > 0 {
			if depth > 0 {
				return &Error{i, i + w, CodeFormDeviation, "\"±\" is allowed only at the end of a whole value",
					"give the value with its tolerance a name and use the name here"}
			}
			x.pm = append(x.pm, Leaf{i, i + w})
			i += w
			continue
		}
		if depth != 0 {
			i++
			continue
		}
		i = x.top(i)
	}
	return nil
}

// top looks at one place outside brackets and returns the next.
func (x *splitter) top(i int) int {
	c := x.s[i]
	if c == ',' {
		x.comma = append(x.comma, i)
		return i + 1
	}
	if !wordByte(c) {
		return i + 1
	}
	end := i
	for end < x.stop && (wordByte(x.s[end]) || x.s[end] == '.') && !strings.HasPrefix(x.s[end:], "±") {
		end++
	}
	switch x.s[i:end] {
	case "to":
		x.to = append(x.to, Leaf{i, end})
	case "min", "typ", "max":
		if end >= x.stop || x.s[end] != '(' {
			x.words = append(x.words, Leaf{i, end})
		}
	}
	return end
}

func wordByte(c byte) bool {
	return c == '_' || c >= '0' && c <= '9' || c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= 0x80
}

func skipQuote(s string, i int) int {
	if end := strings.IndexByte(s[i+1:], '"'); end >= 0 {
		return i + 1 + end + 1
	}
	return len(s)
}

// plusMinus returns the width of "±", "+-" or "+/-" at the start of s.
func plusMinus(s string) int { return leading(s, "±", "+/-", "+-", "+−", "+/−") }

// leaf trims the range from a to b; it is absent where only blanks are left.
func (x *splitter) leaf(a, b int) Leaf {
	if a >= b {
		return Leaf{}
	}
	start, stop := trimmed(x.s[a:b])
	if start == stop {
		return Leaf{}
	}
	return Leaf{a + start, a + stop}
}

// literal reads the whole of a leaf as a literal, without complaint.
func (x *splitter) literal(l Leaf, signed bool) (Quantity, bool) {
	q, end, ok, err := ScanLiteral(x.s[:l.End], l.Off, signed)
	return q, ok && err == nil && end == l.End
}

// rangeOf takes "Lo to Hi" apart.
func (x *splitter) rangeOf() (Parts, *Error) {
	if len(x.to) > 1 {
		return Parts{}, &Error{x.to[1].Off, x.to[1].End, CodeFormRange, "a range has one \"to\"", ""}
	}
	if len(x.comma) > 0 {
		return Parts{}, x.strayComma()
	}
	to := x.to[0]
	p := Parts{Shape: Range, Lo: x.leaf(x.start, to.Off), Hi: x.leaf(to.End, x.stop)}
	if !p.Lo.Present() || !p.Hi.Present() {
		return Parts{}, &Error{to.Off, to.End, CodeFormRange, "a range needs a value on both sides of \"to\"", "write 1.9 V to 5.6 V"}
	}
	lo, loOK := x.literal(p.Lo, true)
	hi, hiOK := x.literal(p.Hi, true)
	if loOK && hiOK && hi.Unit.Symbol == "" && lo.Unit.Symbol != "" {
		return Parts{}, &Error{p.Hi.Off, p.Hi.End, CodeFormRange, "the upper end has no unit",
			"write " + p.Hi.Text(x.s) + " " + lo.Unit.Symbol + "; only the lower end may leave out its unit"}
	}
	return p, nil
}

// bracketRange reads "(1.9 to 5.6) V".
func (x *splitter) bracketRange() (Parts, bool) {
	if x.s[x.start] != '(' {
		return Parts{}, false
	}
	closing := strings.IndexByte(x.s, ')')
	if closing < 0 || closing == x.stop-1 {
		return Parts{}, false
	}
	to := strings.Index(x.s[:closing], " to ")
	if to < 0 {
		return Parts{}, false
	}
	p := Parts{Shape: Range, Lo: x.leaf(x.start+1, to), Hi: x.leaf(to+4, closing), Unit: x.leaf(closing+1, x.stop)}
	if !p.Lo.Present() || !p.Hi.Present() || !p.Unit.Present() {
		return Parts{}, false
	}
	lo, loOK := x.literal(p.Lo, true)
	hi, hiOK := x.literal(p.Hi, true)
	_, err := ParseUnit(p.Unit.Text(x.s))
	return p, loOK && hiOK && err == nil && lo.Unit.Symbol == "" && hi.Unit.Symbol == ""
}

func (x *splitter) strayComma() *Error {
	at := x.comma[0]
	return &Error{at, at + 1, CodeFormColumn, "a comma parts min, typ and max columns only",
		"write min 2.7 V, typ 3.3 V, max 3.6 V"}
}
