package units

import "math/big"

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

func displayOf(t Type) *display {
	plain := display{factor: big.NewRat(1, 1), one: true}
	switch {
	case t.Kind == Level:
		plain.symbol = "dB" + t.Ref
	case t.Kind == LevelStep && t.Dim.IsZero():
		plain.symbol = "dB"
	case t.Kind == LevelStep && t.Dim == dimNames["m"].inverse():
		plain.symbol = "dB/m"
	case t.Kind == LevelStep:
		plain.symbol = "dB·" + t.Dim.String()
	case t.Kind == Point && t.Dim == temperature:
		plain.symbol = "°C"
		plain.offset = big.NewRat(27315, 100)
	case t.Dim.IsZero():
	case t.Sense == Angular:
		plain.symbol = "rad/s"
	default:
		if d := dimensions()[t.Dim]; d != nil && d.display != nil {
			return d.display
		}
		plain.symbol = t.Dim.String()
	}
	return &plain
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
