package eval

import "strings"

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
	drivers := c.driversOf(n, in)
	foreign := c.tiedToOther(in, n)
	through := c.driversThrough(n, in)
	behind := c.driversBehind(n, in)
	var far *joint
	var by []string
	if len(drivers)+len(through)+len(behind) == 0 && !foreign {
		if c.isRail(n) {
			return // tied: other checks judge that
		}
		if far, by = c.beyond(n, in); far == nil {
			return // pulled or floating
		}
	}
	m, q := in.comp, in.pin
	cl := c.builtClaim(b, subject, "The levels on "+n.name+" are read for what they are by "+q.row.Name+" of "+m.label()+".", q.entry)
	if far != nil {
		cl.lacks("no fact", far.name()+" drives "+n.name+" by "+strings.Join(by, " and ")+", and the level behind these is not worked out", "claim the level yourself, and skip this check with the reason")
		return
	}
	high := c.limitEnd(m, q, volt.Dim, "min", "V_IH")
	low := c.limitEnd(m, q, volt.Dim, "max", "V_IL")
	if high == "" && low == "" {
		cl.lacks("no fact", "neither V_IH nor V_IL of "+in.name()+" is noted", "note `operating V_IH = min ...` and `operating V_IL = max ...` in part "+m.part.id)
		return
	}
	if text := c.otherReturn(in, in); text != "" {
		cl.lacksReturn(text)
		return
	}
	if foreign {
		c.askHigh(cl, c.netText(n), high, in)
		return
	}
	asked := map[string]bool{}
	for _, d := range drivers {
		c.askLevels(cl, in, d, high, low, nil, asked)
	}
	for _, t := range through {
		w, open := c.wayTo(n, t.by)
		if open != nil {
			cl.lacksOnce(asked, open.Reason, open.Text, open.Settle)
			continue
		}
		c.askLevels(cl, in, t.driver, high, low, w, asked)
	}
	for _, d := range behind {
		if d.by.comp.unsaid() {
			cl.lacksOnce(asked, "no fact", d.driver.name()+" may drive "+n.name+" by "+d.by.comp.ref+", and it is not stated whether that is closed", "give the row of "+d.by.comp.ref+" the option `closed` or `open`")
			continue
		}
		cl.lacksOnce(asked, "no fact", d.driver.name()+" drives "+n.name+" by "+d.by.comp.ref+", whose resistance against direct current is not noted", "note "+d.by.comp.ref+" as a part of two pins with `spec R = ...`")
	}
}

// askLevels asks for both levels of one driver, which reaches the pin directly
// or by way of resistors.
func (c *compiler) askLevels(cl *claim, in, d joint, high, low string, w *way, asked map[string]bool) {
	if text := c.otherReturn(in, d); text != "" {
		if !seenBefore(asked, text) {
			cl.lacksReturn(text)
		}
		return
	}
	if t := c.pulledBy(d); t != "" && !seenBefore(asked, t) {
		cl.out.Statement = strings.TrimSuffix(cl.out.Statement, ".") + "; " + t + ", by what pulls its net."
	}
	if !d.pin.onlyPullsLow() {
		if _, v := c.pinFact(d.comp, "spec", d.pin, volt.Dim, "V_OH"); v == "" {
			cl.lacksOnce(asked, "no fact", "V_OH of "+d.name()+" is not noted", "note `spec V_OH = min ... at I_OH <= ...` in part "+d.comp.part.id)
		} else if v = w.level(v, " - "); !seenBefore(asked, v, high) {
			c.askHigh(cl, v, high, in)
		}
	}
	if d.pin.has("open source") {
		return
	}
	_, v := c.pinFact(d.comp, "spec", d.pin, volt.Dim, "V_OL")
	switch {
	case v == "":
		cl.lacksOnce(asked, "no fact", "V_OL of "+d.name()+" is not noted", "note `spec V_OL = max ... at I_OL <= ...` in part "+d.comp.part.id)
	case low == "":
		cl.lacksOnce(asked, "no fact", "V_IL of "+in.name()+" is not noted", "note `operating V_IL = max ...` in part "+in.comp.part.id)
	default:
		if v = w.level(v, " + "); !seenBefore(asked, v, low) {
			c.ask(cl, v+" <= "+low)
		}
	}
}

func (c *compiler) askHigh(cl *claim, level, high string, in joint) {
	if high == "" {
		cl.lacks("no fact", "V_IH of "+in.name()+" is not noted", "note `operating V_IH = min ...` in part "+in.comp.part.id)
		return
	}
	c.ask(cl, level+" >= "+high)
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
