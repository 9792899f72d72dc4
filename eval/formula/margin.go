package formula

import (
	"math/big"

	"guardband/eval/bound"
	"guardband/units"
)

// Margin is what a claim asks beyond bare truth.
type Margin struct {
	Share    *big.Rat        // 0.05 for 5 %; nil when Absolute is set or no margin
	Of       string          // "limit" (default), "span", "nominal"
	Absolute *units.Quantity // 0.2 V; a °C or °F amount counts as a difference
	Off, End int             // unused by Compile but handed back in errors of the margin itself: Code starts with "margin-"
}

// Test is one comparison of a criterion, for display and for its margin.
// Slack >= 0 (> 0 where Op is "<" or ">") is the comparison without margin.
type Test struct {
	Op          string // "<", "<=", ">", ">=", "==", "!="; membership gives two tests
	Left, Right Value
	LimitRight  bool      // which side is the limit
	NoLimit     bool      // == and !=, or inside a set with no bound: no margin is shown
	Negated     bool      // stands under a not, an or, a condition or any(): shown, but its slack is no margin of the claim
	Slack       bound.Reg // limit minus value, signed so that >= 0 holds; 0 when NoLimit
	Ratio       bound.Reg // Slack / |base|; 0 where a percentage has no meaning (point, level, base exactly zero)
	Need        bound.Reg // margin asked in the unit of Slack; 0 when none
	Holds       bound.Reg // the comparison alone, without margin
	Base        string    // "limit", "span", "nominal": what Ratio is of
	wording
}

// Put is the criterion with other registers in the place of its own.
func (k Compiled) Put(put func(bound.Reg) bound.Reg) Compiled {
	k.Reg, k.Plain = put(k.Reg), put(k.Plain)
	tests := make([]Test, len(k.Tests))
	for i, t := range k.Tests {
		t.Left, t.Right = t.Left.put(put), t.Right.put(put)
		t.Slack, t.Ratio, t.Need, t.Holds = put(t.Slack), put(t.Ratio), put(t.Need), put(t.Holds)
		tests[i] = t
	}
	k.Tests = tests
	return k
}

func (v Value) put(put func(bound.Reg) bound.Reg) Value {
	v.Reg = put(v.Reg)
	for _, end := range []**Value{&v.Lo, &v.Hi} {
		if *end != nil {
			x := (*end).put(put)
			*end = &x
		}
	}
	return v
}

// Compiled is a checked criterion.
type Compiled struct {
	Class Class     // Bool (or Bad)
	Reg   bound.Reg // with the margin included
	Plain bound.Reg // without margin, to tell broken from short
	Tests []Test
}
