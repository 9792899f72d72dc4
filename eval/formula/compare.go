package formula

import (
	"guardband/eval/bound"
	"guardband/units"
)

// pred is a checked condition: reg with the claim's margin, plain without.
type pred struct {
	reg, plain bound.Reg
	fixed, ok  bool
}

func (c *checker) truth(t bool) pred {
	r := c.b.True()
	if !t {
		r = c.b.Unary(bound.OpNot, r)
	}
	return pred{reg: r, plain: r, fixed: true, ok: true}
}

// join combines two conditions.
func (c *checker) join(op bound.Op, p, q pred) pred {
	if !p.ok || !q.ok {
		return pred{}
	}
	r := pred{plain: c.b.Binary(op, p.plain, q.plain), fixed: p.fixed && q.fixed, ok: true}
	r.reg = r.plain
	if p.reg != p.plain || q.reg != q.plain {
		r.reg = c.b.Binary(op, p.reg, q.reg)
	}
	return r
}

// pred checks a node that must be a condition.
func (c *checker) pred(n *Node) pred {
	switch n.Kind {
	case NodeBad:
		return pred{}
	case NodeBool:
		return c.truth(n.Word == "true")
	case NodeParen:
		return c.pred(n.Args[0])
	case NodeChain:
		return c.chain(n)
	case NodeInside:
		return c.inside(n)
	case NodeUnary:
		if n.Word == "not" {
			return c.turned(n)
		}
	case NodeBinary:
		switch n.Word {
		case "and":
			p := c.pred(n.Args[0])
			return c.join(bound.OpAnd, p, c.pred(n.Args[1]))
		case "or":
			defer c.aside("or")()
			p := c.pred(n.Args[0])
			return c.join(bound.OpOr, p, c.pred(n.Args[1]))
		}
	case NodeCall:
		switch n.Word {
		case "all":
			return c.joined(n, bound.OpAnd, true)
		case "any":
			defer c.aside("any")()
			return c.joined(n, bound.OpOr, false)
		}
	case NodeIf:
		if isCondition(n) {
			return c.choice(n)
		}
	}
	return c.asCondition(n)
}

// isCondition tells by its form whether a node is a condition.
func isCondition(n *Node) bool {
	switch n = n.bare(); n.Kind {
	case NodeBool, NodeChain, NodeInside:
		return true
	case NodeUnary:
		return n.Word == "not"
	case NodeBinary:
		return n.Word == "and" || n.Word == "or"
	case NodeCall:
		return n.Word == "all" || n.Word == "any"
	case NodeIf:
		return isCondition(n.Args[1]) && isCondition(n.Args[2])
	}
	return false
}

// choice is "cond ? one : other" of conditions.
func (c *checker) choice(n *Node) pred {
	defer c.aside("? :")()
	cond, one, other := c.pred(n.Args[0]), c.pred(n.Args[1]), c.pred(n.Args[2])
	if !cond.ok || !one.ok || !other.ok {
		return pred{}
	}
	r := c.b.If(cond.plain, one.plain, other.plain)
	return pred{reg: r, plain: r, fixed: cond.fixed && one.fixed && other.fixed, ok: true}
}

// asCondition takes a node of another kind, whose value must be a condition.
func (c *checker) asCondition(n *Node) pred {
	v := c.eval(n)
	switch v.Class {
	case Bad:
		return pred{}
	case Bool:
		return pred{reg: v.Reg, plain: v.Reg, fixed: v.Fixed, ok: true}
	}
	c.fail(n, "condition-missing", "`"+c.typed(n)+"` is a value, not a condition", "compare it, as in `"+c.typed(n)+
		" <= limit`, or write `"+c.typed(n)+" inside range`")
	return pred{}
}

// turned is "not (...)".
func (c *checker) turned(n *Node) pred {
	defer c.aside("not")()
	p := c.pred(n.Args[0])
	if !p.ok {
		return p
	}
	p.plain = c.b.Unary(bound.OpNot, p.plain)
	p.reg = p.plain
	return p
}

// chain is one comparison, or several that keep one direction.
func (c *checker) chain(n *Node) pred {
	var vals []Value
	bad := false
	list := -1
	for i, a := range n.Args {
		vals = append(vals, c.operand(a))
		bad = bad || vals[i].Class == Bad
		if vals[i].Class == List {
			if list >= 0 {
				c.fail(n, "list-compare", "two lists cannot be compared", "compare the items of one list with a value")
				bad = true
			}
			list = i
		}
	}
	if !c.oneDirection(n) || bad {
		return pred{}
	}
	if list < 0 {
		return c.links(n, vals, c.texts(n))
	}
	return c.everyItem(n, list, vals)
}

// operand evaluates one side of a comparison. What is compared inside it, as in
// count, steers a number: it is no test of the claim and has no margin.
func (c *checker) operand(n *Node) Value {
	return untested(c, n, c.eval)
}

// untested works on a node without keeping its tests.
func untested[V any](c *checker, n *Node, work func(*Node) V) V {
	held := c.crit
	defer func() { c.crit = held }()
	c.crit = nil
	return work(n)
}

// oneDirection checks that a chain rises or falls all along.
func (c *checker) oneDirection(n *Node) bool {
	for _, op := range n.Ops()[1:] {
		if op[0] != n.Ops()[0][0] {
			c.fail(n, "chain-direction", "a chain keeps one direction: only `<` and `<=`, or only `>` and `>=`", "join two comparisons with `and`")
			return false
		}
	}
	return true
}

// everyItem compares every item of the list operand; all must hold.
func (c *checker) everyItem(n *Node, list int, vals []Value) pred {
	all := c.truth(true)
	texts := c.texts(n)
	for _, item := range vals[list].items() {
		one := append([]Value(nil), vals...)
		one[list] = item
		if texts != nil {
			texts[list] = c.itemText(n.Args[list], item)
		}
		var p pred
		if n.Kind == NodeInside {
			p = c.member(n, one[0], one[1], texts)
		} else {
			p = c.links(n, one, texts)
		}
		all = c.join(bound.OpAnd, all, p)
	}
	return all
}

// links compares the neighbours of a chain; all must hold.
func (c *checker) links(n *Node, vals []Value, texts []string) pred {
	all := c.truth(true)
	span := c.chainSpan(n, vals)
	for i, op := range n.Ops() {
		a, b := vals[i], vals[i+1]
		if !c.comparable(n, i, op, a, b) {
			all.ok = false
			continue
		}
		if a.Class == Text {
			all = c.join(bound.OpAnd, all, c.sameText(n, op, a, b, texts, i))
			continue
		}
		t := Test{Op: op, Left: a, Right: b}
		t.LimitRight = limitRight(i, len(n.Ops()), a, b)
		c.word(&t, n, i, texts)
		all = c.join(bound.OpAnd, all, c.test(t, span))
	}
	return all
}

// limitRight picks the limit of link i of k: the outer term of a chain, else
// the side without spread, else the right side.
func limitRight(i, k int, a, b Value) bool {
	switch {
	case k > 1 && i == 0:
		return false
	case k > 1 && i == k-1:
		return true
	}
	return !a.Fixed || b.Fixed
}

// chainSpan is the distance of the outer terms of lo <= x <= hi; 0 if the
// chain has not two sides or its terms do not fit.
func (c *checker) chainSpan(n *Node, vals []Value) bound.Reg {
	if c.crit == nil || len(n.Ops()) != 2 || vals[0].Class != Number || vals[2].Class != Number {
		return 0
	}
	lo, hi := vals[0], vals[2]
	if n.Ops()[0][0] == '>' {
		lo, hi = hi, lo
	}
	if hi.Type.Dim != lo.Type.Dim {
		return 0
	}
	return c.b.Binary(bound.OpSub, hi.Reg, lo.Reg)
}

// comparable checks the two sides of link i of a chain.
func (c *checker) comparable(n *Node, i int, op string, a, b Value) bool {
	left, right := n.Args[i], n.Args[i+1]
	if a.Class == Text && b.Class == Text {
		if op == "==" || op == "!=" {
			return true
		}
		c.fail(n, "text-compare", "texts are only equal or different", "write `==` or `!=`")
		return false
	}
	if a.Class == Bool || b.Class == Bool {
		c.fail(n, "condition-compare", "a condition cannot be compared", "put parentheses round one comparison, and join conditions with `and`")
		return false
	}
	aok, bok := c.isNumber(left, a), c.isNumber(right, b)
	if !aok || !bok {
		return false
	}
	a, b = c.waved(a, b)
	if _, err := units.Combine(op, a.Type, b.Type, c.typed(left), c.typed(right)); err != nil {
		c.add(&Error{Off: left.Off(), End: right.End(), Code: err.Code, Msg: err.Msg, Hint: err.Hint})
		return false
	}
	return true
}

// sameText compares two texts, which are constants.
func (c *checker) sameText(n *Node, op string, a, b Value, texts []string, i int) pred {
	p := c.truth((a.Str() == b.Str()) == (op == "=="))
	if c.crit != nil {
		c.noMargin("a comparison of texts")
		t := Test{Op: op, Left: a, Right: b, LimitRight: true, NoLimit: true, Holds: p.plain}
		c.word(&t, n, i, texts)
		c.keep(t)
	}
	return p
}

// relation is the predicate a op b.
func (c *checker) relation(op string, a, b bound.Reg) bound.Reg {
	switch op {
	case "<":
		return c.b.Binary(bound.OpLess, a, b)
	case "<=":
		return c.b.Binary(bound.OpLessEq, a, b)
	case ">":
		return c.b.Binary(bound.OpLess, b, a)
	case ">=":
		return c.b.Binary(bound.OpLessEq, b, a)
	case "==":
		return c.b.Binary(bound.OpEqual, a, b)
	}
	return c.b.Unary(bound.OpNot, c.b.Binary(bound.OpEqual, a, b))
}
