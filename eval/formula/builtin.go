package formula

import (
	"strings"

	"guardband/eval/bound"
	"guardband/units"
)

// builtin is a function of the language itself.
type builtin struct {
	Function
	run func(c *checker, n *Node) Value
}

// entry describes a built-in function for help.
func entry(group, name, params, doc string, run func(c *checker, n *Node) Value) builtin {
	f := Function{Name: name, Doc: doc, Group: group, Source: "definition"}
	for _, p := range strings.Fields(params) {
		f.Params = append(f.Params, Param{Name: p})
	}
	return builtin{Function: f, run: run}
}

// builtins are the functions of the language itself.
func builtins() []builtin {
	fold := func(op bound.Op) func(*checker, *Node) Value {
		return func(c *checker, n *Node) Value { return c.fold(n, op) }
	}
	plain := func(op bound.Op) func(*checker, *Node) Value {
		return one(func(c *checker, n *Node, v Value) Value { return c.plainFunction(n, v, op) })
	}
	const (
		num = "built in: numbers"
		lis = "built in: lists"
		tem = "built in: temperatures, alternating quantities, levels"
	)
	out := []builtin{
		entry(num, "abs", "x", "magnitude", one((*checker).abs)),
		entry(num, "sqrt", "x", "square root, of the dimension too", one((*checker).sqrt)),
		entry(num, "exp", "x", "e to the x, of a plain number", plain(bound.OpExp)),
		entry(num, "ln", "x", "natural logarithm, of a plain number above 0", plain(bound.OpLn)),
		entry(num, "log10", "x", "decimal logarithm, of a plain number above 0", plain(bound.OpLog10)),
		entry(num, "sin", "angle", "sine; a plain number is in radians", plain(bound.OpSin)),
		entry(num, "cos", "angle", "cosine", plain(bound.OpCos)),
		entry(num, "tan", "angle", "tangent", plain(bound.OpTan)),
		entry(num, "asin", "x", "angle whose sine is x", plain(bound.OpAsin)),
		entry(num, "acos", "x", "angle whose cosine is x", plain(bound.OpAcos)),
		entry(num, "atan", "x", "angle whose tangent is x", plain(bound.OpAtan)),
		entry(num, "another", "x", "a fresh copy of x: another instant, another channel", (*checker).another),
		entry(lis, "min", "a b", "smallest of numbers or of a list", fold(bound.OpMin)),
		entry(lis, "max", "a b", "largest of numbers or of a list", fold(bound.OpMax)),
		entry(lis, "sum", "LIST .NAME", "sum of a list, or of a formula over its items", fold(bound.OpAdd)),
		entry(lis, "parallel", "a b", "1 / (1/a + 1/b + ...): resistors or inductors side by side, capacitors in a row", (*checker).parallel),
		entry(lis, "all", "LIST condition", "true where every item meets the condition", (*checker).condition),
		entry(lis, "any", "LIST condition", "true where some item meets the condition", (*checker).condition),
		entry(lis, "count", "LIST condition", "number of items, or of those that meet the condition", (*checker).count),
		entry(lis, "each", "LIST formula",
			"list of a formula's values over the items; `each(C4-C9, .C)` names a run of designators", (*checker).each),
	}
	out = append(out, preferredBuiltins(num)...)
	return append(append(out, scaleBuiltins(tem)...), levelBuiltins(tem)...)
}

// one is a function of one argument, a number.
func one(run func(c *checker, n *Node, v Value) Value) func(c *checker, n *Node) Value {
	return func(c *checker, n *Node) Value {
		if !c.arity(n, 1, 1) {
			return Value{}
		}
		v, ok := c.number(n.Args[0])
		if !ok {
			return Value{}
		}
		return run(c, n, v.worked())
	}
}

// plainFunction is a function of a plain number that gives a plain number.
func (c *checker) plainFunction(n *Node, v Value, op bound.Op) Value {
	if v.Type != (units.Type{}) {
		c.fail(n.Args[0], "function-argument", "`"+n.Word+"` takes a plain number; `"+c.typed(n.Args[0])+"` is "+
			v.Type.Words(), "divide by a unit or a value of the same kind")
		return Value{}
	}
	r := c.b.Unary(op, v.Reg)
	c.noteAt(r, n)
	return Value{Class: Number, Reg: r, Fixed: v.Fixed}
}

// onScale refuses temperatures on a scale and levels.
func (c *checker) onScale(n *Node, v Value) bool {
	switch v.Type.Kind {
	case units.Point:
		c.fail(n.Args[0], "type-point", "`"+n.Word+"` of a temperature on a scale means nothing",
			"take a difference, or kelvin("+c.typed(n.Args[0])+")")
	case units.Level:
		c.fail(n.Args[0], "type-level", "`"+n.Word+"` of an absolute level means nothing",
			"take a difference of levels, or from_level("+c.typed(n.Args[0])+")")
	default:
		return false
	}
	return true
}

func (c *checker) abs(n *Node, v Value) Value {
	if c.onScale(n, v) {
		return Value{}
	}
	if v.Type.Kind == units.Kelvin {
		v.Type.Kind = units.Plain
	}
	v.Reg = c.b.Unary(bound.OpAbs, v.Reg)
	return v
}

func (c *checker) sqrt(n *Node, v Value) Value {
	if c.onScale(n, v) {
		return Value{}
	}
	typ, err := units.Power(v.Type, 1, 2, c.typed(n.Args[0]))
	if err != nil {
		c.fail(n.Args[0], err.Code, err.Msg, err.Hint)
		return Value{}
	}
	r := c.b.Unary(bound.OpSqrt, v.Reg)
	c.noteAt(r, n)
	return Value{Class: Number, Type: typ, Reg: r, Fixed: v.Fixed}
}

// another makes a fresh copy of a value's inputs.
func (c *checker) another(n *Node) Value {
	if !c.arity(n, 1, 1) {
		return Value{}
	}
	v := c.eval(n.Args[0])
	if v.Class == Bad {
		return v
	}
	fresh, err := c.scope.Fresh(v)
	if err != nil {
		c.add(c.placed(err, n))
		return Value{}
	}
	return fresh
}

// parallel is 1 / (1/a + 1/b + ...); every value stands in it once, which
// keeps its bounds tight.
func (c *checker) parallel(n *Node) Value {
	vals, at, ok := c.numbersOf(n)
	if !ok {
		return Value{}
	}
	one := c.constant(1, 1)
	var sum bound.Reg
	fixed := true
	for i, v := range vals {
		if v.Type.Kind != units.Plain || v.Type.Wave != units.NoWave {
			c.fail(at[i], "function-argument", "`parallel` takes resistances, inductances and the like; this is "+v.Type.Words(), "")
			return Value{}
		}
		if _, ok := c.common(n, vals[0], v, c.typed(at[0]), c.typed(at[i])); !ok {
			return Value{}
		}
		r := c.b.Binary(bound.OpDiv, one, v.Reg)
		c.noteAt(r, n)
		if i > 0 {
			r = c.b.Binary(bound.OpAdd, sum, r)
		}
		sum, fixed = r, fixed && v.Fixed
	}
	r := c.b.Binary(bound.OpDiv, one, sum)
	c.noteAt(r, n)
	return Value{Class: Number, Type: vals[0].Type, Reg: r, Unit: vals[0].Unit, Fixed: fixed}
}
