package units

import (
	"math/big"
	"strings"
)

// Exact is a right-hand side of literals alone, worked out: one literal, or a
// centre with one amount after "±".
type Exact struct {
	Deviated      bool
	Min, Typ, Max *big.Rat // SI; the same number where it is one literal
	Type          Type
	Unit          *Unit // of the literal or centre; may be shared, not to be changed
}

// Reader reads many right-hand sides one after another. Numbers of one value
// are one number, as far as it remembers: the values of a design repeat. One
// serves one goroutine.
type Reader struct{ recent [256]recentRat }

type recentRat struct {
	q ratio
	r *big.Rat // nil where the place is free
}

// NewReader returns a Reader that has read nothing.
func NewReader() *Reader { return &Reader{} }

// rat is q.rat, or the number made of an equal ratio before.
func (r *Reader) rat(q ratio) *big.Rat {
	// A product with the golden ratio spreads the bits (Knuth, The Art of
	// Computer Programming, volume 3, section 6.4).
	at := &r.recent[(uint64(q.num)*0x9e3779b97f4a7c15+uint64(q.den)*0xc2b2ae3d27d4eb4f)>>56]
	if at.r == nil || at.q != q {
		*at = recentRat{q, q.rat()}
	}
	return at.r
}

// Exact reads the forms in which nearly all values stand, "3.3 V" and
// "3.3 V ± 2 %", in machine words. It gives what Split, ParseLiteral and
// Deviate give together, or ok false: for every other form, for what does not
// fit, and for whatever is wrong or doubtful, so that it is told in one place.
func (r *Reader) Exact(s string) (x Exact, ok bool) {
	pm := strings.Index(s, "±")
	if pm < 0 {
		l, q, ok := readWhole(s, true)
		if !ok {
			return Exact{}, false
		}
		v := r.rat(q)
		x = Exact{Min: v, Typ: v, Max: v}
		return x, x.describe(&l)
	}
	if pm == 0 || strings.Contains(s, "min") { // a column word, or the minute
		return Exact{}, false
	}
	l, centre, ok := readWhole(strings.TrimRight(s[:pm], " "), true)
	if !ok {
		return Exact{}, false
	}
	a, amount, ok := readWhole(strings.TrimLeft(s[pm+len("±"):], " "), false)
	if !ok || !l.takes(&a) {
		return Exact{}, false
	}
	if a.k.relative {
		if amount, ok = amount.times(centre.abs()); !ok {
			return Exact{}, false
		}
	}
	lo, okLo := centre.plus(amount.neg())
	hi, okHi := centre.plus(amount)
	if !okLo || !okHi {
		return Exact{}, false
	}
	x = Exact{Deviated: true, Min: r.rat(lo), Typ: r.rat(centre), Max: r.rat(hi)}
	return x, x.describe(&l)
}

// readWhole reads a text that is one literal to its end, on no scale with an
// offset.
func readWhole(s string, signed bool) (l scanner, q ratio, ok bool) {
	l.s = s
	end, ok, err := l.literal(0, signed)
	if !ok || err != nil || end != len(s) || l.k.unit.Offset != nil {
		return l, q, false
	}
	if q, ok = l.n.small(l.k); ok && l.n.neg {
		q = q.neg()
	}
	return l, q, ok
}

// takes says that an amount fits a centre beyond doubt: plain quantities of
// one type, or a share of a plain quantity that is no share itself.
func (l *scanner) takes(a *scanner) bool {
	c, t := l.k.unit.Type, a.k.unit.Type
	c.Wave, t.Wave = l.wave, a.wave
	if c.Kind != Plain || t.Kind != Plain || l.k.relative {
		return false
	}
	return a.k.relative || c == t
}

// describe notes type and unit; it fails where the literal is doubtful.
func (x *Exact) describe(l *scanner) bool {
	x.Type = l.k.unit.Type
	x.Type.Wave = l.wave
	typed := l.typed()
	if l.wave == NoWave && typed == "" {
		x.Unit = &l.k.unit
	} else {
		u := l.k.unit
		u.Type.Wave, u.Typed = l.wave, typed
		x.Unit = &u
	}
	return Doubt(Quantity{SI: x.Typ, Type: x.Type, Unit: *x.Unit, Text: l.s}) == nil
}
