package units

import (
	"math/big"
	"regexp"
)

// Irrational factors to 60 digits and more, so that no float64 comes near
// them. π: OEIS A000796; ln 10: OEIS A002392. The tests compute both anew.
const (
	piDigits   = "3.14159265358979323846264338327950288419716939937510582097494459"
	ln10Digits = "2.30258509299404568401799145468436420760110148862877297603332790"
	// √0.6, computed; the tests square it.
	sqrt06Digits = "0.774596669241483377035853079956479922166584341058318165317514753"
)

// mustFactor works out a factor of the tables: decimal numbers, pi, ln10 and
// sqrt0.6 joined by "*" and "/", from left to right. exact is false where an
// irrational number takes part. It panics on anything else, which the tests of
// the tables show at once.
func mustFactor(s string) (r *big.Rat, exact bool) {
	r, exact = big.NewRat(1, 1), true
	for _, term := range factorTerm.FindAllStringSubmatch(s, -1) {
		n, ok := factorWord(term[2])
		exact = exact && ok
		if term[1] == "/" {
			r.Quo(r, n)
		} else {
			r.Mul(r, n)
		}
	}
	return r, exact
}

var factorTerm = regexp.MustCompile(`([*/]?)([^*/]*)`)

func factorWord(w string) (n *big.Rat, exact bool) {
	exact = true
	switch w {
	case "pi":
		w, exact = piDigits, false
	case "ln10":
		w, exact = ln10Digits, false
	case "sqrt0.6":
		w, exact = sqrt06Digits, false
	}
	n, ok := new(big.Rat).SetString(w)
	if !ok {
		panic("units: bad factor " + w)
	}
	return n, exact
}
