package sheet

import (
	"strings"
)

// statedValue is a value written out in a line: a number, a range, a bound.
type statedValue struct {
	kind Kind   // KindValue, or KindMin, KindTyp, KindMax where a word says so
	text string // number, or "a to b", without its unit
	unit string
}

var (
	statedWords = map[string]Kind{"up to": KindMax, "max": KindMax, "max.": KindMax, "maximum": KindMax, "at most": KindMax,
		"min": KindMin, "min.": KindMin, "minimum": KindMin, "at least": KindMin, "typ": KindTyp, "typ.": KindTyp,
		"typical": KindTyp, "typically": KindTyp, "approx": KindTyp, "approx.": KindTyp, "ca.": KindTyp}
	statedNumber = pattern(`^[-+±]?\d+(\.\d+)?$`)
	statedBound  = pattern(`^([-+]?\d+(\.\d+)?|(\d+(\.\d+)? ?[x*·] ?)?[A-Z][A-Za-z0-9_()]{1,11}( ?[-+] ?\d+(\.\d+)?)?)$`)
	gluedUnit    = pattern(`^([-+±]?\d+(?:\.\d+)?)([^\d.\s].*)$`)
	// thousands marked with an apostrophe, as in Switzerland
	markedThousands = pattern(`(\d)'(\d{3})`)
	directCurrent   = pattern(`([VA]) ?(?i:dc)$`)
	dashRange       = pattern(`^([-+]?\d+(?:\.\d+)?(?: ?[^\d\s]+)?) - ([+]?\d+(?:\.\d+)?(?: ?[^\d\s]+)?)$`)
	slashRange      = pattern(`^(- ?\d+(?:\.\d+)?) ?([^\d/ ]*) ?/ ?(\+ ?\d.*)$`) // -60 °C/+70 °C
	boundSign       = pattern(`^([≤<≥>]) ?([-+]?\d.*)$`)
	looseSign       = pattern(`(^|to )([-+±]) (\d)`)
)

// readStated reads a value to its last word; false where anything is left over.
func readStated(s string) (statedValue, bool) {
	s = strings.TrimSpace(foldString(s))
	s = markedThousands().ReplaceAllString(s, "$1$2")
	s = strings.NewReplacer("+/-", "±", "...", " to ", " .. ", " to ", "~", " to ").Replace(s)
	s = directCurrent().ReplaceAllString(s, "$1")
	s = slashRange().ReplaceAllString(s, "$1 $2 to $3")
	s = looseSign().ReplaceAllString(strings.Join(strings.Fields(s), " "), "$1$2$3")
	s = dashRange().ReplaceAllString(s, "$1 to $2")
	v := statedValue{kind: KindValue}
	if s, v.kind = cutStatedWord(s); v.kind == KindValue {
		if m := boundSign().FindStringSubmatch(s); m != nil {
			s, v.kind = m[2], boundKind(m[1])
		}
	}
	from, to, isRange := strings.Cut(s, " to ")
	if !isRange {
		number, unit, ok := numberUnit(s)
		if !ok || !statedNumber().MatchString(number) {
			return v, false
		}
		v.text, v.unit = number, unit
		return v, true
	}
	if v.kind != KindValue || strings.Contains(to, " to ") {
		return v, false
	}
	bound, unit, ok := numberUnit(to)
	if !ok || !statedBound().MatchString(bound) || !distinctBound(bound) {
		return v, false
	}
	if n, u, ok := numberUnit(from); ok && u == unit {
		from = n
	}
	if !statedNumber().MatchString(from) || strings.HasPrefix(from, "±") {
		return v, false
	}
	v.text, v.unit = from+" to "+bound, unit
	return v, true
}

// boundKind says which bound a sign before a number makes of it.
func boundKind(sign string) Kind {
	if sign == "≥" || sign == ">" {
		return KindMin
	}
	return KindMax
}

// distinctBound refuses a lone word as a bound: it must be a number or a symbol in capitals.
func distinctBound(s string) bool {
	return hasDigit(s) || len(s) >= 2 && strings.ToUpper(s[:2]) == s[:2]
}

// cutStatedWord takes "up to", "max." and the like off either end.
func cutStatedWord(s string) (string, Kind) {
	for word, k := range statedWords {
		if rest, ok := cutPrefixFold(s, word+" "); ok {
			return rest, k
		}
		if len(s) > len(word)+1 && strings.EqualFold(s[len(s)-len(word)-1:], " "+word) {
			return strings.TrimSuffix(s[:len(s)-len(word)-1], ","), k
		}
	}
	return s, KindValue
}

func cutPrefixFold(s, prefix string) (string, bool) {
	if len(s) >= len(prefix) && strings.EqualFold(s[:len(prefix)], prefix) {
		return s[len(prefix):], true
	}
	return s, false
}

// numberUnit takes the unit off the end of a number or bound.
func numberUnit(s string) (number, unit string, ok bool) {
	i := strings.LastIndexByte(s, ' ')
	if i < 0 {
		if m := gluedUnit().FindStringSubmatch(s); m != nil {
			number, unit = m[1], m[2]
		}
	} else {
		number, unit = s[:i], s[i+1:]
	}
	if number == "" || hasDigit(unit) {
		return "", "", false
	}
	m, known := unitWord(unit)
	return number, unit, known && m.kind != "" && !strings.ContainsAny(unit, ",;:.[](){}")
}
