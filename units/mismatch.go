package units

import "strings"

// mismatch complains about two types that do not go together, in words, with
// the likely slip as a hint.
func mismatch(l, r Type, lText, rText string) *Error {
	msg := lText + " is " + described(l, lText) + ", " + rText + " is " + described(r, rText)
	return &Error{Code: CodeTypeMismatch, Msg: msg, Hint: slip(l, r, lText, rText)}
}

// described calls a literal without a unit what it is.
func described(t Type, text string) string {
	if t == (Type{}) {
		if q, err := ParseLiteral(text); err == nil && q.Unit.Symbol == "" {
			return "a number without a unit"
		}
	}
	return t.Words()
}

// slips are pairs of quantities that are taken for one another.
var slips = []struct{ a, b, hint string }{
	{"A", "C", "mA is a current, mAh a charge: charge = current * time"},
	{"C", "J", "mAh is a charge, Wh an energy: multiply the charge by the voltage"},
	{"W", "J", "W is a power, Wh an energy: energy = power * time"},
	{"s", "Hz", "a time is 1 over a frequency"},
	{"Ω", "S", "a conductance is 1 over a resistance"},
	{"K", "C", "C is the coulomb; degrees are written °C"},
	{"K W-1", "K", "a thermal resistance is in K/W: multiply it by a power"},
	{"K W-1", "W K-1", "a thermal resistance is 1 over a thermal conductance"},
	{"F", "K", "F is the farad; degrees Fahrenheit are written °F"},
	{"m", "m2", "an area is in mm², a length in mm"},
	{"m", "s", "m is the metre; milliseconds are ms, minutes min"},
	{"V", "V s1/2", "a noise density is per √Hz: multiply it by the root of the bandwidth"},
	{"A", "A s1/2", "a noise density is per √Hz: multiply it by the root of the bandwidth"},
	{"V", "W", "a power is a voltage times a current"},
	{"A", "W", "a power is a voltage times a current"},
	{"A", "V", "divide the voltage by a resistance, or multiply the current by one"},
	{"T", "Wb", "a flux is a flux density times an area"},
	{"T", "A m-1", "a flux density is the field strength times the permeability"},
	{"S", "s", "S is the siemens; the second is s"},
	{"K", "", "a temperature is not a plain number: write °C or K"},
	{"K", "Ω", "K is the kelvin; kilo-ohms are kΩ"},
}

func slip(l, r Type, lText, rText string) string {
	for _, s := range slips {
		a, b := mustDim(s.a), mustDim(s.b)
		if l.Dim == a && r.Dim == b || l.Dim == b && r.Dim == a {
			return s.hint
		}
	}
	switch {
	case strings.HasSuffix(rText, "%") && r.Dim.IsZero():
		return "a share is a factor: write x * (1 + " + rText + ")"
	case strings.HasSuffix(lText, "%") && l.Dim.IsZero():
		return "a share is a factor: write x * (1 + " + lText + ")"
	case l.Dim.IsZero() || r.Dim.IsZero():
		return "was the unit left out?"
	}
	return ""
}

func (c pair) levelError() *Error {
	e := mismatch(c.l, c.r, c.lText, c.rText)
	e.Code = CodeTypeLevel
	switch {
	case c.l.Kind == Level && c.r.Kind == Level:
		e.Hint = "convert both to one reference first"
	case c.l.Kind == Level && c.r.Kind == LevelStep, c.r.Kind == Level && c.l.Kind == LevelStep:
		e.Hint = "a level is compared with a level: state the reference of the decibels, e.g. 3 dBm"
	default:
		e.Hint = "convert between decibels and plain quantities with the functions made for it"
	}
	return e
}

// senseMismatch complains of two quantities that only share a dimension.
func senseMismatch(l, r Type, lText, rText string) *Error {
	hint := "an angular frequency, as 1 / (R * C), is 2 * pi times a frequency: multiply or divide by 2 * pi"
	if l.Sense == Torque || r.Sense == Torque {
		hint = "the work of a torque is the torque times the angle in radians"
	}
	return &Error{Code: CodeTypeSense, Msg: lText + " is " + l.Words() + ", " + rText + " is " + r.Words(), Hint: hint}
}

func waveMismatch(l, r Type, lText, rText string) *Error {
	name := func(t Type) string {
		if t.Wave == NoWave {
			return "untagged (d.c. or instantaneous)"
		}
		return t.Wave.String()
	}
	hint := "for a sine, rms(x) and peak(x) convert; rms = peak / sqrt(2), pp = 2 * peak"
	if l.Wave == NoWave || r.Wave == NoWave {
		hint = "state which value is meant, e.g. 5 V rms, or convert it with rms(x) or peak(x) for a sine"
	}
	return &Error{Code: CodeTypeWave, Msg: lText + " is " + name(l) + ", " + rText + " is " + name(r), Hint: hint}
}
