package bound

import (
	"math/big"
	"testing"

	"github.com/stretchr/testify/require"
)

// graph has sums, products and quotients of three inputs, one root per step.
func graph() (*Builder, []Reg) {
	b := NewBuilder()
	x, y, z := b.Var(0), b.Var(1), b.Var(2)
	p := b.Binary(OpMul, b.Binary(OpSub, x, y), z)
	q := b.Binary(OpDiv, b.Binary(OpAdd, p, b.Const(big.NewRat(1, 3))), b.PowInt(x, 2))
	return b, []Reg{p, q, b.Unary(OpAbs, q), b.Binary(OpLess, p, q), b.Binary(OpSub, x, b.Const(big.NewRat(7, 1)))}
}

func someInputs() []Input {
	in := make([]Input, 3)
	for i := range in {
		lo, hi := big.NewRat(int64(2*i+3), 2), big.NewRat(int64(2*i+4), 2)
		in[i] = Input{Lo: lo, Hi: hi, SureLo: lo, SureHi: hi}
	}
	return in
}

// A low end sought with few boxes never lies above the range, and is at it for
// numbers that rise or fall in every input.
func TestLowEndIsBelowTheRange(t *testing.T) {
	b, roots := graph()
	for _, r := range roots[:3] {
		p := b.Extract(r)
		in := someInputs()[:len(p.Inputs())]
		e := Range(p, 0, in, Options{})
		least := Range(p, 0, in, Options{Boxes: 16, Ends: LowEnd})
		require.LessOrEqual(t, least.Lo.Outer, e.Lo.Inner)
	}
	p := b.Extract(roots[0])
	e := Range(p, 0, someInputs(), Options{})
	require.InEpsilon(t, e.Lo.Outer, Range(p, 0, someInputs(), Options{Ends: LowEnd}).Lo.Outer, 1e-12)
	in := someInputs()
	in[0].Lo = nil
	require.Less(t, Range(p, 0, in, Options{Ends: LowEnd}).Lo.Outer, -1e300)
}

// Registers are found again in a graph that has grown many times over.
func TestGraphKeepsOneOfEach(t *testing.T) {
	b := NewBuilder()
	var regs []Reg
	for round := range 2 {
		at := 0
		for i := range 300 {
			x, k := b.Var(i), b.Const(big.NewRat(int64(i), 7))
			for _, r := range []Reg{x, k, b.Binary(OpAdd, x, k), b.Binary(OpMul, x, b.Var(i/2)), b.PowInt(x, 3)} {
				if round == 0 {
					regs = append(regs, r)
				} else {
					require.Equal(t, regs[at], r)
				}
				at++
			}
		}
	}
}
