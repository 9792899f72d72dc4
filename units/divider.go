package units

import (
	"math/big"
	"sort"
)

// DividerAsk says which divider is looked for: Ratio is output over input,
// bottom/(top+bottom), between 0 and 1. For a feedback network it is the
// reference over the output.
type DividerAsk struct {
	Ratio     *big.Rat
	Series    string   // of both resistors
	Tolerance *big.Rat // of both, relative: 1/100 for 1 %; nil is 0
	// Least and Most bound top+bottom in ohms; nil leaves it to one decade
	// from 10 kΩ to 100 kΩ.
	Least, Most *big.Rat
}

// Divider is one pair and what it makes of the ratio, all exact. Error is
// Ratio/asked - 1; WorstLow and WorstHigh are the same with both resistors at
// the ends of their tolerance that are worst for it.
type Divider struct {
	Top, Bottom                *big.Rat // ohms
	Ratio                      *big.Rat
	Error, WorstLow, WorstHigh *big.Rat
}

// BestDivider returns the n pairs whose ratio comes nearest to the one asked
// for, best first; among equals the higher total resistance, which wastes
// less, comes first. Fewer come back if fewer exist.
func BestDivider(ask DividerAsk, n int) ([]Divider, *Error) {
	values, err := seriesOf(ask.Series)
	if err != nil {
		return nil, err
	}
	one := big.NewRat(1, 1)
	if ask.Ratio == nil || ask.Ratio.Sign() <= 0 || ask.Ratio.Cmp(one) >= 0 {
		return nil, &Error{Code: CodeSeriesArgument, Msg: "the ratio of a divider lies between 0 and 1", Hint: "it is output over input"}
	}
	tol := ask.Tolerance
	if tol == nil {
		tol = new(big.Rat)
	}
	if tol.Sign() < 0 || tol.Cmp(one) >= 0 {
		return nil, &Error{Code: CodeSeriesArgument, Msg: "a tolerance lies between 0 and 100 %", Hint: ""}
	}
	least, most := ask.Least, ask.Most
	if least == nil {
		least = pow10(4)
	}
	if most == nil {
		most = pow10(5)
	}
	if least.Sign() <= 0 || least.Cmp(most) > 0 {
		return nil, &Error{Code: CodeSeriesArgument, Msg: "the bounds of the total resistance are positive and rise", Hint: ""}
	}
	found := candidates(ask.Ratio, values, ask.Series, least, most)
	sort.SliceStable(found, func(i, j int) bool { return better(found[i], found[j]) })
	found = found[:min(n, len(found))]
	for i := range found {
		found[i].worst(ask.Ratio, tol)
	}
	return found, nil
}

// candidates pairs every bottom resistor with the two tops next to the exact
// one; no other top comes nearer.
func candidates(ratio *big.Rat, values []int, series string, least, most *big.Rat) []Divider {
	gain := new(big.Rat).Inv(ratio)
	gain.Sub(gain, big.NewRat(1, 1)) // top/bottom
	from := new(big.Rat).Mul(least, ratio)
	var out []Divider
	for e := leadOf(from) - 1; pow10(e).Cmp(most) < 0; e++ {
		for _, v := range values {
			bottom := new(big.Rat).Mul(new(big.Rat).SetInt64(int64(v)), pow10(e-2))
			lo, hi, err := neighbours(new(big.Rat).Mul(bottom, gain), series)
			if err != nil {
				continue
			}
			for _, top := range []*big.Rat{lo, hi} {
				total := new(big.Rat).Add(top, bottom)
				if total.Cmp(least) < 0 || total.Cmp(most) > 0 {
					continue
				}
				d := Divider{Top: top, Bottom: bottom, Ratio: new(big.Rat).Quo(bottom, total)}
				d.Error = relative(d.Ratio, ratio)
				out = append(out, d)
				if lo.Cmp(hi) == 0 {
					break
				}
			}
		}
	}
	return out
}

func relative(got, asked *big.Rat) *big.Rat {
	r := new(big.Rat).Quo(got, asked)
	return r.Sub(r, big.NewRat(1, 1))
}

func better(a, b Divider) bool {
	if c := new(big.Rat).Abs(a.Error).Cmp(new(big.Rat).Abs(b.Error)); c != 0 {
		return c < 0
	}
	return a.Bottom.Cmp(b.Bottom) > 0
}

// worst fills in the ends: the ratio is least with the top high and the bottom
// low, since it falls with the top and rises with the bottom.
func (d *Divider) worst(asked, tol *big.Rat) {
	one := big.NewRat(1, 1)
	low, high := new(big.Rat).Sub(one, tol), new(big.Rat).Add(one, tol)
	d.WorstLow = relative(dividerRatio(d.Top, d.Bottom, high, low), asked)
	d.WorstHigh = relative(dividerRatio(d.Top, d.Bottom, low, high), asked)
}

func dividerRatio(top, bottom, topFactor, bottomFactor *big.Rat) *big.Rat {
	t, b := new(big.Rat).Mul(top, topFactor), new(big.Rat).Mul(bottom, bottomFactor)
	return b.Quo(b, t.Add(t, b))
}
