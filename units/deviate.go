package units

import "math/big"

// Deviate works out centre + the plus amounts and centre - the minus amounts,
// exactly. The magnitudes of the amounts count. Percent and the like are of
// |centre|; an amount in °C or °F is a difference in kelvin. A centre without
// a number (SI nil) stands for 0 of the amounts' type; percentages are then
// plain ratios. The offsets of an error are left for the caller to set.
func Deviate(centre Quantity, plus, minus []Quantity) (lo, hi Quantity, err *Error) {
	if centre.SI == nil {
		if centre, err = zeroLike(append(append([]Quantity{}, plus...), minus...)); err != nil {
			return lo, hi, err
		}
	}
	up, err := deviation(centre, plus)
	if err != nil {
		return lo, hi, err
	}
	down, err := deviation(centre, minus)
	if err != nil {
		return lo, hi, err
	}
	lo, hi = centre, centre
	lo.SI = new(big.Rat).Sub(centre.SI, down)
	hi.SI = new(big.Rat).Add(centre.SI, up)
	lo.Text, hi.Text = lo.String(), hi.String()
	return lo, hi, nil
}

// zeroLike is the centre of "± 2 mV": 0 of the amounts' type.
func zeroLike(amounts []Quantity) (Quantity, *Error) {
	if len(amounts) == 0 {
		return Quantity{}, &Error{0, 0, CodeFormDeviation, "a tolerance has no amount", "write e.g. ± 2 %"}
	}
	a := amounts[0]
	for _, b := range amounts[1:] {
		if b.Type.Dim != a.Type.Dim {
			a, b = firstDimensioned(a, b), a
			if isRelative(b.Unit) {
				return Quantity{}, &Error{0, 0, CodeFormPercent, "percent needs a value before \"±\" to be a share of", "write e.g. 3.3 V ± 2 %"}
			}
		}
	}
	z := Quantity{SI: new(big.Rat), Type: a.Type, Unit: a.Unit, Text: "0"}
	if a.Type.Kind == Point || a.Type.Kind == Kelvin {
		z.Type.Kind = Plain
		z.Unit = kelvinDifference(a.Unit)
	}
	if isRelative(a.Unit) {
		// a share of nothing stated is the ratio itself; the unit of plain
		// numbers keeps deviation from taking it as a share of 0
		z.Unit = lookupTable().one.unit
	}
	return z, nil
}

func firstDimensioned(a, b Quantity) Quantity {
	if a.Type.Dim.IsZero() {
		return b
	}
	return a
}

// kelvinDifference is the unit in which a difference given in u is printed.
func kelvinDifference(u Unit) Unit {
	k := lookupTable().spelled["K"].unit
	k.Type.Kind = Plain
	if u.Offset == nil {
		k.Symbol, k.Factor = u.Symbol, u.Factor
	}
	return k
}

// deviation adds the magnitudes of the amounts.
func deviation(centre Quantity, amounts []Quantity) (*big.Rat, *Error) {
	sum := new(big.Rat)
	for _, a := range amounts {
		d, err := amount(centre, a)
		if err != nil {
			return nil, err
		}
		sum.Add(sum, d)
	}
	return sum, nil
}

func amount(centre, a Quantity) (*big.Rat, *Error) {
	size := new(big.Rat).Set(a.SI)
	if a.Unit.Offset != nil {
		size.Sub(size, a.Unit.Offset)
	}
	size.Abs(size)
	if isRelative(a.Unit) && a.Type.Dim.IsZero() && a.Type.Kind == Plain {
		return share(centre, a, size)
	}
	if e := amountType(centre, a); e != nil {
		return nil, e
	}
	return size, nil
}

// share works out a percentage of the centre.
func share(centre, a Quantity, size *big.Rat) (*big.Rat, *Error) {
	switch {
	case isRelative(centre.Unit):
		return nil, percentError(Leaf{}, centre.Text)
	case centre.Type.Kind == Point || centre.Type.Kind == Level:
		return nil, &Error{0, 0, CodeFormPercent, "percent of " + centre.Type.Words() + " has no meaning",
			"write the amount, e.g. ± 2 K or ± 1 dB"}
	case centre.Text == "0" && centre.SI.Sign() == 0 && centre.Unit.Symbol == "" && centre.Type == Type{}:
		return size, nil
	}
	return size.Mul(size, new(big.Rat).Abs(centre.SI)), nil
}

// amountType checks that an amount is a difference of the centre's quantity.
func amountType(centre, a Quantity) *Error {
	c, t := centre.Type, a.Type
	if t.Wave != NoWave && t.Wave != c.Wave {
		return waveMismatch(c, t, centre.Text, a.Text)
	}
	switch c.Kind {
	case Level:
		if t.Kind == LevelStep && t.Dim.IsZero() {
			return nil
		}
	case LevelStep:
		if t.Kind == LevelStep && t.Dim == c.Dim {
			return nil
		}
	default:
		if t.Dim == c.Dim && t.Kind != Level && t.Kind != LevelStep {
			return nil
		}
	}
	e := mismatch(c, t, centre.Text, a.Text)
	if t.Dim.IsZero() && t.Kind == Plain && centre.Unit.Symbol != "" {
		e.Hint = "write ± " + a.Text + " " + centre.Unit.Symbol + ", or ± " + a.Text + " %"
	}
	return e
}
