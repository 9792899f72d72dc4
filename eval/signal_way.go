package eval

import "strings"

// This file words the level of a net that a driver reaches through a resistor.

// seriesDriver is a driver behind a resistor.
type seriesDriver struct {
	driver joint
	by     resistor
}

// driversThrough are the drivers that reach a net through one placed resistor.
func (c *compiler) driversThrough(n *net, in joint) []seriesDriver {
	if c.isRail(n) {
		return nil
	}
	var out []seriesDriver
	for _, r := range c.resistorsAt(n) {
		if c.isRail(r.other) {
			continue
		}
		for _, d := range c.driversOf(r.other, in) {
			out = append(out, seriesDriver{d, r})
		}
	}
	return out
}

// driversBehind are the drivers that reach a net through what joins it to
// another with a resistance that no note states as R: a bead, a fuse, a switch.
func (c *compiler) driversBehind(n *net, in joint) []seriesDriver {
	if c.isRail(n) {
		return nil
	}
	var out []seriesDriver
	for _, m := range n.ties {
		o := m.opposite(n)
		if m.isResistor() || o == nil || c.isRail(o) {
			continue
		}
		for _, d := range c.driversOf(o, in) {
			out = append(out, seriesDriver{d, resistor{m, o}})
		}
	}
	return out
}

// way is how a level changes from a driver to a pin: what divides it and what
// the leakage of the pins adds. nil is a direct joint.
type way struct {
	before, after string // round the driver's level
	leak          string // the voltage that leakage makes
}

// wayTo words the way through a resistor to a net, or says what is not known.
func (c *compiler) wayTo(n *net, by resistor) (*way, *OpenPoint) {
	for _, r := range append(c.pulls(n), by) {
		if !c.ohms(r.comp) {
			return nil, &OpenPoint{Reason: "no value", Text: "the resistance of " + r.comp.ref + " is not stated", Settle: "give its value in its row"}
		}
		if r.other != by.other && !isReturn(r.other) && !c.voltageKnown(r.other) {
			return nil, &OpenPoint{Reason: "no value", Text: "the voltage of net " + r.other.name + " is not known", Settle: "give a value `" + r.other.name + " = ...`"}
		}
	}
	if other, _ := c.besides(n, by.comp); other != "" {
		return nil, &OpenPoint{Reason: "no fact", Text: other + ", and what it brings or takes is not worked out, so the level behind " + by.comp.ref + " is not known", Settle: "claim the level yourself, and skip this check with the reason"}
	}
	leak, missing := c.leakageSum(n.pinsOf())
	if missing != "" {
		return nil, &OpenPoint{Reason: "no fact", Text: "the leakage of " + missing + " is not noted, so the level behind " + by.comp.ref + " is not known", Settle: "note `spec I_LEAK = ...` of the pin"}
	}
	level, par := c.divided(n, "\x00", by)
	before, after, _ := strings.Cut(level, "\x00")
	return &way{before, after, leak + " * " + par}, nil
}

// level words the level at the pin; sign says which way leakage works.
func (w *way) level(v, sign string) string {
	if w == nil {
		return v
	}
	return w.before + v + w.after + sign + w.leak
}

// divided words the level that a source makes on a net through one resistor
// against the pulls of the net, and the resistance that a current into the net
// works on.
func (c *compiler) divided(n *net, source string, by resistor) (level, par string) {
	var pulls []resistor
	for _, r := range c.pulls(n) {
		if c.ohms(r.comp) && (isReturn(r.other) || c.voltageKnown(r.other)) {
			pulls = append(pulls, r)
		}
	}
	if len(pulls) == 0 {
		return source, by.comp.ref
	}
	all := append([]resistor{by}, pulls...)
	sum, down := []string{source + " / " + by.comp.ref}, []string{}
	for _, r := range pulls {
		if !isReturn(r.other) {
			sum = append(sum, c.netText(r.other)+" / "+r.comp.ref)
		}
	}
	for _, r := range all {
		down = append(down, "1 / "+r.comp.ref)
	}
	return "(" + strings.Join(sum, " + ") + ") / (" + strings.Join(down, " + ") + ")", parallel(all)
}
