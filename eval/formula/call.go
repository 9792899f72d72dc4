package formula

import (
	"math/big"
	"strconv"
	"strings"

	"guardband/eval/bound"
	"guardband/units"
)

// call evaluates a function call: built-in, of the trade, or a name with a
// pin in parentheses.
func (c *checker) call(n *Node) Value {
	if b, ok := c.lang.builtin[n.Word]; ok {
		return b.run(c, n)
	}
	if f, ok := c.lang.trade[n.Word]; ok {
		return c.callTrade(n, f)
	}
	return c.pinOrUnknown(n)
}

// pinOrUnknown reads V_OH(PA3) as a name with a pin where the scope knows it.
func (c *checker) pinOrUnknown(n *Node) Value {
	if len(n.Args) == 1 && n.Args[0].Kind == NodeName && len(n.Args[0].Path.Fields) == 0 && !n.Args[0].Path.HasArg {
		pin := n.Args[0].Path.Head
		v, err := c.scope.Lookup(&Path{Head: n.Word, Selector: pin}, n.Off(), n.End())
		if err == nil {
			return v
		}
	}
	hint := "the functions are listed by the command `formulas`"
	if near := nearest(n.Word, c.lang.names); near != "" {
		hint = "did you mean `" + near + "`?"
	}
	c.fail(n, "function-unknown", "unknown function `"+n.Word+"`", hint)
	for _, a := range n.Args {
		if !mentionsField(a) {
			c.eval(a) // for the complaints about its names
		}
	}
	return Value{}
}

func mentionsField(n *Node) bool {
	found := false
	Walk(n, func(m *Node) { found = found || m.Kind == NodeField })
	return found
}

// arity checks the number of arguments; most < 0 is any number.
func (c *checker) arity(n *Node, least, most int) bool {
	k := len(n.Args)
	if k >= least && (most < 0 || k <= most) {
		return true
	}
	want := strconv.Itoa(least)
	switch {
	case most < 0:
		want = "at least " + want
	case most > least:
		want += " to " + strconv.Itoa(most)
	}
	noun := " arguments"
	if most == 1 || most < 0 && least == 1 {
		noun = " argument"
	}
	c.fail(n, "function-arguments", "`"+n.Word+"` takes "+want+noun+", not "+strconv.Itoa(k), c.signature(n.Word))
	return false
}

// signature is how a function is called, for hints.
func (c *checker) signature(name string) string {
	var params []Param
	if b, ok := c.lang.builtin[name]; ok {
		params = b.Params
	} else if f, ok := c.lang.trade[name]; ok {
		params = f.Params
	}
	if len(params) == 0 {
		return ""
	}
	var names []string
	for _, p := range params {
		if p.Default != "" {
			names = append(names, p.Name+" = "+p.Default)
			continue
		}
		names = append(names, p.Name)
	}
	return "write `" + name + "(" + strings.Join(names, ", ") + ")`"
}

// callTrade evaluates the body of a trade function over the arguments.
func (c *checker) callTrade(n *Node, f *tradeFunction) Value {
	least := 0
	for i, p := range f.Params {
		if p.Default == "" {
			least = i + 1
		}
	}
	if !c.arity(n, least, len(f.Params)) {
		return Value{}
	}
	parsed := f.parsed()
	if len(parsed.errs) > 0 {
		c.fail(n, "function-body", "the formula of `"+f.Name+"` cannot be read: "+parsed.errs[0].Msg, "")
		return Value{}
	}
	s := &paramScope{Scope: c.scope, params: f.Params, values: make([]Value, len(f.Params))}
	ok, fixed := true, true
	for i := range f.Params {
		s.values[i] = c.argument(n, f, parsed, i)
		ok = ok && s.values[i].Class == Number
		fixed = fixed && s.values[i].Fixed
	}
	if !ok {
		return Value{}
	}
	v := c.body(n, f, parsed, s)
	v.Fixed = fixed
	return v
}

// argument evaluates argument i against its parameter.
func (c *checker) argument(n *Node, f *tradeFunction, parsed parsedFunction, i int) Value {
	p := f.Params[i]
	if i >= len(n.Args) {
		inner := c.inner(parsed.defaults[i].Text, c.scope)
		v := inner.eval(parsed.defaults[i].Root)
		v.Type = p.Type
		return v
	}
	a := n.Args[i]
	v, ok := c.number(a)
	if !ok {
		return Value{}
	}
	_, err := units.Combine("<=", v.Type, p.Type, c.typed(a), p.Name)
	if err != nil || v.Type.Dim != p.Type.Dim {
		c.fail(a, "function-argument", "`"+p.Name+"` of `"+f.Name+"` is "+p.Type.Words()+" ("+p.Doc+"); `"+c.typed(a)+
			"` is "+v.Type.Words(), c.signature(f.Name))
		return Value{}
	}
	v.Type = p.Type
	return v
}

// inner is a checker for a text of a trade function.
func (c *checker) inner(src string, s Scope) *checker {
	return &checker{lang: c.lang, src: src, scope: s, b: c.b, note: c.note, items: c.items}
}

// body evaluates a trade function inside its range of validity.
func (c *checker) body(n *Node, f *tradeFunction, parsed parsedFunction, s Scope) Value {
	in := c.inner(f.Body, s)
	v := in.eval(parsed.body.Root)
	if len(in.errs) > 0 || v.Class != Number {
		msg := "it does not give a number"
		if len(in.errs) > 0 {
			msg = in.errs[0].Msg
		}
		c.fail(n, "function-body", "the formula of `"+f.Name+"` cannot be worked out here: "+msg, "")
		return Value{}
	}
	for k := len(parsed.valid) - 1; k >= 0; k-- {
		e := parsed.valid[k]
		in := c.inner(e.Text, s)
		p := in.pred(e.Root)
		if !p.ok {
			c.fail(n, "function-body", "the validity of `"+f.Name+"` cannot be worked out: `"+e.Text+"`", "")
			return Value{}
		}
		v.Reg = c.guard(n, f, k, p.plain, v.Reg, e)
	}
	v = v.worked()
	v.Type = f.Result
	v.Unit = resultUnit(f.Unit)
	return v
}

// guard leaves a value undefined where a condition of validity fails. The
// root of a negative number of its own stands for "no value", so that the
// register tells which condition it was.
func (c *checker) guard(n *Node, f *tradeFunction, k int, cond, value bound.Reg, e *Expr) bound.Reg {
	if cond == c.b.True() {
		return value
	}
	code := big.NewRat(-int64(f.number*64+k), 1)
	none := c.b.Unary(bound.OpSqrt, c.b.Const(code))
	if c.note != nil {
		c.note.Note(none, n, c.src, f.Name+" is valid for "+e.Root.Canonical(e.Text))
	}
	return c.b.If(cond, value, none)
}

// resultUnit is the unit to show a result in where an engineering prefix
// would not do: scales, levels, and units that are no SI unit.
func resultUnit(symbol string) *units.Unit {
	if symbol == "" {
		return nil
	}
	u, err := units.ParseUnit(symbol)
	if err != nil || u.Type.Kind == units.Plain && u.Factor != nil && u.Factor.Cmp(big.NewRat(1, 1)) == 0 {
		return nil
	}
	return &u
}

// paramScope knows the parameters of a trade function and nothing else.
type paramScope struct {
	Scope
	params []Param
	values []Value
}

// Lookup finds a parameter.
func (s *paramScope) Lookup(p *Path, off, end int) (Value, *Error) {
	if p.Alone() {
		for i := range s.params {
			if s.params[i].Name == p.Head {
				return s.values[i], nil
			}
		}
	}
	return Value{}, &Error{Off: off, End: end, Code: "name-unknown", Msg: "`" + p.Text() + "` is not a parameter"}
}
