package units

import "math/big"

// maxAgainst is where FormatAgainst stops adding digits.
const maxAgainst = 60

// FormatAgainst prints v, to the nearest, with as many digits as it takes that
// the printed number stands to the printed limit as v does to limit (<, =, >).
// The limit is taken as Format and as FormatAgainst(limit, v, ...) print it;
// where the first has been rounded past v itself, only the second can agree,
// and both should then be printed by FormatAgainst. Values that 60 digits
// cannot part are printed with 60.
func FormatAgainst(v, limit *big.Rat, t Type, st Style) string {
	st.Round = Nearest
	want := v.Cmp(limit)
	if want == 0 {
		return Format(limit, t, st)
	}
	plain := printed(limit, t, st)
	reachable := v.Cmp(plain.value()) == want
	var sh shown
	for n := 0; n <= maxAgainst; n++ {
		if n > 0 && n <= st.digits() {
			continue // the first try used these digits already
		}
		if n > 0 {
			st.Digits = n
		}
		sh = printed(v, t, st)
		both := printed(limit, t, st)
		got := sh.value()
		if got.Cmp(both.value()) == want && (!reachable || got.Cmp(plain.value()) == want) {
			break
		}
	}
	return sh.text(st.ASCII)
}

func printed(v *big.Rat, t Type, st Style) shown {
	sh := show(t, st)
	sh.number(v, st)
	return sh
}

// FormatUncertain prints a value with its uncertainty u, both in one unit: u
// with two significant digits, rounded up so that it never shrinks, the value
// to the same decimal place ("3.300 V ± 0.012 V"). Two digits are the custom
// of JCGM 100:2008, 7.2.6.
func FormatUncertain(v, u *big.Rat, t Type, st Style) string {
	u = new(big.Rat).Abs(u)
	if u.Sign() == 0 {
		return Format(v, t, st)
	}
	sh := show(t, st)
	x, dx := v, u
	if sh.offset != nil {
		x = new(big.Rat).Sub(x, sh.offset)
	}
	if !sh.one {
		x, dx = new(big.Rat).Quo(x, sh.factor), new(big.Rat).Quo(dx, sh.factor)
	}
	place := leadOf(dx) - 1
	d, w := roundAt(x, place, Nearest), roundAt(dx, place, Up)
	if w.lead() > place+1 { // 0.0996 became 0.100
		place++
		d, w = roundAt(x, place, Nearest), roundAt(dx, place, Up)
	}
	symbol, prefix, shift := sh.symbol, "", 0
	if sh.auto != nil {
		larger := d
		if d.digits == "" || w.lead() > d.lead() {
			larger = w
		}
		symbol, prefix, shift = sh.auto.choose(larger)
	}
	unit := prefix + symbol
	amount := unit
	if sh.offset != nil {
		amount = kelvinDifference(Unit{Symbol: symbol, Offset: sh.offset}).Symbol
		if sh.factor.Cmp(lookupTable().one.unit.Factor) != 0 {
			amount = symbol // °F: the amount after ± is read as a difference
		}
	}
	pm := " ± "
	if st.ASCII {
		unit, amount, pm = asciiUnit(unit), asciiUnit(amount), " +- "
	}
	return joinUnit(padDec(d, shift, place), unit, t.Wave) + pm + joinUnit(padDec(w, shift, place), amount, t.Wave)
}

func joinUnit(number, unit string, w Wave) string {
	if unit != "" {
		number += " " + unit
	}
	return number + waveTail(w)
}

// padDec writes d*10^-shift with zeros down to the place 10^place.
func padDec(d dec, shift, place int) string {
	digits := d.digits
	if digits == "" {
		digits = "0"
		d.exp = place
	}
	for ; d.exp > place; d.exp-- {
		digits += "0"
	}
	return string(appendDec(nil, dec{d.neg, digits, d.exp}, shift))
}
