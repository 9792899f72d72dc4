package formula

// wording is what the text of a test is made of: the canonical texts of its
// sides. They are not cut out of the whole, as a side may hold a comparison of its
// own.
type wording struct {
	left, right string
	member      bool // a membership as a whole
}

// Text is the canonical text of the comparison.
func (t *Test) Text() string {
	if t.member {
		return t.left + " inside " + t.right
	}
	return t.left + " " + t.Op + " " + t.right
}

// Sides are the canonical texts of the two sides.
func (t *Test) Sides() (left, right string) { return t.left, t.right }

// word says how a test of a node reads by the texts of its operands: of one end of
// a membership, or of all of it where no end is compared.
func (c *checker) word(t *Test, n *Node, link int, texts []string) {
	if c.crit == nil {
		return
	}
	t.member = n.Kind != NodeChain && t.NoLimit
	t.left, t.right = texts[link], texts[link+1]
	if n.Kind != NodeChain && !t.member {
		t.right = edgeText(n.Args[1].bare(), t.Op, t.right)
	}
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
