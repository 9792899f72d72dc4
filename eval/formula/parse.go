package formula

import (
	"errors"
	"math"
	"strconv"
	"strings"

	"github.com/expr-lang/expr/ast"
	"github.com/expr-lang/expr/file"
	"github.com/expr-lang/expr/parser"
)

// Parse reads the text of a formula. The Expr is never nil; where there are
// errors its Root is NodeBad, and all errors the scan could find are returned.
func Parse(text string) (*Expr, []*Error) {
	e := &Expr{Text: text, Root: &Node{end: int32(min(len(text), math.MaxInt32))}}
	if len(text) > MaxBytes {
		return e, []*Error{{End: MaxBytes, Code: "formula-long", Msg: "a formula is limited to 4096 bytes",
			Hint: "give parts of it names of their own"}}
	}
	s := &scanner{text: text}
	s.run()
	if len(s.errs) == 0 {
		if root := s.tree(); len(s.errs) == 0 {
			e.Root = root
		}
	}
	return e, s.errs
}

// tree hands the masked text to expr's parser and converts the tree.
func (s *scanner) tree() *Node {
	text, places := s.mask()
	t, err := parser.Parse(text)
	if err != nil {
		s.refused(err, places)
		return nil
	}
	c := converter{s: s, places: places}
	return c.convert(t.Node).node
}

// mask writes the tokens as expr reads them: every literal, unit, path and
// quoted name is one plain identifier, "v" and the number of its token. places
// gives the token of each character of the result.
func (s *scanner) mask() (masked string, places []int) {
	var text []byte
	for i, t := range s.toks {
		if t.kind == tokOperand || t.kind == tokFunction {
			text = strconv.AppendInt(append(text, 'v'), int64(i), 10)
		} else {
			text = append(text, t.op...)
		}
		text = append(text, ' ')
		for len(places) < len(text) {
			places = append(places, i)
		}
	}
	return string(text), places
}

// refused puts a complaint of expr's parser in our words and at our place.
func (s *scanner) refused(err error, places []int) {
	off, end := 0, len(s.text)
	msg := "the formula cannot be read"
	var fe *file.Error
	if errors.As(err, &fe) && len(places) > 0 {
		t := s.toks[places[min(max(fe.From, 0), len(places)-1)]]
		off, end = t.off, t.end
		msg = "`" + s.text[off:end] + "` is not allowed here"
	}
	s.fail(off, end, "formula-syntax", msg, "")
}

// span is a converted node with the tokens it covers.
type span struct {
	node     *Node
	from, to int
}

// converter turns expr's tree into ours. expr keeps one token per node and
// no parentheses; extents come from the children and the token list.
type converter struct {
	s      *scanner
	places []int
}

func (c *converter) place(n ast.Node) int {
	at := n.Location().From
	if at < 0 || at >= len(c.places) {
		return 0
	}
	return c.places[at]
}

// convert turns one node and adds the parentheses that stand round it.
func (c *converter) convert(n ast.Node) span {
	r := c.inner(n)
	toks := c.s.toks
	for r.from > 0 && r.to+1 < len(toks) && toks[r.from-1].kind == tokOpen && toks[r.from-1].match == r.to+1 {
		r.from, r.to = r.from-1, r.to+1
		p := c.at(NodeParen, r)
		p.Args = []*Node{r.node}
		r.node = p
	}
	return r
}

// at makes a node over the tokens of r.
func (c *converter) at(k NodeKind, r span) *Node {
	return c.s.newNode(k, c.s.toks[r.from].off, c.s.toks[r.to].end)
}

func (c *converter) inner(n ast.Node) span {
	switch n := n.(type) {
	case *ast.IdentifierNode:
		return c.operand(n)
	case *ast.UnaryNode:
		return c.unary(n)
	case *ast.BinaryNode:
		return c.binary(n)
	case *ast.ConditionalNode:
		return c.conditional(n)
	case *ast.CallNode:
		return c.call(n.Callee, n.Arguments)
	case *ast.ArrayNode:
		i := c.place(n)
		r := span{from: i, to: c.s.toks[i].match}
		r.node = c.at(NodeList, r)
		r.node.Args = c.list(n.Nodes)
		return r
	}
	return c.refuse(n)
}

// refuse complains about a node kind that formulas do not have. The scan lets
// none through; this is the second lock.
func (c *converter) refuse(n ast.Node) span {
	i := c.place(n)
	t := c.s.toks[i]
	c.s.fail(t.off, t.end, "formula-barred", "this is not part of the formula language", "")
	return span{node: c.s.newNode(NodeBad, t.off, t.end), from: i, to: i}
}

func (c *converter) operand(n *ast.IdentifierNode) span {
	i, err := strconv.Atoi(strings.TrimPrefix(n.Value, "v"))
	if err != nil || i < 0 || i >= len(c.s.toks) || c.s.toks[i].node == nil {
		return c.refuse(n)
	}
	return span{node: c.s.toks[i].node, from: i, to: i}
}

func (c *converter) unary(n *ast.UnaryNode) span {
	i := c.place(n)
	if b, ok := n.Node.(*ast.BinaryNode); ok && c.s.toks[i].op == "not in" {
		r := c.binary(b)
		r.node.Word = "not inside"
		return r
	}
	a := c.convert(n.Node)
	r := span{from: i, to: a.to}
	r.node = c.at(NodeUnary, r)
	r.node.Word = n.Operator
	r.node.Args = []*Node{a.node}
	return r
}

func (c *converter) binary(n *ast.BinaryNode) span {
	switch n.Operator {
	case "+", "-", "*", "/", "^", "and", "or":
		return c.pair(NodeBinary, n.Operator, n.Left, n.Right)
	case "in":
		return c.pair(NodeInside, "inside", n.Left, n.Right)
	case "==", "!=", "<", "<=", ">", ">=":
		r := c.pair(NodeChain, "", n.Left, n.Right)
		r.node.ops = []string{n.Operator}
		return r
	case "&&": // barred, so it can only be a chain
		return c.chain(n)
	}
	return c.refuse(n)
}

func (c *converter) pair(k NodeKind, op string, left, right ast.Node) span {
	a, b := c.convert(left), c.convert(right)
	r := span{from: a.from, to: b.to}
	r.node = c.at(k, r)
	r.node.Word = op
	r.node.Args = []*Node{a.node, b.node}
	return r
}

// chain flattens a < b < c, which expr gives as (a < b) && (b < c) with the
// middle node shared.
func (c *converter) chain(n *ast.BinaryNode) span {
	var links []*ast.BinaryNode
	for n.Operator == "&&" {
		links = append(links, n.Right.(*ast.BinaryNode))
		n = n.Left.(*ast.BinaryNode)
	}
	links = append(links, n)
	first := c.convert(n.Left)
	args, ops := []*Node{first.node}, make([]string, 0, len(links))
	to := first.to
	for i := len(links) - 1; i >= 0; i-- {
		a := c.convert(links[i].Right)
		args, ops, to = append(args, a.node), append(ops, links[i].Operator), a.to
	}
	r := span{from: first.from, to: to}
	r.node = c.at(NodeChain, r)
	r.node.ops, r.node.Args = ops, args
	return r
}

func (c *converter) conditional(n *ast.ConditionalNode) span {
	a, b, d := c.convert(n.Cond), c.convert(n.Exp1), c.convert(n.Exp2)
	r := span{from: a.from, to: d.to}
	r.node = c.at(NodeIf, r)
	r.node.Args = []*Node{a.node, b.node, d.node}
	return r
}

func (c *converter) call(callee ast.Node, args []ast.Node) span {
	id, ok := callee.(*ast.IdentifierNode)
	if !ok {
		return c.refuse(callee)
	}
	f := c.operand(id)
	if f.node.Kind != NodeCall || f.from+1 >= len(c.s.toks) {
		return c.refuse(callee)
	}
	r := span{node: f.node, from: f.from, to: c.s.toks[f.from+1].match}
	r.node.end = int32(c.s.toks[r.to].end)
	r.node.Args = c.list(args)
	return r
}

func (c *converter) list(nodes []ast.Node) []*Node {
	if len(nodes) == 0 {
		return nil
	}
	out := make([]*Node, len(nodes))
	for i, n := range nodes {
		out[i] = c.convert(n).node
	}
	return out
}
