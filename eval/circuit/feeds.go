package circuit

import (
	"strings"

	"guardband/notebook"
)

// This file follows a supply through what joins two nets with a little
// resistance: a ferrite bead, a fuse, a closed switch, a link that states its
// resistance, the resistor of a supply's filter. The net behind stands at the
// voltage before it less what the guaranteed resistance drops at the current
// stated. Kirchhoff's voltage law makes that exact, whatever else hangs on the
// net; what is not stated leaves the voltage unknown.

// feedBy is the way by which a net gets the voltage of another.
type feedBy struct {
	By   *Component
	From *Net
	Also []*Component // further ways to nets with a voltage
}

// resistances are the symbols of the trade for a resistance against direct
// current, that of a coil before that of its contacts.
var resistances = []string{"R_COIL", "R_C", "R_DC", "R", "DCR", "R_ON", "R_COLD", "R_CONTACT"}

// ResistanceName is the symbol under which note, options or use state the
// resistance of a component; "" where they state none.
func (m *Component) ResistanceName() string {
	if m.Part != nil {
		return m.Part.FactNamed("spec", resistances...)
	}
	for _, o := range m.Row.Options {
		word, rest, _ := strings.Cut(strings.TrimSpace(o.S), " ")
		for _, n := range resistances {
			if SameSymbol(word, n) && strings.TrimSpace(rest) != "" {
				return word
			}
		}
	}
	return m.UseNamed(resistances...)
}

// statesResistance says that notes or row speak of a resistance.
func (m *Component) statesResistance() bool { return m.ResistanceName() != "" }

// OptionText is what follows a word at the start of an option, in its place.
func (m *Component) OptionText(word string) *notebook.Text {
	for _, o := range m.Row.Options {
		o = o.Trim()
		if rest, ok := strings.CutPrefix(o.S, word+" "); ok && strings.TrimSpace(rest) != "" {
			t := o.Slice(len(word), len(o.S)).Trim()
			return &t
		}
	}
	return nil
}

// OtherFeeder names what may feed a net besides that which it hangs on.
func (c *Circuit) OtherFeeder(n *Net) string {
	f := n.Feed
	for _, j := range n.Joined {
		m := j.Comp
		if m == f.By || m.NotFitted() {
			continue
		}
		o := m.Opposite(n)
		switch m.Sort() {
		case "diode", "Zener diode", "LED":
			if o == nil || o != f.From && !IsReturn(o) && (m.End("K", "CATHODE", "-", "2") == n || m.Conns["2"] == n) {
				return m.Ref
			}
		case "resistor":
			if o != nil && o != f.From && !IsReturn(o) && (c.Origin(o) != "" || o.Feed != nil && o.Feed.By != m) {
				return m.Ref
			}
		case "cell", "battery", "inductor", "transformer", "relay":
			return m.Ref
		}
	}
	return ""
}

// IsTie says that a component joins its two nets with little resistance, or
// may do so: whether a jumper or switch is closed may be left unsaid.
func (m *Component) IsTie() bool {
	if m.NotFitted() || m.Link || m.Open() {
		return false
	}
	switch m.Sort() {
	case "ferrite bead", "fuse", "switch", "jumper":
	case "link", "wire":
		return !m.IsLink() && twoEnds(m)
	default:
		return false
	}
	return twoEnds(m)
}

func twoEnds(m *Component) bool {
	if m.Part == nil && len(m.Row.Conns) != 2 {
		return false // a jumper of three nets: which are joined is not said
	}
	a, b, ok := m.Ends()
	return ok && a != b
}

// Unsaid says that nobody states whether a jumper or switch is closed.
func (m *Component) Unsaid() bool {
	k := m.Sort()
	return (k == "switch" || k == "jumper") && !m.Closed()
}

// FindFeeds finds the nets without a voltage of their own that hang on another
// net, nearest to the source first.
func (c *Circuit) FindFeeds() {
	var ties, filters []*Component
	for _, m := range c.Comps.List {
		switch {
		case m.IsTie():
			ties = append(ties, m)
			a, b, _ := m.Ends()
			a.Ties, b.Ties = append(a.Ties, m), append(b.Ties, m)
		case !m.NotFitted() && !m.Link && m.IsResistor() && twoEnds(m):
			filters = append(filters, m)
		}
	}
	known := map[*Net]bool{}
	for _, n := range c.Nets.List {
		known[n] = c.Origin(n) != ""
	}
	for c.feedRound(ties, known, nil) || c.feedRound(filters, known, c.needsFilter) {
	}
	for _, m := range ties { // a ring: both ends have a voltage, and neither from the other
		a, b, _ := m.Ends()
		for _, n := range []*Net{a, b} {
			if o := m.Opposite(n); n.Feed != nil && n.Feed.By != m && known[o] && (o.Feed == nil || o.Feed.By != m) {
				n.Feed.Also = append(n.Feed.Also, m)
			}
		}
	}
}

// feedRound gives nets next to those with a voltage what feeds them; it says
// whether there were any.
func (c *Circuit) feedRound(ms []*Component, known map[*Net]bool, may func(*Net) bool) bool {
	var order []*Net
	for _, m := range ms {
		a, b, _ := m.Ends()
		if known[a] == known[b] {
			continue
		}
		if known[b] {
			a, b = b, a
		}
		switch {
		case !canHang(b, a, m), may != nil && (!may(b) || IsReturn(a)):
		case b.Feed == nil:
			b.Feed = &feedBy{By: m, From: a}
			order = append(order, b)
		default:
			b.Feed.Also = append(b.Feed.Also, m)
		}
	}
	for _, n := range order {
		known[n] = true
		if f := n.Feed; !statesCurrent(f.By) {
			for i, m := range f.Also {
				if statesCurrent(m) { // the drop is known by the one whose current is
					f.By, f.Also[i] = m, f.By
					f.From = m.Opposite(n)
					break
				}
			}
		}
		n.Feed.By.Feeds = n
	}
	return len(order) > 0
}

// canHang says that a net may take its voltage from another: nothing on it
// sets one. A supply does not come from the return, a signal not by a switch
// that may be open, and a return is followed only where the current is stated.
func canHang(n, from *Net, by *Component) bool {
	for _, j := range n.Joined {
		if j.Comp.Unnoted() || j.Pin != nil && (j.Pin.Row.Type == "supply output" || Pushes(j.Pin)) {
			return false
		}
	}
	switch {
	case IsReturn(n):
		return statesCurrent(by)
	case n.hasPin("supply"):
		return !IsReturn(from)
	}
	return !by.Unsaid()
}

func statesCurrent(m *Component) bool { return StatesUse(m.Row.InUse, "I") }

// needsFilter says that a net powers a part and that one resistor alone leads
// to it from a net with a voltage, as in the filter of an analog supply.
func (c *Circuit) needsFilter(n *Net) bool {
	if !n.hasPin("supply") {
		return false
	}
	ways := 0
	for _, r := range c.ResistorsAt(n) {
		if !IsReturn(r.Other) && (c.Origin(r.Other) != "" || r.Other.Feed != nil) {
			ways++
		}
	}
	return ways == 1
}

// StandsAs is the net with which a net rises and falls: the one at the head of
// what joins them, the resistor of a filter aside, which makes it late.
func (n *Net) StandsAs() *Net {
	for n.Feed != nil && n.Feed.By.IsTie() && !n.Feed.By.Unsaid() {
		n = n.Feed.From
	}
	return n
}

// Head is the net that a net gets its voltage from, at last.
func (n *Net) Head() *Net {
	for n.Feed != nil && !n.Feed.By.Unsaid() {
		n = n.Feed.From
	}
	return n
}
