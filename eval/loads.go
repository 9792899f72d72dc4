package eval

import (
	"slices"
	"strings"

	"guardband/eval/circuit"
)

// LoadOf spells the current a supply delivers at a net; of a part with several
// outputs the current of the pin.
func (c *compiler) LoadOf(m *circuit.Component, out *circuit.Net, several bool, q *circuit.Pin) string {
	use, b := m.UseNamed(loadNames(q, several)...), c.budgetOf(out)
	switch {
	case use == "" && b == nil:
		return ""
	case use == "":
		return budgetText(b) + ".peak"
	case b == nil || circuit.StatedOf(m, use) == budgetText(b)+".peak":
		return m.Ref + ".use." + use
	case c.Negative(out):
		return "max(abs(" + m.Ref + ".use." + use + "), abs(" + budgetText(b) + ".peak))"
	}
	return "max(" + m.Ref + ".use." + use + ", " + budgetText(b) + ".peak)"
}

// InputOf is the net that a regulator takes its current from: its only supply,
// of several the one called an input. Where that is not known it says why.
func (c *compiler) InputOf(m *circuit.Component) (in *circuit.Net, why string) {
	s := m.Supplies()
	if len(s) > 1 {
		named := m.NetsNamed("V_IN")
		if len(named) == 0 {
			named = m.NetsNamed("IN")
		}
		if s = named; len(s) != 1 {
			return nil, "which of the supplies of " + m.Ref + " feeds its output is not noted"
		}
	}
	if len(s) == 0 || !c.VoltageTold(s[0]) {
		return nil, "the voltage at the input of " + m.Ref + " is not known"
	}
	return s[0], ""
}

// loadNames are the symbols of what a supply delivers; of a part with several
// outputs those of the pin.
func loadNames(q *circuit.Pin, several bool) []string {
	if several {
		return []string{"I_" + q.Row.Name, "I_" + q.Obeys()}
	}
	return []string{"I_OUT", "I_O", "I_LOAD", "I_L"}
}

// ToldLoad names the peak of the budget of what a part makes; without one what
// the linear regulators that it feeds are stated to deliver, as all of that
// passes through them.
func (c *compiler) ToldLoad(m *circuit.Component, name string) string {
	outs := m.Makes()
	for _, q := range outs {
		n := m.PinNets[q]
		if !slices.ContainsFunc(loadNames(q, len(outs) > 1), func(s string) bool { return circuit.SameSymbol(s, name) }) {
			continue
		}
		switch b := c.budgetOf(n); {
		case b == nil && !c.Negative(n):
			return strings.Join(c.regulatorLoads(n), " + ")
		case b != nil && c.Negative(n):
			return "abs(" + budgetText(b) + ".peak)"
		case b != nil:
			return budgetText(b) + ".peak"
		}
	}
	return ""
}

func (c *compiler) regulatorLoads(n *circuit.Net) (out []string) {
	for _, j := range n.Joined {
		m := j.Comp
		if m.Part == nil || j.Pin == nil || j.Pin.Row.Type != "supply" || m.Part.FactNamed("spec", "V_DO", "V_DROP", "V_DROPOUT") == "" {
			continue
		}
		if in, _ := c.InputOf(m); in != n {
			continue
		}
		if makes := m.Makes(); len(makes) == 1 {
			if load := c.LoadOf(m, m.PinNets[makes[0]], false, makes[0]); load != "" && !slices.Contains(out, load) {
				out = append(out, load)
			}
		}
	}
	return out
}
