package eval

import (
	"math/big"
	"regexp"
	"slices"
	"strings"

	"guardband/eval/bound"
	"guardband/eval/circuit"
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
	for _, y := range c.values.List {
		c.lower(y)
	}
	for _, p := range c.Parts.List {
		m := c.anyUnit(p)
		if len(p.Placed) > 0 {
			m = p.Placed[0]
		}
		for _, f := range p.FactOrder {
			pin := ""
			if len(f.Selectors) > 0 {
				pin = strings.TrimSuffix(f.Selectors[0], "*")
			}
			if y, _ := c.fact(m, f.Section, f.Name, pin); y != nil {
				c.lower(y)
			}
		}
	}
	for _, m := range c.Comps.List {
		if m.Part == nil {
			c.lower(c.componentSymbol(m))
		}
		for _, k := range m.Row.InUse {
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
	s := &scope{c: c}
	cols := proof{c}.asShown(y.entry, c.lowerColumns(y.entry.RHS, s))
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
func (c *compiler) netSymbol(n *circuit.Net) *symbol {
	if y := c.netSymbols[n]; y != nil {
		return y
	}
	y := c.findNetSymbol(n)
	if y != nil {
		c.netSymbols[n] = y
	}
	return y
}

func (c *compiler) findNetSymbol(n *circuit.Net) *symbol {
	if v, ok := c.values.Get(n.Name); ok {
		return v
	}
	if circuit.IsGround(n.Name) || c.lost[n] && !(powers{c}).fedBesides(n) {
		return &symbol{name: n.Name, define: func(y *symbol) {
			y.val = formula.Value{Class: formula.Number, Type: circuit.Volt, Reg: c.b.Const(zero), Fixed: true, Given: true}
		}}
	}
	if d := n.Drivers(); len(d) > 0 && !c.lost[n] {
		if y, _ := c.fact(d[0].Comp, "spec", d[0].Comp.Part.OutputFact(d[0].Pin), d[0].Pin.Row.Name); y != nil {
			return y
		}
	}
	if n.Feed != nil {
		return c.feedSymbol(n)
	}
	return nil
}

// componentSymbol is the value of a two-terminal part.
func (c *compiler) componentSymbol(m *circuit.Component) *symbol {
	if y := c.compSymbols[m]; y != nil {
		return y
	}
	if m.Part != nil {
		for _, n := range []string{"R", "C", "L", "V"} {
			if len(m.Pins()) <= 2 && m.Part.HasFact(n) {
				y, _ := c.fact(m, "spec", n, "")
				if y != nil && m.Sort() == "thermistor" && !slices.ContainsFunc(m.Part.RowsOf("spec", n), saysTemperature) {
					y = c.atAnyTemperature(m, y)
				}
				c.compSymbols[m] = y
				return y
			}
		}
		return nil
	}
	y := c.placedValue(m)
	if m.Kind == "thermistor" && !m.Row.Value.Empty() {
		y = c.atAnyTemperature(m, c.kindFact(m, "R_25"))
	}
	c.compSymbols[m] = y
	return y
}

// atAnyTemperature is the resistance of a thermistor of which that at 25 °C is
// stated. From -55 °C to 150 °C it is less than a thousand times as much or as
// little: 470 times by a B value of 5000 K, the highest that are made (common
// practice).
func (c *compiler) atAnyTemperature(m *circuit.Component, at25 *symbol) *symbol {
	y := &symbol{name: m.Ref, entry: m.Entry, comp: m, derived: true}
	y.define = func(y *symbol) {
		if c.lower(at25); at25.val.Class != formula.Number {
			return
		}
		y.deps = []*symbol{at25}
		y.input = &input{sym: y, name: m.Ref + " against its value at 25 °C", in: bound.Input{Lo: big.NewRat(1, 1000), Hi: big.NewRat(1000, 1)}}
		y.val = formula.Value{Class: formula.Number, Type: at25.val.Type, Reg: c.b.Binary(bound.OpMul, at25.val.Reg, c.newInput(y.input))}
		name, settle := m.Ref+".R_25", "claim it with `ntc_resistance("+m.Ref+".R_25, B, T)`"
		if m.Part != nil {
			name, settle = m.Ref+".R", "note R by rows `at T_A = ...`, or claim it with `ntc_resistance("+m.Ref+".R, B, T)`"
		}
		y.lacking = &record.OpenPoint{Reason: "condition",
			Text: "the resistance of " + m.Ref + ", a thermistor, is " + name + " at 25 °C alone (IEC 60539-1)", Settle: settle}
	}
	return y
}

func saysTemperature(e *notebook.Entry) bool {
	return slices.ContainsFunc(e.Conds, func(k notebook.Cond) bool { return strings.HasPrefix(k.Name, "T_") || k.Name == "T" })
}

// placedValue is the value that a row states of a part without a note.
func (c *compiler) placedValue(m *circuit.Component) *symbol {
	y := &symbol{name: m.Ref, entry: m.Entry, comp: m, assumed: assumedOf(m.Entry)}
	y.cites = c.citesOf(m.Entry)
	y.define = func(y *symbol) {
		cols := c.kindValue(m)
		if cols.bad || (cols.lo == nil && cols.typ == nil && cols.hi == nil) {
			return
		}
		c.makeQuantity(y, []columns{cols}, nil)
		c.checkKindUnit(m, y)
	}
	return y
}

var looseTolerance = regexp.MustCompile(`^(\S+) (\d[\d.]*) ?%,? (.+)$`)

// looseOptions is how a value with its tolerance and options in a row of words
// is written, "" for others.
func looseOptions(kind, s string) string {
	g := looseTolerance.FindStringSubmatch(strings.Join(strings.Fields(s), " "))
	if g == nil {
		return ""
	}
	return "write `" + kind + " " + g[1] + " ± " + g[2] + " %, " + strings.Join(strings.FieldsFunc(g[3],
		func(r rune) bool { return r == ' ' || r == ',' }), ", ") + "`"
}

// kindValue reads the value of a resistor, capacitor or inductor row, marking
// codes included.
func (c *compiler) kindValue(m *circuit.Component) columns {
	t := m.Row.Value
	if t.Empty() {
		return columns{}
	}
	if hint := looseOptions(m.Kind, t.S); hint != "" {
		c.diags.At(notebook.Err, "row-option", t, 0, len(t.S), "options and tolerance of this row are not separated", hint)
		return columns{bad: true}
	}
	if m.Kind == "connector" && strings.Trim(t.S, "0123456789") != "" {
		c.diags.At(notebook.Err, "row-option", t, 0, len(t.S), "a connector has no value", "leave `"+t.S+"` out: `"+m.Ref+"  connector  NET NET`")
		return columns{bad: true}
	}
	if len(m.Row.Conns) == 0 && strings.Contains(t.S, " ") {
		return columns{bad: true} // its nets stand where the value ends, which is told
	}
	word, rest := t.S, ""
	if i := strings.IndexAny(t.S, " \u00a0"); i >= 0 {
		word, rest = t.S[:i], t.S[i:]
	}
	q, err := units.ParseMarking(word, m.Kind)
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
		c.diags.At(notebook.Err, "row-option", t, len(word), len(t.S), "`"+strings.TrimSpace(rest)+
			"` is after the value", "options follow a comma: `"+word+", "+strings.TrimSpace(rest)+"`")
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
func (c *compiler) kindFact(m *circuit.Component, name string) *symbol {
	letter := map[string]string{"resistor": "R", "capacitor": "C", "inductor": "L"}[m.Kind]
	if letter != "" && name == letter {
		return c.componentSymbol(m)
	}
	if m.Kind == "thermistor" && name == "R_25" {
		key := useKey{m, name}
		if c.uses[key] == nil {
			c.uses[key] = c.placedValue(m)
		}
		return c.uses[key]
	}
	return c.optionSymbol(m, name)
}

// useSymbol is a condition of use of a placed part: stated after "in use:",
// the ambient temperature, or the voltage of the net its pin stands on. nil
// where nothing states it.
func (c *compiler) useSymbol(m *circuit.Component, name string) *symbol {
	key := useKey{m, name}
	if y, ok := c.uses[key]; ok {
		return y
	}
	y := c.findUse(m, name)
	c.uses[key] = y
	return y
}

func (c *compiler) findUse(m *circuit.Component, name string) *symbol {
	for i := range m.Row.InUse {
		k := &m.Row.InUse[i]
		if k.Flag != "" || !circuit.SameSymbol(k.Name, name) {
			continue
		}
		y := &symbol{name: m.Ref + "." + name, entry: m.Entry, comp: m}
		y.define = func(y *symbol) { c.defineUse(y, k) }
		return y
	}
	if y := c.pinVoltage(m, name); y != nil {
		return y
	}
	switch {
	case name == "T_A":
		return c.ambient()
	case name == "I" && m.Feeds != nil:
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
			c.diagnose(notebook.Err, "use-range", k.Value, "after `"+k.Op+"` is one value", "")
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
func (c *compiler) ownName(m *circuit.Component, name string) *symbol {
	if y := c.useSymbol(m, name); y != nil {
		return y
	}
	if m.Part == nil {
		return nil
	}
	for _, s := range sectionNames {
		if y, _ := c.fact(m, s, name, ""); y != nil && !y.limit {
			return y
		}
	}
	if !m.Part.Mentions(name) {
		return nil
	}
	y := &symbol{name: m.Ref + "." + name, comp: m}
	y.define = func(y *symbol) {
		t := m.Part.TypeOf(name)
		y.input = &input{sym: y, name: y.name, typ: t, in: bound.Input{}}
		y.val = formula.Value{Class: formula.Number, Type: t, Reg: c.newInput(y.input)}
		y.lacking = &record.OpenPoint{Reason: "condition", Text: name + " of " + m.Ref + " is not stated",
			Settle: "state it after `in use:`, or join the pin to a net whose voltage is known"}
	}
	c.uses[useKey{m, name}] = y
	return y
}

func rat(n int64) *big.Rat { return big.NewRat(n, 1) }
