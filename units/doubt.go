package units

import (
	"math/big"
	"strings"
	"sync"
)

// plausible gives, for a dimension, the powers of ten between which the values
// of a design lie. The bounds are wide; they serve only to doubt a capital
// letter. From common practice.
var plausible = []struct {
	dim    string
	lo, hi int
}{
	{"V", -9, 5}, {"A", -15, 4}, {"W", -12, 6}, {"Ω", -6, 14}, {"F", -15, 4}, {"H", -12, 3},
	{"Hz", -3, 13}, {"s", -14, 10}, {"C", -19, 7}, {"J", -19, 9}, {"m", -10, 5}, {"kg", -9, 4},
	{"T", -12, 2}, {"S", -12, 5}, {"N", -9, 6}, {"Pa", -6, 9},
}

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
	other := swapCase(typed)
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

// swapCase changes a leading "m" to "M" and the like.
func swapCase(s string) string {
	switch s[0] {
	case 'm':
		return "M" + s[1:]
	case 'M':
		return "m" + s[1:]
	case 'p':
		return "P" + s[1:]
	case 'P':
		return "p" + s[1:]
	}
	return ""
}

// plausibleRange maps a dimension to its row of plausible.
var plausibleRange = sync.OnceValue(func() map[Dim][2]int {
	m := make(map[Dim][2]int, len(plausible))
	for _, p := range plausible {
		m[mustDim(p.dim)] = [2]int{p.lo, p.hi}
	}
	return m
})

func implausible(v *big.Rat, d Dim) bool {
	r, known := plausibleRange()[d]
	if !known {
		return false
	}
	lead := leadOf(v)
	return lead < r[0] || lead > r[1]
}
