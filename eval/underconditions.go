package eval

import (
	"slices"
	"strings"

	"guardband/eval/bound"
	"guardband/eval/circuit"
	"guardband/eval/formula"
	"guardband/notebook"
	"guardband/units"
)

// under works the notes out under the conditions of a reading: what they state
// takes the place of what the notes say of the same name, wherever it is used,
// in the conditions of rows too. Without conditions it is the compiler itself.
func (c bench) under(conds []notebook.Cond) *compiler {
	var key []string
	for i := range conds {
		if conds[i].Flag == "" {
			key = append(key, conds[i].Text.S)
		}
	}
	if len(key) == 0 {
		return c.compiler
	}
	text := strings.Join(key, ";")
	if x, ok := c.unders[text]; ok {
		return x
	}
	opt := c.opt
	opt.Evidence, opt.Typeset = nil, false
	x := newCompiler(c.again(opt))
	x.imposed = map[*symbol]bool{}
	reader{x}.collect()
	bench{x}.impose(conds)
	reader{x}.connect()
	bench{x}.impose(conds) // of nets
	x.lowerValues()
	if c.unders == nil {
		c.unders = map[string]*compiler{}
	}
	c.unders[text] = x
	return x
}

// impose puts what conditions state in the place of what the notes say.
func (c bench) impose(conds []notebook.Cond) {
	for i := range conds {
		k := &conds[i]
		if k.Flag != "" {
			continue
		}
		y := c.imposedSymbol(k)
		if y == nil || c.imposed[y] || y.state != fresh {
			continue
		}
		if y.entry == nil {
			y.entry = &notebook.Entry{Text: k.Text}
		}
		y.define = func(y *symbol) { c.defineUse(y, k) }
		c.imposed[y] = true
	}
}

// imposedSymbol is the symbol that a condition names, not yet worked out. A use
// gets one of its own, since the ambient temperature or a net may give it.
func (c bench) imposedSymbol(k *notebook.Cond) *symbol {
	if isAmbient(k) {
		if c.design.ambient == nil {
			c.design.ambient = &symbol{name: "ambient"}
		}
		return c.design.ambient
	}
	e, errs := formula.Parse(k.NameText.S)
	if len(errs) > 0 || e.Root.Kind != formula.NodeName {
		return nil
	}
	y, _, err := (&scope{c: c.compiler}).find(e.Root.Path)
	if err != nil {
		return nil
	}
	m, _ := c.Comps.Get(e.Root.Path.Head)
	f := e.Root.Path.Fields
	if m == nil || len(f) == 0 || m.Part != nil && f[0] != "use" && (len(f) > 1 || m.Part.HasFact(f[0])) {
		return y
	}
	key := useKey{m, f[len(f)-1]}
	if old := c.uses[key]; old != nil && c.imposed[old] {
		return old
	}
	y = &symbol{name: m.Ref + "." + key.name, entry: m.Entry, comp: m}
	c.uses[key] = y
	return y
}

// isAmbient says that a condition speaks of the temperature round the board.
func isAmbient(k *notebook.Cond) bool { return k.Name == "T_A" || k.Name == "ambient" }

// checkReadingConditions complains about conditions that name nothing, that
// are of another kind than what they name, or that are the reading itself.
func (c bench) checkReadingConditions(r *reading, of []*symbol) bool {
	ok := true
	for i := range r.conds {
		k := &r.conds[i]
		if k.Flag != "" {
			continue
		}
		s := &scope{c: c.compiler}
		typ := units.Type{Dim: units.Dim{0, 0, 0, 0, 2}, Kind: units.Point}
		if !isAmbient(k) {
			v, _, _ := c.lowerText(k.NameText, s)
			typ = v.Type
			ok = ok && v.Class == formula.Number
		}
		cols := c.lowerColumns(k.Value, &scope{c: c.compiler})
		if cols.bad || !ok {
			ok = false
			continue
		}
		for _, v := range []*formula.Value{cols.lo, cols.typ, cols.hi} {
			if v == nil {
				continue
			}
			if _, err := units.Combine("<=", typ, v.Type, k.Name, k.Value.S); err != nil {
				c.diagnose(notebook.Err, "dimension", k.Text, err.Msg, err.Hint)
				ok = false
			}
			break
		}
		if len(s.used) > 0 && slices.Equal(s.used, of) {
			c.diagnose(notebook.Err, "condition-itself", k.Text, "`"+k.Name+
				"` is what was read; it cannot be its own condition", "drop it, or read another quantity")
			ok = false
		}
	}
	return ok
}

// atText is the named conditions of a reading, as typed.
func (r *reading) atText() string {
	var out []string
	for i := range r.conds {
		if r.conds[i].Flag == "" {
			out = append(out, strings.TrimSpace(r.conds[i].Text.S))
		}
	}
	return strings.Join(out, "; ")
}

// unstated names what the prediction of a reading depends on, had one value on
// the bench, and is not among its conditions: ranges that are no spread from
// piece to piece, and the exact temperatures, voltages, currents and powers that
// the notes chose to work with.
func (r *reading) unstated(p *bound.Program) []string {
	c := r.at
	var out []string
	ask := func(name string) {
		if !slices.Contains(out, name) {
			out = append(out, name)
		}
	}
	for _, y := range r.made {
		if _, exact := c.b.ConstOf(y.val.Reg); exact && !y.derived && y.entry != nil &&
			stateQuantity(y.val.Type) && (bench{c}).ofTheBench(y, r) {
			ask(bench{c}.conditionName(y))
		}
	}
	for _, n := range p.Inputs() {
		in := c.inputs[n]
		if in.in.Spread || in.in.Lo != nil && in.in.Hi != nil && in.in.Lo.Cmp(in.in.Hi) == 0 {
			continue
		}
		switch {
		case in.sym == nil:
			ask(in.name)
		case bench{c}.ofTheBench(in.sym, r):
			ask(bench{c}.conditionName(in.sym))
		}
	}
	return out
}

// ofTheBench says that a symbol is of the surroundings of a reading: no fact of
// a part, not what was read, and not stated by it.
func (c bench) ofTheBench(y *symbol, r *reading) bool {
	if c.imposed[y] || y.block != nil && y.block.Kind == "part" || y.constant != "" {
		return false
	}
	return r.target.Reg != y.val.Reg
}

// conditionName is how a condition names a symbol.
func (c bench) conditionName(y *symbol) string {
	if y == c.design.ambient {
		return "T_A"
	}
	if y.comp != nil && !y.ofValues {
		if name, ok := strings.CutPrefix(y.name, y.comp.Ref+"."); ok && c.uses[useKey{y.comp, name}] == y {
			return y.comp.Ref + ".use." + name
		}
	}
	return y.name
}

// stateQuantity says that a quantity is a state of a circuit, which the bench
// sets, and no property of its parts: a temperature, voltage, current or power.
func stateQuantity(t units.Type) bool {
	switch t.Dim {
	case circuit.Volt.Dim, units.Dim{0, 0, 0, 2}, units.Dim{4, 2, -6}:
		return true
	}
	return t.Kind == units.Point
}

// joinWords lists names in a sentence.
func joinWords(names []string) string {
	if n := len(names); n > 1 {
		return strings.Join(names[:n-1], ", ") + " and " + names[n-1]
	}
	return strings.Join(names, "")
}
