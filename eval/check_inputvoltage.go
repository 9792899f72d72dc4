package eval

import "strings"

// inputAboveSupply asks that what reaches a pin from another supply stays
// inside the pin's own limits.
var inputAboveSupply = &builtin{
	name: "input-above-supply",
	rule: "The highest voltage that a driver, a pull-up, a divider, a diode or a switch on another supply puts on a logic or analog pin stays inside the pin's limit " +
		"(absmax of the pin, V_PIN, V_I or V_IO), or the current through a placed series resistor stays inside I_INJ. " +
		"A push-pull or analog output is taken to reach its own supply.",
	source: "JEDEC JESD99 (maximum rating); Ohm's law; common practice",
	run: func(c *compiler, b *builtin) {
		c.eachExposed(func(p joint, n *net, subject string) { c.inputVoltage(b, p, n, subject) })
	},
}

// eachExposed visits the pins that can be harmed by a foreign supply: logic and
// analog pins of parts that have a supply, on a signal net.
func (c *compiler) eachExposed(visit func(p joint, n *net, subject string)) {
	for _, m := range c.placedParts() {
		if !m.part.hasSupply() {
			continue
		}
		names := subjects(m)
		for _, q := range m.part.pins {
			n := m.pinNets[q]
			if n == nil || isReturn(n) || !isExposed(q) {
				continue
			}
			visit(joint{comp: m, pin: q}, n, names[q])
		}
	}
}

func isExposed(q *pin) bool {
	switch q.row.Type {
	case "analog", "analog input", "analog output", "clock":
		return true
	}
	return q.reads() || q.drives()
}

// foreign is one way a voltage from another supply reaches a pin.
type foreign struct {
	from   string // what brings it, in words
	supply *net   // the supply behind it
	level  string // the highest voltage, in the language
	series string // the resistance placed between it and the pin, in the language; "" where none is
}

// foreigners are the voltages that reach a pin from supplies other than its
// own, directly, by what joins nets with little resistance, or through one
// resistor. unknown says what is not known of others that may.
func (c *compiler) foreigners(p joint, n *net) (out []foreign, unknown []OpenPoint) {
	own := c.supplyOf(p.comp, p.pin)
	if c.isRail(n) {
		if n != own && c.voltageKnown(n) {
			out = append(out, foreign{from: n.name, supply: n, level: c.netText(n)})
		}
		return out, nil
	}
	add := func(d joint, at *net, by *resistor, unsaid *component) {
		s := c.supplyOf(d.comp, d.pin)
		switch {
		case d.comp == p.comp || !d.pin.brings() || !d.comp.part.hasSupply() || d.pin.onlyPullsLow() || s != nil && s == own:
		case s == nil || !c.voltageKnown(s):
			unknown = append(unknown, OpenPoint{Reason: "no value", Text: "it is not known which supply " + d.name() + " is fed from, or at what voltage", Settle: "give the voltage of its supply, or name the supply in the pin's row"})
		case unsaid != nil:
			unknown = append(unknown, unsaidTie(unsaid, d.name()+" may bring the voltage of "+s.name+" by "+unsaid.ref))
		case by == nil:
			out = append(out, foreign{from: d.name(), supply: s, level: c.netText(s)})
		default:
			level, par := c.divided(at, c.netText(s), *by)
			out = append(out, foreign{from: d.name(), supply: s, level: level, series: par})
		}
	}
	var pulls []resistor
	for _, t := range c.tiedNets(n) {
		for _, d := range t.net.pinsOf() {
			add(d, t.net, nil, t.unsaid)
		}
		if t.unsaid == nil {
			pulls = append(pulls, c.pulls(t.net)...)
		}
		more, unsaid := c.railsBy(t.net, own)
		out, unknown = append(out, more...), append(unknown, unsaid...)
		for _, r := range c.resistorsAt(t.net) {
			if c.isRail(r.other) || !c.ohms(r.comp) {
				continue
			}
			_, unsaid = c.railsBy(r.other, own)
			unknown = append(unknown, unsaid...)
			for _, d := range r.other.pinsOf() {
				add(d, t.net, &r, t.unsaid)
			}
			more, unsaid := c.pulledBehind(r, t.net, own)
			out, unknown = append(out, more...), append(unknown, unsaid...)
		}
	}
	out = append(out, c.foreignPulls(n, own, pulls)...)
	if d, by := c.beyond(n, p); d != nil && len(out)+len(unknown) == 0 {
		if s := c.supplyOf(d.comp, d.pin); s != own && !d.pin.onlyPullsLow() && d.comp.part.hasSupply() {
			unknown = append(unknown, OpenPoint{Reason: "no fact", Text: "what " + d.name() + " brings to " + n.name + " by " + strings.Join(by, " and ") + " is not worked out", Settle: "claim the voltage yourself, and skip this check with the reason"})
		}
	}
	return out, unknown
}

// pulledBehind is what the resistors of a net behind a resistor bring from
// another supply: their own level where nothing else stands on either net, else
// it is not known.
func (c *compiler) pulledBehind(by resistor, n, own *net) (out []foreign, unknown []OpenPoint) {
	pulls := c.pulls(by.other)
	other, _ := c.besides(by.other, by.comp)
	single := other == "" && len(c.resistorsAt(n)) == 1
	for _, j := range by.other.pinsOf() {
		single = single && !j.pin.brings()
	}
	for _, r := range pulls {
		if isReturn(r.other) || r.other == own {
			continue
		}
		if single && c.ohms(r.comp) && c.voltageKnown(r.other) {
			for _, x := range pulls {
				single = single && c.ohms(x.comp) && (isReturn(x.other) || c.voltageKnown(x.other))
			}
		} else {
			single = false
		}
		if !single {
			return nil, []OpenPoint{{Reason: "no fact", Text: "what " + r.comp.ref + " brings from " + r.other.name + " by " + by.comp.ref + " is not worked out", Settle: "claim the voltage yourself, and skip this check with the reason"}}
		}
		return []foreign{{from: refsOf(pulls) + " behind " + by.comp.ref, supply: r.other, level: c.pulledLevel(pulls), series: "(" + by.comp.ref + " + " + parallel(pulls) + ")"}}, nil
	}
	return nil, nil
}

// railsBy are the supplies that a diode leads to a net, and those that a
// switch may join to it.
func (c *compiler) railsBy(n, own *net) (out []foreign, unsaid []OpenPoint) {
	for _, j := range n.joined {
		m := j.comp
		o := m.opposite(n)
		if o == nil || o == own || isReturn(o) || !c.voltageKnown(o) {
			continue
		}
		switch k := m.sort(); {
		case (k == "diode" || k == "LED") && m.cathode() == n:
			out = append(out, foreign{from: m.ref, supply: o, level: c.netText(o)})
		case m.isTie() && m.unsaid():
			unsaid = append(unsaid, unsaidTie(m, m.ref+" may join "+n.name+" to "+o.name))
		}
	}
	return out, unsaid
}

// cathode is the net of a diode's cathode.
func (m *component) cathode() *net {
	if k := m.end(minusEnds...); k != nil {
		return k
	}
	if m.part == nil {
		return m.conns["2"]
	}
	return nil
}

func unsaidTie(m *component, says string) OpenPoint {
	return OpenPoint{Reason: "no fact", Text: says + ", and it is not stated whether it is closed", Settle: "give the row of " + m.ref + " the option `closed` or `open`"}
}

// tied is a signal net that little resistance joins to another; unsaid is the
// switch or jumper on the way of which nobody says whether it is closed.
type tied struct {
	net    *net
	unsaid *component
}

// tiedNets are a net and the signal nets that beads, fuses, switches and the
// like join to it.
func (c *compiler) tiedNets(n *net) []tied {
	out := []tied{{net: n}}
	seen := map[*net]bool{n: true}
	for i := 0; i < len(out); i++ {
		at := out[i]
		for _, m := range at.net.ties {
			o := m.opposite(at.net)
			if m.isResistor() || o == nil || seen[o] || c.isRail(o) {
				continue
			}
			seen[o] = true
			t := tied{o, at.unsaid}
			if m.unsaid() {
				t.unsaid = m
			}
			out = append(out, t)
		}
	}
	return out
}

// foreignPulls is what the resistors of a net bring from another supply: a
// divider to the return counts as a whole, a lone resistor as the series
// resistor of its supply.
func (c *compiler) foreignPulls(n, own *net, pulls []resistor) []foreign {
	other, divided := false, false
	for _, r := range pulls {
		if isReturn(r.other) {
			divided = true
			continue
		}
		if !c.voltageKnown(r.other) || !c.ohms(r.comp) {
			return nil // pull-up and strap say so
		}
		other = other || r.other != own
	}
	if !other {
		return nil
	}
	if divided {
		for _, r := range pulls {
			if !isReturn(r.other) && r.other != own {
				return []foreign{{from: "the divider " + refsOf(pulls), supply: r.other, level: c.pulledLevel(pulls), series: parallel(pulls)}}
			}
		}
	}
	var out []foreign
	for _, r := range pulls {
		if r.other != own {
			out = append(out, foreign{from: r.comp.ref, supply: r.other, level: c.netText(r.other), series: r.comp.ref})
		}
	}
	return out
}

func (c *compiler) inputVoltage(b *builtin, p joint, n *net, subject string) {
	if c.isRail(n) {
		if _, own := p.comp.limitFor("absmax", p.pin); own {
			return // absmax judges it
		}
	}
	fs, unknown := c.foreigners(p, n)
	if len(fs)+len(unknown) == 0 {
		return
	}
	cl := c.builtClaim(b, subject, "Nothing on "+n.name+" exceeds what pin "+p.pin.row.Name+" of "+p.comp.label()+" withstands.", p.pin.entry)
	limit := c.pinLimit(p)
	asked := map[string]bool{}
	for _, u := range unknown {
		cl.lacksOnce(asked, u.Reason, u.Text, u.Settle)
	}
	for _, f := range fs {
		inj := c.injection(p, f)
		text := f.level + " inside " + limit
		switch {
		case limit == "" && inj == "":
			cl.lacksOnce(asked, "no fact", "the voltage that "+p.name()+" withstands is not noted; "+f.from+" brings that of "+f.supply.name, "note `absmax V_PIN = ...` from the maximum ratings of part "+p.comp.part.id)
			continue
		case limit == "":
			text = inj
		case inj != "":
			text += " or " + inj
		}
		if !seenBefore(asked, text) {
			c.ask(cl, text)
		}
	}
}

// pinLimit names the absolute limit of a pin's voltage: its own, else the one
// the sheet gives for pins in general.
func (c *compiler) pinLimit(p joint) string {
	if name, ok := p.comp.limitFor("absmax", p.pin); ok {
		return factText(p.comp, "absmax", name, p.pin.row.Name)
	}
	_, text := c.pinFact(p.comp, "absmax", p.pin, volt.Dim, "V_PIN", "V_I", "V_IO", "V_INPUT")
	return text
}

// injection asks that a series resistor holds the current into the pin's
// clamp inside the limit noted; "" without resistor, limit or supply voltage.
// The clamp's own voltage is left out where it is not noted, which only makes
// the current larger.
func (c *compiler) injection(p joint, f foreign) string {
	own := c.supplyOf(p.comp, p.pin)
	y, limit := c.pinFact(p.comp, "absmax", p.pin, dimAmpere, "I_INJ", "I_IK", "I_CLAMP")
	if f.series == "" || y == nil || y.cols[2] == nil || own == nil || !c.voltageKnown(own) {
		return ""
	}
	clamp := ""
	if v, t := c.pinFact(p.comp, "spec", p.pin, volt.Dim, "V_CLAMP", "V_F"); v != nil {
		clamp = " - " + t
	}
	return "(" + f.level + " - " + c.netText(own) + clamp + ") / " + f.series + " <= " + limit + ".max"
}
