package formula

import (
	"guardband/eval/bound"
	"guardband/units"
)

// itemsOf evaluates the first argument to a list.
func (c *checker) itemsOf(n *Node) ([]Value, bool) {
	if *c.items > mostItems {
		c.tooManyItems(n)
		return nil, false
	}
	v := c.eval(n.Args[0])
	switch {
	case v.Class == List:
		return v.items(), true
	case v.Class == Bad:
		return nil, false
	case v.isPart() || n.Word == "each": // one part is a list of one
		if v.Str() == "" {
			v = v.named(c.typed(n.Args[0]))
		}
		return []Value{v}, true
	}
	c.fail(n.Args[0], "list-missing", "`"+c.typed(n.Args[0])+"` is not a list", "write `"+n.Word+"([A, B], ...)`")
	return nil, false
}

// mostItems bounds the items of lists that all formulas of a design look at: a list within a list takes the
// product of both.
const mostItems = 500_000

// perItem calls f with every item as what ".NAME" speaks of.
func (c *checker) perItem(n *Node, items []Value, f func(i int)) {
	held := c.item
	for i := range items {
		if *c.items++; *c.items > mostItems {
			c.tooManyItems(n)
			break
		}
		c.item = &items[i]
		f(i)
	}
	c.item = held
}

// numbersOf evaluates the arguments of sum, min, max: a list, a list with a
// formula over its items, or several numbers.
func (c *checker) numbersOf(n *Node) ([]Value, []*Node, bool) {
	if !c.arity(n, 1, -1) {
		return nil, nil, false
	}
	var out []Value
	var at []*Node
	ok := true
	take := func(a *Node, v Value) {
		ok = c.isNumber(a, v) && ok
		out, at = append(out, v), append(at, a)
	}
	switch {
	case len(n.Args) == 2 && mentionsField(n.Args[1]):
		items, found := c.itemsOf(n)
		c.perItem(n, items, func(int) { take(n.Args[1], c.eval(n.Args[1])) })
		ok = ok && found
	case len(n.Args) == 1:
		items, found := c.itemsOf(n)
		for _, v := range items {
			take(n.Args[0], v)
		}
		ok = ok && found
	default:
		for _, a := range n.Args {
			take(a, c.eval(a))
		}
	}
	if ok && len(out) == 0 {
		c.fail(n, "list-empty", "`"+n.Word+"` of an empty list has no value", "")
		ok = false
	}
	return out, at, ok
}

// fold combines numbers from left to right.
func (c *checker) fold(n *Node, op bound.Op) Value {
	vals, at, ok := c.numbersOf(n)
	if !ok {
		return Value{}
	}
	acc := vals[0].worked()
	for i, v := range vals[1:] {
		t, ok := c.folded(n, op, acc, v, c.typed(at[0]), c.typed(at[i+1]))
		if !ok {
			return Value{}
		}
		acc.Reg = c.b.Binary(op, acc.Reg, v.Reg)
		acc.Fixed = acc.Fixed && v.Fixed
		acc.Type, acc.Unit = t, commonUnit(acc, v)
	}
	return acc
}

func (c *checker) folded(n *Node, op bound.Op, a, b Value, at, bt string) (units.Type, bool) {
	if op != bound.OpAdd {
		return c.common(n, a, b, at, bt)
	}
	t, err := units.Combine("+", a.Type, b.Type, at, bt)
	if err != nil {
		c.typeError(n, err)
	}
	return t, err == nil
}

func (c *checker) tooManyItems(n *Node) {
	c.fail(n, "list-work", "the formulas of this design look at more than 500,000 items of lists",
		"give what is asked of a long list a name, and use that")
}

// predsOf evaluates the arguments of all, any, count: a list of conditions,
// or a list with a condition over its items.
func (c *checker) predsOf(n *Node) ([]pred, bool) {
	if !c.arity(n, 1, 2) {
		return nil, false
	}
	if len(n.Args) == 1 {
		return c.listedPreds(n)
	}
	items, ok := c.itemsOf(n)
	var out []pred
	c.perItem(n, items, func(int) {
		p := c.pred(n.Args[1])
		ok = ok && p.ok
		out = append(out, p)
	})
	return out, ok
}

// listedPreds evaluates "[A <= 1 V, B <= 2 V]" item by item, so that their
// tests are kept.
func (c *checker) listedPreds(n *Node) ([]pred, bool) {
	list := n.Args[0].bare()
	var out []pred
	ok := true
	if list.Kind == NodeList {
		for _, a := range list.Args {
			p := c.pred(a)
			ok = ok && p.ok
			out = append(out, p)
		}
		return out, ok
	}
	items, ok := c.itemsOf(n)
	for _, v := range items {
		if v.Class != Bool {
			c.fail(list, "condition-missing", "the items of this list are not conditions",
				"give a condition as second argument, as in "+n.Word+"(LIST, .I <= 5 mA)")
			return nil, false
		}
		out = append(out, pred{reg: v.Reg, plain: v.Reg, fixed: v.Fixed, ok: true})
	}
	return out, ok
}

// joined joins the items of a list, beginning with what holds of none. Those of
// all are conjuncts of the claim.
func (c *checker) joined(n *Node, op bound.Op, none bool) pred {
	preds, ok := c.predsOf(n)
	if !ok {
		return pred{}
	}
	out := c.truth(none)
	for _, p := range preds {
		out = c.join(op, out, p)
	}
	return out
}

// count is the number of items that hold, or of items alone.
func (c *checker) count(n *Node) Value {
	if !c.arity(n, 1, 2) {
		return Value{}
	}
	if len(n.Args) == 1 {
		v := c.eval(n.Args[0])
		if v.Class == List && !conditions(v.items()) {
			return Value{Class: Number, Reg: c.constant(int64(len(v.items())), 1), Fixed: true}
		}
	}
	preds, ok := c.predsOf(n)
	if !ok {
		return Value{}
	}
	out := Value{Class: Number, Reg: c.constant(0, 1), Fixed: true}
	one, none := c.constant(1, 1), c.constant(0, 1)
	for _, p := range preds {
		out.Reg = c.b.Binary(bound.OpAdd, out.Reg, c.b.If(p.plain, one, none))
		out.Fixed = out.Fixed && p.fixed
	}
	return out
}

func conditions(items []Value) bool {
	return len(items) > 0 && items[0].Class == Bool
}

// each is the list itself, or a formula over its items.
func (c *checker) each(n *Node) Value {
	if !c.arity(n, 1, 2) {
		return Value{}
	}
	items, ok := c.itemsOf(n)
	list := &Thing{Items: make([]Value, len(items))}
	out := Value{Class: List, Fixed: true, Thing: list}
	if len(n.Args) == 1 {
		copy(list.Items, items)
		return out
	}
	c.perItem(n, items, func(i int) {
		v := c.eval(n.Args[1])
		v = v.named(items[i].Str())
		ok = ok && v.Class != Bad
		out.Fixed = out.Fixed && v.Fixed
		list.Items[i] = v
	})
	if !ok {
		return Value{}
	}
	return out
}
