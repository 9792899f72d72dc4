package checks

import (
	"slices"

	"guardband/eval/circuit"
)

// This file says what stands on a net besides that which the formula of its
// level counts. Each of it may bring or take a current that is not known, so a
// level worked out without it is open.

// besides words what else stands on a net, "" where nothing does: all but
// resistors to rails and those counted by name, capacitors, logic pins and pins
// whose leakage is noted, and what joins nothing. plugs are the connectors on
// it, taken to have nothing plugged in.
func besides(c *board, n *circuit.Net, counted ...*circuit.Component) (other string, plugs []string) {
	for _, j := range n.Joined {
		m := j.Comp
		if m.NotFitted() || m.Open() || holds(counted, m) {
			continue
		}
		far := m.Opposite(n)
		switch kind := m.Sort(); {
		case m.IsResistor():
			if far = m.FarEnd(n); far != nil && far != n && !c.IsRail(far) && !c.Quiet(far, m) {
				return m.Ref + " leads on to " + far.Name, nil
			}
		case kind == "capacitor" || kind == "test point":
		case m.IsConnector():
			plugs = append(plugs, m.Ref)
		case (kind == "switch" || kind == "jumper") && m.Unsaid() && far != nil && (c.IsRail(far) || c.Quiet(far, m)):
			// nobody presses it
		case j.Pin == nil:
			return m.Ref + " is on " + n.Name, nil
		case j.Pin.Reads() || j.Pin.Drives() || leakageOf(c, j) != "":
		case slices.Contains([]string{"not connected", "do not connect"}, j.Pin.Row.Type):
		default:
			return j.Name() + " is on " + n.Name + ", and its leakage is not noted", nil
		}
	}
	return "", plugs
}

// leakageOf names the leakage of a pin, "" where the notes have none.
func leakageOf(c *board, j circuit.Joint) string {
	_, text := c.PinFact(j.Comp, "spec", j.Pin, circuit.DimAmpere, "I_LEAK", "I_LKG", "I_LI", "I_L", "I_CEO")
	return text
}
