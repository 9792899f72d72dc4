package checks

import (
	"slices"
	"strings"

	"guardband/eval"
	"guardband/eval/circuit"
	"guardband/eval/record"
)

// baseCurrent asks that something limits the current into the base of a
// transistor.
var baseCurrent = &eval.Check{
	Name:       "base",
	Withstands: true,
	Rule: "Between the base of a bipolar transistor whose emitter is on the return or on a supply, and an output " +
		"or a supply, is a resistor: the base takes no more than its V_BE of the voltage. An open-drain output " +
		"pulls the base of an NPN transistor low and harms nothing. " +
		"A transistor that notes resistors of its own (R_B, R_1) has one inside. Collector and emitter are not exchanged.",
	Source: "common practice",
	Run: on(func(c *board, b *eval.Check) {
		for _, m := range c.PlacedParts() {
			if at, e := m.End("B", "BASE"), m.End("E", "EMITTER"); at != nil && e != nil && m.End("C", "COLLECTOR") != nil {
				baseOf(c, b, m, at, e)
			}
		}
	}),
}

// turnedRound says that the collector of a transistor is where its emitter belongs:
// of an NPN on the return while its emitter leads to a supply above it, of a PNP on a
// supply while its emitter leads to the return.
func turnedRound(c *board, m *circuit.Component, emitter *circuit.Net) bool {
	at, npn := m.End("C", "COLLECTOR"), !m.Says("pnp")
	ends, r := []*circuit.Net{emitter}, c.ReachOf(emitter)
	for k, n := range r.Rails {
		if r.Ends[k] != m {
			ends = append(ends, n)
		}
	}
	below := func(n *circuit.Net) bool { return c.VoltageStated(n) && (c.Negative(n) || c.CrossesZero(n)) }
	if !c.IsRail(at) || slices.ContainsFunc(append(ends, at), func(n *circuit.Net) bool { return !circuit.IsReturn(n) && below(n) }) {
		return false
	}
	up := slices.ContainsFunc(ends, func(n *circuit.Net) bool { return !circuit.IsReturn(n) && n != at && c.VoltageStated(n) })
	down := slices.ContainsFunc(ends, circuit.IsReturn)
	return npn && circuit.IsReturn(at) && up && !down || !npn && !circuit.IsReturn(at) && c.VoltageStated(at) && down && !up
}

func baseOf(c *board, b *eval.Check, m *circuit.Component, at, emitter *circuit.Net) {
	if turnedRound(c, m, emitter) {
		cl := c.Claim(b, m.Ref, "Collector and emitter of "+m.Label()+" are where they belong.", m.Entry)
		cl.Settle(record.Failed, "the collector of "+m.Ref+" is on "+m.End("C", "COLLECTOR").Name+
			", where its emitter belongs: the two are exchanged")
		return
	}
	if !c.IsRail(emitter) || m.Part.FactNamed("spec", "R_B", "R_1", "R_BASE") != "" {
		return // a resistor or a load at the emitter limits it
	}
	npn := circuit.IsReturn(emitter) && !strings.Contains(strings.ToLower(m.Part.Title), "pnp")
	cl := c.Claim(b, m.Ref, "Something limits the current into the base of "+m.Label()+".", m.Entry)
	rail := c.IsRail(at) && at != emitter
	if rail {
		cl.Settle(record.Failed, "the base of "+m.Ref+" is tied to "+at.Name+", and nothing limits its current")
	}
	for _, j := range at.PinsOf() {
		switch q := j.Pin; {
		case j.Comp == m || !q.Drives() && q.Row.Type != "analog output" || !j.Comp.Part.HasSupply() || npn && q.OnlyPullsLow() || rail:
		case q.Row.Type == "analog output":
			cl.Lacks("no fact", "whether "+j.Name()+" limits the current into the base is not noted",
				"put a resistor between, or skip this check with the reason (an output that limits its current)")
		default:
			cl.Settle(record.Failed, j.Name()+" drives the base of "+m.Ref+" without a resistor, and nothing limits the current into it")
		}
	}
	for _, j := range at.Joined {
		if len(cl.Out.Open)+len(cl.Out.Criteria) == 0 && (j.Comp.Sort() == "connector" || j.Comp.Sort() == "capacitor") {
			cl.Lacks("no fact", "what drives the base of "+m.Ref+" by "+j.Name()+" is not noted",
				"put a resistor between, or skip this check with the reason")
		}
	}
	if len(cl.Out.Open)+len(cl.Out.Criteria) == 0 {
		cl.Settle(record.Passed, "no output and no supply is tied to "+at.Name)
	}
	if !circuit.IsReturn(emitter) && strings.Contains(strings.ToLower(m.Part.Title), "pnp") {
		turnsOff(c, cl, m, at, emitter)
	}
}

// turnsOff asks that an output behind the base resistor of a PNP transistor on a
// supply reaches so far up that no base current flows.
func turnsOff(c *board, cl *eval.Claim, m *circuit.Component, at, emitter *circuit.Net) {
	volts := "1 V" // more than a silicon junction has at a small current, common practice
	if name := m.Part.FactNamed("spec", "V_BE", "V_BEon", "V_BE_on", "V_BEsat"); name != "" {
		volts = m.Ref + "." + name
	}
	for _, r := range c.ResistorsAt(at) {
		if r.Other == emitter {
			return // it takes a current of its own
		}
	}
	for _, r := range c.ResistorsAt(at) {
		for _, j := range r.Other.PinsOf() {
			if own := c.SupplyOf(j.Comp, j.Pin); circuit.Pushes(j.Pin) && own != nil && own != emitter &&
				c.VoltageKnown(own) && c.VoltageKnown(emitter) {
				if c.Try(cl, c.NetText(emitter)+" - "+c.NetText(own)+" <= "+volts) {
					cl.Out.Statement = strings.TrimSuffix(cl.Out.Statement, ".") + ", and " + j.Name() + " turns it off."
				}
			}
		}
	}
}

// bodyDiode asks that the diode inside a field-effect transistor blocks where
// the transistor is to block.
var bodyDiode = &eval.Check{
	Name:       "body-diode",
	Withstands: true,
	Rule: "The diode inside a field-effect transistor (from source to drain of an N-channel, from drain to source " +
		"of a P-channel type) does not conduct what the transistor is to switch. A transistor whose gate is " +
		"pulled to the net of its drain, so that it is off by itself, has its drain and source exchanged; where " +
		"only its gate is driven that is open. " +
		"A transistor that is always on keeps a reversed supply out only with its drain at the supply " +
		"(P-channel) or at the return from outside (N-channel). The channel is the one that the title names, " +
		"else that of the sign of V_GS, V_GS(th) or V_DS.",
	Source: "common practice",
	Run: on(func(c *board, b *eval.Check) {
		for _, m := range c.PlacedParts() {
			g, s, d := m.End("G", "GATE"), m.End("S", "SOURCE"), m.End("D", "DRAIN")
			if g != nil && s != nil && d != nil && s != d && (railed(c, s) || railed(c, d)) {
				bodyDiodeOf(c, b, m, g, s, d)
			}
		}
	}),
}

func bodyDiodeOf(c *board, b *eval.Check, m *circuit.Component, g, s, d *circuit.Net) {
	from, to := s, d // anode and cathode of the diode inside
	down, known := m.Channel()
	if down {
		from, to = d, s
	}
	cl := c.Claim(b, m.Ref, "The diode inside "+m.Label()+" does not conduct what the transistor is to block.", m.Entry)
	off, fixed := gateAt(c, m, g, d)
	off = off && !backToBack(c, m, g, s)
	conducts := !down && circuit.IsReturn(d) && lifted(c, s, d) || down && !circuit.IsReturn(d) && c.VoltageKnown(d) && !c.Negative(d)
	switch {
	case !known:
		cl.Lacks("no fact", "the channel of "+m.Ref+" is not known", "note `absmax V_DS`, positive of an N-channel and negative of a P-channel type")
	case off && conducts:
		cl.Settle(record.Failed, "the gate of "+m.Ref+" is pulled to "+d.Name+
			", the net of its drain, so that it is off by itself; the diode inside it conducts from "+from.Name+" to "+
			to.Name+" all the same: drain and source are exchanged")
	case down && fixed && c.VoltageStated(s) && (c.Negative(s) || c.CrossesZero(s)):
		cl.Settle(record.Failed, s.Name+" may be negative, and the diode inside "+m.Ref+" then conducts from "+
			from.Name+" to "+to.Name+": drain and source are exchanged for protection against reversed polarity")
	case down && fixed && railed(c, s) && outside(c, s) && !outside(c, d),
		!down && fixed && circuit.IsReturn(d) && outside(c, s) && !outside(c, d):
		cl.Lacks("no fact", m.Ref+" is always on, and against a reversed supply at "+s.Name+
			" the diode inside it conducts: its drain belongs to the "+map[bool]string{true: "supply",
			false: "return outside"}[down], "exchange drain and source, or skip this check with the reason")
	case conducts && !fixed && !off && !backToBack(c, m, g, s):
		cl.Lacks("no fact", "the diode inside "+m.Ref+" conducts from "+from.Name+" to "+to.Name+
			" regardless of its gate: in a switch, drain and source are exchanged", "exchange them, or skip this check with the reason")
	default:
		cl.Settle(record.Passed, "the diode inside leads from "+from.Name+" to "+to.Name)
	}
}

// backToBack says that another transistor stands source to source with one, of
// which it blocks the diode.
func backToBack(c *board, m *circuit.Component, g, s *circuit.Net) bool {
	return slices.ContainsFunc(g.PinsOf(), func(j circuit.Joint) bool {
		return j.Comp != m && j.Comp.End("G", "GATE") == g && j.Comp.End("S", "SOURCE") == s
	})
}

// railed says that a net, or one that a fuse or the like joins to it, is a rail.
func railed(c *board, n *circuit.Net) bool { return slices.ContainsFunc(lineOf(c, n), c.IsRail) }

// outside says that a connector or cell is on a net, or behind a fuse or the
// like.
func outside(c *board, n *circuit.Net) bool {
	return slices.ContainsFunc(lineOf(c, n), circuit.FedFromOutside)
}

// gateFixed says that nothing can switch a transistor: its gate hangs on supplies
// and the return alone.
func gateFixed(c *board, m *circuit.Component, g *circuit.Net) bool {
	_, fixed := gateAt(c, m, g, nil)
	return fixed && (c.IsRail(g) || len(c.ResistorsAt(g)) > 0)
}

// gateAt says whether a resistor pulls a gate to the net of its drain, and
// whether nothing but resistors, diodes and capacitors to other nets drive it.
func gateAt(c *board, m *circuit.Component, g, d *circuit.Net) (toDrain, fixed bool) {
	if c.IsRail(g) {
		return g == d, true
	}
	fixed = true
	for _, j := range g.Joined {
		switch k := j.Comp.Sort(); {
		case j.Comp == m || k == "capacitor" || k == "Zener diode" || k == "test point":
		case j.Comp.IsResistor():
			o := j.Comp.Opposite(g)
			toDrain = toDrain || o == d
			fixed = fixed && o != nil && c.IsRail(o)
		default:
			fixed = false
		}
	}
	return toDrain, fixed
}

// lifted says that something on a net, but for a capacitor or a diode, leads to
// a supply above the return.
func lifted(c *board, n, but *circuit.Net) bool {
	for _, j := range n.Joined {
		if k := j.Comp.Sort(); k == "capacitor" || k == "diode" || k == "Zener diode" {
			continue
		}
		if o := j.Comp.Opposite(n); o != nil && o != but && !circuit.IsReturn(o) && c.VoltageStated(o) &&
			!c.Negative(o) && !c.CrossesZero(o) {
			return true
		}
	}
	return false
}
