package formula

import (
	"math/big"

	"guardband/eval/bound"
	"guardband/units"
)

// checker gives types to the nodes of one formula and lowers them.
type checker struct {
	lang  *Language
	src   string
	scope Scope
	b     *bound.Builder
	note  Noter
	errs  []*Error
	items *int // of the Checker

	item *Value     // what ".NAME" speaks of, nil outside of lists
	crit *criterion // nil where no tests are kept
}

func (c *checker) fail(n *Node, code, msg, hint string) {
	c.add(&Error{Off: n.Off(), End: n.End(), Code: code, Msg: msg, Hint: hint})
}

// add keeps a complaint once; shared nodes may be visited twice.
func (c *checker) add(e *Error) {
	if len(c.errs) >= maxErrors {
		return
	}
	for _, o := range c.errs {
		if *o == *e {
			return
		}
	}
	c.errs = append(c.errs, e)
}

// typed is the text of a node as typed.
func (c *checker) typed(n *Node) string {
	if n.Off() < 0 || n.End() > len(c.src) || n.Off() > n.End() {
		return ""
	}
	return c.src[n.Off():n.End()]
}

// typeError places a complaint of the dimension table at a node.
func (c *checker) typeError(n *Node, err *units.Error) {
	c.add(&Error{Off: n.Off(), End: n.End(), Code: err.Code, Msg: err.Msg, Hint: err.Hint})
}

func (c *checker) noteAt(r bound.Reg, n *Node) {
	if c.note != nil {
		c.note.Note(r, n, c.src, "")
	}
}

// eval gives a node its value. Bad is returned, without a second complaint,
// where a part of it is wrong.
func (c *checker) eval(n *Node) Value {
	switch n.Kind {
	case NodeLiteral:
		return c.literal(n)
	case NodeRange:
		return c.literalRange(n)
	case NodeText:
		return TextValue(n.Word)
	case NodeName:
		return c.name(n)
	case NodeParen:
		return c.eval(n.Args[0])
	case NodeField:
		return c.field(n)
	case NodeList:
		return c.list(n)
	case NodeUnary:
		if n.Word == "-" {
			return c.negate(n)
		}
	case NodeBinary:
		if n.Word != "and" && n.Word != "or" {
			return c.arithmetic(n)
		}
	case NodeIf:
		if !isCondition(n) {
			return c.conditional(n)
		}
	case NodeCall:
		if !isCondition(n) {
			return c.call(n)
		}
	case NodeBad:
		return Value{}
	}
	return c.condition(n)
}

// condition evaluates a condition that is no conjunct of a claim: its tests
// carry no margin.
func (c *checker) condition(n *Node) Value {
	p := untested(c, n, c.pred)
	if !p.ok {
		return Value{}
	}
	return Value{Class: Bool, Reg: p.plain, Fixed: p.fixed}
}

func (c *checker) literal(n *Node) Value {
	t := n.Lit.Type
	if t.Kind == units.Kelvin { // written out in a formula it is a difference
		t.Kind = units.Plain
	}
	return Value{Class: Number, Type: t, Reg: c.b.Const(n.Lit.SI), Unit: &n.Lit.Unit, Fixed: true, Given: true}
}

func (c *checker) literalRange(n *Node) Value {
	v := Value{Class: Set, Fixed: true, Given: true}
	if a := n.Args[0]; a.Kind == NodeLiteral {
		lo := c.literal(a)
		v.Lo, v.Type, v.Unit = &lo, lo.Type, lo.Unit
	}
	if a := n.Args[1]; a.Kind == NodeLiteral {
		hi := c.literal(a)
		v.Hi, v.Type, v.Unit = &hi, hi.Type, hi.Unit
	}
	return v
}

func (c *checker) name(n *Node) Value {
	p := n.Path
	if isPi(p) {
		return Value{Class: Number, Reg: c.b.Pi(), Fixed: true, Given: true}
	}
	v, err := c.scope.Lookup(p, n.Off(), n.End())
	if err != nil {
		c.add(c.placed(err, n))
		return Value{}
	}
	return v
}

func isPi(p *Path) bool { return p.Head == "pi" && !p.HasArg && len(p.Fields) == 0 && p.Column == "" }

// placed gives an error of the scope the place of a node if it has none.
func (c *checker) placed(err *Error, n *Node) *Error {
	if err.End <= err.Off {
		e := *err
		e.Off, e.End = n.Off(), n.End()
		return &e
	}
	return err
}

func (c *checker) field(n *Node) Value {
	if c.item == nil {
		c.fail(n, "list-field", "`."+n.Word+"` speaks of the items of a list, and there is none here", "write sum(LIST, ."+n.Word+")")
		return Value{}
	}
	if c.item.Class == Bad {
		return Value{}
	}
	if !c.item.isPart() {
		c.fail(n, "list-field", "the items of this list have no `."+n.Word+"`", "")
		return Value{}
	}
	v, err := c.item.Thing.Fields(n.Word)
	if err != nil {
		e := *err
		e.Off, e.End = n.Off(), n.End()
		c.add(&e)
		return Value{}
	}
	return v
}

func (c *checker) list(n *Node) Value {
	list := &Thing{Items: make([]Value, 0, len(n.Args))}
	v := Value{Class: List, Fixed: true, Thing: list}
	for _, a := range n.Args {
		x := c.eval(a)
		if x.Class == Bad {
			v.Class = Bad
		}
		if x.Class == List { // lists of runs of designators are flattened
			list.Items = append(list.Items, x.items()...)
			v.Fixed = v.Fixed && x.Fixed
			continue
		}
		if a.Kind == NodeName && x.Str() == "" {
			x = x.named(a.Path.Text())
		}
		list.Items = append(list.Items, x)
		v.Fixed = v.Fixed && x.Fixed
	}
	return v
}

// number evaluates a node that must be a number.
func (c *checker) number(n *Node) (Value, bool) {
	v := c.eval(n)
	return v, c.isNumber(n, v)
}

func (c *checker) isNumber(n *Node, v Value) bool {
	switch v.Class {
	case Number:
		return true
	case Set:
		hint := "`x inside " + c.typed(n) + "`, or one end by column: `" + c.typed(n) + ".min`"
		c.fail(n, "limit-as-number", "`"+c.typed(n)+"` is a limit, a set of values, not a number", hint)
	case Bool:
		c.fail(n, "condition-as-number", "`"+c.typed(n)+"` is a condition, not a number", "put parentheses round the comparison that is meant")
	case List:
		c.fail(n, "list-as-number", "`"+c.typed(n)+"` is a list, not a number", "take sum, max or min of it, or put the formula inside each(...)")
	case Text:
		c.fail(n, "text-as-number", "`"+c.typed(n)+"` is text, not a number", "")
	}
	return false
}

// conditional is "cond ? one : other" of numbers or conditions.
func (c *checker) conditional(n *Node) Value {
	cond := c.condition(n.Args[0])
	a, b := c.eval(n.Args[1]), c.eval(n.Args[2])
	if cond.Class == Bad || a.Class == Bad || b.Class == Bad {
		return Value{}
	}
	if a.Class == Bool && b.Class == Bool {
		return Value{Class: Bool, Reg: c.b.If(cond.Reg, a.Reg, b.Reg), Fixed: cond.Fixed && a.Fixed && b.Fixed}
	}
	if a.Class == Bool || b.Class == Bool {
		c.fail(n, "condition-kind", "one of `"+c.typed(n.Args[1])+"` and `"+c.typed(n.Args[2])+"` is a condition, the other is not", "")
		return Value{}
	}
	if !c.isNumber(n.Args[1], a) || !c.isNumber(n.Args[2], b) {
		return Value{}
	}
	t, ok := c.common(n, a, b, c.typed(n.Args[1]), c.typed(n.Args[2]))
	if !ok {
		return Value{}
	}
	return Value{Class: Number, Type: t, Reg: c.b.If(cond.Reg, a.Reg, b.Reg), Unit: commonUnit(a, b),
		Fixed: cond.Fixed && a.Fixed && b.Fixed}
}

// common is the type of a number that may be a or b, which must be comparable.
func (c *checker) common(n *Node, a, b Value, at, bt string) (units.Type, bool) {
	t, err := units.Combine("<=", a.Type, b.Type, at, bt)
	if err != nil {
		c.typeError(n, err)
	}
	return t, err == nil
}

// commonUnit is the unit to show one of two like numbers in.
func commonUnit(a, b Value) *units.Unit {
	if a.Unit != nil {
		return a.Unit
	}
	return b.Unit
}

// constant is the number num / den.
func (c *checker) constant(num, den int64) bound.Reg { return c.b.Const(big.NewRat(num, den)) }
