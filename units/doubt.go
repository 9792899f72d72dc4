package units

import (
	"math/big"
	"strings"
)

// Doubt looks at a quantity that was read without complaint and returns a
// warning if its value is implausible for what it measures while the same
// text with the prefix in the other case ("m" for "M", "P" for "p") would not
// be, or if kilo was typed as K; nil otherwise. Offsets count from the start of q.Text.
func Doubt(q Quantity) *Error {
	if q.SI == nil || q.SI.Sign() == 0 || q.Type.Kind != Plain {
		return nil
	}
	typed := q.Unit.Typed
	if typed == "" {
		typed = q.Unit.Symbol
	}
	if strings.HasPrefix(typed, "K") && strings.HasPrefix(q.Unit.Symbol, "k") {
		at := strings.LastIndex(q.Text, typed)
		return &Error{at, at + len(typed), CodeUnitCase, "\"" + typed + "\" is read as " + q.Unit.Symbol, "kilo is a small k; K is the kelvin"}
	}
	if !casePrefix(typed) || !implausible(q.SI, q.Type.Dim) {
		return nil
	}
	other := string(typed[0]^' ') + typed[1:] // the letter in the other case
	u := lookupTable().lookup(other)
	if u == nil || u.unit.Type.Dim != q.Type.Dim || u.unit.Type.Kind != q.Type.Kind {
		return nil
	}
	v := new(big.Rat).Quo(q.SI, q.Unit.Factor)
	v.Mul(v, u.unit.Factor)
	if implausible(v, q.Type.Dim) {
		return nil
	}
	at := max(0, strings.LastIndex(q.Text, typed))
	return &Error{at, at + len(typed), CodeUnitCase, q.Text + " is an unusual value for " + q.Type.Words(),
		"did you mean " + other + "? m is milli and M is mega"}
}

// casePrefix says that a unit starts with a prefix that is another in the
// other case.
func casePrefix(s string) bool { return len(s) >= 2 && strings.IndexByte("mMpP", s[0]) >= 0 }

// implausible says that a value is of an unusual size for its dimension.
func implausible(v *big.Rat, d Dim) bool {
	x := dimensions()[d]
	if x == nil || !x.plausible {
		return false
	}
	lead := leadOf(v)
	return lead < x.lo || lead > x.hi
}
