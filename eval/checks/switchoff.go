package checks

import (
	"slices"
	"strings"

	"guardband/eval"
	"guardband/eval/circuit"
	"guardband/eval/record"
)

// switchOff asks that something takes over the current of a coil when it is
// switched off.
var switchOff = &eval.Check{
	Name:       "switch-off",
	Withstands: true,
	Rule: "Where a transistor, an open-drain output or a contact switches a coil (a relay, valve or motor, any part that notes R_COIL, an inductor at a transistor), something takes over its current when it opens: a diode the right way round, a Zener diode or suppressor, a varistor, a resistor across it, or the diode inside a second transistor. " +
		"The transistor withstands what it then sees: the supply and 2 V for a diode, the supply and V_Z or V_CL for a clamp beside the coil, V_Z or V_CL alone for one beside the transistor; a clamp counts at its printed voltages, and one that may be too high at more current is open. " +
		"A capacitor of 10 nF or less takes over nothing; what a larger one does, or an output with a clamp of its own, is open.",
	Source: "common practice",
	Run: on(func(c *board, b *eval.Check) {
		for _, m := range c.Comps.List {
			if m.NotFitted() {
				continue
			}
			if one, two := m.WindingEnds(); one != nil && two != nil && one != two {
				releases(c, b, m, one, two)
			}
		}
	}),
}

// opener is what switches a coil, and the net at its other end, nil where it is
// not known.
type opener struct {
	circuit.Joint
	other *circuit.Net
}

// switchesAt are the transistors, open outputs and contacts that switch what
// stands on a net.
func switchesAt(c *board, n *circuit.Net, coil *circuit.Component) (out []opener) {
	for _, j := range n.Joined {
		m := j.Comp
		switch k := m.Sort(); {
		case m == coil || m.NotFitted():
		case k == "switch":
			out = append(out, opener{j, m.Opposite(n)})
		case j.Pin == nil:
		case m.End(circuit.TransistorEnds[0]...) != nil && m.End(circuit.TransistorEnds[1]...) != nil && !m.Part.HasSupply():
			at, other := m.End(circuit.TransistorEnds[0]...), m.End(circuit.TransistorEnds[1]...)
			if other == n {
				at, other = other, at
			}
			if g := m.End("G", "GATE"); at == n && !(g != nil && gateFixed(c, m, g)) {
				out = append(out, opener{j, behindShunt(c, other)})
			}
		case j.Pin.OnlyPullsLow():
			out = append(out, opener{Joint: j})
		case j.Pin.Row.Type == "passive" && m.Part.FactNamed("spec", "R_COIL") != "":
			if one, two := m.WindingEnds(); one != n && two != n { // a contact of another relay
				out = append(out, opener{Joint: j})
			}
		}
	}
	return out
}

// behindShunt is the rail that a resistor leads to from the end of a switch, or
// the net itself: when the coil is off nothing flows there.
func behindShunt(c *board, n *circuit.Net) *circuit.Net {
	if rs := c.ResistorsAt(n); !c.IsRail(n) && len(rs) == 1 && c.IsRail(rs[0].Other) {
		return rs[0].Other
	}
	return n
}

func releases(c *board, b *eval.Check, m *circuit.Component, one, two *circuit.Net) {
	for _, e := range [][2]*circuit.Net{{one, two}, {two, one}} {
		sw, far := e[0], e[1]
		by := switchesAt(c, sw, m)
		if len(by) == 0 || c.IsRail(sw) || m.Sort() == "inductor" && (by[0].other == nil || by[0].Pin == nil || filtered(c, sw)) {
			continue
		}
		cl := c.Claim(b, m.Ref, "Something takes over the current of "+m.Label()+" when "+by[0].Name()+" opens.", m.Entry)
		r := &release{c: c, cl: cl, m: m, sw: sw, far: far, by: by, up: !circuit.IsReturn(far), either: m.Sort() == "inductor" || !c.IsRail(far)}
		for _, s := range by {
			r.switchItself(s)
		}
		for _, j := range sw.Joined {
			if j.Comp != m && !slices.ContainsFunc(by, func(s opener) bool { return s.Comp == j.Comp }) {
				r.look(j)
			}
		}
		r.conclude()
		return
	}
}

// filtered says that a capacitor of more than 10 nF stands on a net: what leads
// there filters a supply.
func filtered(c *board, n *circuit.Net) bool {
	return slices.ContainsFunc(n.Joined, func(j circuit.Joint) bool {
		return j.Comp.Sort() == "capacitor" && takesCurrent(c, j.Comp)
	})
}

// takesCurrent says that a capacitor may take over the current of a coil.
func takesCurrent(c *board, m *circuit.Component) bool {
	s := sizesOf(c, m)
	return !s.known || s.nominal > 11e-9
}

// release is a coil at the instant at which it is switched off.
type release struct {
	c       *board
	cl      *eval.Claim
	m       *circuit.Component
	sw, far *circuit.Net
	by      []opener
	up      bool     // the net of the switch rises: the coil hangs on a supply
	either  bool     // it is not known which way the current flows
	takes   []string // what takes the current over
	turned  []string // what stands the wrong way round for that
	unknown []string // of which it is not known
}

// look judges one thing on the net of the switch.
func (r *release) look(j circuit.Joint) {
	m := j.Comp
	switch k := m.Sort(); {
	case k == "test point", j.Pin != nil && (j.Pin.OnlyReads() || j.Pin.Row.Type == "analog input"):
	case k == "varistor":
		r.takes = append(r.takes, m.Ref)
	case k == "capacitor":
		if takesCurrent(r.c, m) {
			r.unknown = append(r.unknown, m.Ref)
		}
	case m.IsResistor() && m.Opposite(r.sw) != r.far && !r.c.IsRail(m.Opposite(r.sw)):
	case m.IsJunction() && k != "LED":
		r.junction(m)
	default:
		r.unknown = append(r.unknown, j.Name())
	}
}

// junction judges a diode, Zener diode or suppressor.
func (r *release) junction(m *circuit.Component) {
	c, o := r.c, m.Opposite(r.sw)
	plus, _, named := m.Poles()
	if !named && m.Part == nil {
		plus, named = m.Conns["1"], true
	}
	forward := named && (plus == r.sw) == r.up
	least, most := "", ""
	if m.Sort() == "Zener diode" || m.Part != nil && m.IsSuppressor() {
		for _, n := range []string{"V_Z", "V_BR", "V_CL", "V_C"} {
			if f := m.Part.FactNamed("spec", n); m.Part != nil && f != "" {
				if least == "" {
					least = printedEnd(c, r.cl, m, "spec", f, -1)
				}
				if x := printedEnd(c, r.cl, m, "spec", f, 1); x != "" {
					most = x
				}
			}
		}
		if !forward && most == "" {
			r.unknown = append(r.unknown, m.Ref+", of which no clamping voltage is noted,")
			return
		}
	}
	switch {
	case o != r.far && !c.IsRail(o) && !r.either:
		r.unknown = append(r.unknown, m.Ref)
	case r.either:
		r.takes = append(r.takes, m.Ref)
	case forward:
		if o != r.far && r.up && !circuit.IsReturn(o) && c.VoltageStated(o) && c.VoltageStated(r.far) { // else it conducts for ever
			c.Try(r.cl, c.NetText(r.far)+" <= "+c.NetText(o))
		}
		r.takes = append(r.takes, m.Ref)
		r.bears(m, o, "", "2 V")
	case most != "":
		r.takes = append(r.takes, m.Ref)
		r.bears(m, o, least, most)
	case !named:
		r.unknown = append(r.unknown, m.Ref+", of which it is not noted which end is the anode,")
	default:
		r.turned = append(r.turned, m.Ref)
	}
}

// bears asks that what switches the coil bears the supply and a voltage of at
// least and at most so much beyond it.
func (r *release) bears(m *circuit.Component, o *circuit.Net, least, most string) {
	c, s := r.c, r.by[0]
	limit := ""
	switch {
	case s.Pin == nil:
		return // a contact
	case s.other == nil:
		if name, ok := s.Comp.LimitFor("absmax", s.Pin); ok {
			limit = c.FactText(s.Comp, "absmax", name, s.Pin.Row.Name)
		}
	default:
		if name := s.Comp.Part.FactNamed("absmax", "V_DS", "V_DSS", "V_CE", "V_CEO", "V_CES"); name != "" {
			limit = s.Comp.Ref + ".absmax." + name
		}
	}
	if limit == "" {
		r.cl.Lacks("no fact", "the voltage that "+s.Comp.Label()+" withstands is not noted", "note `absmax V_DS = ...` of part "+s.Comp.Part.ID)
		return
	}
	supply := ""
	switch {
	case s.other == nil:
		supply = c.NetText(o)
	case o == s.other:
	case r.up:
		supply = c.Difference(o, s.other)
	default:
		supply = c.Difference(s.other, o)
	}
	y := c.Fact(s.Comp, "absmax", limit[strings.LastIndexByte(limit, '.')+1:], "")
	ask := func(volts string, unsure *record.OpenPoint) {
		text := strings.TrimPrefix(supply+" + "+volts, " + ")
		if y != nil && !y.Stated[2] && y.Stated[0] {
			tryUnsure(c, r.cl, "0 V - ("+text+") >= "+limit+".min", unsure)
		} else {
			tryUnsure(c, r.cl, text+" <= "+limit+".max", unsure)
		}
	}
	if least != "" {
		ask(least, nil)
	} else if supply != "" {
		ask("0 V", nil)
	}
	ask(most, &record.OpenPoint{Reason: "no fact", Text: s.Comp.Ref + " withstands the least that " + m.Ref +
		" takes, and perhaps not the most", Settle: "take a clamp of a lower voltage, or a transistor with a higher rating"})
}

// switchItself judges what a switch can do by itself: the diode inside it, a
// clamp at its output, avalanche.
func (r *release) switchItself(s opener) {
	m := s.Comp
	if s.Pin == nil {
		return
	}
	if s.other != nil && m.End("D", "DRAIN") != nil {
		from, to := m.End("S", "SOURCE"), m.End("D", "DRAIN")
		if down, _ := m.Channel(); down {
			from, to = to, from
		}
		if r.up && from == r.sw && !circuit.IsReturn(to) && r.c.IsRail(to) || !r.up && to == r.sw && circuit.IsReturn(from) {
			r.takes = append(r.takes, "the diode inside "+m.Ref)
		}
	}
	clamped := m.Part.FactNamed("spec", "V_CLAMP") + m.Part.FactNamed("absmax", "E_AS", "E_AR", "E_AV") +
		m.Part.FactNamed("spec", "E_AS", "E_AR", "E_AV")
	if s.other == nil {
		for _, q := range m.Pins() {
			if slices.Contains([]string{"COM", "COMMON", "K", "CLAMP", "VCLAMP"}, q.Row.Name) {
				clamped = q.Row.Name
			}
		}
	}
	if clamped != "" {
		r.unknown = append(r.unknown, m.Ref+" itself (by "+clamped+")")
	}
}

func (r *release) conclude() {
	switch {
	case len(r.takes) > 0:
		r.cl.Settle(record.Passed, strings.Join(r.takes, " and ")+" takes over the current of "+r.m.Ref)
	case len(r.unknown) > 0:
		r.cl.Lacks("no fact", "no diode takes over the current of "+r.m.Ref+", and what "+strings.Join(r.unknown,
			" and ")+" does is not worked out", "place a diode across it, or skip this check with the reason")
	case len(r.turned) > 0:
		r.cl.Settle(record.Failed, "nothing takes over the current of the coil "+r.m.Ref+": "+strings.Join(r.turned,
			" and ")+" is the wrong way round")
	default:
		r.cl.Settle(record.Failed, "nothing takes over the current of the coil "+r.m.Ref+": there is no diode across it")
	}
}
