// Package bound finds what a formula can reach over given ranges of its
// inputs, and proves or breaks statements about it.
//
// It imports nothing else of this project: a formula is a flat program over
// numbered inputs, all in SI base units. Constants and range ends are exact
// rationals; the search runs in outward-rounded float64 intervals, and ties
// are decided in exact rationals.
package bound

import (
	"math"
	"math/big"
)

// Reg names a value inside a Builder's graph; the zero Reg is invalid.
type Reg int32

// Op is an operation of the program.
type Op uint8

const (
	OpConst Op = iota + 1
	OpPi
	OpVar
	OpNeg
	OpAbs
	OpAdd
	OpSub
	OpMul
	OpDiv
	OpPowInt // integer exponent in the instruction
	OpPow    // real exponent; base > 0 (base 0 with exponent > 0 is 0)
	OpSqrt
	OpExp
	OpLn
	OpLog10
	OpSin
	OpCos
	OpTan
	OpAsin
	OpAcos
	OpAtan
	OpMin
	OpMax
	OpTable // piecewise linear; undefined outside its points
	OpLess  // a < b
	OpLessEq
	OpEqual
	OpAnd
	OpOr
	OpNot
	OpIf // cond, then, else
	OpTrue
)

// Knot is one point of a piecewise linear table; X rises strictly.
type Knot struct{ X, Y *big.Rat }

// Input is what is known of one input. Its ends must be in order and N must lie
// in W; where that is not so (Consistent) nothing is concluded from it.
type Input struct {
	// Lo and Hi bound the wide set W: all values the facts do not exclude.
	// nil is unbounded.
	Lo, Hi *big.Rat
	// SureLo and SureHi are the ends of the sure set N, the printed columns.
	// Both nil: N is empty.
	SureLo, SureHi *big.Rat
	// Centre is the nominal value, nil where none is stated.
	Centre *big.Rat
	// Spread marks a value that varies from piece to piece (tolerance columns).
	// Others may stand anywhere in their range and are taken at their worst
	// under every analysis.
	Spread bool
}

// Outcome is what was shown of a predicate.
type Outcome uint8

const (
	Undecided Outcome = iota
	Proven            // true and defined on all of W
	Broken            // false at a point of N whatever the inputs without N are
)

// Cause says why a predicate stayed undecided.
type Cause uint8

const (
	CauseNone          Cause = iota
	CauseWide                // false or undefined somewhere in W, but not in N: Lacking names the inputs
	CauseUndefined           // no breaking point, but a point where an operation is undefined
	CauseBudget              // boxes spent
	CauseTie                 // equal but for rounding, not decided
	CauseContradiction       // the sets of an input contradict each other: Lacking names the inputs
)

// Undefined tells an operation that has no value at a point.
type Undefined struct {
	Reg Reg // in the builder's graph
	Op  Op
	At  []*big.Rat // per program input
}

// Decision is the answer of Decide.
type Decision struct {
	Outcome Outcome
	Cause   Cause
	// Point is, when Broken, the inputs at which the predicate is false,
	// checked exactly; nil entries are inputs without N (any value breaks it).
	Point     []*big.Rat
	Undefined *Undefined
	// Lacking are the program inputs whose wide set keeps the predicate from
	// being proven: taking N in its place would prove it, tried one by one,
	// then all together.
	Lacking []int
	Boxes   int
	Gap     float64 // how far from decided (SI units of the nearest comparison), NaN if unknown
}

// Options bound the search; the zero value is the default.
type Options struct {
	Boxes int // most boxes, 0 = 20000
	// Explain is how many times as many boxes may go into which inputs keep an
	// undecided statement open; 0 = 4, negative: none.
	Explain int
	Ends    Ends
}

// Ends says which ends of a range are sought; the one that is not counts as
// unbounded.
type Ends uint8

const (
	BothEnds Ends = iota
	LowEnd
	HighEnd
)

// wants tells whether the low (side +1) or the high end (side -1) is sought.
func (e Ends) wants(side int) bool {
	return e == BothEnds || (e == LowEnd) == (side > 0)
}

// unsought is an end that was not looked for.
func unsought(side int) End {
	v := math.Inf(-side)
	return End{Outer: v, Inner: v, Unbounded: true}
}

// End is one end of a range: no value lies beyond Outer; Inner was attained
// at At. Exact is the end itself when it is a rational that was attained.
type End struct {
	Outer, Inner float64
	Exact        *big.Rat
	At           []*big.Rat // per program input; nil entries where unbounded
	Unbounded    bool
}

// Extent is the range of a number over a set.
type Extent struct {
	Lo, Hi    End
	Undefined *Undefined // some point has no value; the ends speak of the others
	Empty     bool       // no defined point at all
	Boxes     int
}
