package eval

import (
	"strings"

	"guardband/eval/formula"
	"guardband/eval/record"
	"guardband/units"
)

// pullUp asks that an open-drain net is pulled up, neither too strongly nor too
// weakly.
var pullUp = &builtin{
	name: "pull-up",
	rule: "A net that open-drain outputs pull low, or that is a line of a two-wire bus by its name (SDA, SCL), has a pull-up, placed or inside a part (`spec R_PU`); every output sinks its current, (V - V_OL) / R <= I_OL; leakage leaves a high level, V - R·I_LEAK >= V_IH; " +
		"where a rise time t_R is noted, ln(0.7/0.3)·R·C <= t_R with C from a value C_NET or C_BUS (the whole line), else the pins' C_PIN or C_IN, the capacitors placed and a value C_TRACK; what is behind a series resistor counts in full.",
	source: "I²C-bus specification UM10204, section 7.1; common practice",
	run: func(c *compiler, b *builtin) {
		for _, n := range c.signalNets() {
			pins := n.pinsOf()
			switch {
			case hasOpenDrain(pins) || c.riseLimit(pins) != "" && len(c.pullUps(n)) > 0:
				c.pullUpAt(b, n, pins)
			case busLine(n, pins) && !c.reachOf(n).pullsUp():
				cl := c.builtClaim(b, n.name, "Net "+n.name+" is pulled up.", nil)
				cl.out.Position = position(n.text.Pos(0))
				cl.lacks("no fact", "by its name "+n.name+" is a line of a two-wire bus, and nothing pulls it up",
					"place a resistor to the supply, flag the pin with a pull inside `pull-up`, or skip this check with the reason")
			}
		}
	},
}

// busLine says that a net is a line of a two-wire bus by its name or those of
// pins, also where no pin is noted as an open drain: a part on it has an
// address, or two take and send data. A clock that is pushed needs no pull.
func busLine(n *net, pins []joint) bool {
	names, addressed, both := netFunction(n), false, []*component{}
	for _, j := range pins {
		switch f := function(j.pin); {
		case pushes(j.pin):
			return false
		case f == "SDA" || f == "SCL":
			names = f
		}
		addressed = addressed || j.comp.part.attrs["address"] != nil
		if j.pin.row.Type == "bidirectional" && !holds(both, j.comp) {
			both = append(both, j.comp)
		}
	}
	return len(pins) > 1 && (names == "SDA" && (addressed || len(both) > 1) || names == "SCL" && addressed)
}

func hasOpenDrain(pins []joint) bool {
	for _, j := range pins {
		if j.pin.onlyPullsLow() {
			return true
		}
	}
	return false
}

// pullUps are the resistors from a net to a supply.
func (c *compiler) pullUps(n *net) []resistor {
	var out []resistor
	for _, r := range c.pulls(n) {
		if !isReturn(r.other) {
			out = append(out, r)
		}
	}
	return out
}

func (c *compiler) pullUpAt(b *builtin, n *net, pins []joint) {
	cl := c.builtClaim(b, n.name, "Net "+n.name+" is pulled up strongly enough and not too strongly.", nil)
	cl.out.Position = position(n.text.Pos(0))
	if text := c.otherReturns(pins); text != "" {
		cl.lacksReturn(text)
		return
	}
	ups := c.pullUps(n)
	r := c.reachOf(n)
	other, plugs := c.besides(n)
	r.resting(cl)
	switch {
	case other != "" && (r.pullsUp() || len(r.nets) > 1 && len(r.plugs) == 0):
		c.pulledThrough(cl, n, pins, r)
		return
	case other != "" || len(plugs) > 0 && len(ups) == 0:
		cl.lacks("no fact", "no pull-up of "+n.name+" is placed; what is plugged into "+strings.Join(r.plugs, ", ")+" may bring one", "place it, or skip this check with the reason")
		return
	}
	inside, known := c.pullsInside(cl, n, pins)
	if len(ups) == 0 {
		c.pulledUpInside(cl, n, pins, inside, known)
		return
	}
	for _, r := range ups {
		cl.entries = append(cl.entries, r.comp.entry)
		switch {
		case !c.ohms(r.comp):
			cl.lacks("no value", "the resistance of "+r.comp.ref+" is not stated", "give its value in its row")
			return
		case !c.voltageKnown(r.other):
			cl.lacks("no value", "the voltage of net "+r.other.name+" is not known", "give a value `"+r.other.name+" = ...`, or note the output voltage of the part that drives it")
			return
		}
	}
	cl.settle(record.Passed, n.name+" is pulled up by "+refsOf(ups))
	c.askPulls(cl, n, pins, append(inside, ups...))
}

// pullsUp says that a supply pulls a net up through whatever joins them, or a
// pull inside a pin does.
func (r *reach) pullsUp() bool {
	for _, far := range r.rails {
		if !isReturn(far) {
			return true
		}
	}
	for _, j := range r.pins() {
		if j.pin.has("pull-up") {
			return true
		}
	}
	return false
}

// pulledThrough judges a net that more than resistors to supplies stand on: by
// what the circuit makes of it while one output is low, and while all let go.
func (c *compiler) pulledThrough(cl *claim, n *net, pins []joint, r *reach) {
	if !r.pullsUp() {
		for _, far := range r.nets[1:] {
			if len(far.joined) == 1 {
				cl.lacks("no fact", n.name+" is joined by "+strings.Join(r.by[far], " and ")+" to "+far.name+", which is no supply that is known", "give a value `"+far.name+" = ...` if it is a supply")
				return
			}
		}
		cl.settle(record.Failed, "nothing pulls "+n.name+" up: no resistor to a supply is placed, and no pin on it is flagged pull-up")
		return
	}
	for k, far := range r.rails {
		cl.entries = append(cl.entries, r.ends[k].entry)
		if !isReturn(far) && !c.voltageKnown(far) {
			cl.lacks("no value", "the voltage of net "+far.name+" is not known", "give a value `"+far.name+" = ...`, or note the output voltage of the part that drives it")
			return
		}
	}
	asked := map[string]bool{}
	for _, j := range pins {
		y, low := c.pinFact(j.comp, "spec", j.pin, volt.Dim, "V_OL")
		switch {
		case !j.pin.drives() || j.pin.has("open source"):
			continue
		case y == nil || y.cols[2] == nil:
			if j.pin.onlyPullsLow() {
				cl.lacks("no fact", "no maximum of V_OL of "+j.name()+" is noted", "note `spec V_OL = max ... at I_OL <= ...` in part "+j.comp.part.id)
			}
			continue
		}
		if _, most, open := c.sinkPoint(cl, j, y, low); open == nil {
			c.askAmong(cl, r.letGo(j, "low", "high"), j.comp.ref+".use.I_OL("+j.pin.row.Name+") <= "+most)
		} else if j.pin.onlyPullsLow() {
			cl.lacks(open.Reason, open.Text, open.Settle)
		}
	}
	for _, j := range r.pins() {
		at := j.comp.pinNets[j.pin]
		if !j.pin.reads() || !j.comp.part.hasSupply() || at != n && hasOpenDrain(at.pinsOf()) {
			continue // another net's own claim asks
		}
		if high := c.limitEnd(j.comp, j.pin, volt.Dim, "min", "V_IH"); high == "" {
			cl.lacksOnce(asked, "no fact", "V_IH of "+j.name()+" is not noted, so it is not known whether the pulled level is read as high", "note `operating V_IH = min ...` in part "+j.comp.part.id)
		} else if text := c.netText(at) + " >= " + high; !seenBefore(asked, text) {
			c.askAmong(cl, r.letGo(joint{}, "", "high"), text)
		}
	}
	c.askRise(cl, n, r)
}

// askPulls asks what pull-ups owe: every output sinks them all, and they leave
// a high level in time.
func (c *compiler) askPulls(cl *claim, n *net, pins []joint, ups []resistor) {
	asked := map[string]bool{}
	for _, j := range pins {
		if j.pin.drives() && !j.pin.has("open source") {
			c.askSink(cl, j, ups, asked)
		}
	}
	c.askPulledHigh(cl, n, pins, ups)
	c.askRise(cl, n, c.reachOf(n))
}

// otherReturns compares the grounds of all logic pins of a net with those of the
// first.
func (c *compiler) otherReturns(pins []joint) string {
	var first *joint
	for i, j := range pins {
		if !j.pin.drives() && !j.pin.reads() {
			continue
		}
		if first == nil {
			first = &pins[i]
		}
		if text := c.otherReturn(*first, j); text != "" {
			return text
		}
	}
	return ""
}

// pulledUpInside judges an open-drain net without a resistor of its own.
func (c *compiler) pulledUpInside(cl *claim, n *net, pins []joint, inside []resistor, known bool) {
	if !known {
		return // told
	}
	if len(inside) > 0 {
		cl.settle(record.Passed, n.name+" is pulled up inside, by "+refsOf(inside))
		c.askPulls(cl, n, pins, inside)
		return
	}
	for _, r := range c.resistorsAt(n) {
		if !isReturn(r.other) {
			cl.lacks("no fact", n.name+" is joined by "+r.comp.ref+" to "+r.other.name+", which is no supply that is known", "give a value `"+r.other.name+" = ...` if it is a supply")
			return
		}
	}
	cl.settle(record.Failed, "nothing pulls "+n.name+" up: no resistor to a supply is placed, and no pin on it is flagged pull-up")
}

// askSink asks that an output still reaches its V_OL against the pull-ups.
func (c *compiler) askSink(cl *claim, j joint, ups []resistor, asked map[string]bool) {
	y, low := c.pinFact(j.comp, "spec", j.pin, volt.Dim, "V_OL")
	if y == nil || y.cols[2] == nil {
		if j.pin.onlyPullsLow() {
			cl.lacks("no fact", "no maximum of V_OL of "+j.name()+" is noted", "note `spec V_OL = max ... at I_OL <= ...` in part "+j.comp.part.id)
		}
		return
	}
	level, most, open := c.sinkPoint(cl, j, y, low)
	if open != nil {
		if j.pin.onlyPullsLow() {
			cl.lacks(open.Reason, open.Text, open.Settle)
		}
		return
	}
	var sum []string
	for _, r := range ups {
		sum = append(sum, "("+c.netText(r.other)+" - "+level+") / "+r.comp.ref)
	}
	if text := strings.Join(sum, " + ") + " <= " + most; !seenBefore(asked, text) {
		c.ask(cl, text)
	}
}

// sinkPoint names a V_OL of a pin and the current at which it holds: those of
// the first row that states a most, or V_OL as a whole and a limit I_OL. The row
// is taken at its own current, not at that of the net, which it is to judge.
func (c *compiler) sinkPoint(cl *claim, j joint, y *symbol, low string) (level, most string, open *record.OpenPoint) {
	level = low + ".max"
	for _, r := range y.rows {
		if r.cols[2] == nil {
			continue
		}
		for _, d := range c.conditionsOf(y, r) {
			if d.flag == "" && sameSymbol(d.name, "I_OL") && d.hi != nil && d.hi.Type.Dim == dimAmpere {
				most = c.literal(d.hi)
				continue
			}
			if p := c.coversOne(y, d); p != nil {
				return "", "", p
			}
		}
		if text := c.literal(r.cols[2]); most != "" && text != "" {
			level = text
			cl.entries = append(cl.entries, r.entry)
		}
		break
	}
	if most == "" {
		most = c.limitEnd(j.comp, j.pin, dimAmpere, "max", "I_OL")
	}
	if most == "" {
		return "", "", &record.OpenPoint{Reason: "no fact", Text: "the current at which " + y.name + " holds is not noted", Settle: "add `at I_OL <= ...` to its row"}
	}
	return level, most, nil
}

// literal prints an exact number so that a formula can hold it.
func (c *compiler) literal(v *formula.Value) string {
	x, ok := c.b.ConstOf(v.Reg)
	if !ok {
		return ""
	}
	return units.Format(x, v.Type, units.Style{Unit: v.Unit, Digits: 15})
}

// askPulledHigh asks that the leakage of all pins on the net leaves a level
// that each reader takes as high.
func (c *compiler) askPulledHigh(cl *claim, n *net, pins []joint, ups []resistor) {
	leak, missing := c.leakageSum(pins)
	asked := map[string]bool{}
	for _, j := range pins {
		if !j.pin.reads() || !j.comp.part.hasSupply() {
			continue
		}
		high := c.limitEnd(j.comp, j.pin, volt.Dim, "min", "V_IH")
		if high == "" {
			cl.lacksOnce(asked, "no fact", "V_IH of "+j.name()+" is not noted, so it is not known whether the pulled level is read as high", "note `operating V_IH = min ...` in part "+j.comp.part.id)
			continue
		}
		if seenBefore(asked, high) {
			continue
		}
		if missing != "" {
			cl.lacksOnce(asked, "no fact", "the leakage of "+missing+" is not noted, so the high level of "+n.name+" is not known", "note `spec I_LEAK = ...` of the pin")
			continue
		}
		c.ask(cl, c.pulledLevel(ups)+" - "+leak+" * "+parallel(ups)+" >= "+high)
	}
}

// leakageSum adds up the leakage of the pins of a net; missing names the first
// logic part whose notes have none.
func (c *compiler) leakageSum(pins []joint) (sum, missing string) {
	var terms []string
	for _, j := range pins {
		l := c.leakage(j)
		switch logic := j.pin.reads() || j.pin.drives(); {
		case logic && l == "":
			return "", j.name()
		case l == "" || j.comp.isResistor():
			continue // of what else stands on the net besides tells
		}
		terms = append(terms, "abs("+l+")")
	}
	if len(terms) == 1 {
		return terms[0], ""
	}
	return "(" + strings.Join(terms, " + ") + ")", ""
}

// pulledLevel is the voltage at which resistors to rails hold a net.
func (c *compiler) pulledLevel(rs []resistor) string {
	same := true
	for _, r := range rs {
		same = same && r.other == rs[0].other
	}
	if same {
		return c.netText(rs[0].other)
	}
	var up, down []string
	for _, r := range rs {
		if !isReturn(r.other) {
			up = append(up, c.netText(r.other)+" / "+r.comp.ref)
		}
		down = append(down, "1 / "+r.comp.ref)
	}
	return "(" + strings.Join(up, " + ") + ") / (" + strings.Join(down, " + ") + ")"
}

// parallel is the resistance of resistors side by side.
func parallel(rs []resistor) string {
	if len(rs) == 1 {
		return rs[0].comp.ref
	}
	var down []string
	for _, r := range rs {
		down = append(down, "1 / "+r.comp.ref)
	}
	return "(1 / (" + strings.Join(down, " + ") + "))"
}

func refsOf(rs []resistor) string {
	var out []string
	for _, r := range rs {
		out = append(out, r.comp.ref)
	}
	return strings.Join(out, ", ")
}
