package units

import "strings"

// ParseUnit reads a unit alone ("kΩ", "K/W", "V/√Hz", "degC", "V rms",
// "1/s"). "1" is the unit of a plain number. °C and °F are read as scales, of
// kind Point.
func ParseUnit(s string) (Unit, *Error) {
	start, stop := trimmed(s)
	if start == stop {
		return Unit{}, &Error{0, len(s), CodeUnitMissing, "a unit is missing", "write e.g. mV"}
	}
	text := s[:stop]
	t := lookupTable()
	if text[start:] == "1" {
		return t.one.unit, nil
	}
	l := scanner{t: t, s: text, start: start, numEnd: start}
	l.bare()
	if strings.HasPrefix(text[start:], "1/") {
		return reciprocal(t, text, start)
	}
	k, end, ok, err := t.scanUnit(text, start)
	if err == nil && !ok {
		if k, end = l.waveSuffix(start); k == nil {
			err = unknownUnit(t, text[start:max(end, start+1)])
			err.Off, err.End = start, max(end, start+1)
		}
	}
	if err != nil {
		return Unit{}, err
	}
	l.k, l.unitAt, l.unitEnd, l.end = k, start, end, end
	if err := l.form(); err != nil {
		return Unit{}, err
	}
	if l.end != stop {
		return Unit{}, unitRest(t, s, l.end, stop)
	}
	u := k.unit
	u.Type.Wave = l.wave
	if typed := text[start:l.unitEnd]; typed != u.Symbol {
		u.Typed = typed
	}
	return u, nil
}

func unitRest(t *table, s string, end, stop int) *Error {
	rest := strings.TrimSpace(s[end:stop])
	e := &Error{stop - len(rest), stop, CodeUnitUnknown, "\"" + Clip(rest) + "\" does not belong to a unit", "a unit has no spaces"}
	if w := strings.TrimLeft(rest, "/·*"); w != rest && w != "" {
		run := w[:unitRun(w, 0)]
		if run != "" && t.lookup(run) == nil {
			u := unknownUnit(t, run)
			e.Msg, e.Hint = u.Msg, u.Hint
		}
	}
	return e
}

// reciprocal reads "1/s" and "1/(m·K)".
func reciprocal(t *table, s string, start int) (Unit, *Error) {
	c := newCompound()
	end, ok := t.denominator(s, start+1, c)
	switch {
	case c.problem == nil && !c.reasonable():
		return Unit{}, &Error{start, end, CodeUnitPower, "the exponents or the multiple of this unit are out of all proportion", ""}
	case c.problem != nil:
		return Unit{}, c.problem
	case !ok || end != len(s):
		run := s[start+2 : max(start+2, unitRun(s, min(start+2, len(s))))]
		e := unknownUnit(t, run)
		e.Off, e.End = start+2, len(s)
		return Unit{}, e
	}
	u := c.known().unit
	u.Symbol = "1" + u.Symbol
	return u, nil
}
