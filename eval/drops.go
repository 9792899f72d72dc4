package eval

import (
	"strings"

	"guardband/eval/bound"
	"guardband/eval/formula"
	"guardband/eval/record"
	"guardband/notebook"
	"guardband/units"
)

// This file works out the voltage of a net that hangs on another: what drops
// on the way, or what is not stated of it.

// resistanceOf names the resistance of what joins two nets, "" where none is
// stated.
func (c *compiler) resistanceOf(m *component) string {
	name := m.resistanceName()
	switch {
	case name == "":
	case m.part != nil:
		if y, _ := c.fact(m, "spec", name, ""); c.isOhm(y) {
			return m.ref + "." + name
		}
	case c.isOhm(c.kindFact(m, name)), c.isOhm(c.useSymbol(m, name)):
		return m.ref + "." + name
	}
	if m.kind == "resistor" && c.ohms(m) {
		return m.ref
	}
	return ""
}

// resistances are the symbols of the trade for a resistance against direct
// current.
var resistances = []string{"R_DC", "R", "DCR", "R_ON", "R_COLD", "R_CONTACT"}

// resistanceName is the symbol under which note, options or use state the
// resistance of a component; "" where they state none.
func (m *component) resistanceName() string {
	if m.part != nil {
		return m.part.factNamed("spec", resistances...)
	}
	for _, o := range m.row.Options {
		word, rest, _ := strings.Cut(strings.TrimSpace(o.S), " ")
		for _, n := range resistances {
			if sameSymbol(word, n) && strings.TrimSpace(rest) != "" {
				return word
			}
		}
	}
	return m.useNamed(resistances...)
}

func (c *compiler) isOhm(y *symbol) bool {
	if y == nil {
		return false
	}
	c.lower(y)
	return y.val.Class == formula.Number && y.val.Type.Dim == dimOhm
}

// statesResistance says that notes or row speak of a resistance.
func (m *component) statesResistance() bool { return m.resistanceName() != "" }

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
	return &symbol{name: n.name, entry: n.feed.by.entry, derived: true, comp: n.feed.by, define: func(y *symbol) { c.defineFeed(n, y) }}
}

func (c *compiler) defineFeed(n *net, y *symbol) {
	f := n.feed
	y.cites = c.citesOf(f.by.entry)
	if lacking := c.feedLacks(n); lacking != nil {
		y.own().lacking = lacking
		y.input = &input{sym: y, name: y.name, typ: volt, in: bound.Input{}}
		y.val = formula.Value{Class: formula.Number, Type: volt, Reg: c.newInput(y.input)}
		return
	}
	drop, sign := c.resistanceOf(f.by)+" * "+f.by.ref+".use.I", " - "
	if isReturn(f.from) || c.negative(f.from) { // the current of the parts flows towards it
		sign = " + "
	}
	text := c.netText(f.from) + sign + drop
	y.own().text = text
	s := &scope{c: c}
	y.val, _, y.expr = c.lowerText(notebook.Text{S: text}, s)
	y.deps = s.used
}

// negative says that a supply lies below the return.
func (c *compiler) negative(n *net) bool {
	_, below := c.sign(n)
	return below
}

// crossesZero says that a supply may lie on either side of the return.
func (c *compiler) crossesZero(n *net) bool {
	above, below := c.sign(n)
	return !above && !below
}

// sign says whether a supply lies above the return or below it, by all that
// is known of it, else by what is printed; neither where it may be both.
func (c *compiler) sign(n *net) (above, below bool) {
	y := c.netVoltage(n)
	if y == nil || y.rare().lacking != nil {
		return true, false // nothing can be shown of it
	}
	p := c.b.Extract(y.val.Reg)
	in := c.gather(p)
	for _, e := range []bound.Extent{bound.Range(p, 0, in, bound.Options{Boxes: 200}),
		bound.SureRange(p, 0, in, bound.Options{Boxes: 200})} {
		lo, hi := endRat(e.Lo), endRat(e.Hi)
		switch {
		case e.Empty:
		case lo != nil && lo.Sign() >= 0:
			return true, false
		case hi != nil && hi.Sign() <= 0:
			return false, true
		}
	}
	return false, false
}

// feedLacks says what is not stated of the drop on the way to a net.
func (c *compiler) feedLacks(n *net) *record.OpenPoint {
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
		return &record.OpenPoint{Reason: "no fact", Text: head + ", and it is not stated whether that is closed", Settle: "give its row the option `closed` or `open`"}
	case c.netVoltage(f.from) == nil:
		return &record.OpenPoint{Reason: "no value", Text: head + ", and the voltage of " + f.from.name + " is not known", Settle: "give a value `" + f.from.name + " = ...`"}
	case !isReturn(f.from) && c.crossesZero(f.from):
		return &record.OpenPoint{Reason: "no value", Text: head + ", which may lie above 0 V or below, so it is not known which way the current flows", Settle: "give a value `" + n.name + " = ...`"}
	case none && ok:
		return &record.OpenPoint{Reason: "no fact", Text: head + ", whose resistance is not stated, so the drop across it is not known", Settle: note}
	case none:
		return &record.OpenPoint{Reason: "no fact", Text: head + ", of which neither resistance nor current is stated, so the drop across it is not known", Settle: note + "; " + state}
	case !ok && len(f.also) > 0:
		return &record.OpenPoint{Reason: "no value", Text: n.name + " is fed by " + f.by.ref + " and by " + refList(f.also) + ", and how the current divides is not stated", Settle: "state `in use: I = ...` in the row of " + f.by.ref + ", or give a value `" + n.name + " = ...`"}
	case !ok:
		text := head + ", whose current is not stated, so the drop across it is not known"
		if o := c.otherFeeder(n); o != "" && c.budgetOf(n) != nil {
			text = head + ", and " + o + " may feed it too, so the budget does not tell the current of " + f.by.ref
			state = "state `in use: I = ...` in the row of " + f.by.ref
		}
		return &record.OpenPoint{Reason: "no value", Text: text, Settle: state}
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
	return c.shareOfPeak(m.ref+".use.I", n, b)
}

// shareOfPeak is a current that may be anything from nothing to the peak of a
// budget, which is reached.
func (c *compiler) shareOfPeak(name string, n *net, b *budget) *symbol {
	return &symbol{name: name, derived: true, define: func(y *symbol) {
		peak := b.results["peak"]
		c.lower(peak)
		if peak.val.Class != formula.Number || peak.val.Type.Dim != dimAmpere {
			return
		}
		y.deps, y.own().text = []*symbol{peak}, "0 to "+budgetText(b)+".peak"
		share := c.newInput(&input{name: "share of the peak of " + n.name, in: bound.Input{Lo: zero, Hi: one, SureLo: one, SureHi: one}})
		y.val = formula.Value{Class: formula.Number, Type: units.Type{Dim: dimAmpere}, Unit: peak.val.Unit,
			Reg: c.b.Binary(bound.OpMul, share, peak.val.Reg)}
	}}
}

// budgetText names a budget in a formula.
func budgetText(b *budget) string {
	if isName(b.block.ID) {
		return "budget." + b.block.ID
	}
	return `budget("` + b.block.ID + `")`
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

// voltageStated says that the voltage of a net is known and that no drop on
// the way to it is left unsaid.
func (c *compiler) voltageStated(n *net) bool {
	y := c.netVoltage(n)
	return y != nil && y.rare().lacking == nil
}
