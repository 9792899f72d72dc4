package units

import (
	_ "embed"
	"math/big"
	"slices"
	"strings"
)

// Constant is a constant of nature. Uncertainty is the standard uncertainty;
// nil means that the value is exact by definition of the SI. Rational is false
// where the value is exact but irrational and is given to 60 digits.
type Constant struct {
	Symbol      string
	Spellings   []string // ASCII and other spellings
	Name        string
	Value       *big.Rat // SI
	Uncertainty *big.Rat
	Rational    bool
	Unit        string
	Type        Type
	Source      string
}

//go:embed constants.txt
var constantText string

// Constants lists the constants that the package knows, in a fixed order.
func Constants() []Constant {
	var out []Constant
	for _, f := range tableRows(constantText, 7, 6) {
		names := strings.Fields(f[0])
		c := Constant{Symbol: names[0], Spellings: names[1:], Name: f[1], Unit: f[4], Type: Type{Dim: mustDim(f[5])}, Source: f[6]}
		c.Value, c.Rational = mustFactor(f[2])
		if f[3] != "" {
			c.Uncertainty, _ = mustFactor(f[3])
		}
		out = append(out, c)
	}
	return out
}

// ConstantNamed finds a constant by symbol, spelling or name.
func ConstantNamed(name string) (Constant, bool) {
	for _, c := range Constants() {
		if c.Symbol == name || c.Name == name || slices.Contains(c.Spellings, name) {
			return c, true
		}
	}
	return Constant{}, false
}
