package units

import (
	"math/big"
	"sync"
)

// display is the way a dimension is printed if no unit is asked for.
type display struct {
	symbol string
	factor *big.Rat
	offset *big.Rat
	one    bool
	lo, hi int // powers of ten between which prefixes are chosen, multiples of 3
	small  *display
	below  int // small serves where the first digit is below 10^below
}

// displayRow gives a dimension its unit. Prefixes run from lo to hi.
var displayRows = []struct {
	dim, symbol, factor string
	lo, hi              int
}{
	{"V", "V", "1", -15, 12}, {"A", "A", "1", -15, 12}, {"W", "W", "1", -15, 12}, {"Ω", "Ω", "1", -15, 12},
	{"F", "F", "1", -15, 12}, {"H", "H", "1", -15, 12}, {"Hz", "Hz", "1", -6, 12}, {"s", "s", "1", -15, 0},
	{"J", "J", "1", -15, 12}, {"C", "C", "1", -15, 12}, {"S", "S", "1", -15, 12}, {"T", "T", "1", -15, 3},
	{"Wb", "Wb", "1", -15, 3}, {"N", "N", "1", -9, 12}, {"Pa", "Pa", "1", -9, 12}, {"m", "m", "1", -15, 3},
	{"kg", "g", "1/1000", -12, 3}, {"mol", "mol", "1", -12, 3}, {"cd", "cd", "1", -9, 6},
	{"V s1/2", "V/√Hz", "1", -15, 0}, {"A s1/2", "A/√Hz", "1", -18, 0}, {"V2 s", "V²/Hz", "1", 0, 0},
	{"V s-1", "V/s", "1", -9, 12}, {"A s-1", "A/s", "1", -9, 12}, {"m s-1", "m/s", "1", -9, 3},
	{"m s-2", "m/s²", "1", 0, 0}, {"V m-1", "V/m", "1", -9, 12}, {"A m-1", "A/m", "1", -9, 9},
	{"K W-1", "K/W", "1", -3, 3}, {"W K-1", "W/K", "1", -9, 3}, {"W m-1 K-1", "W/(m·K)", "1", -3, 3},
	{"J K-1", "J/K", "1", -12, 6}, {"K-1", "ppm/K", "1/1000000", 0, 0}, {"V K-1", "V/K", "1", -12, 3},
	{"A K-1", "A/K", "1", -15, 3}, {"Ω K-1", "Ω/K", "1", -9, 6}, {"Ω m", "Ω·m", "1", -12, 9},
	{"Ω m-1", "Ω/m", "1", -9, 6}, {"S m-1", "S/m", "1", -9, 9}, {"F m-1", "F/m", "1", -15, 0},
	{"H m-1", "H/m", "1", -12, 0}, {"V-1", "V⁻¹", "1", 0, 0}, {"A-1", "A⁻¹", "1", 0, 0},
	{"K s-1", "K/s", "1", -6, 3}, {"A V-2", "A/V²", "1", -12, 3}, {"A V-1", "S", "1", -15, 12},
	{"V T-1", "V/T", "1", -9, 6}, {"A W-1", "A/W", "1", -9, 3}, {"s m-1", "s/m", "1", -15, 0},
	{"V2", "V²", "1", 0, 0}, {"A2", "A²", "1", 0, 0}, {"A2 s", "A²·s", "1", 0, 0},
	{"W m-2", "W/m²", "1", -12, 6}, {"kg m-3", "kg/m³", "1", 0, 0}, {"kg m-2", "kg/m²", "1", 0, 0},
	{"m3 s-1", "m³/s", "1", 0, 0}, {"Pa s", "Pa·s", "1", -6, 3}, {"J kg-1", "J/kg", "1", -6, 9},
	{"J kg-1 K-1", "J/(kg·K)", "1", -3, 6}, {"C m-1", "C/m", "1", -15, 3}, {"A m-2", "A/m²", "1", -9, 12},
	{"cd m-2", "cd/m²", "1", -6, 9}, {"K", "K", "1", -9, 0}, {"s-1/2", "√Hz", "1", 0, 0}, {"m-1", "m⁻¹", "1", 0, 0},
	{"m2", "m²", "1", 0, 0}, {"m3", "m³", "1", 0, 0},
}

type displays struct {
	byDim          map[Dim]*display
	celsius, plain *display
	decibel        *display
}

var displayTable = sync.OnceValue(func() *displays {
	one := big.NewRat(1, 1)
	t := &displays{byDim: make(map[Dim]*display, len(displayRows))}
	for _, r := range displayRows {
		d := &display{symbol: r.symbol, factor: one, one: r.factor == "1", lo: r.lo, hi: r.hi}
		if !d.one {
			d.factor, _ = mustFactor(r.factor)
		}
		t.byDim[mustDim(r.dim)] = d
	}
	offset, _ := mustFactor("273.15")
	t.celsius = &display{symbol: "°C", factor: one, one: true, offset: offset}
	t.plain = &display{factor: one, one: true}
	t.decibel = &display{symbol: "dB", factor: one, one: true}
	t.byDim[mustDim("m2")].small = &display{symbol: "mm²", lo: -6}
	t.byDim[mustDim("m2")].below = -2
	t.byDim[mustDim("m3")].small = &display{symbol: "mm³", lo: -9}
	t.byDim[mustDim("m3")].below = -4
	return t
})

func displayOf(t Type) *display {
	all := displayTable()
	switch {
	case t.Kind == Level:
		return &display{symbol: "dB" + t.Ref, factor: all.plain.factor, one: true}
	case t.Kind == LevelStep && t.Dim.IsZero():
		return all.decibel
	case t.Kind == LevelStep && t.Dim == dimNames["m"].inverse():
		return &display{symbol: "dB/m", factor: all.plain.factor, one: true}
	case t.Kind == LevelStep:
		return &display{symbol: "dB·" + t.Dim.String(), factor: all.plain.factor, one: true}
	case t.Kind == Point && t.Dim == temperature:
		return all.celsius
	case t.Dim.IsZero():
		return all.plain
	}
	if d := all.byDim[t.Dim]; d != nil {
		return d
	}
	return &display{symbol: t.Dim.String(), factor: all.plain.factor, one: true}
}

// prefixSymbols are the prefixes of 10^-18, 10^-15 ... 10^12.
var prefixSymbols = [...]string{"a", "f", "p", "n", "µ", "m", "", "k", "M", "G", "T"}

// choose picks the prefix that leaves one to three digits before the point,
// within the limits of the display. shift is the prefix's power of ten.
func (p *display) choose(d dec) (symbol, prefix string, shift int) {
	if d.digits == "" {
		return p.symbol, "", 0
	}
	lead := d.lead()
	if p.small != nil && lead < p.below {
		return p.small.symbol, "", p.small.lo
	}
	if p.lo == p.hi {
		return p.symbol, "", 0
	}
	e := lead
	if e < 0 {
		e -= 2
	}
	shift = e / 3 * 3
	switch {
	case shift < p.lo && lead < p.lo-3, shift > p.hi && lead > p.hi+5:
		return p.symbol, "", 0 // far out: an exponent says it better
	case shift < p.lo:
		shift = p.lo
	case shift > p.hi:
		shift = p.hi
	}
	return p.symbol, prefixSymbols[shift/3+6], shift
}
