package circuit

import (
	"slices"
	"strings"

	"guardband/notebook"
)

// boardView is what several checks ask about the placed parts: what is between
// two nets, what serves which part, which supplies are up in which state.
type boardView struct {
	Order   map[*Component]int        // place in the circuit
	Between map[NetPair][]*Component  // two-terminal parts by the nets they join
	Claimed map[*Component]*Component // part of an application circuit to the part it serves
}

// NetPair is two nets, in no order.
type NetPair struct{ A, B *Net }

// PairOf is the pair of two nets, whichever is named first.
func PairOf(a, b *Net) NetPair {
	if a != nil && b != nil && b.Name < a.Name {
		a, b = b, a
	}
	return NetPair{a, b}
}

// View makes the view once.
func (c *Circuit) View() *boardView {
	if c.view != nil {
		return c.view
	}
	v := &boardView{Order: map[*Component]int{}, Between: map[NetPair][]*Component{}, Claimed: map[*Component]*Component{}}
	c.view = v
	for i, m := range c.Comps.List {
		v.Order[m] = i
		if m.NotFitted() {
			continue
		}
		if a, b, ok := m.Ends(); ok {
			v.Between[PairOf(a, b)] = append(v.Between[PairOf(a, b)], m)
		}
	}
	return v
}

// Sort is what kind of part a placement is: the kind its row names, else
// `kind:` of its note, else, for a part of two pins, a kind its title names.
func (m *Component) Sort() string {
	if m.Part == nil {
		return m.Kind
	}
	return m.Part.Sort()
}

// Sort is what kind of part it is: `kind:` of its note, else, of few pins, a kind its title names.
func (p *Part) Sort() string {
	if p.kind == nil {
		k := p.findKind()
		p.kind = &k
	}
	return *p.kind
}

func (p *Part) findKind() string {
	if e := p.Attrs["kind"]; e != nil {
		return e.Trimmed()
	}
	if len(p.Pins) > 3 {
		return ""
	}
	title := strings.ToLower(p.Title)
	for _, k := range []string{"resistor", "capacitor", "inductor", "LED", "Zener diode", "diode", "crystal", "fuse",
		"ferrite bead", "thermistor", "varistor"} {
		if strings.Contains(" "+title+" ", " "+strings.ToLower(k)+" ") {
			return k
		}
	}
	return ""
}

// Ends are the two nets a two-terminal part joins: of a kind the two of its
// row, of a part with notes those of its two pins that are no ground and not
// unconnected (a crystal's lid, a shell).
func (m *Component) Ends() (a, b *Net, ok bool) {
	if m.Part == nil {
		a, b = m.Conns["1"], m.Conns["2"]
		return a, b, a != nil && b != nil && !m.Unnoted()
	}
	var nets []*Net
	for _, q := range m.Pins() {
		switch q.Row.Type {
		case "passive", "input", "output", "analog", "bidirectional":
		default:
			continue
		}
		n := m.PinNets[q]
		if n == nil {
			return nil, nil, false
		}
		nets = append(nets, n)
	}
	if len(nets) > 2 && m.Sort() == "crystal" { // its lid, by a pin without a type of its own
		nets = slices.DeleteFunc(nets, IsReturn)
	}
	if len(nets) != 2 {
		return nil, nil, false
	}
	return nets[0], nets[1], true
}

// End is the net of a pin that goes by one of some names, nil without one.
func (m *Component) End(names ...string) *Net {
	if m.Part == nil {
		for k, conn := range m.Row.Conns {
			for _, n := range names {
				if conn.Pin == n {
					return m.Conns[m.Placed[k]]
				}
			}
		}
		return nil
	}
	for _, same := range []func(a, b string) bool{func(a, b string) bool { return a == b }, strings.EqualFold} {
		for _, n := range names {
			if k := slices.IndexFunc(m.Pins(), func(q *Pin) bool { return same(q.Row.Name, n) }); k >= 0 {
				return m.PinNets[m.Pins()[k]]
			}
		}
	}
	return nil
}

// Opposite is the other net of a two-terminal part.
func (m *Component) Opposite(n *Net) *Net {
	a, b, ok := m.Ends()
	switch {
	case !ok:
		return nil
	case a == n:
		return b
	}
	return a
}

// Grounds are the nets of a part's ground pins.
func (m *Component) Grounds() []*Net { return m.NetsOf("ground", "thermal pad") }

// Supplies are the nets that power a part.
func (m *Component) Supplies() []*Net { return m.NetsOf("supply") }

// NetsOf are the nets of the pins of some types, each once.
func (m *Component) NetsOf(types ...string) (out []*Net) {
	for _, q := range m.Pins() {
		if n := m.PinNets[q]; n != nil && slices.Contains(types, q.Row.Type) {
			out = AddTo(out, n)
		}
	}
	return out
}

// Makes are the pins by which a part makes supplies, one a net.
func (m *Component) Makes() (out []*Pin) {
	for _, n := range m.NetsOf("supply output") {
		k := slices.IndexFunc(m.Pins(), func(q *Pin) bool { return m.PinNets[q] == n && q.Row.Type == "supply output" })
		out = append(out, m.Pins()[k])
	}
	return out
}

// FactNamed is the first fact of a section that goes by one of some names,
// underscores aside.
func (p *Part) FactNamed(section string, names ...string) string {
	found := p.factAmong(section, names)
	p.Asked.Ask(p, section, found, names...)
	return found
}

func (p *Part) factAmong(section string, names []string) string {
	for _, n := range names {
		for _, f := range p.FactOrder {
			if f.Section == section && SameSymbol(f.Name, n) && len(f.Selectors) == 0 {
				return f.Name
			}
		}
	}
	return ""
}

// UseNamed is the first condition of use stated under one of some names.
func (m *Component) UseNamed(names ...string) string {
	for _, n := range names {
		if k := slices.IndexFunc(m.Row.InUse, func(k notebook.Cond) bool { return k.Flag == "" && SameSymbol(k.Name, n) }); k >= 0 {
			return m.Row.InUse[k].Name
		}
	}
	return ""
}

// Difference spells the voltage of one net against another, with its sign.
func (c *Circuit) Difference(a, b *Net) string {
	switch {
	case IsGround(b.Name):
		return c.NetText(a)
	case IsGround(a.Name):
		return "0 V - " + c.NetText(b)
	}
	return c.NetText(a) + " - " + c.NetText(b)
}

// Across spells the voltage between two nets, whichever way round.
func (c *Circuit) Across(a, b *Net) string {
	switch {
	case IsGround(b.Name):
		return c.NetText(a)
	case IsGround(a.Name):
		return c.NetText(b)
	}
	return c.NetText(a) + " - " + c.NetText(b)
}
