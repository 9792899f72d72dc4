package eval

import (
	"slices"
	"strings"

	"guardband/eval/circuit"
)

// This file finds the total supply of a part that stands between two rails. A
// sheet without a ground pin can state its supply only from one rail to the
// other, and one that gives both rails one symbol means the total too.

// totalSymbols are the trade's symbols for a total supply voltage, underscores
// aside; common practice.
var totalSymbols = map[string]bool{"VS": true, "VSUPPLY": true, "VSUP": true, "VTOT": true, "VTOTAL": true}

// lowerRails are usual names of the lower supply of an amplifier or a converter;
// common practice.
var lowerRails = map[string]bool{"V-": true, "-V": true, "VS-": true, "-VS": true, "VCC-": true, "VDD-": true,
	"VEE": true, "VSS": true, "VN": true, "VNEG": true}

// railPair is the two supplies of a part, nil where it has not two of which one
// is the lower: by its name, by its voltage, or because it stands on ground
// though the part has a pin of its own for that.
func (c *compiler) railPair(m *circuit.Component) (upper, lower *circuit.Net) {
	nets := m.Supplies()
	if len(nets) != 2 {
		return nil, nil
	}
	is := func(n *circuit.Net, test func(q *circuit.Pin) bool) bool {
		return slices.ContainsFunc(m.Pins(), func(q *circuit.Pin) bool { return q.Row.Type == "supply" && m.PinNets[q] == n && test(q) })
	}
	named := func(q *circuit.Pin) bool { return lowerRails[strings.ReplaceAll(strings.ToUpper(q.Row.Name), "_", "")] }
	bare := len(m.NetsOf("ground")) == 0
	for _, test := range []func(n *circuit.Net) bool{
		func(n *circuit.Net) bool { return is(n, named) },
		func(n *circuit.Net) bool { return bare && circuit.IsGround(n.Name) },
		func(n *circuit.Net) bool { return c.VoltageKnown(n) && c.Negative(n) },
	} {
		switch a, b := test(nets[0]), test(nets[1]); {
		case a && !b:
			return nets[1], nets[0]
		case b && !a:
			return nets[0], nets[1]
		}
	}
	return nil, nil
}

// TotalOf are the two rails between which a symbol of a part's facts counts,
// nil where it speaks of one net.
func (c *compiler) TotalOf(m *circuit.Component, name string) (upper, lower *circuit.Net) {
	upper, lower = c.railPair(m)
	if upper == nil {
		return nil, nil
	}
	var obey []*circuit.Net
	limited := false // the lower rail obeys a limit of some name
	for _, q := range m.Pins() {
		n := m.PinNets[q]
		if n == nil {
			continue
		}
		if circuit.SameSymbol(q.Row.Name, name) || circuit.SameSymbol(q.Obeys(), name) || circuit.SameSymbol("V_"+q.Obeys(), name) {
			obey = circuit.AddTo(obey, n)
		}
		for _, section := range []string{"operating", "absmax"} {
			if _, ok := m.LimitFor(section, q); ok && n == lower {
				limited = true
			}
		}
	}
	both := slices.Contains(obey, upper) && slices.Contains(obey, lower)
	alone := slices.Contains(obey, upper) && !limited && len(m.NetsOf("ground")) == 0
	none := len(obey) == 0 && totalSymbols[strings.ReplaceAll(strings.ToUpper(name), "_", "")]
	if none || (both || alone) && len(obey) <= 2 {
		return upper, lower
	}
	return nil, nil
}

// totalVoltage is the total supply of a part as a condition of its use.
func (c *compiler) totalVoltage(m *circuit.Component, name string) *symbol {
	upper, lower := c.TotalOf(m, name)
	if !c.VoltageKnown(upper) || !c.VoltageKnown(lower) {
		return nil
	}
	text := c.Difference(upper, lower)
	return &symbol{name: m.Ref + "." + name, entry: m.Entry, derived: true, comp: m,
		define: func(y *symbol) { c.defineText(y, text) }}
}
