package eval

import (
	"slices"

	"guardband/eval/record"
)

// strapLevel asks that pins which are read at power-on or reset have a sure
// level.
var strapLevel = &builtin{
	name: "strap",
	rule: "A strap or reset pin is held at a level that reads as high, or at one that reads as low, by all that the circuit joins to it: resistors, leakage, pulls inside, LEDs. Outputs that can let go have done so, others may be in any state; a connector is taken to have nothing plugged in, a switch not to be pressed. " +
		"Looked at: pins flagged strap or reset, and inputs that are named as a reset.",
	source: "common practice",
	run: func(c *compiler, b *builtin) {
		for _, m := range c.placedParts() {
			names := subjects(m)
			for _, q := range m.part.pins {
				n := m.pinNets[q]
				if n == nil || !q.reads() || !(q.has("strap") || q.has("reset") || q.onlyReads() && isResetName(q.row.Name)) {
					continue
				}
				c.strapAt(b, joint{comp: m, pin: q}, n, names[q])
			}
		}
	},
}

func (c *compiler) strapAt(b *builtin, in joint, n *net, subject string) {
	r := c.reachOf(n)
	var pushing []joint
	for _, d := range r.drivers(in) {
		if pushes(d.pin) {
			pushing = append(pushing, d)
		}
	}
	held, inside := len(r.rails) > 0, in.pin.pulledInside()
	drivers := c.driversOf(n, in)
	if !held && !inside && len(drivers) > 0 && !in.pin.has("strap") && !c.isRail(n) {
		return // an output sets it: logic-level
	}
	if c.isRail(n) && c.tiedToOther(in, n) {
		return // logic-level
	}
	cl := c.builtClaim(b, subject, "Pin "+in.pin.row.Name+" of "+in.comp.label()+" has a sure level when it is read.", in.pin.entry)
	switch {
	case c.isRail(n) && !isReturn(n) && n != c.supplyOf(in.comp, in.pin):
		cl.lacks("no value", in.pin.row.Name+" is tied to "+n.name+", which is not known to be its own supply and whose voltage is not known", "give a value `"+n.name+" = ...`")
	case c.isRail(n):
		cl.settle(record.Passed, in.pin.row.Name+" is tied to "+n.name)
	case inside && !held && c.pulledAgainst(in, n) != "":
		cl.lacks("no fact", "the pull inside "+c.pulledAgainst(in, n)+" works against that of "+in.name()+", so the level of "+n.name+" is not known", "place a resistor to a supply or to the return")
	case inside && !held && len(pushing) == 0 && r.pullAlone():
		r.resting(cl)
		cl.settle(record.Passed, in.pin.row.Name+" is held by the pull inside the part")
	case held || inside || len(r.drivers(in)) > 0 && len(r.nets) > 1:
		c.askStrap(cl, in, r, pushing)
		return
	case len(drivers) > 0:
		cl.lacks("no fact", "the level of "+n.name+" while "+in.pin.row.Name+" is read is that of "+pinNames(drivers)+", which is not known at that time", "place a resistor to a supply or to the return")
	default:
		cl.settle(record.Failed, "nothing holds "+n.name+": no resistor is placed and no pull inside is noted")
	}
	c.strapDrivers(cl, n, pushing)
}

// pullAlone says that nothing hangs together with a pin but pins that read or
// let go, and what takes no direct current.
func (r *reach) pullAlone() bool {
	for _, n := range r.nets {
		for _, j := range n.joined {
			switch {
			case j.comp.notFitted() || j.comp.open() || j.comp.isConnector() || slices.Contains(passing, j.comp.sort()):
			case j.pin == nil || !j.comp.part.hasSupply() || !j.pin.reads() && !j.pin.drives():
				return false
			}
		}
	}
	return true
}

// passing are the kinds that bring and take nothing by themselves.
var passing = []string{"capacitor", "test point", "switch", "jumper", "resistor", "thermistor", "ferrite bead", "fuse", "inductor", "link", "wire"}

// pulledAgainst names a pin whose pull inside works against that of another on
// the same net.
func (c *compiler) pulledAgainst(in joint, n *net) string {
	for _, j := range n.pinsOf() {
		if j != in && (j.pin.has("pull-up") && !in.pin.has("pull-up") || j.pin.has("pull-down") && !in.pin.has("pull-down") || j.pin.has("keeper")) {
			return j.name()
		}
	}
	return ""
}

// strapDrivers names outputs that may overrule what holds a strap.
func (c *compiler) strapDrivers(cl *claim, n *net, pushing []joint) {
	for _, d := range pushing {
		cl.lacks("no fact", d.name()+" may drive "+n.name+" while the strap is read", "flag the pin `three-state` if it lets go at power-on, or move it to another net")
	}
}

// askStrap asks for the level that the circuit holds while outputs let go where
// they can: one that reads as high in every state of the others, or as low.
func (c *compiler) askStrap(cl *claim, in joint, r *reach, pushing []joint) {
	for _, m := range r.ends {
		cl.entries = append(cl.entries, m.entry)
	}
	for _, far := range r.rails {
		if !isReturn(far) && !c.voltageKnown(far) {
			cl.lacks("no value", "the voltage of net "+far.name+" is not known", "give a value `"+far.name+" = ...`")
			return
		}
	}
	high := c.limitEnd(in.comp, in.pin, volt.Dim, "min", "V_IH")
	low := c.limitEnd(in.comp, in.pin, volt.Dim, "max", "V_IL")
	up, down := in.pin.has("pull-up"), in.pin.has("pull-down")
	for _, far := range r.rails {
		up, down = up || !isReturn(far), down || isReturn(far)
	}
	var want []string
	if high != "" && (up || len(pushing) > 0) {
		want = append(want, c.netText(r.nets[0])+" >= "+high)
	}
	if low != "" && (down || len(pushing) > 0) {
		want = append(want, c.netText(r.nets[0])+" <= "+low)
	}
	if len(want) == 2 && c.pulledDown(r) {
		slices.Reverse(want)
	}
	if len(want) == 0 {
		cl.lacks("no fact", "V_IH or V_IL of "+in.name()+" is not noted", "note `operating V_IH = min ...` and `operating V_IL = max ...` in part "+in.comp.part.id)
		return
	}
	r.resting(cl)
	k := c.askAmong(cl, r.letGo(joint{}, "", ""), want...)
	if k != nil && len(want) == 2 && len(pushing) == 0 && c.pulledDown(r) != c.pulledUp(r) {
		k.meant = true
	}
	if len(pushing) > 0 && k != nil && len(r.rails) == 0 {
		k.unsure = &record.OpenPoint{Reason: "no fact", Text: pinNames(pushing) + " may drive " + r.nets[0].name + " while the strap is read", Settle: "flag the pin `three-state` if it lets go at power-on, or move it to another net"}
	}
}

// pulledUp and pulledDown say that resistors alone lead from a net to a supply,
// or to the return: what its level is meant to be, whatever lights and diodes
// make of it.
func (c *compiler) pulledUp(r *reach) bool   { return c.pulledTo(r, false) }
func (c *compiler) pulledDown(r *reach) bool { return c.pulledTo(r, true) }

func (c *compiler) pulledTo(r *reach, down bool) bool {
	for k, far := range r.rails {
		m := r.ends[k]
		way := r.by[m.opposite(far)]
		if isReturn(far) == down && m.isResistor() && !slices.ContainsFunc(way, func(ref string) bool {
			on, ok := c.comps.get(ref)
			return !ok || !on.isResistor()
		}) {
			return true
		}
	}
	return false
}
