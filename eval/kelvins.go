package eval

import (
	"slices"
	"strings"

	"guardband/eval/circuit"
	"guardband/eval/formula"
	"guardband/units"
)

// This file tells a temperature in kelvins from a difference. A number in K is a
// difference, unless its name or the way it is used says that it counts from
// absolute zero: 20 K of rise is not below 20 °C.

// onScale are the symbols of the trade for a temperature of its own.
var onScale = []string{"ambient", "T_A", "T_J", "T_C", "T_CASE", "T_STG"}

// readKelvins makes differences of columns in kelvins that are no temperature.
func (c *compiler) readKelvins(name string, all []columns) {
	for _, cols := range all {
		for _, v := range []*formula.Value{cols.lo, cols.typ, cols.hi} {
			if v != nil && v.Type.Kind == units.Kelvin && !c.absolute(name) {
				v.Type.Kind = units.Plain
			}
		}
	}
}

// absolute says that a number in kelvins counts from absolute zero: by the
// symbol it has, or as a formula of the notes multiplies it with the Boltzmann
// constant. A rise divided by a thermal resistance stays a rise.
func (c *compiler) absolute(name string) bool {
	last := lastName(name)
	if slices.ContainsFunc(onScale, func(s string) bool { return circuit.SameSymbol(s, last) }) {
		return true
	}
	found := false
	for _, b := range c.blocks {
		for _, e := range b.Entries {
			text := e.RHS.S
			if e.Label == "criterion" {
				body, _, _ := ownMargin(e.Value)
				text = body.S
			}
			if found || !strings.Contains(text, last) || !strings.Contains(text, "k") {
				continue
			}
			if x, _ := formula.Parse(text); x != nil {
				formula.Walk(x.Root, func(n *formula.Node) {
					names := factors(n)
					found = found || slices.Contains(names, last) && (slices.Contains(names, "k_B") || slices.Contains(names, "kB"))
				})
			}
		}
	}
	return found
}

// factors are the names that a product or quotient multiplies and divides,
// powers of them included.
func factors(n *formula.Node) []string {
	switch {
	case n.Kind == formula.NodeName:
		return []string{lastName(n.Path.Text())}
	case n.Kind == formula.NodeParen, n.Kind == formula.NodeBinary && n.Word == "^":
		return factors(n.Args[0])
	case n.Kind == formula.NodeBinary && strings.Contains("*·/", n.Word):
		return append(factors(n.Args[0]), factors(n.Args[1])...)
	}
	return nil
}
