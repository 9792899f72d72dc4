package eval

import (
	"guardband/eval/circuit"
	"guardband/notebook"
)

// This file makes one net of nets that a link without resistance joins. What
// the notes call them is kept for what is compared with drawings.

// joinLinks joins the nets on both sides of each link to one.
func (c reader) joinLinks() {
	into := map[*circuit.Net]*circuit.Net{} // a net to one of its group
	root := func(n *circuit.Net) *circuit.Net {
		for into[n] != nil {
			n = into[n]
		}
		return n
	}
	links := map[*circuit.Component]bool{}
	for _, m := range c.Comps.List {
		if m.NotFitted() || len(m.Row.Conns) != 2 || !m.IsLink() {
			continue
		}
		a, b, ok := m.Ends()
		if !ok {
			continue
		}
		if a, b = root(a), root(b); a != b {
			if c.twoOrigins(m, a, b) {
				continue
			}
			if c.Origin(a) == "" && c.Origin(b) != "" {
				a, b = b, a
			}
			into[b] = a
		}
		links[m] = true
	}
	if len(links) > 0 {
		c.MergeNets(links, into, root)
	}
}

// tellShort complains of a link between nets whose stated voltages have no value
// in common: it shorts two supplies.
func (c *compiler) tellShort(m *circuit.Component, a, b *circuit.Net) {
	ask := answers{c}
	x, y := ask.Voltage(a), ask.Voltage(b)
	if x == nil || y == nil || x.Type != y.Type {
		return
	}
	xlo, xhi := ask.Ends(x)
	ylo, yhi := ask.Ends(y)
	if xhi != nil && ylo != nil && xhi.Cmp(ylo) < 0 || yhi != nil && xlo != nil && yhi.Cmp(xlo) < 0 {
		c.diagnose(notebook.Err, "nets-shorted", m.Row.RefText, m.Ref+" shorts `"+a.Name+"` and `"+b.Name+"`, whose voltages have no value in common",
			"leave one of the links open (`do not populate`), or correct the voltage")
	}
}

// twoOrigins complains of a link between two nets that have a voltage each;
// such nets are left as two. Two names of the return are one.
func (c reader) twoOrigins(m *circuit.Component, a, b *circuit.Net) bool {
	x, y := c.Origin(a), c.Origin(b)
	if x == "" || y == "" || circuit.IsGround(a.Name) && circuit.IsGround(b.Name) {
		return false
	}
	level := notebook.Warn
	if len(a.Drivers()) > 0 && len(b.Drivers()) > 0 {
		level = notebook.Err
	}
	c.late = append(c.late, func() { c.tellShort(m, a, b) })
	c.diagnose(level, "net-origins", m.Row.RefText, m.Ref+" makes one net of `"+a.Name+"` and `"+b.Name+
		"`, but each has a voltage: `"+a.Name+"` "+x+", `"+b.Name+"` "+y,
		"a net's voltage has one origin: drop one of the two; they are judged apart until then")
	return true
}
