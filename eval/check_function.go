package eval

import (
	"fmt"
	"slices"
	"strings"

	"guardband/eval/record"
)

// pinFunctions asks that pins whose names say what they do on a line are
// joined to their like.
var pinFunctions = &builtin{
	name: "pin-function",
	rule: "Names of pins that say what they do on a line (SDA, SCL; MOSI, MISO, SCK; SI, SO; TX, RX) agree along it, series resistors included: data meets no clock, and of what only sends or only receives there is not all of one kind; the name of the net (SDA, SCL, SCK, MOSI, MISO) counts with them. " +
		"Failed where two parts have the two lines exchanged, or where parts of one type are joined at the pins that send. Otherwise open, as a sheet may name a pin after what it is joined to. Where the types of the pins settle the direction, they count and not the names; " +
		"a line on which both pins of one part stand (a loop, a line for both directions) is not judged.",
	source: "names of common practice (I2C, SPI, asynchronous serial ports)",
	run: func(c *compiler, b *builtin) {
		done := map[*net]bool{}
		for _, n := range c.signalNets() {
			if !done[n] {
				wire := c.reachOf(n).nets
				for _, n := range wire {
					done[n] = true
				}
				c.functionsAlong(b, wire)
			}
		}
		for _, m := range c.placedParts() {
			c.crossedPair(b, m)
		}
	},
}

// pairNames are pins of a pair of lines as common practice names them.
var pairNames = [][2]string{{"A", "B"}, {"Y", "Z"}, {"P", "N"}, {"DP", "DM"}, {"CANH", "CANL"}, {"H", "L"}}

// crossedPair asks about a part whose pins A and B are joined to nets BUS_B and
// BUS_A. Parts of two ends may stand either way round.
func (c *compiler) crossedPair(b *builtin, m *component) {
	if len(m.part.pins) < 3 {
		return
	}
	for _, names := range pairNames {
		p, q := m.end(names[0]), m.end(names[1])
		if p == nil || q == nil || p == q || c.isRail(p) || c.isRail(q) {
			continue
		}
		stem, ok := strings.CutSuffix(p.name, names[1])
		if ok && stem != "" && q.name == stem+names[0] {
			cl := c.builtClaim(b, m.ref, "The pair of lines at "+m.label()+" is joined as its names say.", m.entry)
			cl.lacks("no fact", names[0]+" of "+m.ref+" stands on "+p.name+" and "+names[1]+" on "+q.name, "exchange the two, or skip this check with the reason")
		}
	}
}

// functionNames are the names that say what a pin does, as bareName gives
// them.
var functionNames = map[string]string{
	"SDA": "SDA", "SCL": "SCL", "SCK": "SCK", "SCLK": "SCK", "MOSI": "MOSI", "COPI": "MOSI", "MISO": "MISO", "CIPO": "MISO",
	"SPC": "SCK", "SI": "SI", "SDI": "SI", "DI": "SI", "DO": "SO", "SO": "SO", "SDO": "SO", "TX": "TX", "TXD": "TX", "RX": "RX", "RXD": "RX",
}

// apart are the functions that do not meet on one line.
var apart = [][2]string{{"SDA", "SCL"}, {"MOSI", "MISO"}, {"MOSI", "SO"}, {"MISO", "SI"}, {"SCK", "MOSI"}, {"SCK", "MISO"}, {"SCK", "SI"}, {"SCK", "SO"},
	{"SCK", "SDA"}, {"SCL", "MOSI"}, {"SCL", "MISO"}, {"SCL", "SI"}, {"SCL", "SO"}}

func function(q *pin) string {
	if q.row.Type == "supply" || q.row.Type == "ground" || q.has("differential") || strings.HasSuffix(q.row.Name, "N") {
		return ""
	}
	f := ""
	for k, word := range strings.Split(strings.TrimPrefix(q.row.Name, "UART_"), "/") {
		switch g := functionNames[bareName(word)]; {
		case k == 0:
			f = g
		case g == "":
			return "" // what the pin may be besides
		case f == "SCK" || f == "SCL":
			f = "SCL"
		case f == "SDA" || g == "SDA":
			f = "SDA"
		case f != g:
			return ""
		}
	}
	return f
}

// netFunction is what the name of a net says that it carries, "" where that is
// nothing or, as of TX, depends on who names it.
func netFunction(n *net) string {
	for _, word := range strings.Split(n.name, "_") {
		switch f := functionNames[strings.ToUpper(word)]; f {
		case "SDA", "SCL", "SCK", "MOSI", "MISO":
			return f
		}
	}
	return ""
}

func (c *compiler) functionsAlong(b *builtin, wire []*net) {
	var on []joint
	other, odd := "", ""
	for _, n := range wire {
		says := netFunction(n)
		for _, j := range n.joined {
			switch k := j.comp.sort(); {
			case j.pin != nil && function(j.pin) != "":
				if on = append(on, j); odd == "" && slices.Contains(apart, [2]string{says, function(j.pin)}) ||
					slices.Contains(apart, [2]string{function(j.pin), says}) {
					odd = j.name() + " stands on " + n.name
				}
			case k == "connector" || j.pin != nil && (j.pin.drives() || j.pin.reads()):
				other = j.name()
			}
		}
	}
	if odd == "" && (len(on) < 2 || samePart(on[1:], on[0]) && len(on) == 2) {
		return
	}
	n := wire[0]
	cl := c.builtClaim(b, n.name, "The names of the pins on "+n.name+" say that they belong together.", on[0].pin.entry)
	for i, p := range on {
		for _, q := range on[i+1:] {
			if p.comp == q.comp {
				cl.lacks("no fact", p.name()+" and "+q.pin.row.Name+" of the same part stand on one line, which is right for a loop or a line for both directions alone", "skip this check with the reason if that is meant")
				return
			}
		}
	}
	for i, p := range on {
		for _, q := range on[i+1:] {
			c.meet(cl, p, q)
		}
	}
	if odd != "" && len(cl.out.Criteria) == 0 {
		cl.lacks("no fact", odd+", and by their names they do not belong together", "join it to its like, name the net after what it carries, or skip this check with the reason")
	}
	if len(cl.out.Open)+len(cl.out.Criteria) == 0 {
		c.oneSided(cl, n, on, other)
	}
	if len(cl.out.Open)+len(cl.out.Criteria) == 0 {
		cl.settle(record.Passed, n.name+" joins "+pinNames(on))
	}
}

// belongApart says that the functions of two pins do not meet on one line.
func belongApart(p, q *pin) bool {
	a, z := function(p), function(q)
	return slices.Contains(apart, [2]string{a, z}) || slices.Contains(apart, [2]string{z, a})
}

// meet judges two pins on one line.
func (c *compiler) meet(cl *claim, p, q joint) {
	if !belongApart(p.pin, q.pin) {
		return
	}
	a, z := function(p.pin), function(q.pin)
	clocks := a == "SCL" || a == "SCK" || z == "SCL" || z == "SCK"
	if !clocks && settledWay(p.pin) && settledWay(q.pin) {
		return // their types say which way it goes, and drivers judges them
	}
	text := fmt.Sprintf("%s and %s stand on one line", p.name(), q.name())
	if x := c.exchanged(p, q); x != "" {
		cl.settle(record.Failed, text+", and "+x+": the lines are exchanged at one of the parts")
		return
	}
	cl.lacks("no fact", text+", and by their names they do not belong together", "join each to its like, or skip this check with the reason")
}

// exchanged names two more pins of the same parts that do not belong together
// and stand on another line, "" without.
func (c *compiler) exchanged(p, q joint) string {
	for _, a := range p.comp.part.pins {
		for _, z := range q.comp.part.pins {
			n, at := p.comp.pinNets[a], q.comp.pinNets[z]
			if n == nil || at == nil || a == p.pin || z == q.pin || !belongApart(a, z) || c.isRail(n) {
				continue
			}
			if slices.Contains(c.reachOf(n).nets, at) {
				return joint{p.comp, a}.name() + " and " + joint{q.comp, z}.name() + " on another"
			}
		}
	}
	return ""
}

// settledWay says that the type of a pin tells its direction.
func settledWay(q *pin) bool {
	return q.row.Type == "input" || q.row.Type == "output" || q.row.Type == "clock"
}

// oneSided judges a line on which every pin sends by its name, or every pin
// receives.
func (c *compiler) oneSided(cl *claim, n *net, on []joint, other string) {
	f := function(on[0].pin)
	settled, types := true, []*part{}
	for _, j := range on {
		if function(j.pin) != f {
			return
		}
		if f == "TX" && j.pin.row.Type == "input" || f == "RX" && j.pin.row.Type == "output" {
			return // named after what it is joined to, as at a line driver
		}
		settled = settled && settledWay(j.pin)
		if !slices.Contains(types, j.comp.part) {
			types = append(types, j.comp.part)
		}
	}
	says := map[string]string{"TX": "sends", "SO": "sends", "RX": "receives", "SI": "receives"}[f]
	if says == "" || settled || other != "" {
		return // drivers judges what the types settle
	}
	text := fmt.Sprintf("every pin on %s %s by its name: %s", n.name, says, pinNames(on))
	if len(types) == 1 {
		cl.settle(record.Failed, text+"; parts of one type mean the same by it, and TX belongs to RX, SO to SI")
		return
	}
	cl.lacks("no fact", text+"; a sheet may name a pin after what it is joined to", "cross the lines, or skip this check with the reason")
}
