package checks

import (
	"cmp"
	"slices"
	"strings"

	"guardband/eval"
	"guardband/eval/circuit"
	"guardband/eval/record"
)

// logicLevel asks that what drives a logic input is read for what it is, in
// both directions of a net.
var logicLevel = &eval.Check{
	Name: "logic-level",
	Rule: "Every driver on the net of a logic input reaches its V_IH when high and its V_IL when low, at the " +
		"currents and supplies stated; a current that the use does not state is that of the resistors and the " +
		"leakage on the net, where nothing else is on it. " +
		"A series resistor counts with the pulls behind it and the leakage of the pins. " +
		"Looked at: pins of type input, bidirectional and clock of parts with a supply; open-drain outputs count " +
		"when low, their high level is in pull-up. " +
		"An input that resistors alone hold reads high or low by them; of a part that makes a supply a pin EN, " +
		"ENABLE, ON or CE is at its active level in one state at least, and not by what the part makes itself. " +
		"An input that selects, enables or stops its part, by its name and flags, is not in every state at the " +
		"level at which the part rests; a clock of a bus is driven.",
	Source: "JESD99 (V_OH, V_OL, V_IH, V_IL); common practice",
	Run: on(func(c *board, b *eval.Check) {
		for _, m := range c.PlacedParts() {
			if !m.Part.HasSupply() {
				continue
			}
			names := subjects(m)
			for _, q := range m.Pins() {
				at := circuit.Joint{Comp: m, Pin: q}
				if why := cmp.Or(neverOn(c, at, m.PinNets[q]), atRest(c, at, m.PinNets[q])); why != "" {
					if !q.Has("strap") && !q.Has("reset") && !isResetName(q.Row.Name) || m.PinNets[q] == nil { // else strap
						c.Claim(b, names[q], m.Label()+" is at work in one state at least.", q.Entry).Settle(record.Failed, why)
					}
				} else if n := m.PinNets[q]; n != nil && q.Reads() && !q.Unused {
					levelsAt(c, b, at, n, names[q])
				}
			}
			spareLevels(c, m)
		}
	}),
}

// levelsAt judges the levels that one pin reads.
func levelsAt(c *board, b *eval.Check, in circuit.Joint, n *circuit.Net, subject string) {
	r := c.ReachOf(n)
	drivers := r.Drivers(in)
	foreign := tiedToOther(c, in, n)
	if !r.Awake() {
		return // nothing that is on drives it
	}
	if len(drivers) == 0 && !foreign || c.IsRail(n) && !foreign {
		levelPulled(c, b, in, n, r, subject)
		return
	}
	m, q := in.Comp, in.Pin
	statement := q.Row.Name + " of " + m.Label() + " recognises both levels on " + n.Name
	for _, d := range drivers {
		if by := r.Way(d); by != "" && !foreign {
			statement += "; " + d.Name() + " drives it by " + by
		}
	}
	cl := c.Claim(b, subject, statement+".", q.Entry)
	high := c.LimitEnd(m, q, circuit.Volt.Dim, "min", "V_IH")
	low := c.LimitEnd(m, q, circuit.Volt.Dim, "max", "V_IL")
	if high == "" && low == "" {
		cl.Lacks("no fact", "neither V_IH nor V_IL of "+in.Name()+" is noted",
			"note `operating V_IH = min ...` and `operating V_IL = max ...` in part "+m.Part.ID)
		return
	}
	if text := returnUnknown(c, in); text != "" {
		lacksReturn(cl, text)
		return
	}
	if foreign {
		askHigh(c, cl, levelAt(c, in, n), high, in)
		return
	}
	asked := map[string]bool{}
	for _, g := range r.Gates {
		if !c.IsRail(g) {
			cl.LacksOnce(asked, "no fact", "a transistor passes the level on while "+g.Name+
				" has it on, and when that is, is not noted", "claim the level yourself, and skip this check with the reason")
		}
	}
	for _, x := range r.Between {
		onWay := false
		for _, d := range drivers {
			onWay = onWay || slices.Contains(r.By[d.Comp.PinNets[d.Pin]], x.Ref)
		}
		if !onWay {
			continue // both its states are judged
		}
		cl.LacksOnce(asked, "no fact", "the level may pass by "+x.Ref+", and it is not stated whether that is closed",
			"give the row of "+x.Ref+" the option `closed` or `open`")
	}
	if len(asked) > 0 {
		return
	}
	presumeResting(r, cl)
	for _, d := range drivers {
		askLevels(c, cl, in, d, high, low, r, asked)
	}
}

// askLevels asks for both levels of one driver: for those its note states where
// it is on the net of the pin and its current is known, else for what the
// circuit makes of them.
func askLevels(c *board, cl *eval.Claim, in, d circuit.Joint, high, low string, r *circuit.Reach, asked map[string]bool) {
	apart := otherReturn(c, in, d) != "" // then the level is that of the net against the return of the input
	if text := returnUnknown(c, d); apart && text != "" {
		if !eval.SeenBefore(asked, text) {
			lacksReturn(cl, text)
		}
		return
	}
	ask := func(symbol, state, op, limit string) {
		_, v := c.PinFact(d.Comp, "spec", d.Pin, circuit.Volt.Dim, symbol)
		switch {
		case v == "":
			cl.LacksOnce(asked, "no fact", symbol+" of "+d.Name()+" is not noted", "note `spec "+symbol+
				" = ...` and its current in part "+d.Comp.Part.ID)
		case limit == "":
			cl.LacksOnce(asked, "no fact", "V_I"+symbol[3:]+" of "+in.Name()+" is not noted",
				"note `operating V_IH = min ...` and `operating V_IL = max ...` in part "+in.Comp.Part.ID)
		case r.Way(d) == "" && !apart && tellsCurrent(c, d, symbol):
			if !eval.SeenBefore(asked, v, limit) {
				c.Ask(cl, v+op+limit)
			}
		default:
			c.AskAmong(cl, letGo(r, d, state, ""), levelAt(c, in, r.Nets[0])+op+limit)
		}
	}
	if t := c.PulledBy(d); r.Way(d) == "" && !apart && t != "" && !eval.SeenBefore(asked, t) {
		cl.Out.Statement = strings.TrimSuffix(cl.Out.Statement, ".") + "; " + t + ", by what pulls its net."
	}
	if !d.Pin.OnlyPullsLow() {
		ask("V_OH", "high", " >= ", high)
	}
	if !d.Pin.Has("open source") {
		ask("V_OL", "low", " <= ", low)
	}
}

// tellsCurrent says that the current at which a level of an output holds is
// stated in its use, or that resistors alone make it.
func tellsCurrent(c *board, d circuit.Joint, symbol string) bool {
	for _, f := range d.Comp.Part.FactOrder {
		if def, _ := d.Comp.Part.Choose("spec", f.Name, d.Pin.Row.Name); f.Section == "spec" &&
			circuit.SameSymbol(f.Name, symbol) && def == f && d.Comp.AsksPinCurrent(f) {
			_, why := c.PinCurrent(d.Comp, d.Pin.Row.Name, symbol == "V_OL")
			return why == ""
		}
	}
	return true
}

func askHigh(c *board, cl *eval.Claim, level, high string, in circuit.Joint) {
	if high == "" {
		cl.Lacks("no fact", "V_IH of "+in.Name()+" is not noted", "note `operating V_IH = min ...` in part "+in.Comp.Part.ID)
		return
	}
	c.Ask(cl, level+" >= "+high)
}

// returnUnknown says that the voltage of the ground of a part is not known, or
// of which of several its levels are stated against.
func returnUnknown(c *board, j circuit.Joint) string {
	g := j.Comp.NetsOf("ground")
	if slices.ContainsFunc(g, func(n *circuit.Net) bool { return !circuit.IsGround(n.Name) }) && (len(g) > 1 || !c.VoltageStated(g[0])) {
		return j.Name() + " states its levels against " + g[0].Name + ", and the nets are known against the return"
	}
	return ""
}

// levelAt spells the voltage of a net as a pin sees it: against its own ground.
func levelAt(c *board, in circuit.Joint, n *circuit.Net) string {
	if g := in.Comp.NetsOf("ground"); len(g) == 1 {
		return c.Difference(n, g[0])
	}
	return c.NetText(n)
}

// otherReturn says that two parts state their levels against grounds of which
// it is not known that both are the 0 V of the nets; "" where they are. A part
// of several grounds states them against one on a net of theirs both.
func otherReturn(c *board, in, d circuit.Joint) string {
	a, b := in.Comp.NetsOf("ground"), d.Comp.NetsOf("ground")
	for _, j := range []circuit.Joint{in, d} {
		for _, g := range j.Comp.NetsOf("ground") {
			if !circuit.IsGround(g.Name) && c.VoltageKnown(g) {
				return j.Name() + " states its levels against " + g.Name + ", and the nets are known against the return"
			}
		}
	}
	if len(a) == 0 || len(b) == 0 {
		return ""
	}
	named := true
	for _, g := range append(a, b...) {
		named = named && circuit.IsGround(g.Name)
	}
	for _, g := range a {
		for _, h := range b {
			if named || g == h {
				return ""
			}
		}
	}
	return d.Name() + " states its levels against " + b[0].Name + ", " + in.Name() + " against " + a[0].Name +
		", and it is not known that both are at one voltage"
}

func lacksReturn(cl *eval.Claim, text string) {
	cl.Lacks("no fact", text, "join the grounds in the circuit, or claim the levels against one of them and skip this check with the reason")
}

// tiedToOther says that an input stands directly on a supply which is not its
// own, nor the return.
func tiedToOther(c *board, in circuit.Joint, n *circuit.Net) bool {
	return in.Pin.OnlyReads() && !circuit.IsReturn(n) && c.VoltageKnown(n) && c.SupplyOf(in.Comp, in.Pin) != n
}
