package checks

import (
	"slices"

	"guardband/eval"
	"guardband/eval/circuit"
	"guardband/eval/record"
)

// strapLevel asks that pins which are read at power-on or reset have a sure
// level.
var strapLevel = &eval.Check{
	Name: "strap",
	Rule: "A strap or reset pin is held at a level that reads as high, or at one that reads as low, by everything connected to it: resistors, leakage, pulls inside, LEDs. Outputs that can be high-impedance are, others may be in any state; a connector is taken to have nothing plugged in, a switch not to be pressed. " +
		"A reset input that is tied, or pulled by all that is connected to it, to the level by which it resets fails. " +
		"Looked at: pins flagged strap or reset, and inputs that are named as a reset.",
	Source: "common practice",
	Run: on(func(c *board, b *eval.Check) {
		for _, m := range c.PlacedParts() {
			names := subjects(m)
			for _, q := range m.Pins() {
				n := m.PinNets[q]
				if n == nil || !q.AsNoted().Reads() || !(q.Has("strap") || q.Has("reset") || q.OnlyReads() && isResetName(q.Row.Name)) {
					continue
				}
				strapAt(c, b, circuit.Joint{Comp: m, Pin: q}, n, names[q])
			}
		}
	}),
}

func strapAt(c *board, b *eval.Check, in circuit.Joint, n *circuit.Net, subject string) {
	r := c.ReachOf(n)
	var pushing []circuit.Joint
	for _, d := range r.Drivers(in) {
		if circuit.Pushes(d.Pin) {
			pushing = append(pushing, d)
		}
	}
	held, inside := len(r.Rails) > 0, in.Pin.PulledInside()
	drivers := c.DriversOf(n, in)
	if !held && !inside && len(drivers) > 0 && !in.Pin.Has("strap") && !c.IsRail(n) {
		return // an output sets it: logic-level
	}
	if c.IsRail(n) && tiedToOther(c, in, n) {
		return // logic-level
	}
	cl := c.Claim(b, subject, "Pin "+in.Pin.Row.Name+" of "+in.Comp.Label()+" has a sure level when it is read.", in.Pin.Entry)
	switch {
	case c.IsRail(n) && !circuit.IsReturn(n) && n != c.SupplyOf(in.Comp, in.Pin):
		cl.Lacks("no value", in.Pin.Row.Name+" is tied to "+n.Name+
			", which is not known to be its own supply and whose voltage is not known", "give a value `"+n.Name+" = ...`")
	case atRest(c, in, n) != "":
		cl.Settle(record.Failed, atRest(c, in, n))
	case c.IsRail(n):
		cl.Settle(record.Passed, in.Pin.Row.Name+" is tied to "+n.Name)
	case inside && !held && pulledAgainst(c, in, n) != "":
		cl.Lacks("no fact", "the pull inside "+pulledAgainst(c, in, n)+" works against that of "+in.Name()+
			", so the level of "+n.Name+" is not known", "place a resistor to a supply or to the return")
	case inside && !held && len(pushing) == 0 && pullAlone(r):
		presumeResting(r, cl)
		cl.Settle(record.Passed, in.Pin.Row.Name+" is held by the pull inside the part")
	case held || inside || len(r.Drivers(in)) > 0 && len(r.Nets) > 1:
		askStrap(c, cl, in, r, pushing)
		return
	case len(drivers) > 0:
		cl.Lacks("no fact", "the level of "+n.Name+" while "+in.Pin.Row.Name+" is read is that of "+pinNames(drivers)+
			", which is not known at that time", "place a resistor to a supply or to the return")
	default:
		cl.Settle(record.Failed, "nothing holds "+n.Name+": no resistor is placed and no pull inside is noted")
	}
	strapDrivers(c, cl, n, pushing)
}

// pullAlone says that nothing hangs together with a pin but pins that read or
// let go, and what takes no direct current.
func pullAlone(r *circuit.Reach) bool {
	return alone(r, passing)
}

// passing are the kinds that bring and take nothing by themselves.
var passing = []string{"capacitor", "test point", "switch", "jumper", "resistor", "thermistor", "ferrite bead", "fuse", "inductor", "link", "wire"}

// pulledAgainst names a pin whose pull inside works against that of another on
// the same net.
func pulledAgainst(c *board, in circuit.Joint, n *circuit.Net) string {
	for _, j := range n.PinsOf() {
		if j != in && (j.Pin.Has("pull-up") && !in.Pin.Has("pull-up") || j.Pin.Has("pull-down") && !in.Pin.Has("pull-down") || j.Pin.Has("keeper")) {
			return j.Name()
		}
	}
	return ""
}

// strapDrivers names outputs that may overrule what holds a strap.
func strapDrivers(c *board, cl *eval.Claim, n *circuit.Net, pushing []circuit.Joint) {
	for _, d := range pushing {
		cl.Lacks("no fact", d.Name()+" may drive "+n.Name+" while the strap is read",
			"flag the pin `three-state` if it is high-impedance at power-on, or move it to another net")
	}
}

// askStrap asks for the level that the circuit holds while outputs let go where
// they can: one that reads as high in every state of the others, or as low.
func askStrap(c *board, cl *eval.Claim, in circuit.Joint, r *circuit.Reach, pushing []circuit.Joint) {
	for _, m := range r.Ends {
		cl.Entries = append(cl.Entries, m.Entry)
	}
	for _, far := range r.Rails {
		if !circuit.IsReturn(far) && !c.VoltageKnown(far) {
			cl.Lacks("no value", "the voltage of net "+far.Name+" is not known", "give a value `"+far.Name+" = ...`")
			return
		}
	}
	high := c.LimitEnd(in.Comp, in.Pin, circuit.Volt.Dim, "min", "V_IH")
	low := c.LimitEnd(in.Comp, in.Pin, circuit.Volt.Dim, "max", "V_IL")
	up, down := in.Pin.Has("pull-up"), in.Pin.Has("pull-down")
	for _, far := range r.Rails {
		up, down = up || !circuit.IsReturn(far), down || circuit.IsReturn(far)
	}
	resets := "" // the level at which the part stays in reset for ever
	if len(pushing) == 0 && !in.Pin.Has("strap") && (in.Pin.Has("reset") || isResetName(in.Pin.Row.Name)) {
		resets = resetLevel(in)
	}
	var want []string
	if high != "" && resets != "high" && (up || len(pushing) > 0 || resets == "low") {
		want = append(want, c.NetText(r.Nets[0])+" >= "+high)
	}
	if low != "" && resets != "low" && (down || len(pushing) > 0 || resets == "high") {
		want = append(want, c.NetText(r.Nets[0])+" <= "+low)
	}
	if len(want) == 2 && pulledDown(c, r) {
		slices.Reverse(want)
	}
	if len(want) == 0 {
		cl.Lacks("no fact", "V_IH or V_IL of "+in.Name()+" is not noted",
			"note `operating V_IH = min ...` and `operating V_IL = max ...` in part "+in.Comp.Part.ID)
		return
	}
	presumeResting(r, cl)
	k := c.AskAmong(cl, letGo(r, circuit.Joint{}, "", ""), want...)
	if k != nil && len(want) == 2 && len(pushing) == 0 && pulledDown(c, r) != pulledUp(c, r) {
		k.Meant = true
	}
	if len(pushing) > 0 && k != nil && len(r.Rails) == 0 {
		k.Unsure = &record.OpenPoint{Reason: "no fact", Text: pinNames(pushing) + " may drive " + r.Nets[0].Name +
			" while the strap is read", Settle: "flag the pin `three-state` if it is high-impedance at power-on, or move it to another net"}
	}
}

// pulledUp and pulledDown say that resistors alone lead from a net to a supply,
// or to the return: what its level is meant to be, whatever lights and diodes
// make of it.
func pulledUp(c *board, r *circuit.Reach) bool   { return pulledTo(c, r, false) }
func pulledDown(c *board, r *circuit.Reach) bool { return pulledTo(c, r, true) }

func pulledTo(c *board, r *circuit.Reach, down bool) bool {
	for k, far := range r.Rails {
		m := r.Ends[k]
		way := r.By[m.Opposite(far)]
		if circuit.IsReturn(far) == down && m.IsResistor() && !slices.ContainsFunc(way, func(ref string) bool {
			on, ok := c.Comps.Get(ref)
			return !ok || !on.IsResistor()
		}) {
			return true
		}
	}
	return false
}
