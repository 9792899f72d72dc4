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
