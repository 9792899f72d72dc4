package notebook

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"guardband/units"
)

// greekTwins maps Greek letters that look like Latin ones.
var greekTwins = map[rune]rune{
	'Α': 'A', 'Β': 'B', 'Ε': 'E', 'Ζ': 'Z', 'Η': 'H', 'Ι': 'I', 'Κ': 'K', 'Μ': 'M', 'Ν': 'N',
	'Ο': 'O', 'Ρ': 'P', 'Τ': 'T', 'Υ': 'Y', 'Χ': 'X', 'ο': 'o', 'ν': 'v',
}

func isNameStart(r rune) bool {
	return r == '_' || r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' ||
		r >= utf8.RuneSelf && unicode.IsLetter(r) && (unicode.Is(unicode.Latin, r) || unicode.Is(unicode.Greek, r))
}

func isNameRune(r rune) bool { return isNameStart(r) || r >= '0' && r <= '9' }

// nameLen is the length in bytes of the name at the start of s; 0 for none.
func nameLen(s string) int {
	for i, r := range s {
		r = units.FoldRune(r)
		if i == 0 && !isNameStart(r) {
			return 0
		}
		if !isNameRune(r) && !unicode.Is(unicode.Mn, r) {
			return i
		}
	}
	return len(s)
}

// IsName says whether s is a name of the language: Latin or Greek letters,
// digits and "_", not starting with a digit, and not reserved.
func IsName(s string) bool {
	s = units.FoldName(s)
	return plainName(s) && reserved[s] == ""
}

// plainName says that a folded text has the letters of a name: no combining
// mark is left over.
func plainName(s string) bool {
	for i, r := range s {
		if !isNameRune(r) || i == 0 && !isNameStart(r) {
			return false
		}
	}
	return s != ""
}

// subscripts maps subscript digits and letters to what should be typed.
func plainSubscript(r rune) (rune, bool) {
	if r >= '₀' && r <= '₉' {
		return '0' + r - '₀', true
	}
	return r, false
}

// name checks a name and gives its folded form. It complains once and reports
// false where the text cannot serve as a name.
func (r *reader) name(t Text, what string) (string, bool) {
	s := t.S
	if s == "" {
		r.errorAt("name-missing", t, 0, 0, what+" is missing", "")
		return "", false
	}
	for i, c := range s {
		if _, sub := plainSubscript(c); sub {
			fixed := strings.Map(func(c rune) rune { c, _ = plainSubscript(c); return c }, s)
			r.errorAt("name-subscript", t, i, i+utf8.RuneLen(c), "a name cannot have a subscript digit",
				"write "+quote(fixed)+" or "+quote(strings.TrimRight(fixed,
					"0123456789")+"_"+fixed[len(strings.TrimRight(fixed, "0123456789")):]))
			return units.FoldName(fixed), IsName(fixed)
		}
	}
	folded := units.FoldName(s)
	if why := reserved[folded]; why != "" {
		r.errorAt("name-reserved", t, 0, len(s), quote(units.Clip(s))+" cannot be a name: the word "+why, reservedHint(folded))
		return "", false
	}
	if !plainName(folded) {
		r.badName(t, what)
		return "", false
	}
	r.refuseTwins(t, folded)
	return folded, true
}

// badName explains why a text is no name.
func (r *reader) badName(t Text, what string) {
	s := t.S
	first, _ := utf8.DecodeRuneInString(s)
	if first >= '0' && first <= '9' {
		r.errorAt("name-bad", t, 0, len(s), what+" starts with a digit",
			"names start with a letter; a net such as 3V3 is spelled net(\"3V3\") in formulas")
		return
	}
	n := nameLen(s)
	if n == len(s) { // a combining mark that makes no letter
		n = strings.IndexFunc(s, func(c rune) bool { return !isNameRune(units.FoldRune(c)) })
	}
	n = max(n, 0)
	_, w := utf8.DecodeRuneInString(s[n:])
	r.errorAt("name-bad", t, n, n+w, what+" holds "+quote(s[n:n+w]), "names are letters (Latin, Greek), digits and \"_\"")
}

// refuseTwins refuses Greek letters that a reader takes for Latin ones: a claim
// would speak of another name than it seems to.
func (r *reader) refuseTwins(t Text, folded string) {
	if len(folded) == utf8.RuneCountInString(folded) {
		return
	}
	for i, c := range t.S {
		if twin, ok := greekTwins[c]; ok {
			r.errorAt("name-twin", t, i, i+utf8.RuneLen(c), "a Greek letter here looks like the Latin "+
				quote(string(twin)), "type the Latin letter if that is meant")
			return
		}
	}
}

func quote(s string) string { return "\"" + s + "\"" }

// reservedHint says what to write in place of a reserved word.
func reservedHint(word string) string {
	if word == "ambient" {
		return "as a condition it is T_A, as in `at T_A = 25 °C`; otherwise names differ by case: \"AMBIENT\" would do"
	}
	return "names differ by case; " + quote(strings.ToUpper(word)) + " would do"
}
