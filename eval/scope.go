package eval

import (
	"fmt"
	"math/big"
	"slices"
	"strings"

	"guardband/eval/bound"
	"guardband/eval/circuit"
	"guardband/eval/formula"
	"guardband/notebook"
	"guardband/units"
)

// scope gives meaning to the names of one formula and notes which symbols it
// used. Inside a part's facts comp is the placed part whose own names count
// first.
type scope struct {
	c         *compiler
	comp      *circuit.Component // names of this part count first; nil on the board
	candidate *circuit.Part      // meaning of "candidate" in a shortlist
	used      []*symbol
	seen      map[*symbol]bool // the same
}

func (s *scope) note(y *symbol) {
	if s.seen == nil {
		s.seen = map[*symbol]bool{nil: true}
	}
	if !s.seen[y] {
		s.seen[y] = true
		s.used = append(s.used, y)
	}
}

// Lookup implements formula.Scope.
func (s *scope) Lookup(p *formula.Path, off, end int) (formula.Value, *formula.Error) {
	y, rest, err := s.find(p)
	if err != nil {
		err.Off, err.End = off, end
		return formula.Value{}, err
	}
	if rest != nil { // a decoded field of an order code
		s.note(y)
		return *rest, nil
	}
	if y != nil && y.ofValues && y.name == p.Head {
		return s.valueOf(y, p, off, end)
	}
	if m := s.partNamed(p); m != nil {
		return s.partValue(m, y), nil
	}
	if y == nil && p.Alone() {
		y = s.c.constantSymbol(p.Head)
	}
	if y == nil {
		return formula.Value{}, &formula.Error{Off: off, End: end, Code: "name-unknown", Msg: "unknown name `" + p.Text() + "`", Hint: s.hint(p)}
	}
	return s.valueOf(y, p, off, end)
}

// valueOf is the value of a symbol, or the column of it that the path asks for.
func (s *scope) valueOf(y *symbol, p *formula.Path, off, end int) (formula.Value, *formula.Error) {
	s.c.lower(y)
	if y.state == busy {
		return formula.Value{}, nil // the circle is told where it closes
	}
	s.note(y)
	if p.Column == "" {
		return y.val, nil
	}
	return s.column(y, p, off, end)
}

// partNamed is the placed part that a path names as a whole; nil where it
// names something else.
func (s *scope) partNamed(p *formula.Path) *circuit.Component {
	if !p.Alone() {
		return nil
	}
	if _, ok := s.c.values.Get(p.Head); ok {
		return nil
	}
	m, _ := s.c.Comps.Get(p.Head)
	return m
}

// partValue is a placed part in a formula: its value where it has two
// terminals, and a thing whose facts `.NAME` finds in each, sum, all.
func (s *scope) partValue(m *circuit.Component, y *symbol) formula.Value {
	v := formula.Value{Class: formula.Text, Fixed: true}
	if y != nil {
		s.c.lower(y)
		if y.state == busy {
			return formula.Value{}
		}
		if y.val.Class == formula.Number {
			v = y.val
			s.note(y)
		}
	}
	v.Thing = &formula.Thing{Str: m.Ref, Fields: func(name string) (formula.Value, *formula.Error) {
		fields, column := strings.Split(name, "."), ""
		if n := len(fields); n > 1 && slices.Contains([]string{"min", "typ", "max"}, fields[n-1]) {
			fields, column = fields[:n-1], fields[n-1]
		}
		return s.Lookup(&formula.Path{Head: m.Ref, Fields: fields, Column: column}, 0, 0)
	}}
	return v
}

// column gives one end of a fact or given value.
func (s *scope) column(y *symbol, p *formula.Path, off, end int) (formula.Value, *formula.Error) {
	if y.derived {
		return formula.Value{}, &formula.Error{Off: off, End: end, Code: "column-derived", Msg: "`" + y.name +
			"` is derived, it has no ." + p.Column + " column",
			Hint: "compare the value itself: a claim is judged at its worst"}
	}
	k := map[string]int{"min": 0, "typ": 1, "max": 2}[p.Column]
	cols := &y.cols
	if v := cols[k]; v != nil {
		if y.exactLeaf && conditional(y) {
			return s.c.endOf(y, k), nil
		}
		return *v, nil
	}
	if y.val.Class == formula.Bad {
		return formula.Value{}, nil
	}
	var stated []string
	for i, n := range []string{"min", "typ", "max"} {
		if cols[i] != nil {
			stated = append(stated, "."+n)
		}
	}
	hint := "no column of it is stated"
	if len(stated) > 0 {
		hint = "stated are " + strings.Join(stated, " and ")
	}
	return formula.Value{}, &formula.Error{Off: off, End: end, Code: "column-missing", Msg: "no " + p.Column +
		" is given for `" + y.name + "`", Hint: hint}
}

// find resolves a path to a symbol, or to a constant value (rest).
func (s *scope) find(p *formula.Path) (*symbol, *formula.Value, *formula.Error) {
	if p.Alone() && s.comp == nil && p.Head != "budget" && p.Head != "candidate" {
		return s.plain(p.Head), nil, nil
	}
	return s.qualified(p)
}

// qualified is find for all but a name that stands alone on the board.
func (s *scope) qualified(p *formula.Path) (*symbol, *formula.Value, *formula.Error) {
	c := s.c
	if p.HasArg && p.Head == "net" {
		if n, ok := c.Nets.Get(p.HeadArg); ok {
			return c.netInFormula(n), nil, nil
		}
		if v, ok := c.values.Get(p.HeadArg); ok {
			return v, nil, nil
		}
		return nil, nil, &formula.Error{Code: "net-unknown", Msg: "there is no net named `" + p.HeadArg + "`",
			Hint: notebook.HintNear(p.HeadArg, c.Nets.Names())}
	}
	if p.Head == "budget" {
		return c.budgetSymbol(p), nil, nil
	}
	if p.Head == "candidate" && s.candidate != nil {
		return c.factOf(c.anyUnit(s.candidate), p)
	}
	if s.comp != nil && len(p.Fields) == 0 && !p.HasArg {
		if y := c.ownName(s.comp, p.Head); y != nil && p.Selector == "" {
			return y, nil, nil
		}
		if p.Selector != "" && s.comp.Part != nil {
			for _, section := range sectionNames {
				if y, err := c.fact(s.comp, section, p.Head, p.Selector); y != nil || err != nil {
					return y, nil, err
				}
			}
		}
	}
	if len(p.Fields) == 0 && p.Selector == "" {
		return s.plain(p.Head), nil, nil
	}
	if m, ok := c.Comps.Get(p.Head); ok {
		return c.factOf(m, p)
	}
	if t, ok := c.Parts.Get(p.Head); ok {
		return c.factOf(c.anyUnit(t), p)
	}
	if _, ok := c.values.Get(p.Head); ok && len(p.Fields) > 0 {
		return nil, nil, &formula.Error{Code: "name-unknown", Msg: "`" + p.Head + "` is a value, it has no `" +
			p.Fields[0] + "`", Hint: "only .min, .typ and .max follow a value"}
	}
	return nil, nil, nil
}

// plain resolves a name that stands alone.
func (s *scope) plain(name string) *symbol {
	c := s.c
	if v, ok := c.values.Get(name); ok {
		return v
	}
	if name == "ambient" {
		return c.ambient()
	}
	if n, ok := c.Nets.Get(name); ok {
		return c.netInFormula(n)
	}
	if m, ok := c.Comps.Get(name); ok {
		return c.componentSymbol(m)
	}
	return nil
}

func (s *scope) hint(p *formula.Path) string {
	c := s.c
	if f := p.Fields; len(f) > 0 {
		if m, ok := c.Comps.Get(p.Head); ok && m.Part != nil {
			return notebook.HintNear(f[len(f)-1], m.Part.FactNames())
		}
		return notebook.HintNear(p.Head, append(c.Comps.Names(), c.Parts.Names()...))
	}
	all := append(c.values.Names(), c.Nets.Names()...)
	all = append(all, c.Comps.Names()...)
	if s.comp != nil && s.comp.Part != nil {
		all = append(all, s.comp.Part.FactNames()...)
	}
	return notebook.HintNear(p.Head, all)
}

// Fresh implements formula.Scope: an independent copy of every leaf of v.
func (s *scope) Fresh(v formula.Value) (formula.Value, *formula.Error) {
	if v.Class != formula.Number {
		return v, nil
	}
	vars := s.c.b.Vars(v.Reg)
	if len(vars) == 0 {
		return v, nil
	}
	sub := map[int]bound.Reg{}
	for _, n := range vars {
		old := s.c.inputs[n]
		sub[n] = s.c.newInput(&input{sym: old.sym, name: old.name + " (another)", typ: old.typ, unit: old.unit, of: old.original()})
	}
	v.Reg = s.c.b.Substitute(v.Reg, sub)
	return v, nil
}

// Note implements formula.Noter: it keeps what may have no value, in words.
func (s *scope) Note(r bound.Reg, n *formula.Node, src, valid string) {
	if _, ok := s.c.notes[r]; !ok {
		s.c.notes[r] = undefinedNote{text: "`" + n.Canonical(src) + "`", valid: valid}
	}
}

// undefinedNote is a piece of a formula that may have no value; valid is the
// range of validity of a function of the trade, whole says all of it.
type undefinedNote struct{ text, valid, whole string }

// Nominal implements formula.Scope.
// Rows that are known not to hold by now have no say in it.
func (s *scope) Nominal(r bound.Reg) (*big.Rat, bool) {
	for _, n := range s.c.b.Vars(r) {
		if y := s.c.inputs[n].sym; y != nil && y.state == done && conditional(y) {
			s.c.dropRows(y)
		}
	}
	return s.c.nominal(r)
}

// NewVar implements formula.Scope: a number that may stand anywhere.
func (s *scope) NewVar(lo, hi *big.Rat, name string) bound.Reg {
	return s.c.newInput(&input{name: name, in: bound.Input{Lo: lo, Hi: hi, SureLo: lo, SureHi: hi}})
}

// newInput enters a leaf and gives its place in the graph.
func (c *compiler) newInput(in *input) bound.Reg {
	in.num = len(c.inputs)
	c.inputs = append(c.inputs, in)
	return c.b.Var(in.num)
}

// nominal works out a number at the centres of its leaves.
func (c *compiler) nominal(r bound.Reg) (*big.Rat, bool) {
	if v, ok := c.b.ConstOf(r); ok {
		return v, true
	}
	p := c.b.Extract(r)
	at := make([]*big.Rat, len(p.Inputs()))
	for i, n := range p.Inputs() {
		if at[i] = c.inputs[n].set().Centre; at[i] == nil {
			return nil, false
		}
	}
	lo, hi, exact, undef := bound.At(p, 0, at)
	if undef != nil {
		return nil, false
	}
	if exact != nil {
		return exact, true
	}
	v := new(big.Rat).SetFloat64(lo/2 + hi/2)
	return v, v != nil
}

// lower works out a symbol once. A circle is told where it closes.
func (c *compiler) lower(y *symbol) {
	switch y.state {
	case done:
		return
	case busy:
		c.circle(y)
		return
	}
	y.state = busy
	depth := len(c.path)
	c.path = append(c.path, y)
	if fault := isolate(func() { c.define(y) }); fault != "" {
		y.val = formula.Value{}
		at := notebook.Text{}
		if y.entry != nil {
			at = y.entry.Text
		}
		c.tellFault(at, "`"+y.name+"`", fault)
	}
	c.path = c.path[:depth]
	y.state = done
}

// circle complains about names that are made of themselves.
func (c *compiler) circle(y *symbol) {
	i := max(0, slices.Index(c.path, y))
	t, names := notebook.Text{}, ""
	var rel []notebook.Related
	for _, z := range c.path[i:] {
		if names += z.name + " → "; z.entry != nil {
			if t.Src == nil {
				t = z.entry.NameText
			} else {
				rel = append(rel, related(z.entry, fmt.Sprintf("`%s` is defined here", z.name)))
			}
		}
	}
	c.diagnose(notebook.Err, "circle", t, "circular definition: "+names+y.name,
		"state one of them as a range and add a claim for it", rel...)
}

// number makes an exact value of a quantity.
func (c *compiler) number(q units.Quantity) formula.Value {
	u := q.Unit
	return formula.Value{Class: formula.Number, Type: q.Type, Reg: c.b.Const(q.SI), Unit: &u, Fixed: true, Given: true}
}
