package units

import "unicode/utf8"

// scanUnit reads the longest unit at i. ok is false where no known unit is
// spelled there; err is a complaint about a unit that goes wrong later.
func (t *table) scanUnit(s string, i int) (k *known, end int, ok bool, err *Error) {
	f, ok := t.scanFactor(s, i)
	if !ok {
		return nil, f.end, false, nil
	}
	if f.simple() && f.bad == nil && !continues(s, f.end) {
		return f.k, f.end, true, nil
	}
	if end := unitExtent(s, f.end); end > f.end {
		if k := t.spelled[s[i:end]]; k != nil && k.unit.Symbol == s[i:end] {
			return k, end, true, nil // a compound that has a row of its own
		}
	}
	if k, end := t.tabled(s, i, f); k != nil {
		return k, end, true, nil
	}
	c := newCompound()
	c.add(f, 1, i)
	c.write(f)
	end, count := t.product(s, f.end, 1, c)
	over, under := t.denominator(s, end, c)
	if under {
		end = over
		err = t.afterDenominator(s, end)
	}
	if c.problem == nil && !c.reasonable() {
		c.fail(&Error{i, end, CodeUnitPower, "the exponents or the multiple of this unit are out of all proportion", ""})
	}
	if c.problem != nil {
		return nil, end, true, c.problem
	}
	if count == 0 && !under && f.simple() {
		return f.k, end, true, err
	}
	return c.known(), end, true, err
}

// unitExtent returns the end of what could be spelled in a unit, from i on.
func unitExtent(s string, i int) int {
	for i < len(s) {
		r, w := rune(s[i]), 1
		if r >= utf8.RuneSelf {
			r, w = utf8.DecodeRuneInString(s[i:])
		}
		switch r {
		case '/', '(', ')', '·', '⋅', '*', '^', '√', '⁻', '°', '%':
		default:
			if !nameRune(r) && superscriptValue(r) < 0 {
				return i
			}
		}
		i += w
	}
	return i
}

// continues reports whether the text at i could go on with a unit.
func continues(s string, i int) bool {
	if i >= len(s) {
		return false
	}
	return s[i] == '/' || s[i] == '*' || s[i] == '^' || s[i] >= utf8.RuneSelf
}

// tabled finds a unit whose spelling in the table holds a "/", such as dBµV/m
// or dBc/Hz, whose parts alone would make no unit.
func (t *table) tabled(s string, i int, f factor) (*known, int) {
	if f.k.unit.Type.Kind != Level || f.end+1 >= len(s) || s[f.end] != '/' {
		return nil, 0
	}
	end := unitRun(s, f.end+1)
	return t.lookup(s[i:end]), end
}

// factorAt reads a factor where one may start.
func (t *table) factorAt(s string, i int) (f factor, ok bool) {
	if r, _ := utf8.DecodeRuneInString(s[min(i, len(s)):]); !unitStart(r) {
		return f, false
	}
	return t.scanFactor(s, i)
}

// product reads further factors after "·" or "*", as long as they are known.
func (t *table) product(s string, i, sign int, c *compound) (end, count int) {
	for {
		w := dotWidth(s, i)
		f, ok := t.factorAt(s, i+w)
		if w == 0 || !ok {
			return i, count
		}
		c.add(f, sign, i+w)
		c.symbol.WriteString("·")
		c.write(f)
		i = f.end
		count++
	}
}

func dotWidth(s string, i int) int { return leading(s[i:], "*", "·", "⋅") }

// denominator reads "/" and a factor, or "/(" factors ")". ok is false, and
// nothing is taken, where what follows is not wholly a known unit.
func (t *table) denominator(s string, i int, c *compound) (end int, ok bool) {
	if i+1 >= len(s) || s[i] != '/' {
		return i, false
	}
	if s[i+1] == '(' {
		return t.bracketed(s, i+2, c)
	}
	f, ok := t.factorAt(s, i+1)
	if !ok {
		return i, false
	}
	c.add(f, -1, i+1)
	c.symbol.WriteString("/")
	c.write(f)
	return f.end, true
}

func (t *table) bracketed(s string, i int, c *compound) (end int, ok bool) {
	f, ok := t.factorAt(s, i)
	if !ok {
		return i, false
	}
	part := newCompound()
	part.add(f, -1, i)
	part.write(f)
	end, count := t.product(s, f.end, -1, part)
	if end >= len(s) || s[end] != ')' {
		return i, false
	}
	c.join(part, count)
	return end + 1, true
}

// join takes over a denominator in parentheses.
func (c *compound) join(part *compound, count int) {
	if part.problem != nil {
		c.fail(part.problem)
	}
	c.dim = c.dim.Mul(part.dim)
	c.exact = c.exact && part.exact
	c.factor.Mul(c.factor, part.factor)
	c.step = c.step || part.step
	if count == 0 {
		c.symbol.WriteString("/" + part.symbol.String())
		return
	}
	c.symbol.WriteString("/(" + part.symbol.String() + ")")
}

// afterDenominator refuses a second "/" and a factor after the denominator.
func (t *table) afterDenominator(s string, i int) *Error {
	w := dotWidth(s, i)
	slash := i < len(s) && s[i] == '/'
	if w == 0 && !slash {
		return nil
	}
	if slash {
		w = 1
	}
	f, ok := t.factorAt(s, i+w)
	if !ok {
		return nil
	}
	if slash {
		return &Error{i, f.end, CodeUnitSlash, "a unit has one \"/\" only", "write m/s^2, or W/(m·K)"}
	}
	return &Error{i, f.end, CodeUnitSlash, "what follows the denominator is ambiguous",
		"put the denominator in parentheses, as in W/(m·K), or spaces around a multiplication"}
}
