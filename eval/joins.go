package eval

import (
	"strings"

	"guardband/eval/bound"
	"guardband/eval/formula"
	"guardband/notebook"
	"guardband/units"
)

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

// ties says that a component joins its two nets with little resistance, or
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
	for _, j := range n.pinsOf() {
		if j.pin.row.Type == "supply output" || pushes(j.pin) {
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

// resistanceOf names the resistance of what joins two nets, "" where none is
// stated.
func (c *compiler) resistanceOf(m *component) string {
	for _, n := range resistances {
		if m.part != nil {
			if y, _ := c.fact(m, "spec", n, ""); c.isOhm(y) {
				return m.ref + "." + n
			}
		} else if c.isOhm(c.optionSymbol(m, n)) || c.isOhm(c.useSymbol(m, n)) {
			return m.ref + "." + n
		}
	}
	if m.kind == "resistor" && c.ohms(m) {
		return m.ref
	}
	return ""
}

// resistances are the symbols of the trade for a resistance against direct
// current.
var resistances = []string{"R_DC", "R", "DCR", "R_ON", "R_COLD", "R_CONTACT"}

func (c *compiler) isOhm(y *symbol) bool {
	if y == nil {
		return false
	}
	c.lower(y)
	return y.val.Class == formula.Number && y.val.Type.Dim == dimOhm
}

// statesResistance says that notes or row speak of a resistance.
func (m *component) statesResistance() bool {
	for _, n := range resistances {
		if m.part != nil && m.part.hasFact(n) || statesUse(m.row.InUse, n) || m.optionText(n) != nil {
			return true
		}
	}
	return false
}

// optionText is what follows a word at the start of an option, in its place.
func (m *component) optionText(word string) *notebook.Text {
	for _, o := range m.row.Options {
		o = o.Trim()
		if rest, ok := strings.CutPrefix(o.S, word+" "); ok && strings.TrimSpace(rest) != "" {
			t := o.Slice(len(word), len(o.S)).Trim()
			return &t
		}
	}
	return nil
}

// optionSymbol is a quantity that a row states by an option: `R_DC max 0.3 Ω`.
func (c *compiler) optionSymbol(m *component, name string) *symbol {
	t := m.optionText(name)
	if t == nil {
		return nil
	}
	key := useKey{m, "option " + name}
	if y, ok := c.uses[key]; ok {
		return y
	}
	y := &symbol{name: m.ref + "." + name, entry: m.entry, comp: m, assumed: assumedOf(m.entry)}
	y.cites = c.citesOf(m.entry)
	y.define = func(y *symbol) {
		if cols := c.lowerColumns(*t, &scope{c: c}); !cols.bad {
			c.makeQuantity(y, []columns{cols}, nil)
		}
	}
	c.uses[key] = y
	return y
}

// feedSymbol is the voltage of a net behind what joins it to another.
func (c *compiler) feedSymbol(n *net) *symbol {
	return &symbol{name: n.name, derived: true, comp: n.feed.by, define: func(y *symbol) { c.defineFeed(n, y) }}
}

func (c *compiler) defineFeed(n *net, y *symbol) {
	f := n.feed
	y.cites = c.citesOf(f.by.entry)
	if y.lacking = c.feedLacks(n); y.lacking != nil {
		y.input = &input{sym: y, name: y.name, typ: volt, in: bound.Input{}}
		y.val = formula.Value{Class: formula.Number, Type: volt, Reg: c.newInput(y.input)}
		return
	}
	drop := c.resistanceOf(f.by) + " * " + f.by.ref + ".use.I"
	text := c.netText(f.from) + " - " + drop
	if isReturn(f.from) { // the current of the parts flows towards it
		text = c.netText(f.from) + " + " + drop
	}
	s := &scope{c: c}
	y.val, _, y.expr = c.lowerText(notebook.Text{S: text}, s)
	y.deps = s.used
}

// feedLacks says what is not stated of the drop on the way to a net.
func (c *compiler) feedLacks(n *net) *OpenPoint {
	f := n.feed
	head := n.name + " hangs on " + f.from.name + " by " + f.by.ref
	current := c.useSymbol(f.by, "I")
	if current != nil {
		c.lower(current)
	}
	ok := current != nil && current.val.Class == formula.Number && current.val.Type.Dim == dimAmpere
	state := "state `in use: I = 0 mA to 20 mA` in the row of " + f.by.ref + ", or write a budget of " + n.name
	note := "note `spec R_DC = ...` of the part, or give the row the option `R_DC 0 Ω to 0.3 Ω`"
	switch none := c.resistanceOf(f.by) == ""; {
	case f.by.unsaid():
		return &OpenPoint{Reason: "no fact", Text: head + ", and it is not stated whether that is closed", Settle: "give its row the option `closed` or `open`"}
	case c.netVoltage(f.from) == nil:
		return &OpenPoint{Reason: "no value", Text: head + ", and the voltage of " + f.from.name + " is not known", Settle: "give a value `" + f.from.name + " = ...`"}
	case none && ok:
		return &OpenPoint{Reason: "no fact", Text: head + ", whose resistance is not stated, so the drop across it is not known", Settle: note}
	case none:
		return &OpenPoint{Reason: "no fact", Text: head + ", of which neither resistance nor current is stated, so the drop across it is not known", Settle: note + "; " + state}
	case !ok && len(f.also) > 0:
		return &OpenPoint{Reason: "no value", Text: n.name + " is fed by " + f.by.ref + " and by " + refList(f.also) + ", and how the current divides is not stated", Settle: "state `in use: I = ...` in the row of " + f.by.ref + ", or give a value `" + n.name + " = ...`"}
	case !ok:
		text := head + ", whose current is not stated, so the drop across it is not known"
		if o := c.otherFeeder(n); o != "" && c.budgetOf(n) != nil {
			text = head + ", and " + o + " may feed it too, so the budget does not tell the current of " + f.by.ref
			state = "state `in use: I = ...` in the row of " + f.by.ref
		}
		return &OpenPoint{Reason: "no value", Text: text, Settle: state}
	}
	return nil
}

// feedCurrent is the current through what feeds a net, where its row states
// none: anything from nothing to the peak of the net's budget. nil where there
// is no budget or where something else may feed the net.
func (c *compiler) feedCurrent(m *component) *symbol {
	n := m.feeds
	b := c.budgetOf(n)
	if b == nil || len(n.feed.also) > 0 || c.otherFeeder(n) != "" {
		return nil
	}
	return &symbol{name: m.ref + ".use.I", derived: true, comp: m, define: func(y *symbol) {
		peak := b.results["peak"]
		c.lower(peak)
		if peak.val.Class != formula.Number || peak.val.Type.Dim != dimAmpere {
			return
		}
		y.deps = []*symbol{peak}
		share := c.newInput(&input{name: "share of the peak of " + n.name, in: bound.Input{Lo: zero, Hi: one, SureLo: one, SureHi: one}})
		y.val = formula.Value{Class: formula.Number, Type: units.Type{Dim: dimAmpere}, Unit: peak.val.Unit, Reg: c.b.Binary(bound.OpMul, share, peak.val.Reg)}
	}}
}

// budgetOf is the budget of a net, under any of its names.
func (c *compiler) budgetOf(n *net) *budget {
	for _, b := range c.budgets {
		if n.goesBy(b.block.ID) {
			return b
		}
	}
	return nil
}

// otherFeeder names what may feed a net besides that which it hangs on.
func (c *compiler) otherFeeder(n *net) string {
	f := n.feed
	for _, j := range n.joined {
		m := j.comp
		if m == f.by || m.notFitted() {
			continue
		}
		o := m.opposite(n)
		switch m.sort() {
		case "diode", "Zener diode", "LED":
			if o == nil || o != f.from && !isReturn(o) && (m.end("K", "CATHODE", "-", "2") == n || m.conns["2"] == n) {
				return m.ref
			}
		case "resistor":
			if o != nil && o != f.from && !isReturn(o) && (c.origin(o) != "" || o.feed != nil && o.feed.by != m) {
				return m.ref
			}
		case "cell", "battery", "inductor", "transformer", "relay":
			return m.ref
		}
	}
	return ""
}

// standsAs is the net whose voltage a net shares but for small drops: they
// rise and fall together.
func (n *net) standsAs() *net {
	for n.feed != nil && !n.feed.by.unsaid() {
		n = n.feed.from
	}
	return n
}

// voltageStated says that the voltage of a net is known and that no drop on
// the way to it is left unsaid.
func (c *compiler) voltageStated(n *net) bool {
	y := c.netVoltage(n)
	return y != nil && y.lacking == nil
}
