package formula

import (
	"guardband/eval/bound"
	"guardband/units"
)

// inside is membership in a range, a limit, the columns of a given value, or
// a list.
func (c *checker) inside(n *Node) pred {
	if n.Word == "not inside" {
		defer c.aside("not")()
	}
	v := c.operand(n.Args[0])
	s := c.set(n.Args[1])
	if v.Class == Bad || s.Class == Bad {
		return pred{}
	}
	var p pred
	if v.Class == List {
		p = c.everyItem(n, 0, []Value{v, s})
	} else {
		p = c.member(n, v, s, c.texts(n))
	}
	if p.ok && n.Word == "not inside" {
		p.plain = c.b.Unary(bound.OpNot, p.plain)
		p.reg = p.plain
	}
	return p
}

// set evaluates the right side of inside to a Set or a List.
func (c *checker) set(n *Node) Value {
	v := c.operand(n)
	switch {
	case v.Class == Bad || v.Class == Set || v.Class == List:
		return v
	case v.Class != Number:
		c.fail(n, "inside-set", "write a range after `inside`", "as in `x inside 2.7 V to 3.6 V`")
		return Value{}
	case v.Lo != nil || v.Hi != nil:
		return Value{Class: Set, Type: v.Type, Unit: v.Unit, Lo: v.Lo, Hi: v.Hi, Fixed: v.Fixed, Given: true}
	}
	if at := n.bare(); at.Kind == NodeName && at.Path.Column == "" && v.Given && at.Path.Head != "pi" {
		return c.columnsOf(at, v)
	}
	hint := "write `" + c.typed(n) + "` as a range, or compare with `==`, `<=`"
	if v.Class == Number && !v.Given {
		hint = "a range between formulas is a chain: `A <= x <= B`"
	}
	c.fail(n, "inside-set", "`"+c.typed(n)+"` is one number, not a range", hint)
	return Value{}
}

// columnsOf makes a range of the columns of a given value.
func (c *checker) columnsOf(n *Node, v Value) Value {
	s := Value{Class: Set, Type: v.Type, Unit: v.Unit, Fixed: true, Given: true}
	for _, column := range []string{"min", "max"} {
		end, err := c.scope.Lookup(n.Path.column(column), n.Off(), n.End())
		if err != nil {
			c.add(c.placed(err, n))
			return Value{}
		}
		if end.Class != Number {
			return Value{}
		}
		s.Fixed = s.Fixed && end.Fixed
		if column == "min" {
			s.Lo = &end
		} else {
			s.Hi = &end
		}
	}
	return s
}

// member tests one value against a set or a list.
func (c *checker) member(n *Node, v, s Value, texts []string) pred {
	if s.Class == List {
		return c.listed(n, v, s, texts)
	}
	if !c.isNumber(n.Args[0], v) {
		return pred{}
	}
	if !c.fits(n, v, s.Lo) || !c.fits(n, v, s.Hi) {
		return pred{}
	}
	if s.Lo == nil && s.Hi == nil {
		return c.unlimited(n, v, s, texts)
	}
	span := bound.Reg(0)
	if s.Lo != nil && s.Hi != nil && c.crit != nil {
		span = c.b.Binary(bound.OpSub, s.Hi.Reg, s.Lo.Reg)
	}
	p := c.truth(true)
	if s.Lo != nil {
		p = c.join(bound.OpAnd, p, c.edge(n, ">=", v, *s.Lo, span, texts))
	}
	if s.Hi != nil {
		p = c.join(bound.OpAnd, p, c.edge(n, "<=", v, *s.Hi, span, texts))
	}
	return p
}

// fits checks the type of one end of a set.
func (c *checker) fits(n *Node, v Value, end *Value) bool {
	if end == nil {
		return true
	}
	_, err := units.Combine("<=", v.Type, end.Type, c.typed(n.Args[0]), c.typed(n.Args[1]))
	if err != nil {
		c.typeError(n, err)
	}
	return err == nil
}

// edge tests one end of a set.
func (c *checker) edge(n *Node, op string, v, end Value, span bound.Reg, texts []string) pred {
	t := Test{Op: op, Left: v, Right: end, LimitRight: true}
	c.word(&t, n, 0, texts)
	return c.test(t, span)
}

// unlimited is membership in a set without ends, which always holds.
func (c *checker) unlimited(n *Node, v, s Value, texts []string) pred {
	p := c.truth(true)
	if c.crit != nil {
		t := Test{Op: "<=", Left: v, Right: s, LimitRight: true, NoLimit: true, Holds: p.plain}
		c.word(&t, n, 0, texts)
		c.keep(t)
	}
	return p
}

// listed tests whether a value equals an item of a list, or lies in one that
// is itself a range.
func (c *checker) listed(n *Node, v, s Value, texts []string) pred {
	c.noMargin("membership in a list")
	any := c.truth(false)
	held := c.crit
	c.crit = nil
	for _, item := range s.items() {
		any = c.join(bound.OpOr, any, c.isItem(n, v, item))
	}
	c.crit = held
	if any.ok && c.crit != nil {
		t := Test{Op: "==", Left: v, Right: s, LimitRight: true, NoLimit: true, Holds: any.plain}
		c.word(&t, n, 0, texts)
		c.keep(t)
	}
	return any
}

func (c *checker) isItem(n *Node, v, item Value) pred {
	switch {
	case item.Class == Set:
		return c.member(n, v, item, nil)
	case item.Class == Text && v.Class == Text:
		return c.truth(item.Str() == v.Str())
	}
	if !c.isNumber(n.Args[0], v) || !c.isNumber(n.Args[1], item) || !c.fits(n, v, &item) {
		return pred{}
	}
	r := c.b.Binary(bound.OpEqual, v.Reg, item.Reg)
	return pred{reg: r, plain: r, fixed: v.Fixed && item.Fixed, ok: true}
}
