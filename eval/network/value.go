package network

import (
	"math/big"

	"guardband/eval/bound"
)

// Unit is what a fresh input of the graph is counted in, all SI.
type Unit uint8

const (
	Ratio Unit = iota
	Volt
	Ampere
	Ohm
	Watt
)

// Leaves holds what is known of the inputs of a graph. The caller keeps them,
// since its facts are inputs of the same graph.
type Leaves interface {
	// Input is what is known of graph input i.
	Input(i int) bound.Input
	// New enters a fresh input and returns its register. name says what it is
	// to a reader; about names the element or net it belongs to.
	New(name, about string, unit Unit, in bound.Input) bound.Reg
}

var (
	zero = new(big.Rat)
	one  = big.NewRat(1, 1)
)

// graph is the arithmetic of the package over a builder; register 0 is no
// number, and an absent injection or electromotive force counts as 0.
type graph struct{ *bound.Builder }

func (g graph) zero() bound.Reg { return g.Const(zero) }
func (g graph) one() bound.Reg  { return g.Const(one) }

// is tells that a register is the exact constant n.
func (g graph) is(r bound.Reg, n int64) bool {
	c, ok := g.ConstOf(r)
	return ok && c.IsInt() && c.Num().IsInt64() && c.Num().Int64() == n
}

func (g graph) add(a, b bound.Reg) bound.Reg {
	switch {
	case a == 0:
		return b
	case b == 0:
		return a
	}
	return g.Binary(bound.OpAdd, a, b)
}

func (g graph) sub(a, b bound.Reg) bound.Reg {
	switch {
	case b == 0:
		return a
	case a == 0:
		return g.Unary(bound.OpNeg, b)
	}
	return g.Binary(bound.OpSub, a, b)
}

// mul multiplies; an absent factor makes an absent product.
func (g graph) mul(a, b bound.Reg) bound.Reg {
	if a == 0 || b == 0 {
		return 0
	}
	return g.Binary(bound.OpMul, a, b)
}

func (g graph) div(a, b bound.Reg) bound.Reg {
	if a == 0 {
		return 0
	}
	return g.Binary(bound.OpDiv, a, b)
}

func (g graph) neg(a bound.Reg) bound.Reg { return g.sub(0, a) }

// number is a register for a sum that may be absent.
func (g graph) number(a bound.Reg) bound.Reg {
	if a == 0 {
		return g.zero()
	}
	return a
}

func (g graph) and(a, b bound.Reg) bound.Reg {
	switch {
	case a == 0:
		return b
	case b == 0:
		return a
	}
	return g.Binary(bound.OpAnd, a, b)
}

func (g graph) or(a, b bound.Reg) bound.Reg { return g.Binary(bound.OpOr, a, b) }

func (g graph) not(a bound.Reg) bound.Reg { return g.Unary(bound.OpNot, a) }

func (g graph) atMost(a, b bound.Reg) bound.Reg {
	return g.Binary(bound.OpLessEq, g.number(a), g.number(b))
}

func (g graph) below(a, b bound.Reg) bound.Reg {
	return g.Binary(bound.OpLess, g.number(a), g.number(b))
}

func (g graph) equal(a, b bound.Reg) bound.Reg {
	return g.Binary(bound.OpEqual, g.number(a), g.number(b))
}
