package checks

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"guardband/eval"
	"guardband/eval/circuit"
	"guardband/eval/record"
)

// pinFunctions asks that pins whose names say what they do on a line are
// joined to their like.
var pinFunctions = &eval.Check{
	Name: "pin-function",
	Rule: "Names of pins that say what they do on a line (SDA, SCL; MOSI, MISO, SCK; SI, SO; TX, RX) agree along it, series resistors included: data meets no clock, and of what only sends or only receives there is not all of one kind; the name of the net (SDA, SCL, SCK, MOSI, MISO) counts with them. What makes a reset and what it resets mean the same level by it. " +
		"Failed where two parts have the two lines exchanged, or where parts of one type are joined at the pins that send. Otherwise open, as a sheet may name a pin after what it connects to. Where the types of the pins settle the direction, they count and not the names; " +
		"a line with both pins of one part on it (a loop, a line for both directions) is not judged.",
	Source: "names of common practice (I2C, SPI, asynchronous serial ports)",
	Run: on(func(c *board, b *eval.Check) {
		done := map[*circuit.Net]bool{}
		for _, n := range c.SignalNets() {
			if !done[n] {
				wire := c.ReachOf(n).Nets
				for _, n := range wire {
					done[n] = true
				}
				functionsAlong(c, b, wire)
				resetsAlong(c, b, wire)
			}
		}
		parts := c.PlacedParts()
		for i, m := range parts {
			crossedPair(c, b, m)
			for _, o := range parts[i+1:] {
				likeNamed(c, b, m, o)
			}
		}
	}),
}

// pairNames are pins of a pair of lines as common practice names them.
var pairNames = [][2]string{{"A", "B"}, {"Y", "Z"}, {"P", "N"}, {"DP", "DM"}, {"CANH", "CANL"}, {"H", "L"}}

// likeNames are pins that common practice joins to the pin of the same name: of
// debug ports, sound and memory cards.
var likeNames = regexp.MustCompile(`^(SWDIO|SWCLK|SWDCLK|SWO|TMS|TCK|BCLK|LRCK|LRCLK|WS|MCLK|CMD|CLK|D\d+|DAT\d+|A\d+)$`)

// likeNamed finds two lines that are exchanged between pins of the same names.
func likeNamed(c *board, b *eval.Check, m, o *circuit.Component) {
	for i, p := range m.Pins() {
		for _, q := range m.Pins()[i+1:] {
			n, at := m.PinNets[p], m.PinNets[q]
			if n == nil || at == nil || n == at || c.IsRail(n) || c.IsRail(at) || !likeNames.MatchString(p.Row.Name) ||
				!likeNames.MatchString(q.Row.Name) {
				continue
			}
			x, y := o.End(p.Row.Name), o.End(q.Row.Name)
			if x != nil && y != nil && slices.Contains(c.ReachOf(n).Nets, y) && slices.Contains(c.ReachOf(at).Nets, x) {
				c.Claim(b, o.Ref+"."+p.Row.Name, "Pins of one name at "+m.Label()+" and "+o.Label()+" are joined.", p.Entry).Settle(
					record.Failed, p.Row.Name+" of "+m.Ref+" is joined to "+q.Row.Name+" of "+o.Ref+", and "+q.Row.Name+" to "+
						p.Row.Name+": the lines are exchanged")
			}
		}
	}
}

// crossedPair asks about a part whose pins A and B are joined to nets BUS_B and
// BUS_A. Parts of two ends may stand either way round.
func crossedPair(c *board, b *eval.Check, m *circuit.Component) {
	if len(m.Pins()) < 3 {
		return
	}
	for _, names := range pairNames {
		p, q := m.End(names[0]), m.End(names[1])
		if p == nil || q == nil || p == q || c.IsRail(p) || c.IsRail(q) {
			continue
		}
		if at, other := crossed(c, p, q, names); at != nil {
			cl := c.Claim(b, m.Ref, "The pair of lines at "+m.Label()+" is connected as its pin names say.", m.Entry)
			cl.Lacks("no fact", names[0]+" of "+m.Ref+" is on "+at.Name+" and "+names[1]+" on "+other.Name,
				"exchange the two, or skip this check with the reason")
		}
	}
}

// crossed finds the nets, series resistors passed, that are named for the other
// pin of a pair each: BUS_B at pin A and BUS_A at pin B. Nets of one letter
// alone may be named after anything.
func crossed(c *board, p, q *circuit.Net, names [2]string) (at, other *circuit.Net) {
	along := func(n *circuit.Net) []*circuit.Net {
		out := []*circuit.Net{n}
		for _, r := range c.ResistorsAt(n) {
			if r.Other != nil && r.Other != p && r.Other != q && !c.IsRail(r.Other) { // not a termination between the two
				out = append(out, r.Other)
			}
		}
		return out
	}
	named := func(nets []*circuit.Net, name string) *circuit.Net {
		if i := slices.IndexFunc(nets, func(n *circuit.Net) bool { return n.Name == name }); i >= 0 {
			return nets[i]
		}
		return nil
	}
	for _, at := range along(p) {
		stem, ok := strings.CutSuffix(at.Name, names[1])
		if !ok || stem == "" && len(names[0]) < 2 {
			continue
		}
		if other := named(along(q), stem+names[0]); other != nil {
			return at, other
		}
	}
	return nil, nil
}

// functionNames are the names that say what a pin does, as bareName gives
// them.
var functionNames = map[string]string{
	"SDA": "SDA", "SCL": "SCL", "SCK": "SCK", "SCLK": "SCK", "MOSI": "MOSI", "COPI": "MOSI", "MISO": "MISO", "CIPO": "MISO",
	"SPC": "SCK", "SI": "SI", "SDI": "SI", "DI": "SI", "DO": "SO", "SO": "SO", "SDO": "SO", "TX": "TX", "TXD": "TX", "RX": "RX", "RXD": "RX",
}

// apart are the functions that do not meet on one line.
var apart = [][2]string{{"SDA", "SCL"}, {"MOSI", "MISO"}, {"MOSI", "SO"}, {"MISO", "SI"}, {"SCK", "MOSI"}, {"SCK",
	"MISO"}, {"SCK", "SI"}, {"SCK", "SO"},
	{"SCK", "SDA"}, {"SCL", "MOSI"}, {"SCL", "MISO"}, {"SCL", "SI"}, {"SCL", "SO"}}

func function(q *circuit.Pin) string {
	if q.Row.Type == "supply" || q.Row.Type == "ground" || q.Has("differential") || strings.HasSuffix(q.Row.Name, "N") {
		return ""
	}
	f := ""
	for k, word := range strings.Split(strings.TrimPrefix(q.Row.Name, "UART_"), "/") {
		switch g := functionNames[circuit.BareName(word)]; {
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
func netFunction(n *circuit.Net) string {
	for _, word := range strings.Split(n.Name, "_") {
		switch f := functionNames[strings.ToUpper(word)]; f {
		case "SDA", "SCL", "SCK", "MOSI", "MISO":
			return f
		}
	}
	return ""
}

func functionsAlong(c *board, b *eval.Check, wire []*circuit.Net) {
	var on []circuit.Joint
	other, odd := "", ""
	for _, n := range wire {
		says := netFunction(n)
		for _, j := range n.Joined {
			switch k := j.Comp.Sort(); {
			case j.Pin != nil && function(j.Pin) != "":
				if on = append(on, j); odd == "" && slices.Contains(apart, [2]string{says, function(j.Pin)}) ||
					slices.Contains(apart, [2]string{function(j.Pin), says}) {
					odd = j.Name() + " is on " + n.Name
				}
			case k == "connector" || j.Pin != nil && (j.Pin.Drives() || j.Pin.Reads()):
				other = j.Name()
			}
		}
	}
	if odd == "" && (len(on) < 2 || circuit.SamePart(on[1:], on[0]) && len(on) == 2) {
		return
	}
	n := wire[0]
	cl := c.Claim(b, n.Name, "The names of the pins on "+n.Name+" say that they belong together.", on[0].Pin.Entry)
	for i, p := range on {
		for _, q := range on[i+1:] {
			if p.Comp == q.Comp {
				cl.Lacks("no fact", p.Name()+" and "+q.Pin.Row.Name+
					" of the same part are on one line, which is right only for a loop or a bidirectional line",
					"skip this check with the reason if that is meant")
				return
			}
		}
	}
	for i, p := range on {
		for _, q := range on[i+1:] {
			meet(c, cl, p, q)
		}
	}
	if odd != "" && len(cl.Out.Criteria) == 0 {
		cl.Lacks("no fact", odd+", and by their names they do not belong together",
			"join it to its like, name the net after what it carries, or skip this check with the reason")
	}
	if len(cl.Out.Open)+len(cl.Out.Criteria) == 0 {
		oneSided(c, cl, n, on, other)
	}
	if len(cl.Out.Open)+len(cl.Out.Criteria) == 0 {
		cl.Settle(record.Passed, n.Name+" joins "+pinNames(on))
	}
}

// belongApart says that the functions of two pins do not meet on one line.
func belongApart(p, q *circuit.Pin) bool {
	a, z := function(p), function(q)
	return slices.Contains(apart, [2]string{a, z}) || slices.Contains(apart, [2]string{z, a})
}

// meet judges two pins on one line.
func meet(c *board, cl *eval.Claim, p, q circuit.Joint) {
	if !belongApart(p.Pin, q.Pin) {
		return
	}
	a, z := function(p.Pin), function(q.Pin)
	clocks := a == "SCL" || a == "SCK" || z == "SCL" || z == "SCK"
	if !clocks && settledWay(p.Pin) && settledWay(q.Pin) {
		return // their types say which way it goes, and drivers judges them
	}
	text := fmt.Sprintf("%s and %s are on one line", p.Name(), q.Name())
	if x := exchanged(c, p, q); x != "" {
		cl.Settle(record.Failed, text+", and "+x+": the lines are exchanged at one of the parts")
		return
	}
	cl.Lacks("no fact", text+", and by their names they do not belong together", "join each to its like, or skip this check with the reason")
}

// exchanged names two more pins of the same parts that do not belong together
// and stand on another line, "" without.
func exchanged(c *board, p, q circuit.Joint) string {
	for _, a := range p.Comp.Pins() {
		for _, z := range q.Comp.Pins() {
			n, at := p.Comp.PinNets[a], q.Comp.PinNets[z]
			if n == nil || at == nil || a == p.Pin || z == q.Pin || !belongApart(a, z) || c.IsRail(n) {
				continue
			}
			if slices.Contains(c.ReachOf(n).Nets, at) {
				return circuit.Joint{Comp: p.Comp, Pin: a}.Name() + " and " + circuit.Joint{Comp: q.Comp, Pin: z}.Name() + " on another"
			}
		}
	}
	return ""
}

// settledWay says that the type of a pin tells its direction.
func settledWay(q *circuit.Pin) bool {
	return q.Row.Type == "input" || q.Row.Type == "output" || q.Row.Type == "clock"
}

// oneSided judges a line on which every pin sends by its name, or every pin
// receives.
func oneSided(c *board, cl *eval.Claim, n *circuit.Net, on []circuit.Joint, other string) {
	f := function(on[0].Pin)
	settled, types := true, []*circuit.Part{}
	for _, j := range on {
		if function(j.Pin) != f {
			return
		}
		if f == "TX" && j.Pin.Row.Type == "input" || f == "RX" && j.Pin.Row.Type == "output" {
			return // named after what it is joined to, as at a line driver
		}
		settled = settled && settledWay(j.Pin)
		if !slices.Contains(types, j.Comp.Part) {
			types = append(types, j.Comp.Part)
		}
	}
	says := map[string]string{"TX": "sends", "SO": "sends", "RX": "receives", "SI": "receives"}[f]
	if says == "" || settled || other != "" {
		return // drivers judges what the types settle
	}
	text := fmt.Sprintf("every pin on %s %s by its name: %s", n.Name, says, pinNames(on))
	if len(types) == 1 {
		cl.Settle(record.Failed, text+"; parts of one type mean the same by it, and TX belongs to RX, SO to SI")
		return
	}
	cl.Lacks("no fact", text+"; a sheet may name a pin after what it connects to", "cross the lines, or skip this check with the reason")
}
