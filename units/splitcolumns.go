package units

import "strings"

// isColumns reports whether the text is made of min, typ and max columns. A
// word right at the start says so; one at the end does too, unless it is the
// minute of a bare number ("10 min").
func (x *splitter) isColumns() bool {
	for _, w := range x.words {
		if w.Off == x.start || x.opensColumn(w.Off) || x.closesColumn(w) {
			return true
		}
	}
	return false
}

// opensColumn reports whether a comma stands before i.
func (x *splitter) opensColumn(i int) bool {
	return strings.HasSuffix(strings.TrimRight(x.s[x.start:i], " "), ",")
}

// closesColumn reports whether the word ends the text or stands before a comma
// and is no minute.
func (x *splitter) closesColumn(w Leaf) bool {
	after := skipBlanks(x.s, w.End)
	if after < x.stop && x.s[after] != ',' {
		return false
	}
	return x.s[w.Off:w.End] != "min" || !x.endsInNumber(w.Off)
}

// endsInNumber reports whether a bare number stands before i, as before the
// unit of "10 min"; of "1.9V min" it does not.
func (x *splitter) endsInNumber(i int) bool {
	for i > x.start && x.s[i-1] == ' ' {
		i--
	}
	j := i
	for j > x.start && (wordByte(x.s[j-1]) || x.s[j-1] == '.') {
		j--
	}
	return j < i && (isDigitAt(x.s, j) || x.s[j] == '.') && (isDigitAt(x.s, i-1) || x.s[i-1] == '.')
}

// columns takes "min 2.7 V, typ 3.3 V, max 3.6 V" apart, in any order, the
// word before or after its value.
func (x *splitter) columns() (Parts, *Error) {
	p := Parts{Shape: Columns}
	at := x.start
	for _, stop := range append(x.comma, x.stop) {
		l := x.leaf(at, stop)
		if !l.Present() {
			return Parts{}, &Error{at, max(stop, at), CodeFormColumn, "a column is empty", "write min 2.7 V, max 3.6 V"}
		}
		if err := x.column(&p, l); err != nil {
			return Parts{}, err
		}
		at = stop + 1
	}
	if p.MaxDev.Present() && (p.Min.Present() || p.Max.Present()) {
		return Parts{}, &Error{p.MaxDev.Off, p.MaxDev.End, CodeFormColumn, "\"max ±\" states both ends already", "drop the other column"}
	}
	return p, nil
}

// column files one column under its word.
func (x *splitter) column(p *Parts, l Leaf) *Error {
	word, value, err := x.columnWord(l)
	if err != nil {
		return err
	}
	for _, pm := range x.pm {
		if pm.Off >= l.Off && pm.End <= l.End {
			return x.deviatedColumn(p, word, value, pm)
		}
	}
	for _, to := range x.to {
		if to.Off >= l.Off && to.End <= l.End {
			return &Error{to.Off, to.End, CodeFormColumn, "a column takes one value, not a range", "write min 2.7 V, max 3.6 V"}
		}
	}
	target := map[string]*Leaf{"min": &p.Min, "typ": &p.Typ, "max": &p.Max}[word]
	if target.Present() {
		return &Error{l.Off, l.End, CodeFormColumn, "\"" + word + "\" appears twice", "keep one of them"}
	}
	*target = value
	return nil
}

func (x *splitter) deviatedColumn(p *Parts, word string, value, pm Leaf) *Error {
	if word != "max" || value.Off != pm.Off {
		return &Error{pm.Off, pm.End, CodeFormColumn, "\"±\" is allowed in a column only as in max ± 2 mV",
			"write 3.3 V ± 2 %, or min and max columns"}
	}
	if p.MaxDev.Present() {
		return &Error{pm.Off, pm.End, CodeFormColumn, "duplicate \"max ±\"", "keep one of them"}
	}
	amount, err := x.amountLiteral(x.leaf(pm.End, value.End))
	if err != nil {
		return err
	}
	p.MaxDev = amount[0]
	return nil
}

// columnWord finds the word of a column and the value beside it.
func (x *splitter) columnWord(l Leaf) (word string, value Leaf, err *Error) {
	var first, last Leaf
	for _, w := range x.words {
		if w.Off == l.Off {
			first = w
		}
		if w.End == l.End && w.Off > l.Off && x.closesColumn(w) {
			last = w
		}
	}
	switch {
	case first.Present() && last.Present() && x.leaf(first.End, last.Off).Present():
		return "", Leaf{}, &Error{last.Off, last.End, CodeFormColumn, "a column has one of the words min, typ and max", ""}
	case first.Present():
		value = x.leaf(first.End, l.End)
		last = first
	case last.Present():
		value = x.leaf(l.Off, last.Off)
	default:
		return "", Leaf{}, &Error{l.Off, l.End, CodeFormColumn, "this column has none of the words min, typ and max",
			"write min 2.7 V, typ 3.3 V, max 3.6 V"}
	}
	if !value.Present() {
		return "", Leaf{}, &Error{l.Off, l.End, CodeFormColumn, "the column has no value", "write min 2.7 V"}
	}
	return x.s[last.Off:last.End], value, nil
}
