package checks

import (
	"slices"

	"guardband/eval/circuit"
)

// This file says which supplies cannot be up without which others: a
// regulator's output needs its input and what enables it.

// follows says that a net is up whenever those of a set are: it is one of them,
// hangs on one, or is made from them by a part that nothing can turn off.
func follows(c *board, n *circuit.Net, live, seen map[*circuit.Net]bool) bool {
	switch {
	case n == nil || seen[n]:
		return false
	case live[n]:
		return true
	}
	seen[n] = true
	if n.Feed != nil && !n.Feed.By.Unsaid() && follows(c, n.Feed.From, live, seen) {
		return true
	}
	return slices.ContainsFunc(circuit.SupplyOutputs(n), func(j circuit.Joint) bool { return alwaysOn(c, j.Comp, n, live, seen) })
}

// alwaysOn says that a part makes a supply whenever those of a set are up.
func alwaysOn(c *board, m *circuit.Component, out *circuit.Net, live, seen map[*circuit.Net]bool) bool {
	inputs := 0
	for _, q := range m.Pins() {
		at := m.PinNets[q]
		switch {
		case q.Row.Type == "supply" && at != out && !(at != nil && circuit.IsReturn(at)):
			if inputs++; !follows(c, at, live, seen) {
				return false
			}
		case q.Reads() && !enabledWith(c, m, q, at, live, seen):
			return false
		}
	}
	return inputs > 0
}

// enabledWith says that an input of a part which makes a supply, any of which
// may enable it, is at its active level whenever those of a set are up.
func enabledWith(c *board, m *circuit.Component, q *circuit.Pin, at *circuit.Net, live, seen map[*circuit.Net]bool) bool {
	low := q.Has("active low")
	switch {
	case at == nil:
		return q.Has("pull-up") && !low || q.Has("pull-down") && low
	case circuit.IsReturn(at):
		return low
	case low:
		return false
	case c.IsRail(at):
		return live[at] || follows(c, at, live, seen)
	}
	r := c.ReachOf(at)
	if len(r.Drivers(circuit.Joint{Comp: m, Pin: q}))+len(r.Gates)+len(r.Between) > 0 || !resistorsAlone(r) {
		return false
	}
	for _, far := range r.Rails {
		if circuit.IsReturn(far) || !live[far] && !follows(c, far, live, seen) {
			return false
		}
	}
	return len(r.Rails) > 0
}

// resistorsAlone says that nothing hangs together but pins of parts with a
// supply, resistors, and what passes nothing while nobody touches it.
func resistorsAlone(r *circuit.Reach) bool {
	return alone(r, []string{"resistor", "capacitor", "test point", "switch", "jumper"})
}

// alone says that nothing hangs together but pins of parts with a supply that
// read, drive or do nothing, connectors, resistors and some kinds.
func alone(r *circuit.Reach, kinds []string) bool {
	for _, n := range r.Nets {
		for _, j := range n.Joined {
			m := j.Comp
			logic := j.Pin != nil && m.Part.HasSupply() && (j.Pin.Reads() || j.Pin.Drives() || j.Pin.Row.Type == "not connected")
			if !logic && !m.Open() && !m.IsConnector() && !m.IsResistor() && !slices.Contains(kinds, m.Sort()) {
				return false
			}
		}
	}
	return true
}
