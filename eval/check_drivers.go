package eval

import (
	"fmt"
	"math/big"
	"slices"
	"strings"

	"guardband/eval/bound"
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
	case len(pushing) == 1 && len(c.against(pushing[0], n)) > 0: // through resistors
	case len(pushing)+len(able)+len(reading) < 2, len(pushing)+len(able) == 0 && len(reading) < 2:
		return
	}
	cl := c.driversClaim(b, n)
	switch {
	case len(pushing) > 1:
		c.conflict(cl, n, pushing, nil)
	case len(pushing) == 1 && len(c.against(pushing[0], n)) > 0:
		c.pushesAgainst(cl, pushing[0], n)
	case len(pushing) == 1 && slices.ContainsFunc(able, func(j circuit.Joint) bool { return j.Comp != pushing[0].Comp && j.Pin.Row.Type != "bidirectional" }):
		able = slices.DeleteFunc(able, func(j circuit.Joint) bool { return j.Comp == pushing[0].Comp || j.Pin.Row.Type == "bidirectional" })
		c.conflict(cl, n, pushing, able)
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

// against are the push-pull outputs of other parts to which resistors, beads and
// the like lead from the net of an output.
func (c *compiler) against(j circuit.Joint, n *circuit.Net) (out []circuit.Joint) {
	near := []*circuit.Net{n}
	for i := 0; i < len(near); i++ {
		for _, m := range near[i].Joined {
			far := m.Comp.FarEnd(near[i])
			if m.Comp.NotFitted() || !m.Comp.IsResistor() && !(m.Comp.IsTie() && !m.Comp.Unsaid()) || far == nil || far == n || c.IsRail(far) {
				continue
			}
			for _, k := range far.PinsOf() {
				if k.Comp != j.Comp && k.Pin.Drives() && circuit.Pushes(k.Pin) {
					out = circuit.AddTo(out, k)
				}
			}
			if len(near) < 8 {
				near = circuit.AddNet(near, far)
			}
		}
	}
	return out
}

// pushesAgainst asks that an output, against which others push through
// resistors, gives and takes no more than it bears.
func (c *compiler) pushesAgainst(cl *claim, j circuit.Joint, n *circuit.Net) {
	others := c.against(j, n)
	cl.out.Statement = "Outputs that resistors join to " + n.Name + " do not overload one another: " + pinNames(append([]circuit.Joint{j}, others...)) + "."
	if !j.Pin.Drives() || len(j.Comp.Part.PinsNamed(j.Pin.Row.Name)) > 1 {
		return
	}
	for _, side := range [][4]string{{"I_OL", "low", "V_OL", "high"}, {"I_OH", "high", "V_OH", "low"}} {
		if most, lacking := c.bears(j, side[0], side[2]); lacking != nil {
			cl.lacks(lacking.Reason, lacking.Text, lacking.Settle)
		} else {
			rest := letGo(c.ReachOf(n), j, side[1], "")
			apart := func(x *drive) []string {
				if x.what == anOutput && slices.Contains(others, x.at) {
					return []string{side[3]}
				}
				return rest(x)
			}
			c.askAmong(cl, apart, j.Comp.Ref+".use."+side[0]+"("+j.Pin.Row.Name+") <= "+most)
		}
	}
}

// bears names the current that an output bears: the one at which its level is
// stated, else a limit.
func (c *compiler) bears(j circuit.Joint, current, level string) (text string, lacking *record.OpenPoint) {
	if y, _ := c.pinFact(j.Comp, "spec", j.Pin, circuit.Volt.Dim, level); y != nil {
		for _, r := range y.rows {
			for _, d := range c.conditionsOf(y, r) {
				if d.flag == "" && circuit.SameSymbol(d.name, current) && d.hi != nil && d.hi.Type.Dim == circuit.DimAmpere {
					return strings.TrimPrefix(c.literal(d.hi), "-"), nil
				}
			}
		}
	}
	for _, section := range []string{"operating", "absmax"} {
		if y, t := c.pinFact(j.Comp, section, j.Pin, circuit.DimAmpere, current, "I_O", "I_IO", "I_PIN"); y != nil && y.cols[2] != nil {
			return t + ".max", nil
		}
	}
	return "", &record.OpenPoint{Reason: "no fact", Text: "the current that " + j.Name() + " bears is not noted", Settle: "note `spec " + level + " = ... at " + current + " <= ...` in part " + j.Comp.Part.ID}
}

// conflict tells outputs that fight from those that may give way: a part with
// an input that selects or enables it may let its output go, which its sheet
// says.
func (c *compiler) conflict(cl *claim, n *circuit.Net, pushing, able []circuit.Joint) {
	for _, j := range pushing {
		if !hasSelect(j.Comp.Part) && len(able) > 0 {
			cl.settle(record.Failed, j.Name()+" drives "+n.Name+" at all times, against "+pinNames(able))
			return
		}
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
		switch circuit.BareName(q.Row.Name) {
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
		c.driversOnValue(b, n, pushing)
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

// driversOnValue judges outputs on a net that a value gives, and that is no
// signal, as its value does not reach down to a low level.
func (c *compiler) driversOnValue(b *builtin, n *circuit.Net, pushing []circuit.Joint) {
	y := c.netVoltage(n)
	if _, given := c.values.Get(n.Name); !given || y == nil || y.val.Type != circuit.Volt {
		return
	}
	extent := func(y *symbol) (low, high *big.Rat) {
		p := c.b.Extract(y.val.Reg)
		e := bound.Range(p, 0, c.gather(p), bound.Options{Boxes: 200})
		return endRat(e.Lo), endRat(e.Hi)
	}
	low, _ := extent(y)
	if low == nil || low.Cmp(rat(1)) < 0 {
		return
	}
	for _, j := range pushing {
		own := c.SupplyOf(j.Comp, j.Pin)
		if !j.Pin.Drives() || j.Pin.Has("power") || own == n {
			continue
		}
		if own != nil && c.voltageStated(own) {
			if _, most := extent(c.netVoltage(own)); most != nil && low.Cmp(most) > 0 {
				c.driversClaim(b, n).settle(record.Failed, j.Name()+" is tied to "+n.Name+", which lies above its supply "+own.Name)
				continue
			}
		}
		fed := func(k circuit.Joint) bool { return k.Comp.IsConnector() || circuit.IsCell(k.Comp) || k.Comp.Unnoted() }
		if !slices.ContainsFunc(n.Joined, fed) {
			continue // it makes the supply
		}
		c.driversClaim(b, n).lacks("no fact", j.Name()+" drives "+n.Name+", which a value gives: an output cannot hold a supply that something else feeds", "flag the pin `power` if it makes this supply, or take it off")
	}
}

func (c *compiler) driversClaim(b *builtin, n *circuit.Net) *claim {
	cl := c.builtClaim(b, n.Name, "Net "+n.Name+" is driven by one output at a time.", nil)
	cl.at(n.Text.Pos(0))
	return cl
}
