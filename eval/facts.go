package eval

import (
	"strconv"
	"strings"

	"guardband/eval/formula"
	"guardband/notebook"
)

var sectionNames = []string{"spec", "operating", "absmax"}

// factOf resolves U1.operating.V_DD, U1.V_DROP, U1.V_OH(PA3), U2.order.volts,
// and U1.use.I_OUT, a condition of use.
func (c *compiler) factOf(m *component, p *formula.Path) (*symbol, *formula.Value, *formula.Error) {
	fields := p.Fields()
	if len(fields) == 0 {
		return c.componentSymbol(m), nil, nil
	}
	if fields[0] == "order" && m.part != nil {
		v, err := c.orderField(m, fields[1:], p)
		return c.orderSymbol(m), v, err
	}
	if fields[0] == "use" && len(fields) == 2 {
		if pin := p.Qualifier().Selector; pin != "" {
			return c.pinUse(m, fields[1], pin), nil, nil
		}
		if y := c.useSymbol(m, fields[1]); y != nil {
			return y, nil, nil
		}
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
	if m.part == nil {
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
		y, err := c.fact(m, s, name, p.Qualifier().Selector)
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
		return nil, nil, &formula.Error{Code: "section-which", Msg: "`" + p.Text() + "` stands in several sections: " + strings.Join(where, " and "),
			Hint: "say which: `" + m.ref + "." + where[0] + "." + name + columnOf(p) + "`"}
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
	if p.Column() == "" {
		return ""
	}
	return "." + p.Column()
}

// fact finds or makes the symbol of a fact of a placed part. pin chooses
// among the facts of pin groups; "" asks for the one without.
func (c *compiler) fact(m *component, section, name, pin string) (*symbol, *formula.Error) {
	def, err := m.part.choose(section, name, pin)
	if def == nil || err != nil {
		return nil, err
	}
	key := factKey{m, section, name, pin}
	ofPin := pin != "" && m.asksPinCurrent(def)
	if len(def.selectors) == 0 && !ofPin {
		key.pin = "" // one value for the whole part
	}
	if y, ok := c.facts[key]; ok {
		return y, nil
	}
	y := &symbol{name: m.ref + "." + name, entry: def.rows[0], block: m.part.block, limit: section != "spec", comp: m}
	if m.part.inSections(name) > 1 {
		y.name = m.ref + "." + section + "." + name
	}
	if key.pin != "" {
		y.name += "(" + pin + ")"
	}
	if ofPin {
		y.own().onPin = pin
	}
	y.define = func(y *symbol) { c.defineFact(y, def) }
	c.facts[key] = y
	c.factList = append(c.factList, y)
	return y, nil
}

func (p *part) inSections(name string) int {
	n, seen := 0, ""
	for _, f := range p.factOrder {
		if f.name == name && !strings.Contains(seen, f.section) {
			n++
			seen += f.section
		}
	}
	return n
}

// choose picks the rows that speak of a pin: the pin itself before a list or
// range, before a pattern, before the part as a whole.
func (p *part) choose(section, name, pin string) (*factDef, *formula.Error) {
	var best *factDef
	rank, tie := 0, false
	for _, f := range p.factOrder {
		if f.section != section || f.name != name {
			continue
		}
		r := 1
		if len(f.selectors) > 0 {
			r = 0
			for _, s := range f.selectors {
				r = max(r, selects(s, pin, len(f.selectors) > 1))
			}
		}
		switch {
		case r > rank:
			best, rank, tie = f, r, false
		case r == rank && r > 0:
			tie = true
		}
	}
	if tie {
		return nil, &formula.Error{Code: "selector-tie", Msg: "two rows of `" + name + "` speak of pin `" + pin + "` alike", Hint: "make one of them more specific"}
	}
	return best, nil
}

// selects ranks how closely a selector speaks of a pin; 0 is not at all.
func selects(sel, pin string, list bool) int {
	if pin == "" {
		return 0
	}
	if sel == pin {
		if list {
			return 3
		}
		return 4
	}
	if pre, ok := strings.CutSuffix(sel, "*"); ok && strings.HasPrefix(pin, pre) {
		return 2
	}
	if a, b, ok := strings.Cut(sel, "-"); ok {
		pa, na := splitNumber(a)
		pb, nb := splitNumber(b)
		pp, np := splitNumber(pin)
		if na >= 0 && nb >= 0 && np >= 0 && pa == pp && (pb == pa || pb == "") && na <= np && np <= nb {
			return 3
		}
	}
	return 0
}

// splitNumber cuts "PA12" into "PA" and 12; -1 where no number ends it.
func splitNumber(s string) (string, int) {
	i := len(s)
	for i > 0 && s[i-1] >= '0' && s[i-1] <= '9' {
		i--
	}
	n, err := strconv.Atoi(s[i:])
	if err != nil {
		return s, -1
	}
	return s[:i], n
}

// anyUnit stands for one unit of a part type that is not placed.
func (c *compiler) anyUnit(p *part) *component {
	if p.unit == nil {
		p.unit = &component{ref: p.id, part: p, row: &notebook.Placement{}, virtual: true, pinNets: map[*pin]*net{},
			conns: map[string]*net{}}
	}
	return p.unit
}
