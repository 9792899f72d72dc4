package eval

import (
	"slices"
	"strings"

	"guardband/eval/record"
)

// baseCurrent asks that something limits the current into the base of a
// transistor.
var baseCurrent = &builtin{
	name: "base",
	rule: "Between the base of a bipolar transistor whose emitter stands on the return or on a supply, and an output or a supply, lies a resistor: the base takes no more than its V_BE of the voltage. An open-drain output pulls the base of an NPN transistor low and harms nothing. " +
		"A transistor that notes resistors of its own (R_B, R_1) has one inside.",
	source: "common practice",
	run: func(c *compiler, b *builtin) {
		for _, m := range c.placedParts() {
			if at, e := m.end("B", "BASE"), m.end("E", "EMITTER"); at != nil && e != nil && m.end("C", "COLLECTOR") != nil {
				c.baseOf(b, m, at, e)
			}
		}
	},
}

func (c *compiler) baseOf(b *builtin, m *component, at, emitter *net) {
	if !c.isRail(emitter) || m.part.factNamed("spec", "R_B", "R_1", "R_BASE") != "" {
		return // a resistor or a load at the emitter limits it
	}
	npn := isReturn(emitter) && !strings.Contains(strings.ToLower(m.part.title), "pnp")
	cl := c.builtClaim(b, m.ref, "Something limits the current into the base of "+m.label()+".", m.entry)
	rail := c.isRail(at) && at != emitter
	if rail {
		cl.settle(record.Failed, "the base of "+m.ref+" is tied to "+at.name+", and nothing limits its current")
	}
	for _, j := range at.pinsOf() {
		switch q := j.pin; {
		case j.comp == m || !q.drives() && q.row.Type != "analog output" || !j.comp.part.hasSupply() || npn && q.onlyPullsLow() || rail:
		case q.row.Type == "analog output":
			cl.lacks("no fact", "whether "+j.name()+" limits the current into the base is not noted", "put a resistor between, or skip this check with the reason (an output that limits its current)")
		default:
			cl.settle(record.Failed, j.name()+" drives the base of "+m.ref+" without a resistor, and nothing limits the current into it")
		}
	}
	for _, j := range at.joined {
		if len(cl.out.Open)+len(cl.out.Criteria) == 0 && (j.comp.sort() == "connector" || j.comp.sort() == "capacitor") {
			cl.lacks("no fact", "what drives the base of "+m.ref+" by "+j.name()+" is not noted", "put a resistor between, or skip this check with the reason")
		}
	}
	if len(cl.out.Open)+len(cl.out.Criteria) == 0 {
		cl.settle(record.Passed, "no output and no supply is tied to "+at.name)
	}
}

// bodyDiode asks that the diode inside a field-effect transistor blocks where
// the transistor is to block.
var bodyDiode = &builtin{
	name: "body-diode",
	rule: "The diode inside a field-effect transistor (from source to drain of an N-channel, from drain to source of a P-channel type) does not conduct what the transistor is to switch. A transistor whose gate is pulled to the net of its drain, so that it is off by itself, has its drain and source exchanged; where only its gate is driven that is open. " +
		"A P-channel transistor that is always on keeps a reversed supply out only with its drain at the supply. The channel is the one that the title names, else that of the sign of V_GS, V_GS(th) or V_DS.",
	source: "common practice",
	run: func(c *compiler, b *builtin) {
		for _, m := range c.placedParts() {
			g, s, d := m.end("G", "GATE"), m.end("S", "SOURCE"), m.end("D", "DRAIN")
			if g != nil && s != nil && d != nil && s != d && (c.isRail(s) || c.isRail(d)) {
				c.bodyDiodeOf(b, m, g, s, d)
			}
		}
	},
}

func (c *compiler) bodyDiodeOf(b *builtin, m *component, g, s, d *net) {
	from, to := s, d // anode and cathode of the diode inside
	down, known := m.channel()
	if down {
		from, to = d, s
	}
	cl := c.builtClaim(b, m.ref, "The diode inside "+m.label()+" does not conduct what the transistor is to block.", m.entry)
	off, fixed := c.gateAt(m, g, d)
	off = off && !c.backToBack(m, g, s)
	conducts := !down && isReturn(d) && c.lifted(s, d) || down && !isReturn(d) && c.voltageKnown(d) && !c.negative(d)
	switch {
	case !known:
		cl.lacks("no fact", "the channel of "+m.ref+" is not known", "note `absmax V_DS`, positive of an N-channel and negative of a P-channel type")
	case off && conducts:
		cl.settle(record.Failed, "the gate of "+m.ref+" is pulled to "+d.name+", the net of its drain, so that it is off by itself; the diode inside it conducts from "+from.name+" to "+to.name+" all the same: drain and source are exchanged")
	case down && fixed && c.voltageStated(s) && (c.negative(s) || c.crossesZero(s)):
		cl.settle(record.Failed, s.name+" may be negative, and the diode inside "+m.ref+" then conducts from "+from.name+" to "+to.name+": drain and source are exchanged for protection against reversed polarity")
	case down && fixed && c.isRail(s) && fedFromOutside(s) && !fedFromOutside(d):
		cl.lacks("no fact", m.ref+" is always on, and against a reversed supply at "+s.name+" the diode inside it conducts: its drain belongs to the supply", "exchange drain and source, or skip this check with the reason")
	case conducts && !fixed && !off && !c.backToBack(m, g, s):
		cl.lacks("no fact", "the diode inside "+m.ref+" conducts from "+from.name+" to "+to.name+" whatever its gate does: in a switch, drain and source are exchanged", "exchange them, or skip this check with the reason")
	default:
		cl.settle(record.Passed, "the diode inside leads from "+from.name+" to "+to.name)
	}
}

// backToBack says that another transistor stands source to source with one, of
// which it blocks the diode.
func (c *compiler) backToBack(m *component, g, s *net) bool {
	return slices.ContainsFunc(g.pinsOf(), func(j joint) bool {
		return j.comp != m && j.comp.end("G", "GATE") == g && j.comp.end("S", "SOURCE") == s
	})
}

// gateFixed says that nothing can switch a transistor: its gate hangs on supplies
// and the return alone.
func (c *compiler) gateFixed(m *component, g *net) bool {
	_, fixed := c.gateAt(m, g, nil)
	return fixed && (c.isRail(g) || len(c.resistorsAt(g)) > 0)
}

// gateAt says whether a resistor pulls a gate to the net of its drain, and
// whether nothing but resistors, diodes and capacitors to other nets drive it.
func (c *compiler) gateAt(m *component, g, d *net) (toDrain, fixed bool) {
	if c.isRail(g) {
		return g == d, true
	}
	fixed = true
	for _, j := range g.joined {
		switch k := j.comp.sort(); {
		case j.comp == m || k == "capacitor" || k == "Zener diode" || k == "test point":
		case j.comp.isResistor():
			o := j.comp.opposite(g)
			toDrain = toDrain || o == d
			fixed = fixed && o != nil && c.isRail(o)
		default:
			fixed = false
		}
	}
	return toDrain, fixed
}

// lifted says that something on a net, but for a capacitor or a diode, leads to
// a supply above the return.
func (c *compiler) lifted(n, but *net) bool {
	for _, j := range n.joined {
		if k := j.comp.sort(); k == "capacitor" || k == "diode" || k == "Zener diode" || j.comp.notFitted() {
			continue
		}
		if o := j.comp.opposite(n); o != nil && o != but && !isReturn(o) && c.voltageStated(o) && !c.negative(o) && !c.crossesZero(o) {
			return true
		}
	}
	return false
}

// fedFromOutside says that a connector or a cell stands on a net.
func fedFromOutside(n *net) bool {
	for _, j := range n.joined {
		if k := j.comp.sort(); k == "connector" || j.comp.isCell() {
			return true
		}
	}
	return false
}
