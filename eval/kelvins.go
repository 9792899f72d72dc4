package eval

import (
	"slices"
	"strings"

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
// symbol it has, or as a formula of the notes has it in a product or quotient.
func (c *compiler) absolute(name string) bool {
	last := lastName(name)
	if slices.ContainsFunc(onScale, func(s string) bool { return sameSymbol(s, last) }) {
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
			if found || !strings.Contains(text, last) || !strings.ContainsAny(text, "*/·") {
				continue
			}
			if x, _ := formula.Parse(text); x != nil {
				formula.Walk(x.Root, func(n *formula.Node) {
					if n.Kind == formula.NodeBinary && strings.Contains("*·/", n.Word) {
						found = found || slices.ContainsFunc(n.Args, func(a *formula.Node) bool { return factorNamed(a, last) })
					}
				})
			}
		}
	}
	return found
}

// factorNamed says that a factor is a name, or a power of it.
func factorNamed(n *formula.Node, name string) bool {
	switch {
	case n.Kind == formula.NodeName:
		return lastName(n.Path.Text()) == name
	case n.Kind == formula.NodeParen, n.Kind == formula.NodeBinary && n.Word == "^":
		return factorNamed(n.Args[0], name)
	}
	return false
}
