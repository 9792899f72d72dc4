package formula

// wording is what the text of a test is made of. Most tests are never shown,
// so it is made when it is asked for, but for tests of the items of a list,
// each of which reads differently.
type wording struct {
	left, right string
	of          *Node // the chain or the membership; nil where the texts are given
	expr        *Expr
	link        int  // which link of a chain
	member      bool // a membership as a whole
}

// Text is the canonical text of the comparison.
func (t *Test) Text() string {
	left, right := t.Sides()
	if t.member {
		return left + " inside " + right
	}
	return linkText(left, t.Op, right)
}

// Sides are the canonical texts of the two sides. They are not cut out of the
// whole, as a side may hold a comparison of its own.
func (t *Test) Sides() (left, right string) {
	n := t.of
	switch {
	case n == nil:
		return t.left, t.right
	case n.Kind == NodeChain:
		return n.Args[t.link].Canonical(t.expr.Text), n.Args[t.link+1].Canonical(t.expr.Text)
	}
	return t.memberSides(n, n.Args[0].Canonical(t.expr.Text), n.Args[1].Canonical(t.expr.Text))
}

// word says how a test of a node reads: texts are those of its operands where
// they are items of a list, else nil.
func (c *checker) word(t *Test, n *Node, link int, texts []string) {
	if c.crit == nil {
		return
	}
	t.member = n.Kind != NodeChain && t.NoLimit
	switch {
	case texts == nil:
		t.of, t.link, t.expr = n, link, c.crit.expr
	case n.Kind == NodeChain:
		t.left, t.right = texts[link], texts[link+1]
	default:
		t.left, t.right = t.memberSides(n, texts[0], texts[1])
	}
}

func linkText(left, op, right string) string { return left + " " + op + " " + right }

// memberSides are the sides of one end of a membership, or of all of it where no
// end is compared.
func (t *Test) memberSides(n *Node, left, right string) (string, string) {
	if t.member {
		return left, right
	}
	return left, edgeText(n.Args[1].bare(), t.Op, right)
}

// edgeText names one end of a set: the literal, or the column of a name.
func edgeText(n *Node, op, text string) string {
	low := op == ">="
	switch {
	case n.Kind == NodeRange && low:
		return n.Args[0].Canonical("")
	case n.Kind == NodeRange:
		return n.Args[1].Canonical("")
	case low:
		return text + ".min"
	}
	return text + ".max"
}

// itemTexts are the canonical texts of the operands where they speak of an
// item of a list, else nil.
func (c *checker) itemTexts(n *Node) []string {
	if c.item == nil {
		return nil
	}
	return c.texts(n)
}

// texts are the canonical texts of the operands, if tests are kept.
func (c *checker) texts(n *Node) []string {
	if c.crit == nil {
		return nil
	}
	out := make([]string, len(n.Args))
	for i, a := range n.Args {
		out[i] = c.text(a)
	}
	return out
}

// text is a node's canonical text with the list item it speaks of.
func (c *checker) text(n *Node) string {
	if c.item == nil {
		return n.Canonical(c.src)
	}
	w := writer{src: c.src, item: c.item.Str()}
	w.node(n)
	return w.String()
}

// itemText is the text of one item of a list operand.
func (c *checker) itemText(n *Node, item Value) string {
	n = n.bare()
	if n.Kind == NodeCall && n.Word == "each" && len(n.Args) == 2 {
		w := writer{src: c.src, item: item.Str()}
		w.node(n.Args[1])
		return w.String()
	}
	return item.Str()
}
