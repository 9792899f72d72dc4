package units

import (
	"cmp"
	"slices"
	"strings"
)

// unknown complains about a run of letters after a number that is not a unit.
func (l *scanner) unknown(at int, tight bool) *Error {
	end := unitRun(l.s, at)
	if end == at {
		end = at + 1
	}
	l.end = end
	number, run := l.s[l.start:l.numEnd], l.s[at:end]
	e := unknownUnit(l.t, run)
	e.Off, e.End = at, end
	switch {
	case run == "R" || run == "r":
		e.Code, e.Msg = CodeUnitUnknown, "\""+run+"\" is not a unit"
		e.Hint = "write " + number + " ohm, or " + number + " * R if R is a name"
	case e.Code == CodeUnitPrefix:
		e.Hint = "write the unit too, e.g. " + number + " " + run + prefixExample(run) + ", or the power of ten, " + number + prefixPower(run)
	case tight && strings.HasPrefix(run, "V") && isDigitAt(run, 1):
		digits := strings.TrimLeft(run[1:], "0123456789") == ""
		if digits {
			e.Hint = "write " + number + "." + run[1:] + " V, or net(\"" + number + run + "\") for the net"
		}
	case e.Hint == "" || strings.ContainsAny(run, "0123456789_"):
		e.Code = CodeLiteralProduct
		product := "write " + number + " * " + run + " if " + run + " is a name"
		if e.Hint == "" {
			e.Hint = product
		} else {
			e.Hint = product + "; " + e.Hint
		}
	}
	return e
}

// unknownUnit says that run is not a unit, with the likely one as a hint.
func unknownUnit(t *table, run string) *Error {
	e := &Error{Off: 0, End: len(run), Code: CodeUnitUnknown, Msg: "\"" + Clip(run) + "\" is not a unit"}
	if p, ok := prefixOf(run); ok {
		e.Code = CodeUnitPrefix
		e.Msg = "\"" + run + "\" alone is a prefix (" + p.name + "), not a unit"
		e.Hint = "write the unit too, e.g. " + run + prefixExample(run)
		return e
	}
	if hint := habits[strings.ToLower(run)]; hint != "" {
		e.Hint = hint
		return e
	}
	if hint := exponentHint(t, run); hint != "" {
		e.Hint = hint
		return e
	}
	if strings.ContainsAny(run, "0123456789_") {
		return e
	}
	if symbol := unitNamed(run); symbol != "" {
		e.Hint = "write " + symbol
		return e
	}
	if near := nearUnits(t, run); len(near) > 0 {
		e.Hint = "did you mean " + strings.Join(near, " or ") + "?"
	}
	return e
}

// habits are spellings met in practice that are refused, because they say less
// or something else than the unit does.
var habits = map[string]string{
	"vac": "write V rms", "vdc": "write V", "adc": "write A", "aac": "write A rms",
	"cc": "write cm^3", "in": "the unit is written inch", "celsius": "write °C", "fahrenheit": "write °F",
	"degk": "write K", "sqmm": "write mm^2", "vp": "write V pk", "vp_p": "write V pp", "ohm_m": "write ohm·m",
	"mhos": "write mho", "mcf": "write µF", "mfd": "write µF", "uuf": "write pF", "gauss": "write Gs",
}

// unitNamed finds a unit by its name in words, "Watts".
func unitNamed(run string) string {
	name := strings.ToLower(run)
	for _, n := range []string{name, strings.TrimSuffix(name, "s"), strings.TrimSuffix(name, "es")} {
		for _, u := range infos() {
			if u.Name == n {
				return u.Symbol
			}
		}
	}
	return ""
}

// exponentHint serves "m2", "mm2", "ft3".
func exponentHint(t *table, run string) string {
	n := len(run) - 1
	if n < 1 || run[n] < '2' || run[n] > '4' || t.lookup(run[:n]) == nil {
		return ""
	}
	return "write " + run[:n] + "^" + run[n:] + " or " + run[:n] + superscript(int(run[n]-'0'))
}

func prefixOf(run string) (prefix, bool) {
	canonical := folded.Replace(run)
	if canonical == "u" {
		canonical = "µ"
	}
	for _, p := range prefixes {
		if p.symbol == canonical {
			return p, true
		}
	}
	return prefix{}, false
}

// prefixExample completes a prefix to a unit that is often written with it.
func prefixExample(run string) string {
	switch run {
	case "k", "M":
		return "Ω"
	case "G", "T":
		return "Hz"
	case "n", "p", "f":
		return "F"
	}
	return "V"
}

func prefixPower(run string) string {
	p, _ := prefixOf(run)
	if p.binary {
		return " * 2^" + itoa(p.exp)
	}
	return "e" + itoa(p.exp)
}

// nearUnits finds spellings that differ from run in case only, else by one
// letter; at most three, in a fixed order.
func nearUnits(t *table, run string) []string {
	var folds, edits []string
	lower := strings.ToLower(folded.Replace(run))
	for s, k := range t.spelled {
		switch {
		case strings.ToLower(s) == lower:
			folds = append(folds, k.unit.Symbol)
		case len(run) >= 3 && len(s) >= 2 && !farFetched(s) && Edits([]byte(s), []byte(run), 1) == 1:
			edits = append(edits, k.unit.Symbol)
		}
	}
	if len(folds) == 0 {
		folds = edits
	}
	slices.SortFunc(folds, func(a, b string) int {
		return cmp.Or(rarity(a)-rarity(b), strings.Compare(a, b))
	})
	folds = slices.Compact(folds)
	return folds[:min(3, len(folds))]
}

// farFetched reports whether a spelling starts like a multiple that no bench
// uses.
func farFetched(s string) bool { return strings.IndexByte("QRYZEqryz", s[0]) >= 0 }

// rarity puts the multiples that a bench knows before the others.
func rarity(symbol string) int {
	if strings.HasPrefix(symbol, "µ") || strings.IndexByte("kMGmnp", symbol[0]) >= 0 {
		return 0
	}
	return 1
}
