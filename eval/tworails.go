package eval

import (
	"slices"
	"strings"

	"guardband/notebook"
)

// This file finds the total supply of a part that stands between two rails. A
// sheet without a ground pin can state its supply only from one rail to the
// other, and one that gives both rails one symbol means the total too.

// totalSymbols are the trade's symbols for a total supply voltage, underscores
// aside; common practice.
var totalSymbols = map[string]bool{"VS": true, "VSUPPLY": true, "VSUP": true, "VTOT": true, "VTOTAL": true}

// lowerRails are usual names of the lower supply of an amplifier or a converter;
// common practice.
var lowerRails = map[string]bool{"V-": true, "-V": true, "VS-": true, "-VS": true, "VCC-": true, "VDD-": true, "VEE": true, "VSS": true, "VN": true, "VNEG": true}

// railPair is the two supplies of a part, nil where it has not two of which one
// is the lower: by its name, by its voltage, or because it stands on ground
// though the part has a pin of its own for that.
func (c *compiler) railPair(m *component) (upper, lower *net) {
	nets := m.supplies()
	if len(nets) != 2 {
		return nil, nil
	}
	is := func(n *net, test func(q *pin) bool) bool {
		for _, q := range m.part.pins {
			if q.row.Type == "supply" && m.pinNets[q] == n && test(q) {
				return true
			}
		}
		return false
	}
	named := func(q *pin) bool { return lowerRails[strings.ReplaceAll(strings.ToUpper(q.row.Name), "_", "")] }
	bare := len(m.netsOf("ground")) == 0
	for _, test := range []func(n *net) bool{
		func(n *net) bool { return is(n, named) },
		func(n *net) bool { return bare && isGround(n.name) },
		func(n *net) bool { return c.voltageKnown(n) && c.negative(n) },
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

// totalOf are the two rails between which a symbol of a part's facts counts,
// nil where it speaks of one net.
func (c *compiler) totalOf(m *component, name string) (upper, lower *net) {
	upper, lower = c.railPair(m)
	if upper == nil {
		return nil, nil
	}
	var obey []*net
	limited := false // the lower rail obeys a limit of some name
	for _, q := range m.part.pins {
		n := m.pinNets[q]
		if n == nil {
			continue
		}
		if sameSymbol(q.row.Name, name) || sameSymbol(q.obeys(), name) || sameSymbol("V_"+q.obeys(), name) {
			obey = addNet(obey, n)
		}
		for _, section := range []string{"operating", "absmax"} {
			if _, ok := m.limitFor(section, q); ok && n == lower {
				limited = true
			}
		}
	}
	both := slices.Contains(obey, upper) && slices.Contains(obey, lower)
	alone := slices.Contains(obey, upper) && !limited && len(m.netsOf("ground")) == 0
	none := len(obey) == 0 && totalSymbols[strings.ReplaceAll(strings.ToUpper(name), "_", "")]
	if none || (both || alone) && len(obey) <= 2 {
		return upper, lower
	}
	return nil, nil
}

// totalLimit is the limit of a section that a supply pin without one of its own
// obeys as one end of the total.
func (c *compiler) totalLimit(m *component, section string, n *net) (name string, ok bool) {
	for _, f := range m.part.factOrder {
		if f.section != section || len(f.selectors) > 0 {
			continue
		}
		if upper, lower := c.totalOf(m, f.name); upper != nil && (n == upper || n == lower) {
			return f.name, true
		}
	}
	return "", false
}

// totalVoltage is the total supply of a part as a condition of its use.
func (c *compiler) totalVoltage(m *component, name string) *symbol {
	upper, lower := c.totalOf(m, name)
	if !c.voltageKnown(upper) || !c.voltageKnown(lower) {
		return nil
	}
	text := c.difference(upper, lower)
	return &symbol{name: m.ref + "." + name, entry: m.entry, derived: true, comp: m, define: func(y *symbol) {
		y.own().text = text
		s := &scope{c: c}
		y.val, _, y.expr = c.lowerText(notebook.Text{S: text}, s)
		y.deps = s.used
	}}
}

// askTotal asks that the total supply lies inside a limit.
func (c *compiler) askTotal(cl *claim, upper, lower *net, m *component, section, name, pin string) {
	for _, n := range []*net{upper, lower} {
		if !c.voltageKnown(n) {
			cl.lacks("no value", "the voltage of net "+n.name+" is not known, and "+section+" "+name+" of "+m.ref+" is its total supply", "give a value `"+n.name+" = ...`")
			return
		}
	}
	c.askInside(cl, c.difference(upper, lower), m, section, name, pin)
}
