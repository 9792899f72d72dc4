package checks

import (
	"regexp"
	"slices"
	"strings"

	"guardband/eval/circuit"
)

// This file says of inputs that turn their part on and off, by their names and
// flags, whether they are at one level for ever, at which the part rests.

// atRest says why an input keeps its part from working in every state of the
// board, "" where it does not.
func atRest(c *board, in circuit.Joint, n *circuit.Net) string {
	if !in.Pin.OnlyReads() || in.Pin.Unused || idleChannel(in) {
		return ""
	}
	level, by := constantLevel(c, in, n)
	name := circuit.BareName(in.Pin.Row.Name)
	if f := functionNames[name]; level != "" && n != nil && !c.IsRail(n) && (f == "SCL" || f == "SCK") && servesSomething(in.Comp, busData) {
		return "nothing but " + by + " is on " + n.Name + ", the clock of " + in.Comp.Label()
	}
	if level == "" || level != restLevel(in) {
		return ""
	}
	if at := enabledBy[name]; at != nil && !servesSomething(in.Comp, at) {
		return "" // that direction is not used
	}
	return in.Pin.Row.Name + " is " + level + " in every state, by " + by + ", so " + in.Comp.Label() + " " + restsAs(in)
}

// constantLevel is the level that a net has at all times, as a supply, resistors
// alone or the pull inside an open pin give it, and by what; "" where something
// may change it.
func constantLevel(c *board, in circuit.Joint, n *circuit.Net) (level, by string) {
	up, down := in.Pin.Has("pull-up"), in.Pin.Has("pull-down")
	if n == nil || circuit.PinsAlone(n) && len(n.Joined) == 1 {
		switch {
		case up != down && up:
			return "high", "the pull inside"
		case up != down:
			return "low", "the pull inside"
		}
		return "", ""
	}
	ends, r := []*circuit.Net{n}, c.ReachOf(n)
	if !c.IsRail(n) {
		if ends = r.Rails; !resistorsAlone(r) || in.Pin.PulledInside() || len(r.Plugs)+len(r.Buttons)+len(r.Between) > 0 ||
			len(r.Drivers(in)) > 0 {
			return "", ""
		}
		for _, j := range r.Pins() {
			if j.Pin.PulledInside() {
				return "", ""
			}
		}
	}
	for _, far := range ends {
		one := "high"
		if circuit.IsReturn(far) {
			one = "low"
		} else if !c.VoltageKnown(far) || c.Negative(far) || c.CrossesZero(far) {
			return "", ""
		}
		if level != "" && level != one {
			return "", ""
		}
		level, by = one, far.Name
	}
	if len(r.Ends) > 0 && !c.IsRail(n) {
		by = r.Ends[0].Ref + " to " + by
	}
	return level, by
}

// enabledBy are, for an input that enables one direction of a part alone, the
// pins of that direction.
var enabledBy = map[string][]string{
	"DE": {"DI", "D", "TXD", "TX", "DIN"}, "RE": {"RO", "R", "RXD", "RX", "ROUT"}, "OE": nil,
}

// busData are the pins of a bus that go with its clock.
var busData = []string{"SDA", "SDI", "SDO", "SI", "SO", "DI", "DO", "MOSI", "MISO", "COPI", "CIPO"}

// servesSomething says that one of some pins of a part is joined to another part
// that drives it or reads it.
func servesSomething(m *circuit.Component, names []string) bool {
	return slices.ContainsFunc(m.Pins(), func(q *circuit.Pin) bool {
		n := m.PinNets[q]
		return n != nil && slices.Contains(names, circuit.BareName(q.Row.Name)) && slices.ContainsFunc(n.PinsOf(),
			func(j circuit.Joint) bool { return j.Comp != m && (j.Pin.Drives() || j.Pin.Reads()) })
	})
}

var markedLow = regexp.MustCompile(`^[/~!]|^n_?[A-Z]|[#*]\d*$|_[NBL]\d*$|^(CS|SS|OE|RST|RESET|RES|MR|SHDN|HOLD)(N|B)\d*$`)

// activeLow says that a pin acts at a low level, by its flag or its name.
func activeLow(q *circuit.Pin) bool { return q.Has("active low") || markedLow.MatchString(q.Row.Name) }

// restLevel is the level at which an input keeps its whole part from working, ""
// where its name and flags do not say: many a sheet draws the bar over a name
// that a text loses. Of several numbered ones each may belong to a section that
// is not used.
func restLevel(in circuit.Joint) string {
	name, low := circuit.BareName(in.Pin.Row.Name), activeLow(in.Pin)
	for _, q := range in.Comp.Pins() {
		if q != in.Pin && q.OnlyReads() && circuit.BareName(q.Row.Name) == name {
			return ""
		}
	}
	rests := false
	switch name {
	case "EN", "ENA", "ENABLE", "DE":
	case "CS", "SS", "CE", "OE", "RE", "CHIPSELECT":
		if !low {
			return ""
		}
	case "STB", "STBY", "STANDBY", "DIS", "DISABLE":
		rests = true
	case "SHDN", "SHUTDOWN", "SLEEP", "SLP", "PD", "PDN", "PWDN", "HOLD":
		if rests = true; !low {
			return ""
		}
	default:
		if in.Pin.Has("reset") && !strings.Contains(strings.ToUpper(in.Pin.Row.Name), "TRST") || isResetName(in.Pin.Row.Name) {
			return resetLevel(in)
		}
		return ""
	}
	if rests == low {
		return "low"
	}
	return "high"
}

func restsAs(in circuit.Joint) string {
	switch circuit.BareName(in.Pin.Row.Name) {
	case "CS", "SS", "CE", "CHIPSELECT":
		return "is never selected"
	case "DE", "OE":
		return "never drives what it is to drive"
	case "RE":
		return "never gives what it receives"
	case "EN", "ENA", "ENABLE", "DIS", "DISABLE":
		return "is never on"
	case "STB", "STBY", "STANDBY", "SHDN", "SHUTDOWN", "SLEEP", "SLP", "PD", "PDN", "PWDN", "HOLD":
		return "never works"
	}
	return "never runs"
}
