package eval

import (
	"slices"
	"strings"
)

// boardView is what several checks ask about the placed parts: what is between
// two nets, what serves which part, which supplies are up in which state.
type boardView struct {
	c       *compiler
	order   map[*component]int        // place in the circuit
	between map[netPair][]*component  // two-terminal parts by the nets they join
	claimed map[*component]*component // part of an application circuit to the part it serves
	power   map[powerKey]power        // which supplies are up in which state, once asked
	saidUp  map[string][]*net         // supplies that a state itself says are up
}

// netPair is two nets, in no order.
type netPair struct{ a, b *net }

func pairOf(a, b *net) netPair {
	if a != nil && b != nil && b.name < a.name {
		a, b = b, a
	}
	return netPair{a, b}
}

// board makes the view once.
func (c *compiler) board() *boardView {
	if c.view != nil {
		return c.view
	}
	v := &boardView{c: c, order: map[*component]int{}, between: map[netPair][]*component{}, claimed: map[*component]*component{},
		power: map[powerKey]power{}}
	c.view = v
	for i, m := range c.comps.list {
		v.order[m] = i
		if m.notFitted() {
			continue
		}
		if a, b, ok := m.ends(); ok {
			v.between[pairOf(a, b)] = append(v.between[pairOf(a, b)], m)
		}
	}
	return v
}

// sort is what kind of part a placement is: the kind its row names, else
// `kind:` of its note, else, for a part of two pins, a kind its title names.
func (m *component) sort() string {
	if m.part == nil {
		return m.kind
	}
	return m.part.sort()
}

func (p *part) sort() string {
	if p.kind == nil {
		k := p.findKind()
		p.kind = &k
	}
	return *p.kind
}

func (p *part) findKind() string {
	if e := p.attrs["kind"]; e != nil {
		return value(e)
	}
	if len(p.pins) > 3 {
		return ""
	}
	title := strings.ToLower(p.title)
	for _, k := range []string{"resistor", "capacitor", "inductor", "LED", "Zener diode", "diode", "crystal", "fuse", "ferrite bead", "thermistor", "varistor"} {
		if strings.Contains(" "+title+" ", " "+strings.ToLower(k)+" ") {
			return k
		}
	}
	return ""
}

// ends are the two nets a two-terminal part joins: of a kind the two of its
// row, of a part with notes those of its two pins that are no ground and not
// unconnected (a crystal's lid, a shell).
func (m *component) ends() (a, b *net, ok bool) {
	if m.part == nil {
		a, b = m.conns["1"], m.conns["2"]
		return a, b, a != nil && b != nil && !m.unnoted()
	}
	var nets []*net
	for _, q := range m.part.pins {
		switch q.row.Type {
		case "passive", "input", "output", "analog", "bidirectional":
		default:
			continue
		}
		n := m.pinNets[q]
		if n == nil {
			return nil, nil, false
		}
		nets = append(nets, n)
	}
	if len(nets) > 2 && m.sort() == "crystal" { // its lid, by a pin without a type of its own
		nets = slices.DeleteFunc(nets, isReturn)
	}
	if len(nets) != 2 {
		return nil, nil, false
	}
	return nets[0], nets[1], true
}

// end is the net of a pin that goes by one of some names, nil without one.
func (m *component) end(names ...string) *net {
	if m.part == nil {
		for k, conn := range m.row.Conns {
			for _, n := range names {
				if conn.Pin == n {
					return m.conns[m.placed[k]]
				}
			}
		}
		return nil
	}
	for _, n := range names {
		for _, q := range m.part.pins {
			if q.row.Name == n {
				return m.pinNets[q]
			}
		}
	}
	return nil
}

// opposite is the other net of a two-terminal part.
func (m *component) opposite(n *net) *net {
	a, b, ok := m.ends()
	switch {
	case !ok:
		return nil
	case a == n:
		return b
	}
	return a
}

// grounds are the nets of a part's ground pins.
func (m *component) grounds() []*net { return m.netsOf("ground", "thermal pad") }

// supplies are the nets that power a part.
func (m *component) supplies() []*net { return m.netsOf("supply") }

func (m *component) netsOf(types ...string) []*net {
	var out []*net
	seen := map[*net]bool{}
	for _, q := range m.part.pins {
		if n := m.pinNets[q]; n != nil && slices.Contains(types, q.row.Type) && !seen[n] {
			seen[n] = true
			out = append(out, n)
		}
	}
	return out
}

// factNamed is the first fact of a section that goes by one of some names,
// underscores aside.
func (p *part) factNamed(section string, names ...string) string {
	found := p.factAmong(section, names)
	p.asked.ask(p, section, found, names...)
	return found
}

func (p *part) factAmong(section string, names []string) string {
	for _, n := range names {
		for _, f := range p.factOrder {
			if f.section == section && sameSymbol(f.name, n) && len(f.selectors) == 0 {
				return f.name
			}
		}
	}
	return ""
}

// useNamed is the first condition of use stated under one of some names.
func (m *component) useNamed(names ...string) string {
	for _, n := range names {
		for _, k := range m.row.InUse {
			if k.Flag == "" && sameSymbol(k.Name, n) {
				return k.Name
			}
		}
	}
	return ""
}

// difference spells the voltage of one net against another, with its sign.
func (c *compiler) difference(a, b *net) string {
	switch {
	case isGround(b.name):
		return c.netText(a)
	case isGround(a.name):
		return "0 V - " + c.netText(b)
	}
	return c.netText(a) + " - " + c.netText(b)
}

// across spells the voltage between two nets, whichever way round.
func (c *compiler) across(a, b *net) string {
	switch {
	case isGround(b.name):
		return c.netText(a)
	case isGround(a.name):
		return c.netText(b)
	}
	return c.netText(a) + " - " + c.netText(b)
}
