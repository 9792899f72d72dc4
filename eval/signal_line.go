package eval

import (
	"fmt"
	"strings"

	"guardband/eval/formula"
	"guardband/units"
)

// This file judges the rise time of a pulled line from its capacitance.

// riseLimit names the rise time that a pin which reads the net asks for.
func (c *compiler) riseLimit(pins []joint) string {
	for _, j := range pins {
		if !j.pin.reads() {
			continue
		}
		if t := c.limitEnd(j.comp, j.pin, dimSecond, "max", "t_R", "t_r", "t_RISE"); t != "" {
			return t
		}
	}
	return ""
}

// askRise asks for the rise time of every part on the net that limits it.
func (c *compiler) askRise(cl *claim, n *net, pins []joint, ups []resistor) {
	asked := map[string]bool{}
	total := ""
	for _, j := range pins {
		t := c.riseLimit([]joint{j})
		if t == "" || seenBefore(asked, t) {
			continue
		}
		if total == "" {
			if total = c.lineCapacitance(cl, n, pins); total == "" {
				return
			}
		}
		c.ask(cl, "ln(0.7 / 0.3) * "+parallel(ups)+" * "+total+" <= "+t)
	}
}

// lineCapacitance names the capacitance of a line, "" where it is not known.
func (c *compiler) lineCapacitance(cl *claim, n *net, pins []joint) string {
	var sum []string
	missing := ""
	for _, j := range pins {
		if !j.pin.reads() && !j.pin.drives() {
			continue
		}
		if _, t := c.pinFact(j.comp, "spec", j.pin, dimFarad, "C_PIN", "C_IN", "C_IO", "C_I"); t != "" {
			sum = append(sum, t)
		} else if missing == "" {
			missing = j.name()
		}
	}
	if whole := c.valueOf(dimFarad, "C_"+n.name, "C_BUS"); whole != "" {
		if len(sum) > 0 {
			c.ask(cl, strings.Join(sum, " + ")+" <= "+whole)
		}
		return whole
	}
	track := c.valueOf(dimFarad, "C_TRACK_"+n.name, "C_TRACK")
	switch {
	case missing != "":
		cl.lacks("no fact", "the capacitance of pin "+missing+" is not noted, so the rise time of "+n.name+" is not known", fmt.Sprintf("note `spec C_PIN = ...`, or give the whole line as a value `C_%s = ...`", plainName(n.name)))
		return ""
	case track == "":
		cl.lacks("no value", "the capacitance of the track of "+n.name+" is not stated", "give a value `C_TRACK = ...`, or the whole line as `C_"+plainName(n.name)+" = ...`")
		return ""
	}
	return "(" + strings.Join(append(sum, track), " + ") + ")"
}

// plainName is a net's name as part of a value's name.
func plainName(s string) string {
	if isName("C_" + s) {
		return s
	}
	return "BUS"
}

// valueOf finds a value of the design under one of several names.
func (c *compiler) valueOf(dim units.Dim, names ...string) string {
	for _, s := range names {
		y, ok := c.values.get(s)
		if !ok {
			continue
		}
		c.lower(y)
		if y.val.Class == formula.Number && y.val.Type.Dim == dim {
			return s
		}
	}
	return ""
}
