package sheet

import (
	"slices"
	"strings"
)

// Section is one of the six things an engineer looks for first.
type Section string

// The six sections of a first look.
const (
	SectionOrdering    Section = "ordering"    // ordering code and options
	SectionPackage     Section = "package"     // package and mechanical data
	SectionPins        Section = "pins"        // pins and their functions
	SectionElectrical  Section = "electrical"  // characteristics and operating conditions
	SectionRatings     Section = "ratings"     // absolute maximum ratings
	SectionApplication Section = "application" // typical application circuit
)

// SectionList gives the sections in the order in which they are reported.
func SectionList() []Section {
	return []Section{SectionOrdering, SectionPackage, SectionPins, SectionElectrical, SectionRatings, SectionApplication}
}

var (
	numbering   = pattern(`^(section |chapter )?([0-9]{1,2}|[a-z])(\.[0-9]{1,2})*[.)]?\s+`)
	leader      = pattern(`[ .·…_]*[.…]{3,}[ .·…_]*([0-9]{1,4}|[ivxlc]{1,6})$|\s([0-9]{1,4})$`)
	afterPhrase = pattern(`^\s*([(\[:–—-]|[a-z]{1,2}[a-z0-9_]{0,6} ?[=≤≥<>\x{FFFD}]|at |for |of |over |in |\(?cont|continued|table|tables|$)`)
	captionHead = pattern(`^(figure|fig\.?|table|tab\.?)\s*[0-9]+[-.0-9a-z]*\s*[:.–-]?\s*`)
)

var bracketed = pattern(`\([^)]*\)`)

// headingText brings a line to the form in which headings are compared.
func headingText(s string) string {
	t := strings.ToLower(strings.Join(strings.Fields(foldString(s)), " "))
	return numbering().ReplaceAllString(t, "")
}

// sectionHeading reads a line as the heading of a section. exact says that
// nothing but the term stands there.
func sectionHeading(s string) (sec Section, exact, ok bool) {
	if len(s) > 120 {
		return "", false, false
	}
	t := headingText(s)
	bare := strings.Trim(strings.TrimRight(t, "0123456789,"), " .:*()[]†‡■●•")
	plain := bracketed().ReplaceAllString(bare, "")
	before, _, _ := strings.Cut(bare, "(")
	before = strings.TrimSpace(before)
	best := 0
	for _, section := range SectionList() {
		for _, term := range headingTerms[section] {
			switch {
			case bare == term, bare+"s" == term && (section == SectionElectrical || section == SectionRatings):
				return section, true, true
			case len(term) <= best:
			case before == term:
				sec, best, ok = section, len(term), true
			case !strings.Contains(term, " ") && (term[0] < 0x80 || len(term) < 4*len("符")): // one word proves too little, four signs do not
			case strings.HasPrefix(t, term) && (afterPhrase().MatchString(t[len(term):]) || titled(s) && section == SectionRatings ||
				strings.HasPrefix(t[len(term):], " summary")) && strings.Count(t, " ") < 12:
				sec, best, ok = section, len(term), true
			case strings.HasSuffix(bare, " "+term) && strings.Count(plain, " ") <= strings.Count(term, " ")+4 && titled(s):
				sec, best, ok = section, len(term), true
			}
		}
	}
	if at := strings.LastIndexAny(s, "–—"); !ok && at > 0 { // "PART–SPECIFICATIONS"
		if sec, exact, found := sectionHeading(strings.TrimLeft(s[at:], "–— ")); found && exact {
			return sec, false, true
		}
	}
	if !ok && ownCharacteristics().MatchString(strings.TrimSpace(headingTail().ReplaceAllString(bare, ""))) {
		return SectionElectrical, false, true
	}
	return sec, false, ok
}

// ownCharacteristics matches headings such as "charge characteristics"; those
// called typical are of graphs.
var ownCharacteristics = pattern(`^(?:[a-su-z][a-z-]*|t[a-xz][a-z-]*)(?:(?: ?[/&] ?| )[a-z-]+){0,3} (characteristics?|specifications?|data)$`)

// headingTail matches what a heading says of the conditions of its table.
var headingTail = pattern(`(?: at | ?@| ?[(:]).*$`)

// sectionsNamed reads a heading that may name two sections, as in "Package and
// ordering information": each part of it, with the last word lent to the first.
func sectionsNamed(s string) (list []Section, exact, ok bool) {
	sec, exact, ok := sectionHeading(s)
	if ok {
		list = append(list, sec)
	}
	left, right, both := strings.Cut(headingText(s), " and ")
	if !both || strings.Count(s, " ") > 6 || exact {
		return list, exact, ok
	}
	last := right[strings.LastIndexByte(right, ' ')+1:]
	for _, t := range []string{left, left + " " + last, right} {
		if sec, whole, found := sectionHeading(t); found && whole && !slices.Contains(list, sec) {
			list, ok = append(list, sec), true
		}
	}
	return list, exact, ok
}

// titled says whether the first word of a line begins with a capital or digit,
// and the line does not end like a sentence.
func titled(s string) bool {
	s = strings.TrimSpace(s)
	if s == "" || strings.HasSuffix(s, ".") || strings.HasSuffix(s, ";") || strings.HasSuffix(s, ",") {
		return false
	}
	for _, w := range strings.Fields(s) {
		if len(w) > 3 && w == strings.ToLower(w) && w != strings.ToUpper(w) && !hasDigit(w) {
			return false // running text
		}
	}
	return true
}

// isOperating says whether a heading is of operating conditions.
func isOperating(s string) bool {
	t := headingText(s)
	for _, term := range operatingTerms {
		if strings.Contains(t, term) {
			return true
		}
	}
	return false
}

// captionOf strips "Figure 7." and says whether there was such a beginning.
func captionOf(s string) (rest string, ok bool) {
	t := strings.ToLower(strings.Join(strings.Fields(foldString(s)), " "))
	m := captionHead().FindString(t)
	if m == "" {
		return s, false
	}
	return t[len(m):], true
}
