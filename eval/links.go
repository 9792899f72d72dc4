package eval

import (
	"slices"
	"strings"

	"guardband/notebook"
	"guardband/units"
)

// This file makes one net of nets that a link without resistance joins. What
// the notes call them is kept for what is compared with drawings.

// closed says that a jumper or switch is stated to be closed.
func (m *component) closed() bool { return m.statedAs("closed") }

// open says that a jumper or switch is stated to be open.
func (m *component) open() bool { return m.statedAs("open") }

// statedAs finds a word among the options of a row, or in quotes among its
// conditions of use.
func (m *component) statedAs(word string) bool {
	for _, o := range m.row.Options {
		if strings.TrimSpace(o.S) == word {
			return true
		}
	}
	return hasFlag(m.row.InUse, word)
}

// isLink says that a component joins its two nets without resistance: a link,
// a wire, a closed jumper, none of which states a resistance, or a resistor of
// exactly 0 Ω.
func (m *component) isLink() bool {
	switch m.sort() {
	case "link", "wire":
		return !m.statesResistance()
	case "jumper":
		return m.closed() && !m.statesResistance()
	case "resistor":
		return m.zeroOhm()
	}
	return false
}

// zeroOhm says that a resistor is given as exactly 0 Ω, without tolerance.
func (m *component) zeroOhm() bool {
	text, kind := strings.TrimSpace(m.row.Value.S), m.kind
	if m.part != nil {
		rows := m.part.rowsOf("spec", "R")
		if len(rows) != 1 {
			return false
		}
		text, kind = strings.TrimSpace(rows[0].RHS.S), "resistor"
	}
	q, err := units.ParseMarking(text, kind)
	if err != nil {
		q, err = units.ParseLiteral(text)
	}
	return err == nil && q.SI.Sign() == 0 && q.Type.Dim == dimOhm
}

// joinLinks joins the nets on both sides of each link to one.
func (c *compiler) joinLinks() {
	into := map[*net]*net{} // a net to one of its group
	root := func(n *net) *net {
		for into[n] != nil {
			n = into[n]
		}
		return n
	}
	links := map[*component]bool{}
	for _, m := range c.comps.list {
		if m.notFitted() || len(m.row.Conns) != 2 || !m.isLink() {
			continue
		}
		a, b, ok := m.ends()
		if !ok {
			continue
		}
		if a, b = root(a), root(b); a != b {
			if c.twoOrigins(m, a, b) {
				continue
			}
			if c.origin(a) == "" && c.origin(b) != "" {
				a, b = b, a
			}
			into[b] = a
		}
		links[m] = true
	}
	if len(links) > 0 {
		c.mergeNets(links, into, root)
	}
}

// origin says in words what gives a net its voltage; "" where nothing does.
func (c *compiler) origin(n *net) string {
	if _, ok := c.values.get(n.name); ok {
		return "is given as a value"
	}
	if isGround(n.name) {
		return "is the return"
	}
	if d := n.drivers(); len(d) > 0 {
		return "is driven by " + d[0].name()
	}
	return ""
}

// twoOrigins complains of a link between two nets that have a voltage each;
// such nets are left as two. Two names of the return are one.
func (c *compiler) twoOrigins(m *component, a, b *net) bool {
	x, y := c.origin(a), c.origin(b)
	if x == "" || y == "" || isGround(a.name) && isGround(b.name) {
		return false
	}
	level := notebook.Warn
	if len(a.drivers()) > 0 && len(b.drivers()) > 0 {
		level = notebook.Err
	}
	c.whole(level, "net-origins", m.row.RefText, m.ref+" makes one net of `"+a.name+"` and `"+b.name+"`, but each has a voltage: `"+a.name+"` "+x+", `"+b.name+"` "+y,
		"a net's voltage has one origin: drop one of the two; they are judged apart until then")
	return true
}

// mergeNets puts one net in the place of each group. The nets as drawn stay
// as they are.
func (c *compiler) mergeNets(links map[*component]bool, into map[*net]*net, root func(*net) *net) {
	c.drawn = slices.Clone(c.nets.list)
	for m := range links {
		m.link = true
	}
	var left []*component // off the board: on no net's list
	for _, m := range c.comps.list {
		if m.notFitted() {
			left = append(left, m)
		}
	}
	merged := map[*net]*net{}
	grouped := map[*net]bool{}
	for n, to := range into {
		grouped[n], grouped[root(to)] = true, true
	}
	c.nets.list = c.nets.list[:0]
	for _, n := range c.drawn {
		if !grouped[n] {
			c.nets.list = append(c.nets.list, n)
			continue
		}
		r := root(n)
		one := merged[r]
		if one == nil {
			one = &net{name: r.name, text: r.text}
			merged[r] = one
			c.nets.list = append(c.nets.list, one)
		}
		one.names = append(one.names, n.name)
		c.nets.rename(n.name, one)
		for _, j := range n.joined {
			if links[j.comp] {
				if !slices.Contains(one.links, j.comp) {
					one.links = append(one.links, j.comp)
				}
			} else {
				one.joined = append(one.joined, j)
			}
			j.comp.moveTo(n, one)
		}
		for _, m := range left {
			m.moveTo(n, one)
		}
	}
}

// moveTo joins a component to the net that takes the place of another.
func (m *component) moveTo(from, to *net) {
	if m.drawnPins == nil {
		m.drawnPins, m.drawnConns = map[*pin]*net{}, map[string]*net{}
	}
	for q, n := range m.pinNets {
		if n == from {
			m.pinNets[q], m.drawnPins[q] = to, from
		}
	}
	for k, n := range m.conns {
		if n == from {
			m.conns[k], m.drawnConns[k] = to, from
		}
	}
}

// drawnNet is the net of a pin as the notes draw it, links as parts between
// nets.
func (m *component) drawnNet(q *pin) *net {
	if n := m.drawnPins[q]; n != nil {
		return n
	}
	return m.pinNets[q]
}

// drawnNets are the nets as the notes draw them.
func (c *compiler) drawnNets() []*net {
	if c.drawn != nil {
		return c.drawn
	}
	return c.nets.list
}

// goesBy says that a net is called so.
func (n *net) goesBy(name string) bool { return n.name == name || slices.Contains(n.names, name) }

// linkedBy words how a pin comes to a net that its row does not name: ", on
// V3V3 by L1"; "" for its own.
func (m *component) linkedBy(q *pin) string {
	d, n := m.drawnPins[q], m.pinNets[q]
	if d == nil || d.name == n.name {
		return ""
	}
	return ", whose net " + d.name + " is one with " + n.name + " by " + refList(n.links)
}

func refList(ms []*component) string {
	var out []string
	for _, m := range ms {
		out = append(out, m.ref)
	}
	return strings.Join(out, ", ")
}

// byLinks names the links that make a net of several, "" where none do.
func (n *net) byLinks() string {
	if len(n.links) == 0 {
		return ""
	}
	return ", joined by " + refList(n.links)
}

// linked is a link of the kind that a need asks for and of the size that will
// do; nil where none joins its two pins.
func (n *need) linked() *component {
	for _, m := range n.a.links {
		if a := n.ask; kindFits(n.row.Kind, m.sort()) && (!a.ok || a.nominal != "" && a.nom == 0 || a.nominal == "" && a.lo == 0) {
			return m
		}
	}
	return nil
}
