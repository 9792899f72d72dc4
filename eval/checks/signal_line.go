package checks

import (
	"fmt"
	"slices"
	"strings"

	"guardband/eval"
	"guardband/eval/circuit"
	"guardband/eval/record"
	"guardband/units"
)

// This file judges the rise time of a pulled line from its capacitance.

// riseLimit names the rise time that a pin which reads the net asks for.
func riseLimit(c *board, pins []circuit.Joint) string {
	for _, j := range pins {
		if !j.Pin.Reads() {
			continue
		}
		if t := c.LimitEnd(j.Comp, j.Pin, circuit.DimSecond, "max", "t_R", "t_r", "t_RISE"); t != "" {
			return t
		}
	}
	return ""
}

// askRise asks for the rise time of every part on the net that limits it. What
// hangs behind a resistor counts in full, and the resistor too.
func askRise(c *board, cl *eval.Claim, n *circuit.Net, r *circuit.Reach) {
	asked := map[string]bool{}
	total, pulls, series := "", "", ""
	if riseLimit(c, r.Pins()) == "" {
		askUsualRise(c, cl, n, r)
		return
	}
	for _, j := range r.Pins() {
		t := riseLimit(c, []circuit.Joint{j})
		if t == "" || eval.SeenBefore(asked, t) {
			continue
		}
		if total == "" {
			var why string
			if pulls, series, why = pullsOf(c, n, r); why != "" {
				cl.Lacks("no fact", why+", so the rise time of "+n.Name+" is not known",
					"claim the rise time yourself, and skip this check with the reason")
				return
			}
			if total = lineCapacitance(c, cl, n, r); total == "" {
				return
			}
		}
		if series == "" {
			c.Ask(cl, "ln(0.7 / 0.3) * "+pulls+" * "+total+" <= "+t)
			continue
		}
		if c.Try(cl, "ln(0.7 / 0.3) * ("+pulls+" + "+series+") * "+total+" <= "+t) {
			cl.Crit[len(cl.Crit)-1].Unsure = &record.OpenPoint{Reason: "no fact", Text: "what is behind " + series +
				" counts in full, which may be more than it does", Settle: "claim the rise time yourself, and skip this check with the reason"}
			c.Ask(cl, "0.9 * ln(0.7 / 0.3) * "+pulls+" * "+total+" <= "+t+" or 10 * ("+series+") > "+pulls)
		}
	}
}

// mostRise is the rise time of the slowest mode of the two-wire bus.
const mostRise = "1 µs"

// askUsualRise asks a bus of which no part notes a rise time for that of the
// slowest mode, as far as its capacitance is known; what is slower is open.
func askUsualRise(c *board, cl *eval.Claim, n *circuit.Net, r *circuit.Reach) {
	if !slices.ContainsFunc(r.Pins(), func(j circuit.Joint) bool { return function(j.Pin) == "SDA" || function(j.Pin) == "SCL" }) {
		return
	}
	scratch := &eval.Claim{}
	pulls, _, why := pullsOf(c, n, r)
	total := lineCapacitance(c, scratch, n, r)
	if why != "" || total == "" {
		cl.Presume("the rise time of " + n.Name + ", of which no part notes a limit, is not judged")
		return
	}
	tryUnsure(c, cl, "ln(0.7 / 0.3) * "+pulls+" * "+total+" <= "+mostRise, &record.OpenPoint{Reason: "no fact",
		Text: "no rise time is noted, and that of the slowest mode of the bus is 1 µs (UM10204)", Settle: "note `operating t_R = max ...`"})
}

// pullsOf words the pull-ups of a net and of those that resistors alone join to
// it, and the sum of these resistors; why says what cannot be worded.
func pullsOf(c *board, n *circuit.Net, r *circuit.Reach) (pulls, series, why string) {
	var ups []circuit.Resistor
	var between []string
	near := map[*circuit.Net]bool{n: true}
	for todo := []*circuit.Net{n}; len(todo) > 0; todo = todo[1:] {
		for _, x := range c.ResistorsAt(todo[0]) {
			switch {
			case near[x.Other] || circuit.IsReturn(x.Other):
				continue
			case !c.ValueOf(x.Comp).IsNumber(circuit.DimOhm):
				return "", "", "the resistance of " + x.Comp.Ref + " is not stated"
			case c.IsRail(x.Other):
				ups = append(ups, x)
				continue
			}
			near[x.Other] = true
			todo, between = append(todo, x.Other), append(between, x.Comp.Ref)
		}
	}
	var inside []circuit.Resistor // its designator is the name of its fact
	for _, j := range r.Pins() {
		if _, text := c.PinFact(j.Comp, "spec", j.Pin, circuit.DimOhm, "R_PU", "R_PULL"); j.Pin.Has("pull-up") && text != "" {
			inside = append(inside, circuit.Resistor{Comp: &circuit.Component{Ref: text}})
		}
	}
	if ups = append(inside, ups...); len(ups) == 0 {
		return "", "", "no resistor pulls " + n.Name + " up"
	}
	return parallel(ups), strings.Join(between, " + "), ""
}

// lineCapacitance names the capacitance of a line, "" where it is not known.
func lineCapacitance(c *board, cl *eval.Claim, n *circuit.Net, r *circuit.Reach) string {
	var sum []string
	missing := ""
	for _, at := range r.Nets {
		for _, j := range at.Joined {
			if m := j.Comp; m.Sort() == "capacitor" {
				y := c.ValueOf(m)
				if y == nil || !slices.Contains(sum, m.Ref) && !y.IsNumber(circuit.DimFarad) {
					cl.Lacks("no value", "the capacitance of "+m.Ref+" is not stated, so the rise time of "+n.Name+
						" is not known", "give its value in its row")
					return ""
				}
				sum = circuit.AddTo(sum, m.Ref)
			}
		}
	}
	for _, j := range r.Pins() {
		if !j.Pin.Reads() && !j.Pin.Drives() {
			continue
		}
		if _, t := c.PinFact(j.Comp, "spec", j.Pin, circuit.DimFarad, "C_PIN", "C_IN", "C_IO", "C_I"); t != "" {
			sum = append(sum, t)
		} else if missing == "" {
			missing = j.Name()
		}
	}
	if whole := valueOf(c, circuit.DimFarad, "C_"+n.Name, "C_BUS"); whole != "" {
		if len(sum) > 0 {
			c.Ask(cl, strings.Join(sum, " + ")+" <= "+whole)
		}
		return whole
	}
	track := valueOf(c, circuit.DimFarad, "C_TRACK_"+n.Name, "C_TRACK")
	switch {
	case missing != "":
		cl.Lacks("no fact", "the capacitance of pin "+missing+" is not noted, so the rise time of "+n.Name+
			" is not known", fmt.Sprintf("note `spec C_PIN = ...`, or give the whole line as a value `C_%s = ...`", plainName(c, n.Name)))
		return ""
	case track == "":
		cl.Lacks("no value", "the capacitance of the track of "+n.Name+" is not stated",
			"give a value `C_TRACK = ...`, or the whole line as `C_"+plainName(c, n.Name)+" = ...`")
		return ""
	}
	return "(" + strings.Join(append(sum, track), " + ") + ")"
}

// plainName is a net's name as part of a value's name.
func plainName(c *board, s string) string {
	if c.Values.IsName("C_" + s) {
		return s
	}
	return "BUS"
}

// valueOf finds a value of the design under one of several names.
func valueOf(c *board, dim units.Dim, names ...string) string {
	for _, s := range names {
		if c.Value(s).IsNumber(dim) {
			return s
		}
	}
	return ""
}
