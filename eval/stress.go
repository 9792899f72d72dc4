package eval

import "slices"

// This file is the table of ratings: what the circuit puts on a placed part
// under the name of each limit that a note may state of it.

// stress is a quantity of a part, as a formula, that a limit of it bounds. at
// names a pin; among says of which states it speaks, nil for all.
type stress struct {
	text, at string
	signed   bool // below 0 where the limit is
	among    func(*drive) []string
}

// ratingRow is one row of the table: the limits, by their symbols, the kinds of
// parts it is for, and how the circuit tells it.
type ratingRow struct {
	limits []string
	of     func(*component) bool
	tells  func(*compiler, *component) []stress
}

var ratingRows = []ratingRow{
	{[]string{"I_OL", "IOL"}, hasSupplyPin, pinStress("I_OL", "low")},
	{[]string{"I_OH", "IOH"}, hasSupplyPin, pinStress("I_OH", "high")},
	{[]string{"V_DS", "V_DSS", "V_CE", "V_CEO", "V_CES"}, (*component).isTransistor, acrossTransistor},
	{[]string{"I_D", "I_DS", "I_C"}, (*component).isTransistor, useStress("I", true)},
	{[]string{"P", "P_D", "P_TOT", "P_V"}, (*component).isTransistor, useStress("P", true)},
	{[]string{"P", "P_D", "P_TOT", "P_V"}, (*component).isJunction, useStress("P", true)},
	{[]string{"I", "I_N", "I_R", "I_RATED", "I_MAX", "I_DC", "I_HOLD"}, ofKind("fuse", "ferrite bead", "link", "switch", "jumper"), useStress("I", false)},
	{[]string{"I", "I_R", "I_RMS", "I_DC", "I_RATED"}, ofKind("inductor"), useStress("I", false)},
	{[]string{"V", "V_M", "V_DC", "V_RMS"}, ofKind("varistor"), useStress("V", false)},
}

// stressOf are the stresses of a part that a limit of it bounds.
func (c *compiler) stressOf(m *component, limit string) []stress {
	for _, r := range ratingRows {
		for _, s := range r.limits {
			if sameSymbol(s, limit) && r.of(m) {
				return r.tells(c, m)
			}
		}
	}
	return nil
}

func hasSupplyPin(m *component) bool { return m.part.hasSupply() }

func ofKind(kinds ...string) func(*component) bool {
	return func(m *component) bool { return slices.Contains(kinds, m.sort()) }
}

// isTransistor says that a part without supply pins has the ends of a transistor.
func (m *component) isTransistor() bool {
	from, to := m.channelEnds()
	return from != nil && to != nil && m.end("G", "GATE", "B", "BASE") != nil
}

// channelEnds are drain and source, or collector and emitter.
func (m *component) channelEnds() (from, to *net) {
	if m.part == nil || m.part.hasSupply() {
		return nil, nil
	}
	return m.end(transistorEnds[0]...), m.end(transistorEnds[1]...)
}

// useStress is a quantity that the circuit tells of what joins two nets.
func useStress(name string, signed bool) func(*compiler, *component) []stress {
	return func(c *compiler, m *component) []stress {
		from, to := m.networkEnds()
		if from == nil || to == nil || m.notFitted() || m.feeds == nil && c.isRail(from) && c.isRail(to) {
			return nil // between supplies alone something else sets the current
		}
		text := m.ref + ".use." + name
		if !signed {
			text = "abs(" + text + ")"
		}
		return []stress{{text: text, signed: signed}}
	}
}

func acrossTransistor(c *compiler, m *component) []stress {
	if from, to := m.channelEnds(); !m.notFitted() {
		return []stress{{text: c.difference(from, to), signed: true}}
	}
	return nil
}

// pinStress is the current of each output that something on its net leads to a
// supply or the return.
func pinStress(name, state string) func(*compiler, *component) []stress {
	return func(c *compiler, m *component) (out []stress) {
		for _, q := range m.part.pins {
			n := m.pinNets[q]
			if n == nil || !q.drives() || c.isRail(n) || pinsAlone(n) || state == "high" && q.onlyPullsLow() || state == "low" && q.has("open source") {
				continue
			}
			r := c.reachOf(n)
			if at := (joint{comp: m, pin: q}); len(r.rails) > 0 && len(m.part.pinsNamed(q.row.Name)) == 1 {
				out = append(out, stress{text: m.ref + ".use." + name + "(" + q.row.Name + ")", at: q.row.Name, among: r.letGo(at, state, "")})
			}
		}
		return out
	}
}

// limitOfStress judges a limit of which the circuit tells the stress, each pin
// by a claim of its own.
func (c *compiler) limitOfStress(b *builtin, m *component, f *factDef, says string) {
	for _, s := range c.stressOf(m, f.name) {
		subject, of := m.ref+"."+f.name, f.name+" of "+m.label()
		if s.at != "" {
			subject, of = m.ref+"."+s.at+"."+f.name, f.name+" of "+s.at+" of "+m.label()
		}
		cl := c.builtClaim(b, subject, of+" "+says+", as the circuit makes it.", f.rows[0])
		if c.openEnded(cl, m, f.section, f.name, "") {
			continue
		}
		y, _ := c.fact(m, f.section, f.name, "")
		if y != nil {
			c.lower(y)
		}
		k, _ := c.derating(m, m.sort())
		limit := k + factText(m, f.section, f.name, "")
		var texts []string
		if y == nil || y.cols[2] != nil {
			texts = append(texts, s.text+" <= "+limit+".max")
		}
		if y != nil && y.cols[0] != nil && (s.signed || y.cols[2] == nil) {
			text := s.text + " >= " + limit + ".min"
			if !s.signed { // counted out of the pin
				text = s.text + " <= abs(" + limit + ".min)"
			}
			texts = append(texts, text)
		}
		for _, t := range texts {
			c.askAmong(cl, s.among, t)
		}
	}
}
