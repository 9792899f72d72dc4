package checks

import (
	"fmt"
	"math/big"
	"slices"
	"strings"

	"guardband/eval"
	"guardband/eval/circuit"
	"guardband/eval/record"
)

// drivers asks that a net has one driver, and that inputs joined to one another
// have one at all.
var drivers = &eval.Check{
	Name: "drivers",
	Rule: "At most one push-pull output is on a net, none is joined to the return or a supply by a switch, fuse, bead or link, " +
		"which short no supplies either, none on the return, on a driven supply or on the supply of its own part, no open-drain output is on a supply, and a net between inputs has something that drives it. " +
		"An output without the flag open drain, open collector, open source or three-state counts as push-pull; bidirectional pins may give way.",
	Source: "common practice",
	Run: on(func(c *board, b *eval.Check) {
		grounds := 0
		for _, n := range c.Nets.List {
			driversAt(c, b, n)
			if circuit.IsReturn(n) {
				grounds++
			}
		}
		for _, m := range c.Comps.List {
			shortedBy(c, b, m)
		}
		for _, n := range c.Nets.List {
			if grounds > 1 && circuit.IsReturn(n) && leadsNowhere(n) {
				cl := driversClaim(c, b, n)
				cl.Out.Statement = "The return " + n.Name + " leads back to what feeds the board."
				cl.Lacks("no fact", "nothing joins "+n.Name+" to another return, to a connector or to a supply",
					"place a link between it and the return it belongs to, or skip this check with the reason")
			}
		}
	}),
}

func driversAt(c *board, b *eval.Check, n *circuit.Net) {
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
		driversOnRail(c, b, n, pushing, fed)
		return
	case len(twins(n)) > 0:
	case len(pushing) == 1 && len(against(c, pushing[0], n)) > 0: // through resistors
	case len(pushing)+len(able)+len(reading) < 2, len(pushing)+len(able) == 0 && len(reading) < 2:
		return
	}
	cl := driversClaim(c, b, n)
	switch {
	case len(pushing) > 1:
		conflict(c, cl, n, pushing, nil)
	case len(pushing) == 1 && len(against(c, pushing[0], n)) > 0:
		pushesAgainst(c, cl, pushing[0], n)
	case len(pushing) == 1 && slices.ContainsFunc(able,
		func(j circuit.Joint) bool { return j.Comp != pushing[0].Comp && j.Pin.Row.Type != "bidirectional" }):
		able = slices.DeleteFunc(able, func(j circuit.Joint) bool { return j.Comp == pushing[0].Comp || j.Pin.Row.Type == "bidirectional" })
		conflict(c, cl, n, pushing, able)
	case len(twins(n)) > 0:
		cl.Lacks("no fact", pinNames(twins(n))+" are joined, and whether the part drives them apart is not noted",
			"take one off, or skip this check with the reason")
	case len(pushing) == 1:
		cl.Settle(record.Passed, pushing[0].Name()+" alone drives "+n.Name)
	case selectedTogether(c, able) != "":
		cl.Settle(record.Failed, selectedTogether(c, able))
	case len(able) > 0:
		cl.Settle(record.Passed, "no push-pull output is on "+n.Name+"; it is driven in turn by "+pinNames(able))
	default:
		if s := held(c, n); s != "" {
			cl.Settle(record.Passed, n.Name+" gets its level from "+s)
		} else {
			cl.Settle(record.Failed, "only inputs are on "+n.Name+": "+pinNames(reading))
		}
	}
}

// against are the push-pull outputs of other parts to which resistors, beads and
// the like lead from the net of an output.
func against(c *board, j circuit.Joint, n *circuit.Net) (out []circuit.Joint) {
	near := []*circuit.Net{n}
	for i := 0; i < len(near); i++ {
		for _, m := range near[i].Joined {
			far := m.Comp.Opposite(near[i])
			if m.Comp.NotFitted() || !m.Comp.IsResistor() && !(m.Comp.IsTie() && !m.Comp.Unsaid()) ||
				far == nil || far == n || c.IsRail(far) {
				continue
			}
			for _, k := range far.PinsOf() {
				if k.Comp != j.Comp && k.Pin.Drives() && circuit.Pushes(k.Pin) {
					out = circuit.AddTo(out, k)
				}
			}
			if len(near) < 8 {
				near = circuit.AddTo(near, far)
			}
		}
	}
	return out
}

// pushesAgainst asks that an output, against which others push through
// resistors, gives and takes no more than it bears.
func pushesAgainst(c *board, cl *eval.Claim, j circuit.Joint, n *circuit.Net) {
	others := against(c, j, n)
	cl.Out.Statement = "Outputs that resistors join to " + n.Name + " do not overload one another: " +
		pinNames(append([]circuit.Joint{j}, others...)) + "."
	if !j.Pin.Drives() || len(j.Comp.PinsNamed(j.Pin.Row.Name)) > 1 {
		return
	}
	for _, side := range [][4]string{{"I_OL", "low", "V_OL", "high"}, {"I_OH", "high", "V_OH", "low"}} {
		if most, lacking := bears(c, j, side[0], side[2]); lacking != nil {
			cl.Lacks(lacking.Reason, lacking.Text, lacking.Settle)
		} else {
			rest := letGo(c.ReachOf(n), j, side[1], "")
			apart := func(x *eval.Drive) []string {
				if x.What == eval.AnOutput && slices.Contains(others, x.At) {
					return []string{side[3]}
				}
				return rest(x)
			}
			c.AskAmong(cl, apart, j.Comp.Ref+".use."+side[0]+"("+j.Pin.Row.Name+") <= "+most)
		}
	}
}

// bears names the current that an output bears: the one at which its level is
// stated, else a limit.
func bears(c *board, j circuit.Joint, current, level string) (text string, lacking *record.OpenPoint) {
	if t := c.StatedAt(j, level, current); t != "" {
		return strings.TrimPrefix(t, "-"), nil
	}
	for _, section := range []string{"operating", "absmax"} {
		if y, t := c.PinFact(j.Comp, section, j.Pin, circuit.DimAmpere, current, "I_O", "I_IO", "I_PIN"); y != nil && y.Stated[2] {
			return t + ".max", nil
		}
	}
	return "", &record.OpenPoint{Reason: "no fact", Text: "the current that " + j.Name() + " withstands is not noted",
		Settle: "note `spec " + level + " = ... at " + current + " <= ...` in part " + j.Comp.Part.ID}
}

// conflict tells outputs that fight from those that may give way: a part with
// an input that selects or enables it may let its output go, which its sheet
// says.
func conflict(c *board, cl *eval.Claim, n *circuit.Net, pushing, able []circuit.Joint) {
	for _, j := range pushing {
		always := !hasSelect(j.Comp.Part) || j.Pin.Has("push-pull")
		if always && len(able) > 0 {
			cl.Settle(record.Failed, j.Name()+" drives "+n.Name+" at all times, against "+pinNames(able))
			return
		}
		if always {
			cl.Settle(record.Failed, fmt.Sprintf("%d push-pull outputs are on %s: %s", len(pushing), n.Name, pinNames(pushing)))
			return
		}
	}
	cl.Lacks("no fact", "it is not noted that "+pinNames(pushing)+" release "+n.Name+" while they are not selected",
		"flag each of these pins `three-state` if its sheet says so")
}

// leadsNowhere says that nothing on a return carries a direct current away from
// it: its name alone makes it one.
func leadsNowhere(n *circuit.Net) bool {
	return len(n.Joined) > 0 && !slices.ContainsFunc(n.Joined, func(j circuit.Joint) bool {
		m := j.Comp
		switch k := m.Sort(); {
		case m.NotFitted() || m.Open() || k == "capacitor" || k == "test point":
			return false
		case m.IsConnector() || circuit.IsCell(m) || m.Part == nil:
			return true
		}
		return !m.Part.HasSupply() || m.Part.HasSupplyOutput()
	})
}

// selectedTogether names two parts that drive one line while they are selected,
// and are selected by one net; "" without. A chip select is active low, unless
// the title of its part says otherwise (common practice).
func selectedTogether(c *board, able []circuit.Joint) string {
	by := func(m *circuit.Component) (n *circuit.Net, high bool) {
		for _, q := range m.Pins() {
			switch circuit.BareName(q.Row.Name) {
			case "CS", "CE", "SS":
				if at := m.PinNets[q]; q.Reads() && at != nil && !c.IsRail(at) {
					return at, m.Says("active high", "active-high")
				}
			}
		}
		return nil, false
	}
	able = slices.DeleteFunc(slices.Clone(able), func(j circuit.Joint) bool { return j.Pin.Row.Type != "output" || j.Pin.OnlyPullsLow() })
	for i, a := range able {
		n, high := by(a.Comp)
		for _, z := range able[i+1:] {
			if o, too := by(z.Comp); n != nil && o == n && a.Comp != z.Comp && high == too {
				return a.Name() + " and " + z.Name() + " drive it while " + n.Name + " selects both"
			}
		}
	}
	return ""
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
func driversOnRail(c *board, b *eval.Check, n *circuit.Net, pushing []circuit.Joint, fed bool) {
	outputs := circuit.SupplyOutputs(n)
	if cell := func(j circuit.Joint) bool { return circuit.IsCell(j.Comp) }; slices.ContainsFunc(outputs,
		func(j circuit.Joint) bool { return !cell(j) }) {
		outputs = slices.DeleteFunc(outputs, cell) // what charges it, charge judges
	}
	if !fed && !circuit.IsReturn(n) { // an output may make a supply, but not the one it is fed from
		driversOnValue(c, b, n, pushing)
		pushing = slices.DeleteFunc(pushing, func(j circuit.Joint) bool { return j.Pin.Has("power") || c.SupplyOf(j.Comp, j.Pin) != n })
	}
	if len(outputs) > 0 {
		outputs = append(outputs, sinkContacts(c, n)...)
	}
	sinks := slices.DeleteFunc(slices.Clone(n.PinsOf()), func(j circuit.Joint) bool { return circuit.IsReturn(n) || !j.Pin.OnlyPullsLow() })
	if len(outputs) < 2 && len(pushing) == 0 && len(sinks) == 0 {
		return
	}
	cl := driversClaim(c, b, n)
	if len(outputs) > 1 {
		cl.Settle(record.Failed, "two supplies feed "+n.Name+": "+pinNames(outputs))
	}
	if len(pushing) > 0 {
		cl.Settle(record.Failed, "tied to "+n.Name+", which it cannot drive: "+pinNames(pushing))
	}
	for _, j := range sinks { // nothing limits its current when it pulls
		if j.Pin.Row.Type == "bidirectional" {
			cl.Lacks("no fact", j.Name()+" is tied to "+n.Name+", which it shorts when it pulls low",
				"take it off, or give it a role in its row: `"+j.Pin.Row.Name+" input`")
		} else {
			cl.Settle(record.Failed, j.Name()+" is tied to "+n.Name+", which it shorts when it pulls low")
		}
	}
}

// driversOnValue judges outputs on a net that a value gives, and that is no
// signal, as its value does not reach down to a low level.
func driversOnValue(c *board, b *eval.Check, n *circuit.Net, pushing []circuit.Joint) {
	y := c.Voltage(n)
	if !c.Values.Given(n.Name) || y == nil || y.Type != circuit.Volt {
		return
	}
	low, _ := c.Ends(y)
	if low == nil || low.Cmp(big.NewRat(1, 1)) < 0 {
		return
	}
	for _, j := range pushing {
		own := c.SupplyOf(j.Comp, j.Pin)
		if !j.Pin.Drives() || j.Pin.Has("power") || own == n {
			continue
		}
		if own != nil && c.VoltageStated(own) {
			if _, most := c.Ends(c.Voltage(own)); most != nil && low.Cmp(most) > 0 {
				driversClaim(c, b, n).Settle(record.Failed, j.Name()+" is tied to "+n.Name+", which is above its supply "+own.Name)
				continue
			}
		}
		fed := func(k circuit.Joint) bool { return k.Comp.IsConnector() || circuit.IsCell(k.Comp) || k.Comp.Unnoted() }
		if !slices.ContainsFunc(n.Joined, fed) {
			continue // it makes the supply
		}
		driversClaim(c, b, n).Lacks("no fact", j.Name()+" drives "+n.Name+
			", which a value gives: an output cannot hold a supply that something else feeds",
			"flag the pin `power` if it makes this supply, or take it off")
	}
}

func driversClaim(c *board, b *eval.Check, n *circuit.Net) *eval.Claim {
	cl := c.Claim(b, n.Name, "Net "+n.Name+" is driven by one output at a time.", nil)
	cl.At(n.Text.Pos(0))
	return cl
}
