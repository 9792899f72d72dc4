package eval

import (
	"fmt"
	"slices"

	"guardband/eval/circuit"
	"guardband/eval/record"
)

// drivers asks that a net has one driver, and that inputs joined to one another
// have one at all.
var drivers = &builtin{
	name: "drivers",
	rule: "At most one push-pull output stands on a net, none on the return, on a fed supply or on the supply of its own part, and a net between inputs has something that drives it. " +
		"An output without the flag open drain, open collector, open source or three-state counts as push-pull; bidirectional pins may give way.",
	source: "common practice",
	run: func(c *compiler, b *builtin) {
		for _, n := range c.Nets.List {
			c.driversAt(b, n)
		}
	},
}

func (c *compiler) driversAt(b *builtin, n *circuit.Net) {
	var pushing, able, reading []circuit.Joint
	for _, j := range n.PinsOf() {
		switch {
		case circuit.Pushes(j.Pin):
			if !circuit.SamePart(pushing, j) {
				pushing = append(pushing, j)
			}
		case j.Pin.Drives():
			able = append(able, j)
		case j.Pin.Reads():
			reading = append(reading, j)
		}
	}
	fed := len(circuit.SupplyOutputs(n)) > 0
	switch {
	case circuit.IsReturn(n) || fed || c.IsRail(n):
		c.driversOnRail(b, n, pushing, fed)
		return
	case len(pushing)+len(able)+len(reading) < 2, len(pushing)+len(able) == 0 && len(reading) < 2:
		return
	}
	cl := c.driversClaim(b, n)
	switch {
	case len(pushing) > 1:
		c.conflict(cl, n, pushing)
	case len(pushing) == 1:
		cl.settle(record.Passed, pushing[0].Name()+" alone drives "+n.Name)
	case len(able) > 0:
		cl.settle(record.Passed, "no push-pull output stands on "+n.Name+"; it is driven in turn by "+pinNames(able))
	default:
		if s := c.LevelSource(n, circuit.Joint{}); s != "" && c.held(n) {
			cl.settle(record.Passed, n.Name+" gets its level from "+s)
		} else {
			cl.settle(record.Failed, "only inputs stand on "+n.Name+": "+pinNames(reading))
		}
	}
}

// conflict tells outputs that fight from those that may give way: a part with
// an input that selects or enables it may let its output go, which its sheet
// says.
func (c *compiler) conflict(cl *claim, n *circuit.Net, pushing []circuit.Joint) {
	for _, j := range pushing {
		if !hasSelect(j.Comp.Part) {
			cl.settle(record.Failed, fmt.Sprintf("%d push-pull outputs stand on %s: %s", len(pushing), n.Name, pinNames(pushing)))
			return
		}
	}
	cl.lacks("no fact", "it is not noted that "+pinNames(pushing)+" let go of "+n.Name+" while they are not selected", "flag each of these pins `three-state` if its sheet says so")
}

// hasSelect says that a part has an input by which it is selected or enabled.
// The names are those of the trade.
func hasSelect(p *circuit.Part) bool {
	for _, q := range p.Pins {
		if !q.Reads() {
			continue
		}
		switch bareName(q.Row.Name) {
		case "CS", "CE", "SS", "OE", "EN", "SEL", "STB", "RE", "DE":
			return true
		}
	}
	return false
}

// driversOnRail finds outputs tied to the return or to a supply that another
// part feeds, and two supplies on one net.
func (c *compiler) driversOnRail(b *builtin, n *circuit.Net, pushing []circuit.Joint, fed bool) {
	outputs := circuit.SupplyOutputs(n)
	if !fed && !circuit.IsReturn(n) { // an output may make a supply, but not the one it is fed from
		pushing = slices.DeleteFunc(pushing, func(j circuit.Joint) bool { return j.Pin.Has("power") || c.SupplyOf(j.Comp, j.Pin) != n })
	}
	if len(outputs) < 2 && len(pushing) == 0 {
		return
	}
	cl := c.driversClaim(b, n)
	if len(outputs) > 1 {
		cl.settle(record.Failed, "two supplies feed "+n.Name+": "+pinNames(outputs))
	}
	if len(pushing) > 0 {
		cl.settle(record.Failed, "tied to "+n.Name+", which it cannot drive: "+pinNames(pushing))
	}
}

func (c *compiler) driversClaim(b *builtin, n *circuit.Net) *claim {
	cl := c.builtClaim(b, n.Name, "Net "+n.Name+" is driven by one output at a time.", nil)
	cl.out.Position = position(n.Text.Pos(0))
	return cl
}
