package eval

import (
	"fmt"
	"slices"

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
		for _, n := range c.nets.list {
			c.driversAt(b, n)
		}
	},
}

func (c *compiler) driversAt(b *builtin, n *net) {
	var pushing, able, reading []joint
	for _, j := range n.pinsOf() {
		switch {
		case pushes(j.pin):
			if !samePart(pushing, j) {
				pushing = append(pushing, j)
			}
		case j.pin.drives():
			able = append(able, j)
		case j.pin.reads():
			reading = append(reading, j)
		}
	}
	fed := len(supplyOutputs(n)) > 0
	switch {
	case isReturn(n) || fed || c.isRail(n):
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
		cl.settle(record.Passed, pushing[0].name()+" alone drives "+n.name)
	case len(able) > 0:
		cl.settle(record.Passed, "no push-pull output stands on "+n.name+"; it is driven in turn by "+pinNames(able))
	default:
		if s := c.levelSource(n, joint{}); s != "" && c.held(n) {
			cl.settle(record.Passed, n.name+" gets its level from "+s)
		} else {
			cl.settle(record.Failed, "only inputs stand on "+n.name+": "+pinNames(reading))
		}
	}
}

// conflict tells outputs that fight from those that may give way: a part with
// an input that selects or enables it may let its output go, which its sheet
// says.
func (c *compiler) conflict(cl *claim, n *net, pushing []joint) {
	for _, j := range pushing {
		if !hasSelect(j.comp.part) {
			cl.settle(record.Failed, fmt.Sprintf("%d push-pull outputs stand on %s: %s", len(pushing), n.name, pinNames(pushing)))
			return
		}
	}
	cl.lacks("no fact", "it is not noted that "+pinNames(pushing)+" let go of "+n.name+" while they are not selected", "flag each of these pins `three-state` if its sheet says so")
}

// hasSelect says that a part has an input by which it is selected or enabled.
// The names are those of the trade.
func hasSelect(p *part) bool {
	for _, q := range p.pins {
		if !q.reads() {
			continue
		}
		switch bareName(q.row.Name) {
		case "CS", "CE", "SS", "OE", "EN", "SEL", "STB", "RE", "DE":
			return true
		}
	}
	return false
}

// driversOnRail finds outputs tied to the return or to a supply that another
// part feeds, and two supplies on one net.
func (c *compiler) driversOnRail(b *builtin, n *net, pushing []joint, fed bool) {
	outputs := supplyOutputs(n)
	if !fed && !isReturn(n) { // an output may make a supply, but not the one it is fed from
		pushing = slices.DeleteFunc(pushing, func(j joint) bool { return j.pin.has("power") || c.supplyOf(j.comp, j.pin) != n })
	}
	if len(outputs) < 2 && len(pushing) == 0 {
		return
	}
	cl := c.driversClaim(b, n)
	if len(outputs) > 1 {
		cl.settle(record.Failed, "two supplies feed "+n.name+": "+pinNames(outputs))
	}
	if len(pushing) > 0 {
		cl.settle(record.Failed, "tied to "+n.name+", which it cannot drive: "+pinNames(pushing))
	}
}

func (c *compiler) driversClaim(b *builtin, n *net) *claim {
	cl := c.builtClaim(b, n.name, "Net "+n.name+" is driven by one output at a time.", nil)
	cl.out.Position = position(n.text.Pos(0))
	return cl
}

// pushes says that a pin is an output that holds its net at all times.
func pushes(q *pin) bool {
	return q.row.Type != "bidirectional" && (q.drives() || q.row.Type == "analog output") && !q.letsGo()
}

// supplyOutputs are the supplies that feed a net, one a part.
func supplyOutputs(n *net) []joint {
	var out []joint
	for _, j := range n.pinsOf() {
		if j.pin.row.Type == "supply output" && !samePart(out, j) {
			out = append(out, j)
		}
	}
	return out
}

func samePart(js []joint, j joint) bool {
	for _, k := range js {
		if k.comp == j.comp {
			return true
		}
	}
	return false
}
