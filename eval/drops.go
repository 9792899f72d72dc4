package eval

import (
	"guardband/eval/bound"
	"guardband/eval/circuit"
	"guardband/eval/formula"
	"guardband/eval/record"
	"guardband/notebook"
)

// This file works out the voltage of a net that hangs on another: what drops
// on the way, or what is not stated of it.

// resistance is what a part resists against direct current, and its name in a
// formula; nil where nothing states it.
func (c *compiler) resistance(m *circuit.Component) (y *symbol, text string) {
	if y = c.componentSymbol(m); c.isOhm(y) && m.Kind != "ferrite bead" { // what a bead is sold by is its impedance
		return y, m.Ref
	}
	switch name := m.ResistanceName(); {
	case name == "":
		return nil, ""
	case m.Part != nil:
		y, _ = c.fact(m, "spec", name, "")
		text = m.Ref + "." + name
	default:
		if y, text = c.kindFact(m, name), m.Ref+"."+name; y == nil {
			y = c.useSymbol(m, name)
		}
	}
	if !c.isOhm(y) {
		return nil, ""
	}
	return y, text
}

func (c *compiler) isOhm(y *symbol) bool {
	if y == nil {
		return false
	}
	c.lower(y)
	return y.val.Class == formula.Number && y.val.Type.Dim == circuit.DimOhm
}

// optionSymbol is a quantity that a row states by an option: `R_DC max 0.3 Ω`.
func (c *compiler) optionSymbol(m *circuit.Component, name string) *symbol {
	t := m.OptionText(name)
	if t == nil {
		return nil
	}
	key := useKey{m, "option " + name}
	if y, ok := c.uses[key]; ok {
		return y
	}
	y := &symbol{name: m.Ref + "." + name, entry: m.Entry, comp: m, assumed: assumedOf(m.Entry)}
	y.cites = c.citesOf(m.Entry)
	y.define = func(y *symbol) {
		if cols := c.lowerColumns(*t, &scope{c: c}); !cols.bad {
			c.makeQuantity(y, []columns{cols}, nil)
		}
	}
	c.uses[key] = y
	return y
}

// feedSymbol is the voltage of a net behind what joins it to another.
func (c *compiler) feedSymbol(n *circuit.Net) *symbol {
	return &symbol{name: n.Name, entry: n.Feed.By.Entry, derived: true, comp: n.Feed.By, define: func(y *symbol) { c.defineFeed(n, y) }}
}

func (c *compiler) defineFeed(n *circuit.Net, y *symbol) {
	f := n.Feed
	y.cites = c.citesOf(f.By.Entry)
	if lacking := c.feedLacks(n); lacking != nil {
		y.lacking = lacking
		y.input = &input{sym: y, name: y.name, typ: circuit.Volt, in: bound.Input{}}
		y.val = formula.Value{Class: formula.Number, Type: circuit.Volt, Reg: c.newInput(y.input)}
		return
	}
	_, ohms := c.resistance(f.By)
	sign := " - "
	if circuit.IsReturn(f.From) || c.Negative(f.From) { // the current of the parts flows towards it
		sign = " + "
	}
	c.defineText(y, c.NetText(f.From)+sign+ohms+" * "+f.By.Ref+".use.I")
}

// defineText makes a symbol what a formula says.
func (c *compiler) defineText(y *symbol, text string) {
	y.text = text
	s := &scope{c: c}
	y.val, _, y.expr = c.lowerText(notebook.Text{S: text}, s)
	y.deps = s.used
}

// upTo is anything from nothing to a most, which is reached.
func (c *compiler) upTo(name string, most bound.Reg) bound.Reg {
	share := c.newInput(&input{name: name, in: bound.Input{Lo: zero, Hi: one, SureLo: one, SureHi: one}})
	return c.b.Binary(bound.OpMul, share, most)
}

// Negative says that a supply lies below the return.
func (c *compiler) Negative(n *circuit.Net) bool {
	_, below := c.sign(n)
	return below
}

// CrossesZero says that a supply may lie on either side of the return.
func (c *compiler) CrossesZero(n *circuit.Net) bool {
	above, below := c.sign(n)
	return !above && !below
}

// sign says whether a supply lies above the return or below it, by all that
// is known of it, else by what is printed; neither where it may be both.
func (c *compiler) sign(n *circuit.Net) (above, below bool) {
	y := c.netVoltage(n)
	if y == nil || y.lacking != nil {
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
func (c *compiler) feedLacks(n *circuit.Net) *record.OpenPoint {
	f := n.Feed
	head := n.Name + " hangs on " + f.From.Name + " by " + f.By.Ref
	current := c.useSymbol(f.By, "I")
	if current != nil {
		c.lower(current)
	}
	ok := current != nil && current.val.Class == formula.Number && current.val.Type.Dim == circuit.DimAmpere
	state := "state `in use: I = 0 mA to 20 mA` in the row of " + f.By.Ref + ", or write a budget of " + n.Name
	note := "note `spec R_DC = ...` of the part, or give the row the option `R_DC 0 Ω to 0.3 Ω`"
	r, _ := c.resistance(f.By)
	switch none := r == nil; {
	case f.By.Unsaid():
		return &record.OpenPoint{Reason: "no fact", Text: head + ", and it is not stated whether that is closed",
			Settle: "give its row the option `closed` or `open`"}
	case c.netVoltage(f.From) == nil:
		return &record.OpenPoint{Reason: "no value", Text: head + ", and the voltage of " + f.From.Name +
			" is not known", Settle: "give a value `" + f.From.Name + " = ...`"}
	case !circuit.IsReturn(f.From) && c.CrossesZero(f.From):
		return &record.OpenPoint{Reason: "no value", Text: head +
			", which may be above 0 V or below, so the direction of the current is not known", Settle: "give a value `" + n.Name + " = ...`"}
	case none && ok:
		return &record.OpenPoint{Reason: "no fact", Text: head + ", whose resistance is not stated, so the drop across it is not known", Settle: note}
	case none:
		return &record.OpenPoint{Reason: "no fact", Text: head +
			", of which neither resistance nor current is stated, so the drop across it is not known", Settle: note + "; " + state}
	case !ok && len(f.Also) > 0:
		return &record.OpenPoint{Reason: "no value", Text: n.Name + " is fed by " + f.By.Ref + " and by " +
			circuit.RefList(f.Also) + ", and how the current divides is not stated",
			Settle: "state `in use: I = ...` in the row of " + f.By.Ref + ", or give a value `" + n.Name + " = ...`"}
	case !ok:
		text := head + ", whose current is not stated, so the drop across it is not known"
		if o := c.OtherFeeder(n); o != "" && c.budgetOf(n) != nil {
			text = head + ", and " + o + " may feed it too, so the budget does not give the current of " + f.By.Ref
			state = "state `in use: I = ...` in the row of " + f.By.Ref
		}
		return &record.OpenPoint{Reason: "no value", Text: text, Settle: state}
	}
	return nil
}

// feedCurrent is the current through what feeds a net, where its row states
// none: anything from nothing to the peak of the net's budget. nil where there
// is no budget or where something else may feed the net.
func (c *compiler) feedCurrent(m *circuit.Component) *symbol {
	n := m.Feeds
	b := c.budgetOf(n)
	if b == nil || len(n.Feed.Also) > 0 || c.OtherFeeder(n) != "" {
		return nil
	}
	return c.shareOfPeak(m.Ref+".use.I", n, b)
}

// shareOfPeak is a current that may be anything from nothing to the peak of a
// budget, which is reached.
func (c *compiler) shareOfPeak(name string, n *circuit.Net, b *budget) *symbol {
	return &symbol{name: name, derived: true, define: func(y *symbol) {
		peak := b.results["peak"]
		c.lower(peak)
		if peak.val.Class != formula.Number || peak.val.Type.Dim != circuit.DimAmpere {
			return
		}
		y.deps, y.text = []*symbol{peak}, "0 to "+budgetText(b)+".peak"
		y.val = peak.val
		y.val.Reg = c.upTo("share of the peak of "+n.Name, peak.val.Reg)
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
func (c *compiler) budgetOf(n *circuit.Net) *budget {
	for _, b := range c.budgets {
		if n.GoesBy(b.block.ID) {
			return b
		}
	}
	return nil
}

// VoltageStated says that the voltage of a net is known and that no drop on
// the way to it is left unsaid.
func (c *compiler) VoltageStated(n *circuit.Net) bool {
	y := c.netVoltage(n)
	return y != nil && y.lacking == nil
}
