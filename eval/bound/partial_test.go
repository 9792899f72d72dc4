package bound

import (
	"math/big"
	"testing"

	"pgregory.net/rapid"
)

// partialInput draws a set with missing ends, or without a sure set.
func partialInput(t *rapid.T) Input {
	in := randomInput(t)
	switch rapid.IntRange(0, 5).Draw(t, "missing") {
	case 0:
		in.Lo = nil
	case 1:
		in.Hi = nil
	case 2:
		in.Lo, in.Hi = nil, nil
	case 3, 4:
		in.SureLo, in.SureHi = nil, nil
	}
	return in
}

// within draws an exact point of a wide set.
func within(t *rapid.T, in Input) *big.Rat {
	lo, hi := in.Lo, in.Hi
	reach := big.NewRat(rapid.Int64Range(1, 1000).Draw(t, "reach"), 1)
	switch {
	case lo == nil && hi == nil:
		lo, hi = new(big.Rat).Neg(reach), reach
	case lo == nil:
		lo = new(big.Rat).Sub(hi, reach)
	case hi == nil:
		hi = new(big.Rat).Add(lo, reach)
	}
	at := new(big.Rat).Sub(hi, lo)
	at.Mul(at, big.NewRat(rapid.Int64Range(0, 16).Draw(t, "at"), 16))
	return at.Add(at, lo)
}

// TestPartialSets draws formulas over sets with missing ends and inputs
// without a sure set: what is proven holds at exact points of the wide sets,
// what is broken is false at the point named whatever those inputs are, and
// numbers stay within their bounds.
func TestPartialSets(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := NewBuilder()
		x := []Reg{b.Var(0), b.Var(1), b.Var(2)}
		p := b.Extract(formula(t, b, x, 2), statement(t, b, x, 1))
		in := make([]Input, len(p.Inputs()))
		for i := range in {
			in[i] = partialInput(t)
		}
		d, e := Decide(p, 1, in, Options{Boxes: 200}), Range(p, 0, in, Options{Boxes: 200})
		for range 20 {
			at := make([]*big.Rat, len(in))
			for i := range in {
				at[i] = within(t, in[i])
			}
			truth, decided := Holds(p, 1, at)
			if d.Outcome == Proven && decided && !truth {
				t.Fatalf("proven, but false at %v", at)
			}
			lo, hi, _, undefined := At(p, 0, at)
			if undefined == nil && (hi < e.Lo.Outer || lo > e.Hi.Outer || e.Empty) {
				t.Fatalf("%v..%v outside %v..%v at %v", lo, hi, e.Lo.Outer, e.Hi.Outer, at)
			}
			if v := p.evaluate(p.ends[0], at)[p.roots[0]]; v.empty() && e.Undefined == nil {
				t.Fatalf("no value at %v", at)
			}
			if d.Outcome != Broken {
				continue
			}
			for i := range in {
				if d.Point[i] != nil {
					at[i] = d.Point[i]
				} else if in[i].hasSure() {
					t.Fatalf("no value of input %d in the breaking point", i)
				}
			}
			if truth, decided = Holds(p, 1, at); truth || !decided {
				t.Fatalf("the breaking point %v does not break at %v", d.Point, at)
			}
		}
	})
}
