package checks

import (
	"slices"
	"strings"

	"guardband/eval"
	"guardband/eval/circuit"
	"guardband/eval/record"
)

// pullUp asks that an open-drain net is pulled up, neither too strongly nor too
// weakly.
var pullUp = &eval.Check{
	Name: "pull-up",
	Rule: "A net that open-drain outputs pull low, or that is a line of a two-wire bus by its name (SDA, SCL), has a pull-up, placed or inside a part (`spec R_PU`); every output that is held at its V_OL sinks no more than its I_OL there; what leakage leaves while all let go is read as high; " +
		"where a rise time t_R is noted, ln(0.7/0.3)·R·C <= t_R with C from a value C_NET or C_BUS (the whole line), else the pins' C_PIN or C_IN, the capacitors placed and a value C_TRACK; what is behind a series resistor counts in full.",
	Source: "I²C-bus specification UM10204, section 7.1; common practice",
	Run: on(func(c *board, b *eval.Check) {
		for _, n := range c.SignalNets() {
			pins := n.PinsOf()
			switch {
			case !c.ReachOf(n).Awake():
			case hasOpenDrain(pins) && !readAnywhere(c, n) && !pullsUp(c.ReachOf(n)) && (drawsThere(n) || len(n.Joined) == 1):
				// what it switches needs no level, nor an output that is not used
			case hasOpenDrain(pins) || riseLimit(c, pins) != "" && slices.ContainsFunc(c.Pulls(n),
				func(r circuit.Resistor) bool { return !circuit.IsReturn(r.Other) }):
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
		if j.Pin.Row.Type == "bidirectional" && !slices.Contains(both, j.Comp) {
			both = append(both, j.Comp)
		}
	}
	return len(pins) > 1 && (names == "SDA" && (addressed || len(both) > 1) || names == "SCL" && addressed)
}

// readAnywhere says that something may read the level of a net.
func readAnywhere(c *board, n *circuit.Net) bool {
	r := c.ReachOf(n)
	return len(r.Plugs) > 0 || slices.ContainsFunc(r.Pins(), func(j circuit.Joint) bool { return j.Pin.Reads() })
}

// drawsThere says that a load is on a net: more than pins, capacitors and
// resistors.
func drawsThere(n *circuit.Net) bool {
	return slices.ContainsFunc(n.Joined, func(j circuit.Joint) bool {
		k := j.Comp.Sort()
		return k != "capacitor" && k != "test point" && !j.Comp.IsResistor() &&
			(j.Comp.Part == nil || !j.Comp.Part.HasSupply())
	})
}

func hasOpenDrain(pins []circuit.Joint) bool {
	return slices.ContainsFunc(pins, func(j circuit.Joint) bool { return j.Pin.OnlyPullsLow() })
}

func pullUpAt(c *board, b *eval.Check, n *circuit.Net, pins []circuit.Joint) {
	cl := c.Claim(b, n.Name, "Net "+n.Name+" is pulled up strongly enough and not too strongly.", nil)
	cl.At(n.Text.Pos(0))
	if text := otherReturns(c, pins); text != "" {
		lacksReturn(cl, text)
		return
	}
	r := c.ReachOf(n)
	presumeResting(r, cl)
	if !pullsUp(r) && len(r.Plugs) > 0 {
		cl.Lacks("no fact", "no pull-up of "+n.Name+" is placed; what is plugged into "+strings.Join(r.Plugs, ", ")+
			" may provide one", "place it, or skip this check with the reason")
		return
	}
	pulledThrough(c, cl, n, pins, r)
}

// pullsUp says that a supply pulls a net up through whatever joins them, or a
// pull inside a pin does.
func pullsUp(r *circuit.Reach) bool {
	return slices.ContainsFunc(r.Rails, func(far *circuit.Net) bool { return !circuit.IsReturn(far) }) ||
		slices.ContainsFunc(r.Pins(), func(j circuit.Joint) bool { return j.Pin.Has("pull-up") })
}

// pulledThrough judges a pulled net by what the circuit makes of it while one
// output stands at its low level, and while all let go.
func pulledThrough(c *board, cl *eval.Claim, n *circuit.Net, pins []circuit.Joint, r *circuit.Reach) {
	if !pullsUp(r) {
		for _, far := range r.Nets[1:] {
			if len(far.Joined) == 1 {
				cl.Lacks("no fact", n.Name+" is joined by "+strings.Join(r.By[far], " and ")+" to "+far.Name+
					", which is not a known supply", "give a value `"+far.Name+" = ...` if it is a supply")
				return
			}
		}
		cl.Settle(record.Failed, "nothing pulls "+n.Name+" up: no resistor to a supply is placed, and no pin on it is flagged pull-up")
		return
	}
	for k, far := range r.Rails {
		cl.Entries = append(cl.Entries, r.Ends[k].Entry)
		if !circuit.IsReturn(far) && !c.VoltageKnown(far) {
			cl.Lacks("no value", "the voltage of net "+far.Name+" is not known", "give a value `"+far.Name+
				" = ...`, or note the output voltage of the part that drives it")
			return
		}
	}
	for _, j := range pins {
		for _, x := range [][2]string{{"pull-up", "R_PU"}, {"pull-down", "R_PD"}, {"keeper", "R_PULL"}} {
			if _, r := c.PinFact(j.Comp, "spec", j.Pin, circuit.DimOhm, x[1], "R_PULL"); j.Pin.Has(x[0]) && r == "" {
				cl.Lacks("no fact", "the resistance of the "+x[0]+" inside "+j.Name()+" is not noted", "note `spec "+
					x[1]+" = ...` in part "+j.Comp.Part.ID)
				return
			}
		}
	}
	asked := map[string]bool{}
	for _, j := range pins {
		y, low := c.PinFact(j.Comp, "spec", j.Pin, circuit.Volt.Dim, "V_OL")
		switch {
		case !j.Pin.Drives() || j.Comp.Asleep || j.Pin.Has("open source"):
			continue
		case y == nil || !y.Stated[2]:
			if j.Pin.OnlyPullsLow() {
				cl.Lacks("no fact", "no maximum of V_OL of "+j.Name()+" is noted",
					"note `spec V_OL = max ... at I_OL <= ...` in part "+j.Comp.Part.ID)
			}
			continue
		}
		if _, most, open := c.SinkPoint(cl, j, low); open == nil {
			c.AskAmong(cl, letGo(r, j, eval.Sinking, "high"), j.Comp.Ref+".use.I_OL("+j.Pin.Row.Name+") <= "+most)
		} else if j.Pin.OnlyPullsLow() {
			cl.Lacks(open.Reason, open.Text, open.Settle)
		}
	}
	for _, j := range r.Pins() {
		at := j.Comp.PinNets[j.Pin]
		if !j.Pin.Reads() || j.Comp.Asleep || !j.Comp.Part.HasSupply() || at != n && hasOpenDrain(at.PinsOf()) {
			continue // another net's own claim asks
		}
		if high := c.LimitEnd(j.Comp, j.Pin, circuit.Volt.Dim, "min", "V_IH"); high == "" {
			cl.LacksOnce(asked, "no fact", "V_IH of "+j.Name()+
				" is not noted, so it is not known whether the pulled level is read as high",
				"note `operating V_IH = min ...` in part "+j.Comp.Part.ID)
		} else if text := c.NetText(at) + " >= " + high; !eval.SeenBefore(asked, text) {
			rest, once := "high", ""
			if slices.ContainsFunc(r.Ends, (*circuit.Component).IsTransistor) { // another output has to turn it off
				rest, once = "", "no state of the circuit lets "+at.Name+" rise to that level"
			}
			if k := c.AskAmong(cl, letGo(r, circuit.Joint{}, "", rest), text); k != nil {
				k.Once = once
			}
		}
	}
	askRise(c, cl, n, r)
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
