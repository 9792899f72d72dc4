package eval

import (
	"strings"

	"guardband/eval/circuit"
	"guardband/eval/formula"
	"guardband/notebook"
)

var sectionNames = []string{"spec", "operating", "absmax"}

// factOf resolves U1.operating.V_DD, U1.V_DROP, U1.V_OH(PA3), U2.order.volts,
// and U1.use.I_OUT, a condition of use.
func (c *compiler) factOf(m *circuit.Component, p *formula.Path) (*symbol, *formula.Value, *formula.Error) {
	fields := p.Fields
	if len(fields) == 0 {
		return c.componentSymbol(m), nil, nil
	}
	if fields[0] == "order" && m.Part != nil {
		v, err := c.orderField(m, fields[1:], p)
		return c.orderSymbol(m), v, err
	}
	if fields[0] == "use" && len(fields) == 2 {
		if pin := p.Selector; pin != "" {
			return c.pinUse(m, fields[1], pin), nil, nil
		}
		if y := c.useSymbol(m, fields[1]); y != nil {
			return y, nil, nil
		}
		return c.networkUse(m, fields[1]), nil, nil
	}
	if fields[0] == "circuit" && len(fields) == 2 { // whatever its row states
		return c.networkUse(m, fields[1]), nil, nil
	}
	section := ""
	if len(fields) > 1 {
		for _, s := range sectionNames {
			if fields[0] == s {
				section, fields = s, fields[1:]
				break
			}
		}
	}
	if len(fields) != 1 {
		return nil, nil, nil
	}
	name := fields[0]
	if m.Part == nil {
		if y := c.kindFact(m, name); y != nil {
			return y, nil, nil
		}
		return c.useSymbol(m, name), nil, nil
	}
	var found []*symbol
	var where []string
	var tie *formula.Error
	for _, s := range sectionNames {
		if section != "" && s != section {
			continue
		}
		y, err := c.fact(m, s, name, p.Selector)
		if err != nil {
			tie = err
		}
		if y != nil {
			found, where = append(found, y), append(where, s)
		}
	}
	switch {
	case len(found) == 1:
		return found[0], nil, nil
	case len(found) > 1:
		return nil, nil, &formula.Error{Code: "section-which", Msg: "`" + p.Text() + "` is in several sections: " + strings.Join(where, " and "),
			Hint: "name one: `" + m.Ref + "." + where[0] + "." + name + columnOf(p) + "`"}
	case tie != nil:
		return nil, nil, tie
	}
	if section == "" {
		return c.useSymbol(m, name), nil, nil
	}
	return nil, nil, nil
}

// columnOf is the column of a path as typed.
func columnOf(p *formula.Path) string {
	if p.Column == "" {
		return ""
	}
	return "." + p.Column
}

// fact finds or makes the symbol of a fact of a placed part. pin chooses
// among the facts of pin groups; "" asks for the one without.
func (c *compiler) fact(m *circuit.Component, section, name, pin string) (*symbol, *formula.Error) {
	def, ok := m.Part.Choose(section, name, pin)
	if !ok {
		return nil, &formula.Error{Code: "selector-tie", Msg: "two rows of `" + name + "` speak of pin `" + pin + "` alike",
			Hint: "make one of them more specific"}
	}
	if def == nil {
		return nil, nil
	}
	key := factKey{m, section, name, pin}
	ofPin := pin != "" && m.AsksPinCurrent(def)
	if len(def.Selectors) == 0 && !ofPin {
		key.pin = "" // one value for the whole part
	}
	if y, ok := c.facts[key]; ok {
		return y, nil
	}
	y := &symbol{name: m.Ref + "." + name, entry: def.Rows[0], block: m.Part.Block, limit: section != "spec", comp: m}
	if m.Part.InSections(name) > 1 {
		y.name = m.Ref + "." + section + "." + name
	}
	if key.pin != "" {
		y.name += "(" + pin + ")"
	}
	if ofPin {
		y.onPin = pin
	}
	y.define = func(y *symbol) { c.defineFact(y, def) }
	c.facts[key] = y
	c.factList = append(c.factList, y)
	return y, nil
}

// anyUnit stands for one unit of a part type that is not placed.
func (c *compiler) anyUnit(p *circuit.Part) *circuit.Component {
	if p.Unit == nil {
		p.Unit = &circuit.Component{Ref: p.ID, Part: p, Row: &notebook.Placement{}, Virtual: true, PinNets: map[*circuit.Pin]*circuit.Net{},
			Conns: map[string]*circuit.Net{}}
	}
	return p.Unit
}
