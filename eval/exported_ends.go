package eval

import (
	"slices"
	"strings"

	"guardband/notebook"
)

// This file matches the ends of two-terminal components of plain kinds, which
// the notes know by their place in the row, with the pins of a test netlist.

// endNamed is the number of the end that the notes call by the name of a pin:
// A and K of a diode; else the pin itself.
func (c *compiler) endNamed(ref, pin string) string {
	if m, ok := c.comps.get(ref); ok && m.part == nil {
		for k, conn := range m.row.Conns {
			if k < 2 && conn.Pin != "" && strings.EqualFold(conn.Pin, pin) {
				return string(rune('1' + k))
			}
		}
	}
	return pin
}

// turnEnds turns a resistor, capacitor or inductor whose ends the notes do not
// name where the file has it the other way round: either way is the same
// circuit.
func (c *compiler) turnEnds(refs map[string]bool, byPin map[string]string, byNet map[string][]string) {
	for _, m := range c.comps.list {
		if m.part != nil || m.notFitted() || !contains([]string{"resistor", "capacitor", "inductor"}, m.kind) || m.namesEnds() {
			continue
		}
		one, two := m.ref+".1", m.ref+".2"
		a, b := byPin[one], byPin[two]
		if a == "" || b == "" || a == b {
			continue
		}
		near, far := m.drawnEnd("1"), m.drawnEnd("2")
		if near == nil || far == nil || c.fileNetWithout(near, m.ref, refs, byPin) != b || c.fileNetWithout(far, m.ref, refs, byPin) != a {
			continue
		}
		byPin[one], byPin[two] = b, a
		byNet[a] = append(without(byNet[a], one), two)
		byNet[b] = append(without(byNet[b], two), one)
	}
}

// fileNetWithout is the net of the file that holds most pins of a net, those
// of one component left out; the net of its name where no other pin stands.
func (c *compiler) fileNetWithout(n *net, ref string, refs map[string]bool, byPin map[string]string) string {
	var pins []string
	for _, k := range n.testPins(refs) {
		if !strings.HasPrefix(k, ref+".") {
			pins = append(pins, k)
		}
	}
	if name := fileNet(n.name, pins, byPin); name != "" {
		return name
	}
	for _, k := range []string{ref + ".1", ref + ".2"} {
		if sameNetName(byPin[k], n.name) {
			return byPin[k]
		}
	}
	return ""
}

func (m *component) namesEnds() bool {
	return slices.ContainsFunc(m.row.Conns, func(k notebook.Conn) bool { return k.Pin != "" })
}

// drawnEnd is the net that the notes draw an end on.
func (m *component) drawnEnd(id string) *net {
	if n := m.drawnConns[id]; n != nil {
		return n
	}
	return m.conns[id]
}

func without(list []string, s string) []string {
	return slices.DeleteFunc(slices.Clone(list), func(x string) bool { return x == s })
}
