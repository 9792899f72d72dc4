package eval

import (
	"slices"
	"strings"
)

// logicLevel asks that what drives a logic input is read for what it is, in
// both directions of a net.
var logicLevel = &builtin{
	name: "logic-level",
	rule: "Every driver on the net of a logic input reaches its V_IH when high and its V_IL when low, at the currents and supplies stated; a current that the use does not state is that of the resistors and the leakage on the net, where nothing else stands on it. " +
		"A series resistor counts with the pulls behind it and the leakage of the pins. " +
		"Looked at: pins of type input, bidirectional and clock of parts with a supply; open-drain outputs count when low, their high level is in pull-up.",
	source: "JESD99 (V_OH, V_OL, V_IH, V_IL); common practice",
	run: func(c *compiler, b *builtin) {
		for _, m := range c.placedParts() {
			if !m.part.hasSupply() {
				continue
			}
			names := subjects(m)
			for _, q := range m.part.pins {
				if n := m.pinNets[q]; n != nil && q.reads() {
					c.levelsAt(b, joint{comp: m, pin: q}, n, names[q])
				}
			}
		}
	},
}

// levelsAt judges the levels that one pin reads.
func (c *compiler) levelsAt(b *builtin, in joint, n *net, subject string) {
	r := c.reachOf(n)
	drivers := r.drivers(in)
	foreign := c.tiedToOther(in, n)
	if len(drivers) == 0 && !foreign || c.isRail(n) && !foreign {
		return // tied: other checks judge that; pulled or floating
	}
	m, q := in.comp, in.pin
	statement := "The levels on " + n.name + " are read for what they are by " + q.row.Name + " of " + m.label()
	for _, d := range drivers {
		if by := r.way(d); by != "" && !foreign {
			statement += "; " + d.name() + " drives it by " + by
		}
	}
	cl := c.builtClaim(b, subject, statement+".", q.entry)
	high := c.limitEnd(m, q, volt.Dim, "min", "V_IH")
	low := c.limitEnd(m, q, volt.Dim, "max", "V_IL")
	if high == "" && low == "" {
		cl.lacks("no fact", "neither V_IH nor V_IL of "+in.name()+" is noted", "note `operating V_IH = min ...` and `operating V_IL = max ...` in part "+m.part.id)
		return
	}
	if text := c.returnUnknown(in); text != "" {
		cl.lacksReturn(text)
		return
	}
	if foreign {
		c.askHigh(cl, c.levelAt(in, n), high, in)
		return
	}
	asked := map[string]bool{}
	for _, g := range r.gates {
		if !c.isRail(g) {
			cl.lacksOnce(asked, "no fact", "a transistor passes the level on while "+g.name+" has it on, and when that is, is not noted", "claim the level yourself, and skip this check with the reason")
		}
	}
	for _, x := range r.between {
		onWay := false
		for _, d := range drivers {
			onWay = onWay || slices.Contains(r.by[d.comp.pinNets[d.pin]], x.ref)
		}
		if !onWay {
			continue // both its states are judged
		}
		cl.lacksOnce(asked, "no fact", "the level may pass by "+x.ref+", and it is not stated whether that is closed", "give the row of "+x.ref+" the option `closed` or `open`")
	}
	if len(asked) > 0 {
		return
	}
	r.resting(cl)
	for _, d := range drivers {
		c.askLevels(cl, in, d, high, low, r, asked)
	}
}

// askLevels asks for both levels of one driver: for those its note states where
// it is on the net of the pin and its current is known, else for what the
// circuit makes of them.
func (c *compiler) askLevels(cl *claim, in, d joint, high, low string, r *reach, asked map[string]bool) {
	apart := c.otherReturn(in, d) != "" // then the level is that of the net against the return of the input
	if text := c.returnUnknown(d); apart && text != "" {
		if !seenBefore(asked, text) {
			cl.lacksReturn(text)
		}
		return
	}
	ask := func(symbol, state, op, limit string) {
		_, v := c.pinFact(d.comp, "spec", d.pin, volt.Dim, symbol)
		switch {
		case v == "":
			cl.lacksOnce(asked, "no fact", symbol+" of "+d.name()+" is not noted", "note `spec "+symbol+" = ...` with the current it holds at in part "+d.comp.part.id)
		case limit == "":
			cl.lacksOnce(asked, "no fact", "V_I"+symbol[3:]+" of "+in.name()+" is not noted", "note `operating V_IH = min ...` and `operating V_IL = max ...` in part "+in.comp.part.id)
		case r.way(d) == "" && !apart && c.tellsCurrent(d, symbol):
			if !seenBefore(asked, v, limit) {
				c.ask(cl, v+op+limit)
			}
		default:
			c.askAmong(cl, r.letGo(d, state, ""), c.levelAt(in, r.nets[0])+op+limit)
		}
	}
	if t := c.pulledBy(d); r.way(d) == "" && !apart && t != "" && !seenBefore(asked, t) {
		cl.out.Statement = strings.TrimSuffix(cl.out.Statement, ".") + "; " + t + ", by what pulls its net."
	}
	if !d.pin.onlyPullsLow() {
		ask("V_OH", "high", " >= ", high)
	}
	if !d.pin.has("open source") {
		ask("V_OL", "low", " <= ", low)
	}
}

// tellsCurrent says that the current at which a level of an output holds is
// stated in its use, or that resistors alone make it.
func (c *compiler) tellsCurrent(d joint, symbol string) bool {
	for _, f := range d.comp.part.factOrder {
		if def, _ := d.comp.part.choose("spec", f.name, d.pin.row.Name); f.section == "spec" &&
			sameSymbol(f.name, symbol) && def == f && d.comp.asksPinCurrent(f) {
			_, why := c.pinCurrentText(d.comp, d.pin.row.Name, symbol == "V_OL")
			return why == ""
		}
	}
	return true
}

func (c *compiler) askHigh(cl *claim, level, high string, in joint) {
	if high == "" {
		cl.lacks("no fact", "V_IH of "+in.name()+" is not noted", "note `operating V_IH = min ...` in part "+in.comp.part.id)
		return
	}
	c.ask(cl, level+" >= "+high)
}

// returnUnknown says that the voltage of the ground of a part is not known, or
// of which of several its levels are stated against.
func (c *compiler) returnUnknown(j joint) string {
	g := j.comp.netsOf("ground")
	if slices.ContainsFunc(g, func(n *net) bool { return !isGround(n.name) }) && (len(g) > 1 || !c.voltageStated(g[0])) {
		return j.name() + " states its levels against " + g[0].name + ", and the nets are known against the return"
	}
	return ""
}

// levelAt spells the voltage of a net as a pin sees it: against its own ground.
func (c *compiler) levelAt(in joint, n *net) string {
	if g := in.comp.netsOf("ground"); len(g) == 1 {
		return c.difference(n, g[0])
	}
	return c.netText(n)
}

// otherReturn says that two parts state their levels against grounds of which
// it is not known that both are the 0 V of the nets; "" where they are. A part
// of several grounds states them against one on a net of theirs both.
func (c *compiler) otherReturn(in, d joint) string {
	a, b := in.comp.netsOf("ground"), d.comp.netsOf("ground")
	for _, j := range []joint{in, d} {
		for _, g := range j.comp.netsOf("ground") {
			if !isGround(g.name) && c.voltageKnown(g) {
				return j.name() + " states its levels against " + g.name + ", and the nets are known against the return"
			}
		}
	}
	if len(a) == 0 || len(b) == 0 {
		return ""
	}
	named := true
	for _, g := range append(a, b...) {
		named = named && isGround(g.name)
	}
	for _, g := range a {
		for _, h := range b {
			if named || g == h {
				return ""
			}
		}
	}
	return d.name() + " states its levels against " + b[0].name + ", " + in.name() + " against " + a[0].name + ", and it is not known that both are at one voltage"
}

func (cl *claim) lacksReturn(text string) {
	cl.lacks("no fact", text, "join the grounds in the circuit, or claim the levels against one of them and skip this check with the reason")
}

// driversOf are the pins of a net that can set the level another pin reads.
func (c *compiler) driversOf(n *net, in joint) []joint {
	var out []joint
	for _, j := range n.pinsOf() {
		if j.comp != in.comp && j.pin.drives() {
			out = append(out, j)
		}
	}
	return out
}

// tiedToOther says that an input stands directly on a supply which is not its
// own, nor the return.
func (c *compiler) tiedToOther(in joint, n *net) bool {
	return in.pin.onlyReads() && !isReturn(n) && c.voltageKnown(n) && c.supplyOf(in.comp, in.pin) != n
}

// lacksOnce opens a claim for a reason that it does not name yet.
func (cl *claim) lacksOnce(done map[string]bool, reason, text, settle string) {
	if !seenBefore(done, text) {
		cl.lacks(reason, text, settle)
	}
}
