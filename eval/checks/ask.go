package checks

import (
	"slices"
	"strings"

	"guardband/eval"
	"guardband/eval/circuit"
	"guardband/eval/record"
)

// This file spells names for the criteria of built-in checks, which are
// written in the language itself so that a reviewer can check them line by
// line.

// unique numbers the pins of one name: VDD, VDD(2).
func subjects(m *circuit.Component) map[*circuit.Pin]string {
	if m.Subjects == nil {
		m.Subjects = findSubjects(m)
	}
	return m.Subjects
}

func findSubjects(m *circuit.Component) map[*circuit.Pin]string {
	count := map[string]int{}
	for _, q := range m.Pins() {
		count[q.Row.Name]++
	}
	out := map[*circuit.Pin]string{}
	for _, q := range m.Pins() {
		s := m.Ref + "." + q.Row.Name
		if count[q.Row.Name] > 1 && len(q.Row.Numbers) > 0 {
			s += "-" + q.Row.Numbers[0]
		}
		out[q] = s
	}
	return out
}

// askInside asks that a text of the language lies inside a limit of a placed
// part; a limit without ends leaves the claim open.
func askInside(c *board, cl *eval.Claim, text string, m *circuit.Component, section, name, pin string) {
	if openEnded(c, cl, m, section, name, pin) {
		return
	}
	c.Ask(cl, text+" inside "+c.FactText(m, section, name, pin))
}

// askPin asks that the voltage of a pin lies inside a limit. A sheet states it
// against the ground pin of the part, which may stand on a net of another
// voltage than the return's 0 V. A limit that is a formula of the part's other
// pins is then left open, as these are known against the return.
func askPin(c *board, cl *eval.Claim, n *circuit.Net, m *circuit.Component, section, name, pin string) {
	if upper, lower := c.TotalOf(m, name); upper != nil && (n == upper || n == lower) {
		askTotal(c, cl, upper, lower, m, section, name, pin)
		return
	}
	g := m.NetsOf("ground")
	if len(g) != 1 || circuit.IsGround(g[0].Name) || !c.VoltageKnown(g[0]) || openEnded(c, cl, m, section, name, pin) {
		askInside(c, cl, c.NetText(n), m, section, name, pin)
		return
	}
	if y := c.Fact(m, section, name, pin); y != nil {
		if y.Made {
			cl.Lacks("no fact", "the ground of "+m.Ref+" is on "+g[0].Name+", and "+section+" "+name+
				" is a formula, which is not worked out against it", "claim it with the voltages against "+g[0].Name+
				", and skip this check with the reason")
			return
		}
	}
	c.Ask(cl, c.Difference(n, g[0])+" inside "+c.FactText(m, section, name, pin))
}

// fedFrom says that a supply reaches a net whose voltage is not stated, through
// whatever lies between.
func fedFrom(c *board, n *circuit.Net) bool {
	return slices.ContainsFunc(c.ReachOf(n).Rails, func(far *circuit.Net) bool { return !circuit.IsReturn(far) && c.VoltageKnown(far) })
}

// askFed asks that what is brought to a pin that takes nothing lies inside a
// limit.
func askFed(c *board, cl *eval.Claim, n *circuit.Net, p circuit.Joint, section, name string) {
	r := c.ReachOf(n)
	presumeResting(r, cl)
	askOf(c, cl, c.NetText(n)+" inside "+c.FactText(p.Comp, section, name, p.Pin.Row.Name), func(k *eval.Criterion) {
		k.Among, k.Lone = letGo(r, circuit.Joint{}, "", ""), &p
	})
}

// openEnded opens a claim whose limit has no ends.
func openEnded(c *board, cl *eval.Claim, m *circuit.Component, section, name, pin string) bool {
	def, _ := m.Part.Choose(section, name, pin)
	if def == nil || !circuit.Endless(def) {
		return false
	}
	cl.Entries = append(cl.Entries, def.Rows...)
	cl.Lacks("typical only", "of "+section+" "+name+" of part "+m.Part.ID+
		" only a typical value is noted, which limits nothing", "note its min or max column, if the sheet has one")
	return true
}

func pinNames(js []circuit.Joint) string {
	var out []string
	for _, j := range js {
		out = append(out, j.Name())
	}
	return strings.Join(out, ", ")
}

// totalLimit is the limit of a section that a supply pin without one of its own
// obeys as one end of the total.
func totalLimit(c *board, m *circuit.Component, section string, n *circuit.Net) (name string, ok bool) {
	for _, f := range m.Part.FactOrder {
		if f.Section != section || len(f.Selectors) > 0 {
			continue
		}
		if upper, lower := c.TotalOf(m, f.Name); upper != nil && (n == upper || n == lower) {
			return f.Name, true
		}
	}
	return "", false
}

// askTotal asks that the total supply lies inside a limit.
func askTotal(c *board, cl *eval.Claim, upper, lower *circuit.Net, m *circuit.Component, section, name, pin string) {
	for _, n := range []*circuit.Net{upper, lower} {
		if !c.VoltageKnown(n) {
			cl.Lacks("no value", "the voltage of net "+n.Name+" is not known, and "+section+" "+name+" of "+m.Ref+
				" is its total supply", "give a value `"+n.Name+" = ...`")
			return
		}
	}
	askInside(c, cl, c.Difference(upper, lower), m, section, name, pin)
}

// tryUnsure adds a criterion that opens with a reason where it is broken.
func tryUnsure(c *board, cl *eval.Claim, text string, unsure *record.OpenPoint) {
	if c.Try(cl, text) && unsure != nil {
		cl.Crit[len(cl.Crit)-1].Unsure = unsure
	}
}
