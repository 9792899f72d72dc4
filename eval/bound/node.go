package bound

import "math/big"

// Operations that the builder makes itself. A comparison becomes a statement
// about the sign of a difference, so that shared inputs cancel in it.
const (
	opSign    Op = OpTrue + 1 + iota // the sign of a is one of those in the mask n
	opFalse                          // the other truth value
	opNothing                        // a - a: 0 where a has a value
	opUnit                           // a / a: 1 where a has a value that is not 0
)

// Signs a difference may have; a mask holds several.
const (
	signNeg  = 1
	signZero = 2
	signPos  = 4
	signAny  = signNeg | signZero | signPos
)

// node is one value of the graph. Operands always have smaller numbers than
// the node itself, so rising register numbers are an order of evaluation.
type node struct {
	op      Op
	total   bool  // has a value at every point
	truth   bool  // is a predicate
	n       int32 // input number, exponent, sign mask, or index of a constant or table
	a, b, c Reg
	vars    []int // inputs it depends on, rising
}

type nodeKey struct {
	op      Op
	n       int32
	a, b, c Reg
}

type constant struct {
	rat  *big.Rat
	ival ival
}

// table is a piecewise linear function with exact knots.
type table struct {
	knots  []Knot
	slopes []*big.Rat // between the knots
}
