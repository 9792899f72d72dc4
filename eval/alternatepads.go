package eval

import (
	"cmp"
	"fmt"

	"guardband/eval/circuit"
	"guardband/eval/record"
)

// samePads asks that an alternate stands on the lands of the original: the
// package is the one drawn, and each pad falls on the net it is drawn on. The
// rows of a circuit join pins by name, the copper joins them by number.
func (c chooser) samePads(cl *Claim, m *circuit.Component, q *circuit.Part, swapped *compiler) {
	p := m.Part
	if p.Pack != "" && q.Pack != "" && circuit.LandPattern(m) == p.Pack && !circuit.SamePackage(p.Pack, q.Pack) {
		cl.Settle(record.Failed, fmt.Sprintf("package: %s has %s, but %s is drawn", q.ID, q.Pack, p.Pack))
	}
	now, ok := swapped.Comps.Get(m.Ref)
	if !ok || len(p.Pins) == 0 || len(q.Pins) == 0 {
		return // the check of the pins says what is lacking
	}
	theirs := now.ByNumber()
	for _, old := range m.Pins() {
		for _, k := range old.Row.Numbers {
			mine, other := m.DrawnNet(old), theirs[k]
			if other == nil || other.Row.Type == "not connected" {
				continue // a count of pads that differs is told by the check of the pins
			}
			n := now.DrawnNet(other)
			switch {
			case circuit.NetName(n) == circuit.NetName(mine):
			case n == nil && other.Row.Type != "do not connect" && other.Row.Name != old.Row.Name:
				cl.Lacks("no value", fmt.Sprintf("pad %s of %s, %s, is on %s, and no row connects a pin of that name",
					k, m.Ref, other.Row.Name, circuit.NetName(mine)), "name the pins of "+q.ID+" as the row of "+m.Ref+
					" does, or place it in a design of its own")
			default:
				cl.Settle(record.Failed, fmt.Sprintf("pad %s is drawn on %s for %s, and %s needs it on %s for %s",
					k, cmp.Or(circuit.NetName(mine), "no net"), old.Row.Name, q.ID, cmp.Or(circuit.NetName(n), "no net"), other.Row.Name))
			}
		}
	}
}
