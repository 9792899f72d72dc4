// Package units reads, calculates with, and prints the quantities that an
// electronics engineer types: exact decimal numbers with SI dimensions.
//
// It imports nothing else of this project. Every number read from text is an
// exact rational (math/big.Rat) in SI base units; no float64 stands between
// the text and the value. The few irrational factors (the degree of angle, the
// circular mil, the oersted, the gilbert, the neper) are kept to 60 digits and
// marked in the catalogue.
//
// Numbers without a dimension: %, ‰, ppm, ppb, radian, degree, bit (1), byte
// (8), turn, cycle, sample. Hertz, becquerel, baud, bit/s, sample/s, rad/s and
// rpm are all "per second"; rpm and rps count turns, so 60 rpm is 1 Hz, while
// an angular velocity in rad/s is 2π times that. Torque and energy share a
// dimension too: Sense tells both pairs apart. Conductance and
// transconductance are one.
//
// The *big.Rat in units, types and quantities may be shared: treat them as
// read-only.
package units

import "math/big"

// Dim holds the exponents of the seven SI base dimensions in halves, so that
// V/√Hz has a place: length, mass, time, electric current, thermodynamic
// temperature, amount of substance, luminous intensity. Metre is {2,0,...}.
type Dim [7]int8

// Kind tells how a number of one dimension may be combined with others.
type Kind uint8

const (
	// Plain is an ordinary quantity; of temperature dimension, a difference.
	Plain Kind = iota
	// Point is a temperature on a scale, as written in °C or °F; SI in kelvin.
	Point
	// Kelvin is a quantity written in kelvin that may count from absolute zero:
	// a difference that also stands for a point when compared with one.
	Kelvin
	// LevelStep is a difference in decibels; its number is the decibels.
	LevelStep
	// Level is an absolute level such as dBm or dBV; its number is decibels
	// above Type.Ref.
	Level
)

// Wave tags an alternating quantity; untagged is d.c. or instantaneous.
type Wave uint8

const (
	NoWave Wave = iota
	RMS
	Peak
	PeakToPeak
)

// Sense tells quantities apart that share a dimension. What has none goes
// with either.
type Sense uint8

const (
	NoSense Sense = iota
	Cyclic        // turns per second: Hz, rpm
	Angular       // radians per second: rad/s, °/s
	Energy
	Torque
)

// Type is what the dimension checker knows of a number.
type Type struct {
	Dim   Dim
	Kind  Kind
	Wave  Wave
	Sense Sense
	Ref   string // of a Level: what 0 dB stands for, as typed after "dB" ("m", "V", "µV")
}

// Unit is one unit as typed or chosen for printing. Its value in SI is
// number*Factor + Offset. Offset is nil but for °C and °F points.
type Unit struct {
	Symbol string // canonical spelling, "kΩ", "µA", "°C/W"
	Typed  string // as it was typed, for messages; "" means Symbol
	Type   Type
	Factor *big.Rat
	Offset *big.Rat
}

// Quantity is an exact number with its type and the unit it was typed in.
type Quantity struct {
	SI   *big.Rat // in SI base units; kelvin for temperatures, decibels for levels
	Type Type
	Unit Unit
	Text string // the literal as typed, trimmed
}

// Error is a complaint about a text, with the byte range it speaks of.
// The caller lifts Off and End to a place in a file.
type Error struct {
	Off, End int
	Code     string // stable, "unit-unknown"; see codes.go
	Msg      string
	Hint     string // how to mend it; may be empty
}

func (e *Error) Error() string {
	if e.Hint == "" {
		return e.Msg
	}
	return e.Msg + " (" + e.Hint + ")"
}
