package eval

import (
	"slices"
	"strings"

	"guardband/eval/formula"
	"guardband/notebook"
	"guardband/units"
)

// This file spells names for the criteria of built-in checks, which are
// written in the language itself so that a reviewer can check them line by
// line.

// netText names a net's voltage in a formula.
func (c *compiler) netText(n *net) string {
	if n.spelled == "" {
		n.spelled = `net("` + n.name + `")`
		if isName(n.name) && !c.hasPart(n.name) {
			n.spelled = n.name
		}
	}
	return n.spelled
}

func (c *compiler) hasPart(name string) bool {
	_, a := c.comps.get(name)
	_, b := c.parts.get(name)
	return a || b
}

// isName says whether a formula can hold the text as a bare name.
func isName(s string) bool {
	e, errs := formula.Parse(s)
	return len(errs) == 0 && e.Root.Kind == formula.NodeName && len(e.Root.Path.Fields()) == 0 && !e.Root.Path.Qualifier().HasArg
}

// factText names a fact of a placed part, for one pin where its rows differ by pin.
func factText(m *component, section, name, pin string) string {
	s := m.ref + "." + section + "." + name
	if def, _ := m.part.choose(section, name, pin); def != nil && (len(def.selectors) > 0 || m.asksPinCurrent(def)) {
		if isName(pin) {
			return s + "(" + pin + ")"
		}
		return s + `("` + pin + `")`
	}
	return s
}

// limitFor finds the limit a pin obeys: under the name its row gives, its own
// name, either with or without the underscore of the symbol.
func (m *component) limitFor(section string, q *pin) (name string, ok bool) {
	name, ok = m.limitAmong(section, q)
	m.part.asked.ask(m.part, section, name, "V_"+strings.TrimPrefix(symbolKey(q.obeys()), "V"))
	return name, ok
}

func (m *component) limitAmong(section string, q *pin) (name string, ok bool) {
	for _, f := range m.part.factOrder {
		if f.section != section {
			continue
		}
		if sameSymbol(f.name, q.obeys()) || sameSymbol(f.name, q.row.Name) || sameSymbol(f.name, "V_"+q.obeys()) {
			if def, _ := m.part.choose(section, f.name, q.row.Name); def != nil {
				return f.name, true
			}
		}
	}
	return "", false
}

// factFor is the symbol of a fact of a pin under one of several names.
func (p *part) factFor(section string, q *pin, names ...string) string {
	for _, s := range names {
		for _, f := range p.factOrder {
			if f.section == section && sameSymbol(f.name, s) {
				if def, err := p.choose(section, f.name, q.row.Name); def != nil && err == nil {
					return f.name
				}
			}
		}
	}
	return ""
}

// voltageKnown says whether the voltage of a net is stated or driven.
func (c *compiler) voltageKnown(n *net) bool { return n != nil && c.netVoltage(n) != nil }

// voltageTold says that the voltage of a net is known, or that a diode or
// transistor alone leads to it from a supply whose voltage is.
func (c *compiler) voltageTold(n *net) bool {
	return c.voltageKnown(n) || n != nil && !fedFromOutside(n) && slices.ContainsFunc(n.joined, func(j joint) bool {
		from, to := j.comp.networkEnds()
		if from == n {
			from = to
		}
		return !j.comp.notFitted() && (j.comp.isJunction() || j.comp.isTransistor()) &&
			from != nil && from != n && !isReturn(from) && c.voltageKnown(from)
	})
}

// unique numbers the pins of one name: VDD, VDD(2).
func subjects(m *component) map[*pin]string {
	if m.subjects == nil {
		m.subjects = findSubjects(m)
	}
	return m.subjects
}

func findSubjects(m *component) map[*pin]string {
	count := map[string]int{}
	for _, q := range m.part.pins {
		count[q.row.Name]++
	}
	out := map[*pin]string{}
	for _, q := range m.part.pins {
		s := m.ref + "." + q.row.Name
		if count[q.row.Name] > 1 && len(q.row.Numbers) > 0 {
			s += "-" + q.row.Numbers[0]
		}
		out[q] = s
	}
	return out
}

// placedParts are the placed components that are parts with notes.
func (c *compiler) placedParts() []*component {
	var out []*component
	for _, m := range c.comps.list {
		if m.part != nil && !m.notFitted() {
			out = append(out, m)
		}
	}
	return out
}

// label names a part in a sentence: U1 (TQK, controller).
func (m *component) label() string {
	if m.part == nil {
		return m.ref
	}
	return m.ref + " (" + m.part.id + ")"
}

// same says whether two pins stand on one net of one part, so that a check of
// the second says nothing new.
func seenBefore(done map[string]bool, key ...string) bool {
	k := strings.Join(key, "\x00")
	if done[k] {
		return true
	}
	done[k] = true
	return false
}

// rowsOf are the entries a fact stands in.
func (p *part) rowsOf(section, name string) []*notebook.Entry {
	var out []*notebook.Entry
	for _, f := range p.factOrder {
		if f.section == section && f.name == name {
			out = append(out, f.rows...)
		}
	}
	return out
}

// endless says that no row of a limit has an end: a typical value alone limits
// nothing, so that everything would lie inside.
func (f *factDef) endless() bool {
	for _, e := range f.rows {
		parts, err := units.Split(e.RHS.S)
		if err != nil || parts.Shape != units.Columns || parts.Min.Present() || parts.Max.Present() {
			return false
		}
	}
	return len(f.rows) > 0
}

// askInside asks that a text of the language lies inside a limit of a placed
// part; a limit without ends leaves the claim open.
func (c *compiler) askInside(cl *claim, text string, m *component, section, name, pin string) {
	if c.openEnded(cl, m, section, name, pin) {
		return
	}
	c.ask(cl, text+" inside "+factText(m, section, name, pin))
}

// askPin asks that the voltage of a pin lies inside a limit. A sheet states it
// against the ground pin of the part, which may stand on a net of another
// voltage than the return's 0 V. A limit that is a formula of the part's other
// pins is then left open, as these are known against the return.
func (c *compiler) askPin(cl *claim, n *net, m *component, section, name, pin string) {
	if upper, lower := c.totalOf(m, name); upper != nil && (n == upper || n == lower) {
		c.askTotal(cl, upper, lower, m, section, name, pin)
		return
	}
	g := m.netsOf("ground")
	if len(g) != 1 || isGround(g[0].name) || !c.voltageKnown(g[0]) || c.openEnded(cl, m, section, name, pin) {
		c.askInside(cl, c.netText(n), m, section, name, pin)
		return
	}
	if y, _ := c.fact(m, section, name, pin); y != nil {
		if c.lower(y); len(y.deps) > 0 {
			cl.lacks("no fact", "the ground of "+m.ref+" stands on "+g[0].name+", and "+section+" "+name+" is a formula, which is not worked out against it", "claim it with the voltages against "+g[0].name+", and skip this check with the reason")
			return
		}
	}
	c.ask(cl, c.difference(n, g[0])+" inside "+factText(m, section, name, pin))
}

// fedFrom says that a supply reaches a net whose voltage is not stated, through
// whatever lies between.
func (c *compiler) fedFrom(n *net) bool {
	return slices.ContainsFunc(c.reachOf(n).rails, func(far *net) bool { return !isReturn(far) && c.voltageKnown(far) })
}

// askFed asks that what is brought to a pin that takes nothing lies inside a
// limit.
func (c *compiler) askFed(cl *claim, n *net, p joint, section, name string) {
	r := c.reachOf(n)
	r.resting(cl)
	c.askOf(cl, c.netText(n)+" inside "+factText(p.comp, section, name, p.pin.row.Name), func(k *criterion) {
		k.among, k.lone = r.letGo(joint{}, "", ""), &p
	})
}

// openEnded opens a claim whose limit has no ends.
func (c *compiler) openEnded(cl *claim, m *component, section, name, pin string) bool {
	def, _ := m.part.choose(section, name, pin)
	if def == nil || !def.endless() {
		return false
	}
	cl.entries = append(cl.entries, def.rows...)
	cl.lacks("typical only", "of "+section+" "+name+" of part "+m.part.id+" only a typical value is noted, which limits nothing", "note its min or max column, if the sheet has one")
	return true
}
