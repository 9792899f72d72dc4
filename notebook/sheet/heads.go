package sheet

import "strings"

// Kind says what a column of a table holds.
type Kind string

// Kinds of columns.
const (
	KindName      Kind = "name"      // parameter, rating, characteristic
	KindSymbol    Kind = "symbol"    // V_IN
	KindCondition Kind = "condition" // test conditions
	KindMin       Kind = "min"
	KindTyp       Kind = "typ"
	KindMax       Kind = "max"
	KindValue     Kind = "value" // a single value or a range
	KindUnit      Kind = "unit"
	KindNote      Kind = "note"
	KindPin       Kind = "pin"     // pin number
	KindPinName   Kind = "pinname" // name of a pin
	KindType      Kind = "type"    // input, output, power
	KindFunction  Kind = "function"
	KindOrder     Kind = "order"   // ordering code
	KindPackage   Kind = "package" // package or case
	KindOther     Kind = "other"
)

// headKind reads a column title; the unit is that of a title like "Max (mV)".
func headKind(s string) (Kind, measure, bool) {
	t := strings.TrimSpace(foldString(s))
	var unit measure
	if i := strings.IndexAny(t, "(["); i > 0 {
		if m, ok := unitWord(t[i:]); ok {
			unit = m
		}
		if k := headWords[strings.ToLower(strings.Trim(t[i:], "()[]. "))]; k.isLimit() { // "Value (min)"
			return k, unit, true
		}
		t = t[:i]
	}
	t = strings.Trim(strings.ToLower(t), " .:()[]*0123456789")
	t = strings.ReplaceAll(t, ".", "")
	k, ok := headWords[t]
	if i := strings.IndexAny(t, "/,&"); !ok && i > 0 { // "conditions / comments"
		if k, ok = headWords[strings.TrimSpace(t[:i])]; k == KindPackage || k == KindOrder { // "Package/order information" heads a section
			k, ok = "", false
		}
	}
	if !ok && !strings.Contains(t, " ") {
		k, ok = mistyped(t)
	} else if !ok && loneLetter().MatchString(t) { // "P arameter"
		return headKind(strings.Join(strings.Fields(foldString(s)), ""))
	}
	return k, unit, ok
}

// loneLetter matches the pieces of a word that is set apart letter by letter.
var loneLetter = pattern(`^(?:\pL [^ ]{2,12}|[^ ]{1,2}(?: [^ ]{1,2}){2,6})$`)

// isLimit says whether a kind holds numbers that bound or state a quantity.
func (k Kind) isLimit() bool {
	return k == KindMin || k == KindTyp || k == KindMax || k == KindValue
}
