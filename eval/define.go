package eval

import (
	"math/big"
	"strings"

	"guardband/eval/bound"
	"guardband/eval/formula"
	"guardband/eval/record"
	"guardband/notebook"
	"guardband/units"
)

var (
	zero = new(big.Rat)
	one  = big.NewRat(1, 1)
	half = big.NewRat(1, 2)
)

// lowerValues works out every value and every fact of the parts, so that all
// their errors are told even where nothing uses them.
func (c *compiler) lowerValues() {
	for _, y := range c.values.list {
		c.lower(y)
	}
	for _, p := range c.parts.list {
		m := c.anyUnit(p)
		if len(p.placed) > 0 {
			m = p.placed[0]
		}
		for _, f := range p.factOrder {
			pin := ""
			if len(f.selectors) > 0 {
				pin = strings.TrimSuffix(f.selectors[0], "*")
			}
			if y, _ := c.fact(m, f.section, f.name, pin); y != nil {
				c.lower(y)
			}
		}
	}
	for _, m := range c.comps.list {
		if m.part == nil {
			c.lower(c.componentSymbol(m))
		}
		for _, k := range m.row.InUse {
			if k.Flag == "" {
				c.lower(c.useSymbol(m, k.Name))
			}
		}
	}
}

// define works out a symbol for the first time.
func (c *compiler) define(y *symbol) {
	if y.define != nil {
		y.define(y)
		return
	}
	if y.exact != nil {
		if k, _ := c.shownTypical(y.entry); k != nil {
			y.exact, y.input, y.exactLeaf = nil, nil, false
		}
	}
	if y.exact != nil {
		if y.val.Type.Kind == units.Kelvin && !c.absolute(y.name) {
			y.val.Type.Kind = units.Plain
			if y.input != nil {
				y.input.typ.Kind = units.Plain
			}
		}
		c.enterLiteral(y)
		y.cites = c.citesOf(y.entry)
		return
	}
	s := &scope{c: c}
	cols := c.asShown(y.entry, c.lowerColumns(y.entry.RHS, s))
	y.deps, y.expr = s.used, cols.expr
	y.cites = append(y.cites, c.citesOf(y.entry)...)
	if cols.bad {
		return
	}
	c.makeQuantity(y, []columns{cols}, nil)
}

// ambient is the temperature round the board, one for all of it.
func (c *compiler) ambient() *symbol {
	y := c.design.ambient
	if y == nil || y.define != nil {
		return y
	}
	y.define = func(y *symbol) {
		cols := c.lowerColumns(y.entry.Value, &scope{c: c})
		y.cites = c.citesOf(y.entry)
		if !cols.bad {
			c.makeQuantity(y, []columns{cols}, nil)
		}
	}
	return y
}

// netSymbol is the voltage of a net: the value of its name, or what drives it.
func (c *compiler) netSymbol(n *net) *symbol {
	if n.symbol != nil {
		return n.symbol
	}
	if v, ok := c.values.get(n.name); ok {
		n.symbol = v
		return v
	}
	if isGround(n.name) {
		n.symbol = &symbol{name: n.name, define: func(y *symbol) {
			y.val = formula.Value{Class: formula.Number, Type: volt, Reg: c.b.Const(zero), Fixed: true, Given: true}
		}}
		return n.symbol
	}
	if d := n.drivers(); len(d) > 0 {
		if y, _ := c.fact(d[0].comp, "spec", d[0].comp.part.outputFact(d[0].pin), d[0].pin.row.Name); y != nil {
			n.symbol = y
			return y
		}
	}
	if n.feed != nil {
		n.symbol = c.feedSymbol(n)
	}
	return n.symbol
}

// isGround knows the names of the common return, which is 0 V by definition.
func isGround(name string) bool {
	switch name {
	case "GND", "AGND", "DGND", "PGND", "VSS", "0V":
		return true
	}
	return false
}

// IsGround says that a net is 0 V by its name.
func IsGround(name string) bool { return isGround(name) }

// volt is the type of a voltage: kg·m²·s⁻³·A⁻¹, exponents in halves.
var volt = units.Type{Dim: units.Dim{4, 2, -6, -2}}

// componentSymbol is the value of a two-terminal part.
func (c *compiler) componentSymbol(m *component) *symbol {
	if m.symbol != nil {
		return m.symbol
	}
	if m.part != nil {
		for _, n := range []string{"R", "C", "L", "V"} {
			if len(m.part.pins) <= 2 && m.part.hasFact(n) {
				m.symbol, _ = c.fact(m, "spec", n, "")
				return m.symbol
			}
		}
		return nil
	}
	m.symbol = &symbol{name: m.ref, entry: m.entry, comp: m, assumed: assumedOf(m.entry)}
	m.symbol.cites = c.citesOf(m.entry)
	m.symbol.define = func(y *symbol) {
		cols := c.kindValue(m)
		if cols.bad || (cols.lo == nil && cols.typ == nil && cols.hi == nil) {
			return
		}
		c.makeQuantity(y, []columns{cols}, nil)
		c.checkKindUnit(m, y)
	}
	return m.symbol
}

// kindValue reads the value of a resistor, capacitor or inductor row, marking
// codes included.
func (c *compiler) kindValue(m *component) columns {
	t := m.row.Value
	if t.Empty() {
		return columns{}
	}
	word, rest := t.S, ""
	if i := strings.IndexAny(t.S, " \u00a0"); i >= 0 {
		word, rest = t.S[:i], t.S[i:]
	}
	q, err := units.ParseMarking(word, m.kind)
	if err != nil || strings.Trim(word, "0123456789.") == "" {
		return c.lowerColumns(t, &scope{c: c})
	}
	if strings.TrimSpace(rest) == "" {
		v := c.number(q)
		return columns{shape: units.Single, typ: &v}
	}
	// A marking code and its tolerance: spell the code out, then read the whole.
	spelled := units.Format(q.SI, q.Type, units.Style{Unit: &q.Unit, Digits: 12})
	parts, err := units.Split(spelled + rest)
	if _, whole := units.ParseLiteral(t.S); err == nil && parts.Shape == units.Single && whole != nil {
		c.diags.At(notebook.Err, "row-option", t, len(word), len(t.S), "`"+strings.TrimSpace(rest)+"` stands after the value", "options follow a comma: `"+word+", "+strings.TrimSpace(rest)+"`")
		return columns{bad: true}
	}
	if err != nil || parts.Shape != units.Deviated {
		return c.lowerColumns(t, &scope{c: c})
	}
	shift := func(ls []units.Leaf) []units.Leaf {
		out := make([]units.Leaf, len(ls))
		for i, l := range ls {
			out[i] = units.Leaf{Off: l.Off - len(spelled) + len(word), End: l.End - len(spelled) + len(word)}
		}
		return out
	}
	out := columns{shape: units.Deviated}
	parts.Plus, parts.Minus = shift(parts.Plus), shift(parts.Minus)
	c.deviateFrom(t, q, parts, &out)
	return out
}

// kindFact gives the value of a row under its letter, and quantities that it
// states by name as options: "R_DC 0 Ω to 0.3 Ω".
func (c *compiler) kindFact(m *component, name string) *symbol {
	letter := map[string]string{"resistor": "R", "capacitor": "C", "inductor": "L"}[m.kind]
	if letter != "" && name == letter {
		return c.componentSymbol(m)
	}
	return c.optionSymbol(m, name)
}

// useSymbol is a condition of use of a placed part: stated after "in use:",
// the ambient temperature, or the voltage of the net its pin stands on. nil
// where nothing states it.
func (c *compiler) useSymbol(m *component, name string) *symbol {
	key := useKey{m, name}
	if y, ok := c.uses[key]; ok {
		return y
	}
	y := c.findUse(m, name)
	c.uses[key] = y
	return y
}

func (c *compiler) findUse(m *component, name string) *symbol {
	for i := range m.row.InUse {
		k := &m.row.InUse[i]
		if k.Flag != "" || k.Name != name {
			continue
		}
		y := &symbol{name: m.ref + "." + name, entry: m.entry, comp: m}
		y.define = func(y *symbol) { c.defineUse(y, k) }
		return y
	}
	if y := c.pinVoltage(m, name); y != nil {
		return y
	}
	switch {
	case name == "T_A":
		return c.ambient()
	case name == "I" && m.feeds != nil:
		return c.feedCurrent(m)
	}
	return nil
}

// defineUse works out "I_OUT = 100 mA" or "I_OUT <= 100 mA" after "in use:".
func (c *compiler) defineUse(y *symbol, k *notebook.Cond) {
	s := &scope{c: c}
	cols := c.lowerColumns(k.Value, s)
	y.deps, y.expr = s.used, cols.expr
	y.cites = c.citesOf(y.entry)
	if cols.bad {
		return
	}
	if k.Op != "=" {
		if cols.shape != units.Single {
			c.whole(notebook.Err, "use-range", k.Value, "after `"+k.Op+"` stands one value", "")
			return
		}
		one := columns{shape: units.Range}
		if k.Op == "<=" {
			one.hi = cols.typ
		} else {
			one.lo = cols.typ
		}
		cols = one
	}
	c.makeQuantity(y, []columns{cols}, nil)
}

// ownName resolves a name inside the facts of a placed part.
func (c *compiler) ownName(m *component, name string) *symbol {
	if y := c.useSymbol(m, name); y != nil {
		return y
	}
	if m.part == nil {
		return nil
	}
	for _, s := range sectionNames {
		if y, _ := c.fact(m, s, name, ""); y != nil && !y.limit {
			return y
		}
	}
	if !m.part.mentions(name) {
		return nil
	}
	y := &symbol{name: m.ref + "." + name, comp: m}
	y.define = func(y *symbol) {
		t := m.part.typeOf(name)
		y.input = &input{sym: y, name: y.name, typ: t, in: bound.Input{}}
		y.val = formula.Value{Class: formula.Number, Type: t, Reg: c.newInput(y.input)}
		y.own().lacking = &record.OpenPoint{Reason: "condition", Text: name + " of " + m.ref + " is not stated", Settle: "state it after `in use:`, or join the pin to a net whose voltage is known"}
	}
	c.uses[useKey{m, name}] = y
	return y
}

// mentions says that a name is one the part itself speaks of: a pin, a limit,
// or a condition of one of its facts.
func (p *part) mentions(name string) bool {
	if p.hasFact(name) {
		return true
	}
	for _, q := range p.pins {
		if sameSymbol(q.obeys(), name) {
			return true
		}
	}
	for _, f := range p.factOrder {
		for _, e := range f.rows {
			for _, k := range e.Conds {
				if k.Name == name {
					return true
				}
			}
		}
	}
	return name == "T_A" || name == "T_J"
}

// typeOf is the type that a name of the part must have: that of a limit of
// its name, else by the letter the trade gives it.
func (p *part) typeOf(name string) units.Type {
	for _, f := range p.factOrder {
		if f.name != name {
			continue
		}
		if parts, err := units.Split(f.rows[0].RHS.S); err == nil {
			for _, l := range []units.Leaf{parts.Hi, parts.Lo, parts.Max, parts.Min, parts.Typ, parts.Single} {
				if l.Present() {
					if q, err := units.ParseLiteral(strings.TrimSpace(f.rows[0].RHS.S[l.Off:l.End])); err == nil {
						return q.Type
					}
				}
			}
		}
	}
	switch name[0] {
	case 'I':
		return units.Type{Dim: units.Dim{0, 0, 0, 2}}
	case 'T':
		return units.Type{Dim: units.Dim{0, 0, 0, 0, 2}, Kind: units.Point}
	}
	return volt
}

func rat(n int64) *big.Rat { return big.NewRat(n, 1) }
