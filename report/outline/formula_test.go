package outline

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval/record"
)

func op(o, t string, a ...record.Math) record.Math { return record.Math{Op: o, Text: t, Args: a} }

func name(s string) record.Math { return op("name", s) }

// Set on one line, a formula binds as it does with its fractions stacked.
func TestEveryOpIsSet(t *testing.T) {
	a, b, c := name("a"), name("b"), name("c")
	sum, product, quotient := op("row", "+", a, b), op("row", "*", a, b), op("fraction", "", a, b)
	for want, m := range map[string]record.Math{
		"1.8 V":              op("number", "1.8 V"),
		"a ≤ b":              op("row", "<=", a, b),
		"a ≤ b ≥ c":          {Op: "chain", Signs: []string{"<=", ">="}, Args: []record.Math{a, b, c}},
		"a · b":              product,
		"−a":                 op("neg", "", a),
		"not a":              op("not", "", a),
		"max(a, b)":          op("call", "max", a, b),
		"[a, b]":             op("list", "", a, b),
		"if a then b else c": op("if", "", a, b, c),
		"a inside b to c":    op("inside", "inside", a, b, c),
		"a within b":         op("inside", "within", a, b),
		"a to b":             op("range", "", a, b),
		"words":              op("text", "words"),
		"√(a)":               op("root", "", a),
		"kept":               op("no such op", "kept"),
		"a^c":                op("power", "", a, c),
		"(a + b) / c":        op("fraction", "", sum, c),
		"a · b / c":          op("fraction", "", product, c),
		"c / (a · b)":        op("fraction", "", c, product),
		"a / b / c":          op("fraction", "", quotient, c),
		"c / (a / b)":        op("fraction", "", c, quotient),
		"c^(a / b)":          op("power", "", c, quotient),
		"(a · b)^c":          op("power", "", product, c),
		"(1 V to 2 V) / c":   op("fraction", "", op("number", "1 V to 2 V"), c),
	} {
		require.Equal(t, want, strings.ReplaceAll(Plain(MathText(&m)), "\u00a0", " "))
	}
	require.Nil(t, MathText(nil))
}

func TestMissingArgumentsAndDepth(t *testing.T) {
	for _, o := range []string{"row", "chain", "fraction", "power", "root", "neg", "not", "paren", "list", "call", "if", "inside", "range"} {
		require.NotPanics(t, func() { MathText(&record.Math{Op: o}) }, o)
	}
	deep := name("x")
	for range 100_000 {
		deep = op("fraction", "", name("1"), deep)
	}
	require.Contains(t, Plain(MathText(&deep)), "…")
}
