package eval

import (
	"cmp"
	"fmt"

	"guardband/eval/record"
)

// samePads asks that an alternate stands on the lands of the original: the
// package is the one drawn, and each pad falls on the net it is drawn on. The
// rows of a circuit join pins by name, the copper joins them by number.
func (c *compiler) samePads(cl *claim, m *component, q *part, swapped *compiler) {
	p := m.part
	if p.pack != "" && q.pack != "" && m.landPattern() == p.pack && !samePackage(p.pack, q.pack) {
		cl.settle(record.Failed, fmt.Sprintf("package: %s has %s, but %s is drawn", q.id, q.pack, p.pack))
	}
	now, ok := swapped.comps.get(m.ref)
	if !ok || len(p.pins) == 0 || len(q.pins) == 0 {
		return // the check of the pins says what is lacking
	}
	theirs := now.byNumber()
	for _, old := range p.pins {
		for _, k := range old.row.Numbers {
			mine, other := m.drawnNet(old), theirs[k]
			if other == nil || other.row.Type == "not connected" {
				continue // a count of pads that differs is told by the check of the pins
			}
			n := now.drawnNet(other)
			switch {
			case netName(n) == netName(mine):
			case n == nil && other.row.Type != "do not connect" && other.row.Name != old.row.Name:
				cl.lacks("no value", fmt.Sprintf("pad %s of %s, %s, stands on %s, and no row joins a pin of that name", k, m.ref, other.row.Name, netName(mine)), "name the pins of "+q.id+" as the row of "+m.ref+" does, or place it in a design of its own")
			default:
				cl.settle(record.Failed, fmt.Sprintf("pad %s is drawn on %s for %s, and %s needs it on %s for %s",
					k, cmp.Or(netName(mine), "no net"), old.row.Name, q.id, cmp.Or(netName(n), "no net"), other.row.Name))
			}
		}
	}
}

// byNumber are the noted pins of a placed part by their numbers.
func (m *component) byNumber() map[string]*pin {
	out := map[string]*pin{}
	if m.part == nil {
		return out
	}
	for _, q := range m.part.pins {
		for _, k := range q.row.Numbers {
			out[k] = q
		}
	}
	return out
}
