package eval

import (
	"slices"
	"strings"

	"guardband/eval/record"
)

// switchOff asks that something takes over the current of a coil when it is
// switched off.
var switchOff = &builtin{
	name: "switch-off",
	rule: "Where a transistor, an open-drain output or a contact switches a coil (a relay, valve or motor, whatever notes R_COIL, an inductor at a transistor), something takes over its current when it opens: a diode the right way round, a Zener diode or suppressor, a varistor, a resistor across it, or the diode inside a second transistor. " +
		"The transistor bears what it then sees: the supply and 2 V for a diode, the supply and V_Z or V_CL for a clamp beside the coil, V_Z or V_CL alone for one beside the transistor; a clamp counts at its printed voltages, and one that may be too high at more current is open. " +
		"A capacitor of 10 nF or less takes over nothing; what a larger one does, or an output with a clamp of its own, is open.",
	source: "common practice",
	run: func(c *compiler, b *builtin) {
		for _, m := range c.comps.list {
			if m.notFitted() {
				continue
			}
			if one, two := m.windingEnds(); one != nil && two != nil && one != two {
				c.releases(b, m, one, two)
			}
		}
	},
}

// windingEnds are the nets of the ends of a coil that may be switched, nil of
// what is none.
func (m *component) windingEnds() (one, two *net) {
	coil := slices.Contains([]string{"inductor", "relay", "solenoid", "valve", "motor", "contactor", "electromagnet"}, m.sort())
	switch a, b, ok := m.ends(); {
	case m.part != nil && m.part.factNamed("spec", "R_COIL", "R_C") != "" && !m.part.hasSupply():
		return m.coilEnds()
	case coil && ok:
		return a, b
	}
	return nil, nil
}

// opener is what switches a coil, and the net at its other end, nil where it is
// not known.
type opener struct {
	joint
	other *net
}

// switchesAt are the transistors, open outputs and contacts that switch what
// stands on a net.
func (c *compiler) switchesAt(n *net, coil *component) (out []opener) {
	for _, j := range n.joined {
		m := j.comp
		switch k := m.sort(); {
		case m == coil || m.notFitted():
		case k == "switch":
			out = append(out, opener{j, m.opposite(n)})
		case j.pin == nil:
		case m.end(transistorEnds[0]...) != nil && m.end(transistorEnds[1]...) != nil && !m.part.hasSupply():
			at, other := m.end(transistorEnds[0]...), m.end(transistorEnds[1]...)
			if other == n {
				at, other = other, at
			}
			if g := m.end("G", "GATE"); at == n && !(g != nil && c.gateFixed(m, g)) {
				out = append(out, opener{j, c.behindShunt(other)})
			}
		case j.pin.onlyPullsLow():
			out = append(out, opener{joint: j})
		case j.pin.row.Type == "passive" && m.part.factNamed("spec", "R_COIL") != "":
			if one, two := m.windingEnds(); one != n && two != n { // a contact of another relay
				out = append(out, opener{joint: j})
			}
		}
	}
	return out
}

// behindShunt is the rail that a resistor leads to from the end of a switch, or
// the net itself: when the coil is off nothing flows there.
func (c *compiler) behindShunt(n *net) *net {
	if rs := c.resistorsAt(n); !c.isRail(n) && len(rs) == 1 && c.isRail(rs[0].other) {
		return rs[0].other
	}
	return n
}

// transistorEnds are the names of the ends between which a transistor conducts.
var transistorEnds = [2][]string{{"D", "DRAIN", "C", "COLLECTOR"}, {"S", "SOURCE", "E", "EMITTER"}}

func (c *compiler) releases(b *builtin, m *component, one, two *net) {
	for _, e := range [][2]*net{{one, two}, {two, one}} {
		sw, far := e[0], e[1]
		by := c.switchesAt(sw, m)
		if len(by) == 0 || c.isRail(sw) || m.sort() == "inductor" && (by[0].other == nil || by[0].pin == nil || c.filtered(sw)) {
			continue
		}
		cl := c.builtClaim(b, m.ref, "Something takes over the current of "+m.label()+" when "+by[0].name()+" opens.", m.entry)
		r := &release{c: c, cl: cl, m: m, sw: sw, far: far, by: by, up: !isReturn(far), either: m.sort() == "inductor" || !c.isRail(far)}
		for _, s := range by {
			r.switchItself(s)
		}
		for _, j := range sw.joined {
			if j.comp != m && !j.comp.notFitted() && !slices.ContainsFunc(by, func(s opener) bool { return s.comp == j.comp }) {
				r.look(j)
			}
		}
		r.conclude()
		return
	}
}

// filtered says that a capacitor of more than 10 nF stands on a net: what leads
// there filters a supply.
func (c *compiler) filtered(n *net) bool {
	return slices.ContainsFunc(n.joined, func(j joint) bool {
		return j.comp.sort() == "capacitor" && !j.comp.notFitted() && c.takesCurrent(j.comp)
	})
}

// takesCurrent says that a capacitor may take over the current of a coil.
func (c *compiler) takesCurrent(m *component) bool {
	s := c.sizesOf(m)
	return !s.known || s.nominal > 11e-9
}

// release is a coil at the instant at which it is switched off.
type release struct {
	c       *compiler
	cl      *claim
	m       *component
	sw, far *net
	by      []opener
	up      bool     // the net of the switch rises: the coil hangs on a supply
	either  bool     // it is not known which way the current flows
	takes   []string // what takes the current over
	turned  []string // what stands the wrong way round for that
	unknown []string // of which it is not known
}

// look judges one thing on the net of the switch.
func (r *release) look(j joint) {
	m := j.comp
	switch k := m.sort(); {
	case k == "test point", j.pin != nil && (j.pin.onlyReads() || j.pin.row.Type == "analog input"):
	case k == "varistor":
		r.takes = append(r.takes, m.ref)
	case k == "capacitor":
		if r.c.takesCurrent(m) {
			r.unknown = append(r.unknown, m.ref)
		}
	case m.isResistor() && m.opposite(r.sw) != r.far && !r.c.isRail(m.opposite(r.sw)):
	case m.isJunction() && k != "LED":
		r.junction(m)
	default:
		r.unknown = append(r.unknown, j.name())
	}
}

// junction judges a diode, Zener diode or suppressor.
func (r *release) junction(m *component) {
	c, o := r.c, m.opposite(r.sw)
	plus, _, named := m.poles()
	if !named && m.part == nil {
		plus, named = m.conns["1"], true
	}
	forward := named && (plus == r.sw) == r.up
	least, most := "", ""
	if m.sort() == "Zener diode" || m.part != nil && m.isSuppressor() {
		for _, n := range []string{"V_Z", "V_BR", "V_CL", "V_C"} {
			if f := m.part.factNamed("spec", n); m.part != nil && f != "" {
				if least == "" {
					least = c.printedEnd(r.cl, m, "spec", f, -1)
				}
				if x := c.printedEnd(r.cl, m, "spec", f, 1); x != "" {
					most = x
				}
			}
		}
		if !forward && most == "" {
			r.unknown = append(r.unknown, m.ref+", of which no clamping voltage is noted,")
			return
		}
	}
	switch {
	case o != r.far && !c.isRail(o) && !r.either:
		r.unknown = append(r.unknown, m.ref)
	case r.either:
		r.takes = append(r.takes, m.ref)
	case forward:
		r.takes = append(r.takes, m.ref)
		r.bears(m, o, "", "2 V")
	case most != "":
		r.takes = append(r.takes, m.ref)
		r.bears(m, o, least, most)
	case !named:
		r.unknown = append(r.unknown, m.ref+", of which it is not noted which end is the anode,")
	default:
		r.turned = append(r.turned, m.ref)
	}
}

// bears asks that what switches the coil bears the supply and a voltage of at
// least and at most so much beyond it.
func (r *release) bears(m *component, o *net, least, most string) {
	c, s := r.c, r.by[0]
	limit := ""
	switch {
	case s.pin == nil:
		return // a contact
	case s.other == nil:
		if name, ok := s.comp.limitFor("absmax", s.pin); ok {
			limit = factText(s.comp, "absmax", name, s.pin.row.Name)
		}
	default:
		if name := s.comp.part.factNamed("absmax", "V_DS", "V_DSS", "V_CE", "V_CEO", "V_CES"); name != "" {
			limit = s.comp.ref + ".absmax." + name
		}
	}
	if limit == "" {
		r.cl.lacks("no fact", "the voltage that "+s.comp.label()+" withstands is not noted", "note `absmax V_DS = ...` of part "+s.comp.part.id)
		return
	}
	supply := ""
	switch {
	case s.other == nil:
		supply = c.netText(o)
	case o == s.other:
	case r.up:
		supply = c.difference(o, s.other)
	default:
		supply = c.difference(s.other, o)
	}
	y, _ := c.fact(s.comp, "absmax", limit[strings.LastIndexByte(limit, '.')+1:], "")
	if y != nil {
		c.lower(y)
	}
	ask := func(volts string, unsure *record.OpenPoint) {
		text := strings.TrimPrefix(supply+" + "+volts, " + ")
		if y != nil && y.cols[2] == nil && y.cols[0] != nil {
			c.tryUnsure(r.cl, "0 V - ("+text+") >= "+limit+".min", unsure)
		} else {
			c.tryUnsure(r.cl, text+" <= "+limit+".max", unsure)
		}
	}
	if least != "" {
		ask(least, nil)
	} else if supply != "" {
		ask("0 V", nil)
	}
	ask(most, &record.OpenPoint{Reason: "no fact", Text: s.comp.ref + " bears the least that " + m.ref + " takes, and perhaps not the most", Settle: "take a clamp of a lower voltage, or a transistor that bears more"})
}

// switchItself judges what a switch can do by itself: the diode inside it, a
// clamp at its output, avalanche.
func (r *release) switchItself(s opener) {
	m := s.comp
	if s.pin == nil {
		return
	}
	if s.other != nil && m.end("D", "DRAIN") != nil {
		from, to := m.end("S", "SOURCE"), m.end("D", "DRAIN")
		if down, _ := m.channel(); down {
			from, to = to, from
		}
		if r.up && from == r.sw && !isReturn(to) && r.c.isRail(to) || !r.up && to == r.sw && isReturn(from) {
			r.takes = append(r.takes, "the diode inside "+m.ref)
		}
	}
	clamped := m.part.factNamed("spec", "V_CLAMP") + m.part.factNamed("absmax", "E_AS", "E_AR", "E_AV") + m.part.factNamed("spec", "E_AS", "E_AR", "E_AV")
	if s.other == nil {
		for _, q := range m.part.pins {
			if slices.Contains([]string{"COM", "COMMON", "K", "CLAMP", "VCLAMP"}, q.row.Name) {
				clamped = q.row.Name
			}
		}
	}
	if clamped != "" {
		r.unknown = append(r.unknown, m.ref+" itself (by "+clamped+")")
	}
}

func (r *release) conclude() {
	switch {
	case len(r.takes) > 0:
		r.cl.settle(record.Passed, strings.Join(r.takes, " and ")+" takes over the current of "+r.m.ref)
	case len(r.unknown) > 0:
		r.cl.lacks("no fact", "no diode takes over the current of "+r.m.ref+", and what "+strings.Join(r.unknown, " and ")+" does is not worked out", "place a diode across it, or skip this check with the reason")
	case len(r.turned) > 0:
		r.cl.settle(record.Failed, "nothing takes over the current of the coil "+r.m.ref+": "+strings.Join(r.turned, " and ")+" stands the wrong way round")
	default:
		r.cl.settle(record.Failed, "nothing takes over the current of the coil "+r.m.ref+": no diode stands across it")
	}
}
