package eval

import (
	"fmt"
	"strings"
)

// unusedInputs asks that no logic input floats.
var unusedInputs = &builtin{
	name: "unused-inputs",
	rule: "Every logic input is tied, pulled or driven; a pull inside the part counts. Looked at: pins of type input and clock that are not flagged optional. " +
		"Bidirectional pins without a net are left to the firmware, which makes them outputs or pulls them.",
	source: "common practice",
	run: func(c *compiler, b *builtin) {
		for _, m := range c.placedParts() {
			var inputs []*pin
			for _, q := range m.part.pins {
				if q.onlyReads() && !(q.has("optional") && m.pinNets[q] == nil) {
					inputs = append(inputs, q)
				}
			}
			if len(inputs) == 0 {
				continue
			}
			cl := c.builtClaim(b, m.ref, "No logic input of "+m.label()+" floats.", m.entry)
			var floating []string
			for _, q := range inputs {
				cl.entries = append(cl.entries, q.entry)
				if why := c.floats(m, q); why != "" {
					floating = append(floating, q.row.Name+" "+why)
				}
			}
			if len(floating) > 0 {
				cl.settle(Failed, strings.Join(floating, "; "))
			} else {
				cl.settle(Passed, fmt.Sprintf("each of %d inputs is tied, pulled or driven", len(inputs)))
			}
		}
	},
}

// floats says why an input has no level, "" where it has one or where the
// check of the net's drivers says it.
func (c *compiler) floats(m *component, q *pin) string {
	n := m.pinNets[q]
	switch {
	case q.pulledInside():
		return ""
	case n == nil:
		return "is not joined and has no pull inside"
	case c.levelSource(n, joint{comp: m, pin: q}) != "":
		return ""
	}
	others := 0
	for _, j := range n.pinsOf() {
		if j.pin.reads() && (j.comp != m || j.pin != q) {
			others++
		}
	}
	if others > 0 {
		return "" // drivers.NET
	}
	return "stands on " + n.name + ", where nothing sets a level"
}
