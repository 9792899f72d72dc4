package eval

import (
	"slices"
	"strings"
)

// This file says what stands on a net besides that which the formula of its
// level counts. Each of it may bring or take a current that is not known, so a
// level worked out without it is open.

// besides words what else stands on a net, "" where nothing does: all but
// resistors to rails and those counted by name, capacitors, logic pins and pins
// whose leakage is noted, and what joins nothing. plugs are the connectors on
// it, taken to have nothing plugged in.
func (c *compiler) besides(n *net, counted ...*component) (other string, plugs []string) {
	for _, j := range n.joined {
		m := j.comp
		if m.notFitted() || m.open() || holds(counted, m) {
			continue
		}
		far := m.opposite(n)
		switch kind := m.sort(); {
		case m.isResistor():
			if far = m.farEnd(n); far != nil && far != n && !c.isRail(far) && !c.quiet(far, m) {
				return m.ref + " leads on to " + far.name, nil
			}
		case kind == "capacitor" || kind == "test point":
		case m.isConnector():
			plugs = append(plugs, m.ref)
		case (kind == "switch" || kind == "jumper") && m.unsaid() && far != nil && (c.isRail(far) || c.quiet(far, m)):
			// nobody presses it
		case j.pin == nil:
			return m.ref + " is on " + n.name, nil
		case j.pin.reads() || j.pin.drives() || c.leakage(j) != "":
		case slices.Contains([]string{"not connected", "do not connect"}, j.pin.row.Type):
		default:
			return j.name() + " is on " + n.name + ", and its leakage is not noted", nil
		}
	}
	return "", plugs
}

// quiet says that nothing on a net can bring or take direct current but the
// component by which it is reached.
func (c *compiler) quiet(n *net, by *component) bool {
	for _, j := range n.joined {
		m := j.comp
		if m == by || m.notFitted() || m.open() {
			continue
		}
		switch kind := m.sort(); {
		case kind == "capacitor" || kind == "test point" || m.isConnector():
		case (kind == "switch" || kind == "jumper") && m.unsaid() && m.opposite(n) != nil && c.isRail(m.opposite(n)):
		default:
			return false
		}
	}
	return true
}

// isConnector says that a component is what cables and plugs go to.
func (m *component) isConnector() bool {
	if m.sort() == "connector" {
		return true
	}
	if m.part == nil || m.part.hasSupply() {
		return false
	}
	for _, w := range strings.FieldsFunc(strings.ToLower(m.part.title), func(r rune) bool { return strings.ContainsRune(" ,;()-", r) }) {
		switch w {
		case "connector", "receptacle", "header", "socket", "plug":
			return true
		}
	}
	return false
}
