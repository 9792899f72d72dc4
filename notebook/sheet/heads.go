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

// headWords are column titles as data sheets print them (common practice of the
// trade), folded to small letters without points and brackets.
var headWords = map[string]Kind{
	"min": KindMin, "minimum": KindMin, "typ": KindTyp, "typical": KindTyp, "nom": KindTyp, "nominal": KindTyp, "max": KindMax, "maximum": KindMax,
	"unit": KindUnit, "units": KindUnit,
	"parameter": KindName, "parameters": KindName, "characteristic": KindName, "characteristics": KindName, "rating": KindName, "ratings": KindName, "item": KindName, "parameter name": KindName, "quantity": KindName, "thermal metric": KindName,
	"symbol": KindSymbol, "sym": KindSymbol, "symbols": KindSymbol,
	"condition": KindCondition, "conditions": KindCondition, "test condition": KindCondition, "test conditions": KindCondition, "comment": KindNote, "comments": KindNote, "note": KindNote, "notes": KindNote, "remarks": KindNote, "remark": KindNote,
	"value": KindValue, "values": KindValue, "limit": KindValue, "limits": KindValue, "rated value": KindValue,
	"pin": KindPin, "pin no": KindPin, "pin number": KindPin, "pins": KindPin, "pin #": KindPin, "no": KindPin, "number": KindPin, "pin nr": KindPin, "ball": KindPin, "terminal": KindPin, "lead": KindPin,
	"pin name": KindPinName, "name": KindPinName, "signal": KindPinName, "mnemonic": KindPinName, "signal name": KindPinName, "terminal name": KindPinName,
	"type": KindType, "i/o": KindType, "pin type": KindType, "direction": KindType, "io": KindType, "io type": KindType,
	"function": KindFunction, "description": KindFunction, "pin description": KindFunction, "pin function": KindFunction, "functional description": KindFunction,
	"order code": KindOrder, "ordering code": KindOrder, "orderable part number": KindOrder, "part number": KindOrder, "ordering number": KindOrder, "order number": KindOrder, "orderable device": KindOrder, "ordering part number": KindOrder, "device": KindOrder, "part no": KindOrder, "type number": KindOrder, "ordering information": KindOrder, "model": KindOrder, "product": KindOrder,
	"package": KindPackage, "package type": KindPackage, "case": KindPackage, "housing": KindPackage, "body": KindPackage, "package name": KindPackage,
	"marking": KindOther, "top marking": KindOther, "packing": KindOther, "packaging": KindOther, "shipping": KindOther, "temperature range": KindOther, "operating temperature": KindOther, "output voltage": KindOther, "voltage": KindOther, "option": KindOther, "options": KindOther, "code": KindOther, "meaning": KindOther, "dimension": KindName, "dimensions": KindName, "dim": KindSymbol, "letter": KindSymbol, "ref": KindSymbol, "suffix": KindOther, "body size": KindOther, "pitch": KindOther, "quantity per reel": KindOther, "temperature": KindOther, "grade": KindOther, "field": KindOther,
}

// headKind reads a column title; the unit is that of a title like "Max (mV)".
func headKind(s string) (Kind, measure, bool) {
	t := strings.TrimSpace(foldString(s))
	var unit measure
	if i := strings.IndexAny(t, "(["); i > 0 {
		if m, ok := unitWord(t[i:]); ok {
			unit = m
		}
		t = t[:i]
	}
	t = strings.Trim(strings.ToLower(t), " .:()[]*0123456789")
	t = strings.ReplaceAll(t, ".", "")
	k, ok := headWords[t]
	if i := strings.IndexAny(t, "/,&"); !ok && i > 0 { // "conditions / comments"
		k, ok = headWords[strings.TrimSpace(t[:i])]
	}
	return k, unit, ok
}

// isLimit says whether a kind holds numbers that bound or state a quantity.
func (k Kind) isLimit() bool {
	return k == KindMin || k == KindTyp || k == KindMax || k == KindValue
}
