package units

import (
	"math"
	"math/big"
	"slices"
	"sort"
	"sync"
)

// e24 is the series E24 of IEC 60063:2015 over one decade, times 100. E12, E6
// and E3 are every second, fourth and eighth of its values.
var e24 = [24]int{
	100, 110, 120, 130, 150, 160, 180, 200, 220, 240, 270, 300,
	330, 360, 390, 430, 470, 510, 560, 620, 680, 750, 820, 910,
}

// e192 is the series E192 of IEC 60063:2015 over one decade, times 100: 10^(i/192)
// rounded to three digits, but for 9.20, which the rule makes 9.19. E96 and E48 are
// every second and fourth of its values.
var e192 = sync.OnceValue(func() (out []int) {
	for i := range 192 {
		out = append(out, int(math.Round(100*math.Pow(10, float64(i)/192))))
	}
	out[slices.Index(out, 919)] = 920
	return out
})

// Series returns one decade of a series of IEC 60063 ("E3" to "E192"), rising,
// times 100: 100 for 1.0 to 910 for 9.1. ok is false for another name.
func Series(name string) (values []int, ok bool) {
	all, n := e24[:], map[string]int{"E3": 3, "E6": 6, "E12": 12, "E24": 24, "E48": 48, "E96": 96, "E192": 192}[name]
	if n > len(e24) {
		all = e192()
	}
	for i := 0; n > 0 && i < len(all); i += len(all) / n {
		values = append(values, all[i])
	}
	return values, n > 0
}

// NearestPreferred returns the value of the series nearest to v by ratio; of two that
// are equally near, the lower. It complains about an unknown series and about
// a v that is not positive.
func NearestPreferred(v *big.Rat, series string) (*big.Rat, *Error) {
	lo, hi, err := neighbours(v, series)
	if err != nil {
		return nil, err
	}
	// v/lo <= hi/v  <=>  v*v <= lo*hi
	if new(big.Rat).Mul(v, v).Cmp(new(big.Rat).Mul(lo, hi)) <= 0 {
		return lo, nil
	}
	return hi, nil
}

// PreferredAbove returns the lowest value of the series that is not below v.
func PreferredAbove(v *big.Rat, series string) (*big.Rat, *Error) {
	_, hi, err := neighbours(v, series)
	return hi, err
}

// PreferredBelow returns the highest value of the series that is not above v.
func PreferredBelow(v *big.Rat, series string) (*big.Rat, *Error) {
	lo, _, err := neighbours(v, series)
	return lo, err
}

// neighbours returns the values of the series at or below and at or above v.
func neighbours(v *big.Rat, series string) (lo, hi *big.Rat, err *Error) {
	values, err := seriesOf(series)
	if err != nil {
		return nil, nil, err
	}
	if v.Sign() <= 0 {
		return nil, nil, &Error{Code: CodeSeriesArgument, Msg: "a preferred value is greater than 0", Hint: ""}
	}
	lead := leadOf(v)
	m := new(big.Rat).Mul(v, pow10(2-lead)) // 100 <= m < 1000
	i := sort.Search(len(values), func(i int) bool { return new(big.Rat).SetInt64(int64(values[i])).Cmp(m) >= 0 })
	at := func(i int) *big.Rat {
		n, e := int64(1000), lead-2
		if i < len(values) {
			n = int64(values[i])
		}
		return new(big.Rat).Mul(new(big.Rat).SetInt64(n), pow10(e))
	}
	hi = at(i)
	if hi.Cmp(v) == 0 {
		return hi, hi, nil
	}
	return at(i - 1), hi, nil // i > 0: values[0] is 100, and m is above it
}

func seriesOf(name string) ([]int, *Error) {
	values, ok := Series(name)
	if !ok {
		return nil, &Error{Code: CodeSeriesUnknown, Msg: "\"" + Clip(name) + "\" is not a series of preferred values",
			Hint: "IEC 60063 has E3, E6, E12, E24, E48, E96 and E192"}
	}
	return values, nil
}
