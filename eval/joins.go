package eval

// This file follows a supply through what joins two nets with a little
// resistance: a ferrite bead, a fuse, a closed switch, a link that states its
// resistance, the resistor of a supply's filter. The net behind stands at the
// voltage before it less what the guaranteed resistance drops at the current
// stated. Kirchhoff's voltage law makes that exact, whatever else hangs on the
// net; what is not stated leaves the voltage unknown.

// feedBy is the way by which a net gets the voltage of another.
type feedBy struct {
	by   *component
	from *net
	also []*component // further ways to nets with a voltage
}

// isTie says that a component joins its two nets with little resistance, or
// may do so: whether a jumper or switch is closed may be left unsaid.
func (m *component) isTie() bool {
	if m.notFitted() || m.link || m.open() {
		return false
	}
	switch m.sort() {
	case "ferrite bead", "fuse", "switch", "jumper":
	case "link", "wire":
		return !m.isLink() && twoEnds(m)
	default:
		return false
	}
	return twoEnds(m)
}

func twoEnds(m *component) bool {
	if m.part == nil && len(m.row.Conns) != 2 {
		return false // a jumper of three nets: which are joined is not said
	}
	a, b, ok := m.ends()
	return ok && a != b
}

// unsaid says that nobody states whether a jumper or switch is closed.
func (m *component) unsaid() bool {
	k := m.sort()
	return (k == "switch" || k == "jumper") && !m.closed()
}

// findFeeds finds the nets without a voltage of their own that hang on another
// net, nearest to the source first.
func (c *compiler) findFeeds() {
	var ties, filters []*component
	for _, m := range c.comps.list {
		switch {
		case m.isTie():
			ties = append(ties, m)
			a, b, _ := m.ends()
			a.ties, b.ties = append(a.ties, m), append(b.ties, m)
		case !m.notFitted() && !m.link && m.isResistor() && twoEnds(m):
			filters = append(filters, m)
		}
	}
	known := map[*net]bool{}
	for _, n := range c.nets.list {
		known[n] = c.origin(n) != ""
	}
	for c.feedRound(ties, known, nil) || c.feedRound(filters, known, c.needsFilter) {
	}
	for _, m := range ties { // a ring: both ends have a voltage, and neither from the other
		a, b, _ := m.ends()
		for _, n := range []*net{a, b} {
			if o := m.opposite(n); n.feed != nil && n.feed.by != m && known[o] && (o.feed == nil || o.feed.by != m) {
				n.feed.also = append(n.feed.also, m)
			}
		}
	}
}

// feedRound gives nets next to those with a voltage what feeds them; it says
// whether there were any.
func (c *compiler) feedRound(ms []*component, known map[*net]bool, may func(*net) bool) bool {
	var order []*net
	for _, m := range ms {
		a, b, _ := m.ends()
		if known[a] == known[b] {
			continue
		}
		if known[b] {
			a, b = b, a
		}
		switch {
		case !canHang(b, a, m), may != nil && (!may(b) || isReturn(a)):
		case b.feed == nil:
			b.feed = &feedBy{by: m, from: a}
			order = append(order, b)
		default:
			b.feed.also = append(b.feed.also, m)
		}
	}
	for _, n := range order {
		known[n] = true
		if f := n.feed; !statesCurrent(f.by) {
			for i, m := range f.also {
				if statesCurrent(m) { // the drop is known by the one whose current is
					f.by, f.also[i] = m, f.by
					f.from = m.opposite(n)
					break
				}
			}
		}
		n.feed.by.feeds = n
	}
	return len(order) > 0
}

// canHang says that a net may take its voltage from another: nothing on it
// sets one. A supply does not come from the return, a signal not by a switch
// that may be open, and a return is followed only where the current is stated.
func canHang(n, from *net, by *component) bool {
	for _, j := range n.joined {
		if j.comp.unnoted() || j.pin != nil && (j.pin.row.Type == "supply output" || pushes(j.pin)) {
			return false
		}
	}
	switch powers := n.powers(); {
	case isReturn(n):
		return statesCurrent(by)
	case powers:
		return !isReturn(from)
	}
	return !by.unsaid()
}

// powers says that a supply pin stands on a net.
func (n *net) powers() bool {
	for _, j := range n.pinsOf() {
		if j.pin.row.Type == "supply" {
			return true
		}
	}
	return false
}

func statesCurrent(m *component) bool { return statesUse(m.row.InUse, "I") }

// needsFilter says that a net powers a part and that one resistor alone leads
// to it from a net with a voltage, as in the filter of an analog supply.
func (c *compiler) needsFilter(n *net) bool {
	if !n.powers() {
		return false
	}
	ways := 0
	for _, r := range c.resistorsAt(n) {
		if !isReturn(r.other) && (c.origin(r.other) != "" || r.other.feed != nil) {
			ways++
		}
	}
	return ways == 1
}

// standsAs is the net with which a net rises and falls: the one at the head of
// what joins them, the resistor of a filter aside, which makes it late.
func (n *net) standsAs() *net {
	for n.feed != nil && n.feed.by.isTie() && !n.feed.by.unsaid() {
		n = n.feed.from
	}
	return n
}

// head is the net that a net gets its voltage from, at last.
func (n *net) head() *net {
	for n.feed != nil && !n.feed.by.unsaid() {
		n = n.feed.from
	}
	return n
}
