package checks

import (
	"strings"

	"guardband/eval"
	"guardband/eval/circuit"
	"guardband/eval/record"
)

// pullUp asks that an open-drain net is pulled up, neither too strongly nor too
// weakly.
var pullUp = &eval.Check{
	Name: "pull-up",
	Rule: "A net that open-drain outputs pull low, or that is a line of a two-wire bus by its name (SDA, SCL), has a pull-up, placed or inside a part (`spec R_PU`); every output sinks its current, (V - V_OL) / R <= I_OL; leakage leaves a high level, V - R·I_LEAK >= V_IH; " +
		"where a rise time t_R is noted, ln(0.7/0.3)·R·C <= t_R with C from a value C_NET or C_BUS (the whole line), else the pins' C_PIN or C_IN, the capacitors placed and a value C_TRACK; what is behind a series resistor counts in full.",
	Source: "I²C-bus specification UM10204, section 7.1; common practice",
	Run: on(func(c *board, b *eval.Check) {
		for _, n := range c.SignalNets() {
			pins := n.PinsOf()
			switch {
			case hasOpenDrain(pins) || riseLimit(c, pins) != "" && len(pullUps(c, n)) > 0:
				pullUpAt(c, b, n, pins)
			case busLine(n, pins) && !pullsUp(c.ReachOf(n)):
				cl := c.Claim(b, n.Name, "Net "+n.Name+" is pulled up.", nil)
				cl.At(n.Text.Pos(0))
				cl.Lacks("no fact", "by its name "+n.Name+" is a line of a two-wire bus, and nothing pulls it up",
					"place a resistor to the supply, flag the pin with a pull inside `pull-up`, or skip this check with the reason")
			}
		}
	}),
}

// busLine says that a net is a line of a two-wire bus by its name or those of
// pins, also where no pin is noted as an open drain: a part on it has an
// address, or two take and send data. A clock that is pushed needs no pull.
func busLine(n *circuit.Net, pins []circuit.Joint) bool {
	names, addressed, both := netFunction(n), false, []*circuit.Component{}
	for _, j := range pins {
		switch f := function(j.Pin); {
		case circuit.Pushes(j.Pin):
			return false
		case f == "SDA" || f == "SCL":
			names = f
		}
		addressed = addressed || j.Comp.Part.Attrs["address"] != nil
		if j.Pin.Row.Type == "bidirectional" && !holds(both, j.Comp) {
			both = append(both, j.Comp)
		}
	}
	return len(pins) > 1 && (names == "SDA" && (addressed || len(both) > 1) || names == "SCL" && addressed)
}

func hasOpenDrain(pins []circuit.Joint) bool {
	for _, j := range pins {
		if j.Pin.OnlyPullsLow() {
			return true
		}
	}
	return false
}

// pullUps are the resistors from a net to a supply.
func pullUps(c *board, n *circuit.Net) []circuit.Resistor {
	var out []circuit.Resistor
	for _, r := range c.Pulls(n) {
		if !circuit.IsReturn(r.Other) {
			out = append(out, r)
		}
	}
	return out
}

func pullUpAt(c *board, b *eval.Check, n *circuit.Net, pins []circuit.Joint) {
	cl := c.Claim(b, n.Name, "Net "+n.Name+" is pulled up strongly enough and not too strongly.", nil)
	cl.At(n.Text.Pos(0))
	if text := otherReturns(c, pins); text != "" {
		lacksReturn(cl, text)
		return
	}
	ups := pullUps(c, n)
	r := c.ReachOf(n)
	other, plugs := besides(c, n)
	presumeResting(r, cl)
	switch {
	case other != "" && (pullsUp(r) || len(r.Nets) > 1 && len(r.Plugs) == 0):
		pulledThrough(c, cl, n, pins, r)
		return
	case other != "" || len(plugs) > 0 && len(ups) == 0:
		cl.Lacks("no fact", "no pull-up of "+n.Name+" is placed; what is plugged into "+strings.Join(r.Plugs, ", ")+" may bring one", "place it, or skip this check with the reason")
		return
	}
	inside, known := pullsInside(c, cl, n, pins)
	if len(ups) == 0 {
		pulledUpInside(c, cl, n, pins, inside, known)
		return
	}
	for _, r := range ups {
		cl.Entries = append(cl.Entries, r.Comp.Entry)
		switch {
		case !c.ValueOf(r.Comp).IsNumber(circuit.DimOhm):
			cl.Lacks("no value", "the resistance of "+r.Comp.Ref+" is not stated", "give its value in its row")
			return
		case !c.VoltageKnown(r.Other):
			cl.Lacks("no value", "the voltage of net "+r.Other.Name+" is not known", "give a value `"+r.Other.Name+" = ...`, or note the output voltage of the part that drives it")
			return
		}
	}
	cl.Settle(record.Passed, n.Name+" is pulled up by "+refsOf(ups))
	askPulls(c, cl, n, pins, append(inside, ups...))
}

// pullsUp says that a supply pulls a net up through whatever joins them, or a
// pull inside a pin does.
func pullsUp(r *circuit.Reach) bool {
	for _, far := range r.Rails {
		if !circuit.IsReturn(far) {
			return true
		}
	}
	for _, j := range r.Pins() {
		if j.Pin.Has("pull-up") {
			return true
		}
	}
	return false
}

// pulledThrough judges a net that more than resistors to supplies stand on: by
// what the circuit makes of it while one output is low, and while all let go.
func pulledThrough(c *board, cl *eval.Claim, n *circuit.Net, pins []circuit.Joint, r *circuit.Reach) {
	if !pullsUp(r) {
		for _, far := range r.Nets[1:] {
			if len(far.Joined) == 1 {
				cl.Lacks("no fact", n.Name+" is joined by "+strings.Join(r.By[far], " and ")+" to "+far.Name+", which is not a known supply", "give a value `"+far.Name+" = ...` if it is a supply")
				return
			}
		}
		cl.Settle(record.Failed, "nothing pulls "+n.Name+" up: no resistor to a supply is placed, and no pin on it is flagged pull-up")
		return
	}
	for k, far := range r.Rails {
		cl.Entries = append(cl.Entries, r.Ends[k].Entry)
		if !circuit.IsReturn(far) && !c.VoltageKnown(far) {
			cl.Lacks("no value", "the voltage of net "+far.Name+" is not known", "give a value `"+far.Name+" = ...`, or note the output voltage of the part that drives it")
			return
		}
	}
	asked := map[string]bool{}
	for _, j := range pins {
		y, low := c.PinFact(j.Comp, "spec", j.Pin, circuit.Volt.Dim, "V_OL")
		switch {
		case !j.Pin.Drives() || j.Pin.Has("open source"):
			continue
		case y == nil || !y.Stated[2]:
			if j.Pin.OnlyPullsLow() {
				cl.Lacks("no fact", "no maximum of V_OL of "+j.Name()+" is noted", "note `spec V_OL = max ... at I_OL <= ...` in part "+j.Comp.Part.ID)
			}
			continue
		}
		if _, most, open := c.SinkPoint(cl, j, low); open == nil {
			c.AskAmong(cl, letGo(r, j, "low", "high"), j.Comp.Ref+".use.I_OL("+j.Pin.Row.Name+") <= "+most)
		} else if j.Pin.OnlyPullsLow() {
			cl.Lacks(open.Reason, open.Text, open.Settle)
		}
	}
	for _, j := range r.Pins() {
		at := j.Comp.PinNets[j.Pin]
		if !j.Pin.Reads() || !j.Comp.Part.HasSupply() || at != n && hasOpenDrain(at.PinsOf()) {
			continue // another net's own claim asks
		}
		if high := c.LimitEnd(j.Comp, j.Pin, circuit.Volt.Dim, "min", "V_IH"); high == "" {
			cl.LacksOnce(asked, "no fact", "V_IH of "+j.Name()+" is not noted, so it is not known whether the pulled level is read as high", "note `operating V_IH = min ...` in part "+j.Comp.Part.ID)
		} else if text := c.NetText(at) + " >= " + high; !eval.SeenBefore(asked, text) {
			c.AskAmong(cl, letGo(r, circuit.Joint{}, "", "high"), text)
		}
	}
	askRise(c, cl, n, r)
}

// askPulls asks what pull-ups owe: every output sinks them all, and they leave
// a high level in time.
func askPulls(c *board, cl *eval.Claim, n *circuit.Net, pins []circuit.Joint, ups []circuit.Resistor) {
	asked := map[string]bool{}
	for _, j := range pins {
		if j.Pin.Drives() && !j.Pin.Has("open source") {
			askSink(c, cl, j, ups, asked)
		}
	}
	askPulledHigh(c, cl, n, pins, ups)
	askRise(c, cl, n, c.ReachOf(n))
}

// otherReturns compares the grounds of all logic pins of a net with those of the
// first.
func otherReturns(c *board, pins []circuit.Joint) string {
	var first *circuit.Joint
	for i, j := range pins {
		if !j.Pin.Drives() && !j.Pin.Reads() {
			continue
		}
		if first == nil {
			first = &pins[i]
		}
		if text := otherReturn(c, *first, j); text != "" {
			return text
		}
	}
	return ""
}

// pulledUpInside judges an open-drain net without a resistor of its own.
func pulledUpInside(c *board, cl *eval.Claim, n *circuit.Net, pins []circuit.Joint, inside []circuit.Resistor, known bool) {
	if !known {
		return // told
	}
	if len(inside) > 0 {
		cl.Settle(record.Passed, n.Name+" is pulled up inside, by "+refsOf(inside))
		askPulls(c, cl, n, pins, inside)
		return
	}
	for _, r := range c.ResistorsAt(n) {
		if !circuit.IsReturn(r.Other) {
			cl.Lacks("no fact", n.Name+" is joined by "+r.Comp.Ref+" to "+r.Other.Name+", which is not a known supply", "give a value `"+r.Other.Name+" = ...` if it is a supply")
			return
		}
	}
	cl.Settle(record.Failed, "nothing pulls "+n.Name+" up: no resistor to a supply is placed, and no pin on it is flagged pull-up")
}

// askSink asks that an output still reaches its V_OL against the pull-ups.
func askSink(c *board, cl *eval.Claim, j circuit.Joint, ups []circuit.Resistor, asked map[string]bool) {
	y, low := c.PinFact(j.Comp, "spec", j.Pin, circuit.Volt.Dim, "V_OL")
	if y == nil || !y.Stated[2] {
		if j.Pin.OnlyPullsLow() {
			cl.Lacks("no fact", "no maximum of V_OL of "+j.Name()+" is noted", "note `spec V_OL = max ... at I_OL <= ...` in part "+j.Comp.Part.ID)
		}
		return
	}
	level, most, open := c.SinkPoint(cl, j, low)
	if open != nil {
		if j.Pin.OnlyPullsLow() {
			cl.Lacks(open.Reason, open.Text, open.Settle)
		}
		return
	}
	var sum []string
	for _, r := range ups {
		sum = append(sum, "("+c.NetText(r.Other)+" - "+level+") / "+r.Comp.Ref)
	}
	if text := strings.Join(sum, " + ") + " <= " + most; !eval.SeenBefore(asked, text) {
		c.Ask(cl, text)
	}
}

// askPulledHigh asks that the leakage of all pins on the net leaves a level
// that each reader takes as high.
func askPulledHigh(c *board, cl *eval.Claim, n *circuit.Net, pins []circuit.Joint, ups []circuit.Resistor) {
	leak, missing := leakageSum(c, pins)
	asked := map[string]bool{}
	for _, j := range pins {
		if !j.Pin.Reads() || !j.Comp.Part.HasSupply() {
			continue
		}
		high := c.LimitEnd(j.Comp, j.Pin, circuit.Volt.Dim, "min", "V_IH")
		if high == "" {
			cl.LacksOnce(asked, "no fact", "V_IH of "+j.Name()+" is not noted, so it is not known whether the pulled level is read as high", "note `operating V_IH = min ...` in part "+j.Comp.Part.ID)
			continue
		}
		if eval.SeenBefore(asked, high) {
			continue
		}
		if missing != "" {
			cl.LacksOnce(asked, "no fact", "the leakage of "+missing+" is not noted, so the high level of "+n.Name+" is not known", "note `spec I_LEAK = ...` of the pin")
			continue
		}
		c.Ask(cl, pulledLevel(c, ups)+" - "+leak+" * "+parallel(ups)+" >= "+high)
	}
}

// leakageSum adds up the leakage of the pins of a net; missing names the first
// logic part whose notes have none.
func leakageSum(c *board, pins []circuit.Joint) (sum, missing string) {
	var terms []string
	for _, j := range pins {
		l := leakageOf(c, j)
		switch logic := j.Pin.Reads() || j.Pin.Drives(); {
		case logic && l == "":
			return "", j.Name()
		case l == "" || j.Comp.IsResistor():
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
func pulledLevel(c *board, rs []circuit.Resistor) string {
	same := true
	for _, r := range rs {
		same = same && r.Other == rs[0].Other
	}
	if same {
		return c.NetText(rs[0].Other)
	}
	var up, down []string
	for _, r := range rs {
		if !circuit.IsReturn(r.Other) {
			up = append(up, c.NetText(r.Other)+" / "+r.Comp.Ref)
		}
		down = append(down, "1 / "+r.Comp.Ref)
	}
	return "(" + strings.Join(up, " + ") + ") / (" + strings.Join(down, " + ") + ")"
}

// parallel is the resistance of resistors side by side.
func parallel(rs []circuit.Resistor) string {
	if len(rs) == 1 {
		return rs[0].Comp.Ref
	}
	var down []string
	for _, r := range rs {
		down = append(down, "1 / "+r.Comp.Ref)
	}
	return "(1 / (" + strings.Join(down, " + ") + "))"
}

func refsOf(rs []circuit.Resistor) string {
	var out []string
	for _, r := range rs {
		out = append(out, r.Comp.Ref)
	}
	return strings.Join(out, ", ")
}
