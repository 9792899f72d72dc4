package eval

import (
	"guardband/eval/circuit"
	"guardband/eval/formula"
)

// This file answers what the circuit asks of the notes.

// VoltageKnown says that the voltage of a net is stated or driven.
func (c *compiler) VoltageKnown(n *circuit.Net) bool { return c.netVoltage(n) != nil }

// Given says that a value of that name is given.
func (c *compiler) Given(name string) bool { _, ok := c.values.Get(name); return ok }

// IsName says whether a formula can hold the text as a bare name.
func (c *compiler) IsName(text string) bool { return isName(text) }

// isName says whether a formula can hold the text as a bare name.
func isName(s string) bool {
	e, errs := formula.Parse(s)
	return len(errs) == 0 && e.Root.Kind == formula.NodeName && len(e.Root.Path.Fields) == 0 && !e.Root.Path.HasArg
}
