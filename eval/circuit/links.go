package circuit

import (
	"slices"
	"strings"

	"guardband/units"
)

// Closed says that a jumper or switch is stated to be closed.
func (m *Component) Closed() bool { return m.statedAs("closed") }

// Open says that a jumper or switch is stated to be open.
func (m *Component) Open() bool { return m.statedAs("open") }

// statedAs finds a word among the options of a row, or in quotes among its
// conditions of use.
func (m *Component) statedAs(word string) bool {
	for _, o := range m.Row.Options {
		if strings.TrimSpace(o.S) == word {
			return true
		}
	}
	return HasFlag(m.Row.InUse, word)
}

// IsLink says that a component joins its two nets without resistance: a link,
// a wire, a closed jumper, none of which states a resistance, or a resistor of
// exactly 0 Ω.
func (m *Component) IsLink() bool {
	switch m.Sort() {
	case "link", "wire":
		return !m.statesResistance()
	case "jumper":
		return m.Closed() && !m.statesResistance()
	case "resistor":
		return m.zeroOhm()
	}
	return false
}

// zeroOhm says that a resistor is given as exactly 0 Ω, without tolerance.
func (m *Component) zeroOhm() bool {
	text, kind := strings.TrimSpace(m.Row.Value.S), m.Kind
	if m.Part != nil {
		rows := m.Part.RowsOf("spec", "R")
		if len(rows) != 1 {
			return false
		}
		text, kind = strings.TrimSpace(rows[0].RHS.S), "resistor"
	}
	q, err := units.ParseMarking(text, kind)
	if err != nil {
		q, err = units.ParseLiteral(text)
	}
	return err == nil && q.SI.Sign() == 0 && q.Type.Dim == DimOhm
}

// Origin says in words what gives a net its voltage; "" where nothing does.
func (c *Circuit) Origin(n *Net) string {
	if c.Values.Given(n.Name) {
		return "is given as a value"
	}
	if IsGround(n.Name) {
		return "is the return"
	}
	if d := n.Drivers(); len(d) > 0 {
		return "is driven by " + d[0].Name()
	}
	return ""
}

// MergeNets puts one net in the place of each group. The nets as drawn stay
// as they are.
func (c *Circuit) MergeNets(links map[*Component]bool, into map[*Net]*Net, root func(*Net) *Net) {
	c.drawn = slices.Clone(c.Nets.List)
	for m := range links {
		m.Link = true
	}
	var left []*Component // off the board: on no net's list
	for _, m := range c.Comps.List {
		if m.NotFitted() {
			left = append(left, m)
		}
	}
	merged := map[*Net]*Net{}
	grouped := map[*Net]bool{}
	for n, to := range into {
		grouped[n], grouped[root(to)] = true, true
	}
	c.Nets.List = c.Nets.List[:0]
	for _, n := range c.drawn {
		if !grouped[n] {
			c.Nets.List = append(c.Nets.List, n)
			continue
		}
		r := root(n)
		one := merged[r]
		if one == nil {
			one = &Net{Name: r.Name, Text: r.Text}
			merged[r] = one
			c.Nets.List = append(c.Nets.List, one)
		}
		one.Names = append(one.Names, n.Name)
		c.Nets.rename(n.Name, one)
		for _, j := range n.Joined {
			if links[j.Comp] {
				if !slices.Contains(one.Links, j.Comp) {
					one.Links = append(one.Links, j.Comp)
				}
			} else {
				one.Joined = append(one.Joined, j)
			}
			j.Comp.moveTo(n, one)
		}
		for _, m := range left {
			m.moveTo(n, one)
		}
	}
}

// moveTo joins a component to the net that takes the place of another.
func (m *Component) moveTo(from, to *Net) {
	if m.drawnPins == nil {
		m.drawnPins, m.drawnConns = map[*Pin]*Net{}, map[string]*Net{}
	}
	for q, n := range m.PinNets {
		if n == from {
			m.PinNets[q], m.drawnPins[q] = to, from
		}
	}
	for k, n := range m.Conns {
		if n == from {
			m.Conns[k], m.drawnConns[k] = to, from
		}
	}
}

// DrawnNet is the net of a pin as the notes draw it, links as parts between
// nets.
func (m *Component) DrawnNet(q *Pin) *Net {
	if n := m.drawnPins[q]; n != nil {
		return n
	}
	return m.PinNets[q]
}

// DrawnNets are the nets as the notes draw them.
func (c *Circuit) DrawnNets() []*Net {
	if c.drawn != nil {
		return c.drawn
	}
	return c.Nets.List
}

// GoesBy says that a net is called so.
func (n *Net) GoesBy(name string) bool { return n.Name == name || slices.Contains(n.Names, name) }

// LinkedBy words how a pin comes to a net that its row does not name: ", on
// V3V3 by L1"; "" for its own.
func (m *Component) LinkedBy(q *Pin) string {
	d, n := m.drawnPins[q], m.PinNets[q]
	if d == nil || d.Name == n.Name {
		return ""
	}
	return ", whose net " + d.Name + " is one with " + n.Name + " by " + RefList(n.Links)
}

// ByLinks names the links that make a net of several, "" where none do.
func (n *Net) ByLinks() string {
	if len(n.Links) == 0 {
		return ""
	}
	return ", joined by " + RefList(n.Links)
}
