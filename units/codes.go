package units

// Codes of the complaints of this package. They are stable: a caller may
// switch on them, and a later release only adds to them.
const (
	CodeNumberMissing  = "number-missing"  // a quantity was expected and no number starts here
	CodeNumberComma    = "number-comma"    // decimal comma, or a comma between digits
	CodeNumberPoint    = "number-point"    // two decimal points
	CodeNumberGrouping = "number-grouping" // digits grouped by a plain blank
	CodeNumberExponent = "number-exponent" // "e" without digits
	CodeNumberRange    = "number-range"    // too many digits, or beyond 1e±300
	CodeNumberHex      = "number-hex"      // "0x" without hex digits
	CodeLiteralRest    = "literal-rest"    // text left over after a quantity
	CodeLiteralProduct = "literal-product" // "2 R1": a name right after a number
	CodeLiteralPercent = "literal-percent" // "17 % 5": there is no remainder
	CodeLiteralMarking = "literal-marking" // "4k7" without a unit
	CodeUnitMissing    = "unit-missing"    // a unit was expected
	CodeUnitUnknown    = "unit-unknown"    // no unit is spelled so
	CodeUnitPrefix     = "unit-prefix"     // a prefix alone
	CodeUnitPower      = "unit-power"      // a malformed or detached exponent
	CodeUnitBlank      = "unit-blank"      // a space on one side of "/"
	CodeUnitSlash      = "unit-slash"      // a second "/" or a factor after "/"
	CodeUnitLevel      = "unit-level"      // a level or a wave form inside a compound unit
	CodeUnitCase       = "unit-case"       // the value is implausible, the other case is not
	CodeFormEmpty      = "form-empty"      // nothing where a value should stand
	CodeFormColumn     = "form-column"     // min/typ/max columns out of form
	CodeFormDeviation  = "form-deviation"  // ± out of form
	CodeFormSign       = "form-sign"       // a sign with a space only before it
	CodeFormRange      = "form-range"      // a range out of form
	CodeFormReversed   = "form-reversed"   // the ends are in the wrong order
	CodeFormPercent    = "form-percent"    // percent of a percentage, a point or a level
	CodeTypeMismatch   = "type-mismatch"   // two dimensions that do not go together
	CodeTypePoint      = "type-point"      // a temperature point where a difference is due
	CodeTypeLevel      = "type-level"      // a level where it cannot stand
	CodeTypeWave       = "type-wave"       // rms, peak and peak-to-peak mixed
	CodeTypeSense      = "type-sense"      // a frequency against an angular one, a torque against an energy
	CodeMarkingForm    = "marking-form"    // no marking code of IEC 60062
	CodeMarkingKind    = "marking-kind"    // a marking code for another kind of part
	CodeSeriesUnknown  = "series-unknown"  // no series of IEC 60063
	CodeSeriesArgument = "series-argument" // a value or ratio that no series can serve
)
