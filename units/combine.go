package units

// Combine gives the type of "left op right", or says why the two do not go
// together. op is "+", "-", "*" or "/"; anything else is a comparison, whose
// result is the type in which both are compared. leftText and rightText name
// the operands in the message. The offsets of the error are left for the
// caller to set.
//
// Temperatures: a Point less a Point is a difference; a Point and a difference
// make a Point; a Kelvin counts as a difference in + and -, as a Point when
// compared with one. Levels follow the same table with the decibel as the
// difference. Wave forms must agree in + and - and comparisons; an untagged
// factor keeps the other's tag, equal tags cancel in a product or quotient. A
// Sense must not differ in + and - and comparisons, and a plain factor keeps it.
func Combine(op string, left, right Type, leftText, rightText string) (Type, *Error) {
	c := pair{left, right, leftText, rightText}
	switch op {
	case "+", "-":
		return c.sum(op)
	case "*", "/":
		return c.product(op)
	}
	return c.compare()
}

type pair struct {
	l, r         Type
	lText, rText string
}

func logarithmic(t Type) bool { return t.Kind == Level || t.Kind == LevelStep }

func isPoint(t Type) bool { return t.Kind == Point }

func isTemperature(t Type) bool { return t.Dim == temperature && !logarithmic(t) }

// same checks what both sides of a sum or a comparison must share.
func (c pair) same() *Error {
	switch {
	case logarithmic(c.l) != logarithmic(c.r):
		return c.levelError()
	case c.l.Kind == Level || c.r.Kind == Level:
		// a level and a step, or two levels: sum and compare tell them apart
	case c.l.Dim != c.r.Dim:
		return mismatch(c.l, c.r, c.lText, c.rText)
	}
	if c.l.Wave != c.r.Wave {
		return waveMismatch(c.l, c.r, c.lText, c.rText)
	}
	if c.l.Sense != c.r.Sense && c.l.Sense != NoSense && c.r.Sense != NoSense {
		return senseMismatch(c.l, c.r, c.lText, c.rText)
	}
	return nil
}

func (c pair) sum(op string) (Type, *Error) {
	if err := c.same(); err != nil {
		return Type{}, err
	}
	switch {
	case logarithmic(c.l):
		return c.levelSum(op)
	case isTemperature(c.l):
		return c.temperatureSum(op)
	case c.l.Sense == NoSense:
		return c.r, nil
	}
	return c.l, nil
}

func (c pair) temperatureSum(op string) (Type, *Error) {
	difference := Type{Dim: temperature, Wave: c.l.Wave}
	point := Type{Dim: temperature, Kind: Point, Wave: c.l.Wave}
	switch {
	case isPoint(c.l) && isPoint(c.r) && op == "-":
		return difference, nil
	case isPoint(c.l) && isPoint(c.r):
		return Type{}, &Error{Code: CodeTypePoint,
			Msg:  c.lText + " and " + c.rText + " are both temperatures on a scale, and those are not added",
			Hint: "write the second as a difference, " + differenceExample(c.rText)}
	case isPoint(c.l), isPoint(c.r) && op == "+":
		return point, nil
	case isPoint(c.r):
		return Type{}, &Error{Code: CodeTypePoint,
			Msg:  c.rText + " is a temperature on a scale and cannot be taken from " + c.lText + ", a difference",
			Hint: "swap them, or write it as a difference, " + differenceExample(c.rText)}
	}
	return difference, nil
}

// differenceExample shows a literal in °C as kelvins, "e.g. 20 K".
func differenceExample(text string) string {
	if q, err := ParseLiteral(text); err == nil && q.Type.Kind == Point && q.Unit.Symbol == "°C" {
		q.SI.Sub(q.SI, q.Unit.Offset)
		return "e.g. " + Format(q.SI, Type{Dim: temperature}, Style{Unit: &lookupTable().spelled["K"].unit})
	}
	return "e.g. 20 K"
}

func (c pair) levelSum(op string) (Type, *Error) {
	l, r := c.l, c.r
	switch {
	case l.Kind == Level && r.Kind == Level && op == "-" && l.Ref == r.Ref:
		return Type{Kind: LevelStep}, nil
	case l.Kind == Level && r.Kind == Level && op == "-":
		return Type{}, c.levelError()
	case l.Kind == Level && r.Kind == Level:
		return Type{}, &Error{Code: CodeTypeLevel, Msg: c.lText + " and " + c.rText + " are both levels, and those are not added",
			Hint: "convert both to powers, add those, and convert back; a gain is written in dB"}
	case l.Kind == Level && r.Dim.IsZero():
		return l, nil
	case r.Kind == Level && l.Dim.IsZero() && op == "+":
		return r, nil
	case r.Kind == Level && l.Dim.IsZero():
		return Type{}, &Error{Code: CodeTypeLevel, Msg: c.rText + " is a level and cannot be taken from " + c.lText + ", a level difference",
			Hint: "swap them, or write the difference in dB"}
	case l.Kind == Level || r.Kind == Level:
		return Type{}, mismatch(l, r, c.lText, c.rText)
	}
	return l, nil
}

func (c pair) product(op string) (Type, *Error) {
	for _, side := range []struct {
		t    Type
		text string
	}{{c.l, c.lText}, {c.r, c.rText}} {
		switch side.t.Kind {
		case Point:
			return Type{}, &Error{Code: CodeTypePoint, Msg: side.text + " is a temperature on a scale, which is not multiplied or divided",
				Hint: "use a difference (" + differenceExample(side.text) + "), or kelvin(T) for the absolute temperature"}
		case Level:
			return Type{}, &Error{Code: CodeTypeLevel, Msg: side.text + " is " + side.t.Words() + ", which is not multiplied or divided",
				Hint: "convert it to a power or a voltage first"}
		}
	}
	out := Type{Dim: c.l.Dim.Mul(c.r.Dim)}
	if op == "/" {
		out.Dim = c.l.Dim.Div(c.r.Dim)
	}
	switch {
	case c.l.Kind == LevelStep && c.r.Kind == LevelStep && op == "/":
	case c.l.Kind == LevelStep && c.r.Kind == LevelStep, c.r.Kind == LevelStep && op == "/":
		return Type{}, &Error{Code: CodeTypeLevel, Msg: "decibels are not multiplied with decibels, and nothing but decibels is divided by them",
			Hint: "convert " + c.rText + " to a ratio first"}
	case c.l.Kind == LevelStep || c.r.Kind == LevelStep:
		out.Kind = LevelStep
	}
	switch {
	case c.r.Dim.IsZero():
		out.Sense = c.l.Sense
	case c.l.Dim.IsZero() && op == "*":
		out.Sense = c.r.Sense
	}
	wave, err := c.productWave(op)
	out.Wave = wave
	return out, err
}

func (c pair) productWave(op string) (Wave, *Error) {
	switch {
	case c.l.Wave == c.r.Wave:
		return NoWave, nil
	case c.r.Wave == NoWave:
		return c.l.Wave, nil
	case c.l.Wave == NoWave && op == "*":
		return c.r.Wave, nil
	}
	return NoWave, waveMismatch(c.l, c.r, c.lText, c.rText)
}

func (c pair) compare() (Type, *Error) {
	if err := c.same(); err != nil {
		return Type{}, err
	}
	switch {
	case c.l.Kind == Level && c.r.Kind == Level && c.l.Ref == c.r.Ref:
		return c.l, nil
	case c.l.Kind == Level || c.r.Kind == Level:
		return Type{}, c.levelError()
	case !isTemperature(c.l) || c.l.Kind == c.r.Kind:
		return c.l, nil
	}
	return c.compareTemperatures()
}

func (c pair) compareTemperatures() (Type, *Error) {
	point := Type{Dim: temperature, Kind: Point, Wave: c.l.Wave}
	switch {
	case isPoint(c.l) && c.r.Kind == Kelvin, isPoint(c.r) && c.l.Kind == Kelvin:
		return point, nil
	case isPoint(c.l):
		return Type{}, pointError(c.rText, c.lText)
	case isPoint(c.r):
		return Type{}, pointError(c.lText, c.rText)
	}
	return Type{Dim: temperature, Wave: c.l.Wave}, nil
}

func pointError(differenceText, pointText string) *Error {
	return &Error{Code: CodeTypePoint,
		Msg: differenceText + " is a temperature difference, " + pointText + " is a temperature",
		Hint: "if a difference is meant, compare it with one, " + differenceExample(pointText) + "; if " +
			differenceText + " is a temperature, state it on a scale, e.g. 20 °C"}
}

// Negate gives the type of "-x".
func Negate(t Type, text string) (Type, *Error) {
	switch t.Kind {
	case Point:
		return Type{}, &Error{Code: CodeTypePoint, Msg: text + " is a temperature on a scale, which is not negated",
			Hint: "write a negative literal, e.g. -40 °C"}
	case Level:
		return Type{}, &Error{Code: CodeTypeLevel, Msg: text + " is " + t.Words() + ", which is not negated",
			Hint: "write a negative literal, e.g. -10 dBm"}
	case Kelvin:
		t.Kind = Plain
	}
	return t, nil
}

// Power gives the type of x to the power num/den. An even power of a tagged
// quantity drops the tag, as the product of two does; an odd one keeps it.
func Power(t Type, num, den int, text string) (Type, *Error) {
	switch {
	case t.Kind == Point || t.Kind == Level:
		_, err := pair{t, Type{}, text, "the exponent"}.product("*")
		return Type{}, err
	case t.Kind == LevelStep:
		return Type{}, &Error{Code: CodeTypeLevel, Msg: text + " is in decibels, and those have no powers", Hint: "convert it to a ratio first"}
	}
	d, ok := t.Dim.Pow(num, den)
	if !ok {
		return Type{}, &Error{Code: CodeUnitPower, Msg: "this power of " + text + ", " + t.Words() + ", has no dimension",
			Hint: "roots need even exponents, as in sqrt of V^2"}
	}
	out := Type{Dim: d, Wave: t.Wave}
	if t.Wave != NoWave && (den != 1 || num%2 == 0) {
		out.Wave = NoWave
	}
	return out, nil
}
