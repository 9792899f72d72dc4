package eval

import "strings"

// strapLevel asks that pins which are read at power-on or reset have a sure
// level.
var strapLevel = &builtin{
	name: "strap",
	rule: "A strap or reset pin is held at a level that reads as high or as low, V - R·I_LEAK >= V_IH or V + R·I_LEAK <= V_IL, the leakage of every pin on its net counted. With anything else on the net the level is open; a connector is taken to have nothing plugged in, a switch not to be pressed. " +
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
	pulls := c.pulls(n)
	inside := in.pin.pulledInside()
	drivers := c.driversOf(n, in)
	if len(pulls) == 0 && !inside && len(drivers) > 0 && !in.pin.has("strap") && !c.isRail(n) {
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
		cl.settle(Passed, in.pin.row.Name+" is tied to "+n.name)
	case (len(pulls) > 0 || inside) && !c.alone(cl, n):
	case len(pulls) > 0:
		c.askStrap(cl, in, n, pulls)
	case inside && c.pulledAgainst(in, n) != "":
		cl.lacks("no fact", "the pull inside "+c.pulledAgainst(in, n)+" works against that of "+in.name()+", so the level of "+n.name+" is not known", "place a resistor to a supply or to the return")
	case inside:
		cl.settle(Passed, in.pin.row.Name+" is held by the pull inside the part")
	case len(drivers) > 0:
		cl.lacks("no fact", "the level of "+n.name+" while "+in.pin.row.Name+" is read is that of "+pinNames(drivers)+", which is not known at that time", "place a resistor to a supply or to the return")
	default:
		cl.settle(Failed, "nothing holds "+n.name+": no resistor is placed and no pull inside is noted")
	}
	if in.pin.has("strap") {
		c.strapDrivers(cl, n, drivers)
	}
}

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

// strapDrivers names outputs that may overrule the resistor of a strap.
func (c *compiler) strapDrivers(cl *claim, n *net, drivers []joint) {
	for _, d := range drivers {
		if pushes(d.pin) {
			cl.lacks("no fact", d.name()+" may drive "+n.name+" while the strap is read", "flag the pin `three-state` if it lets go at power-on, or move it to another net")
		}
	}
}

// askStrap asks for the level that the resistors hold.
func (c *compiler) askStrap(cl *claim, in joint, n *net, pulls []resistor) {
	up, down := 0, 0
	for _, r := range pulls {
		cl.entries = append(cl.entries, r.comp.entry)
		switch {
		case !c.ohms(r.comp):
			cl.lacks("no value", "the resistance of "+r.comp.ref+" is not stated", "give its value in its row")
			return
		case isReturn(r.other):
			down++
		case !c.voltageKnown(r.other):
			cl.lacks("no value", "the voltage of net "+r.other.name+" is not known", "give a value `"+r.other.name+" = ...`")
			return
		default:
			up++
		}
	}
	terms, open := c.strapTerms(in, n, pulls, up, down)
	if open != nil {
		cl.lacks(open.Reason, open.Text, open.Settle)
		return
	}
	leak, missing := c.leakageSum(n.pinsOf())
	if missing != "" {
		cl.lacks("no fact", "the leakage of "+missing+" is not noted, so the level of "+n.name+" is not known", "note `spec I_LEAK = ...` of the pin")
		return
	}
	high := c.limitEnd(in.comp, in.pin, volt.Dim, "min", "V_IH")
	low := c.limitEnd(in.comp, in.pin, volt.Dim, "max", "V_IL")
	var want []string
	if terms.up && high != "" {
		want = append(want, terms.level+" - "+leak+" * "+terms.par+" >= "+high)
	}
	if terms.down && low != "" {
		level := terms.level + " + "
		if !terms.up {
			level = "" // 0 V
		}
		want = append(want, level+leak+" * "+terms.par+" <= "+low)
	}
	if len(want) == 0 {
		cl.lacks("no fact", "V_IH or V_IL of "+in.name()+" is not noted", "note `operating V_IH = min ...` and `operating V_IL = max ...` in part "+in.comp.part.id)
		return
	}
	c.ask(cl, strings.Join(want, " or "))
}

// holding is what holds a net: its level without leakage and the resistance
// that leakage works on.
type holding struct {
	level, par string
	up, down   bool
}

// strapTerms adds the pull inside the part where it works against those
// placed, be it one side of a divider; where all work the same way it only
// helps and is left out. The pulls inside other parts that work against those
// placed leave the level unknown.
func (c *compiler) strapTerms(in joint, n *net, pulls []resistor, up, down int) (holding, *OpenPoint) {
	h := holding{level: c.pulledLevel(pulls), par: parallel(pulls), up: up > 0, down: down > 0}
	for _, j := range n.pinsOf() {
		if (j != in && (j.pin.has("pull-up") && down > 0 || j.pin.has("pull-down") && up > 0)) || j.pin.has("keeper") {
			return h, &OpenPoint{Reason: "no fact", Text: "the pull inside " + j.name() + " works against " + refsOf(pulls) + ", so the level of " + n.name + " is not known", Settle: "claim the level with the figures of that pull, and skip this check with the reason"}
		}
	}
	against := ""
	switch {
	case in.pin.has("pull-up") && down > 0:
		against = "R_PU"
	case in.pin.has("pull-down") && up > 0:
		against = "R_PD"
	default:
		return h, nil
	}
	_, r := c.pinFact(in.comp, "spec", in.pin, dimOhm, against, "R_PULL")
	supply := c.supplyOf(in.comp, in.pin)
	if r == "" || supply == nil || !c.voltageKnown(supply) {
		return h, &OpenPoint{Reason: "no fact", Text: "the pull inside " + in.name() + " works against " + refsOf(pulls) + ", and its resistance is not noted", Settle: "note `spec " + against + " = ...` in part " + in.comp.part.id}
	}
	placed := h.par
	h.par = "(1 / (1 / " + placed + " + 1 / " + r + "))"
	switch {
	case against == "R_PD":
		h.level = h.level + " * " + r + " / (" + placed + " + " + r + ")"
	case up > 0:
		h.level = "(" + h.level + " * " + r + " + " + c.netText(supply) + " * " + placed + ") / (" + placed + " + " + r + ")"
	default:
		h.level = c.netText(supply) + " * " + placed + " / (" + placed + " + " + r + ")"
	}
	h.up, h.down = true, true
	return h, nil
}
