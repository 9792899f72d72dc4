package formula

import (
	"errors"
	"math"
	"unicode/utf8"

	"github.com/expr-lang/expr/ast"
	"github.com/expr-lang/expr/file"
	"github.com/expr-lang/expr/parser"
)

// Parse reads the text of a formula. The Expr is never nil; where there are
// errors its Root is NodeBad, and all errors the scan could find are returned.
func Parse(text string) (*Expr, []*Error) { return NewParser(1).Parse(text) }

// Parser reads many formulas one after another. It keeps its scratch and the
// shapes it has met: the checks of a design repeat a few. One serves one
// goroutine; what it returns is free of it.
type Parser struct {
	s      scanner
	masked []byte
	places []int32
	shapes map[string]ast.Node // trees by masked text, not to be changed
}

// Bounds on what a Parser remembers.
const (
	maxShapes     = 512
	maxShapeBytes = 512
)

// NewParser returns a Parser that expects n formulas, for its first pieces of
// memory.
func NewParser(n int) *Parser {
	p := &Parser{}
	p.s.nodes.size = min(16*n, 256)
	p.s.args.size = min(16*n, 512)
	p.s.lits.size = min(2*n, 64)
	p.s.paths.size = min(6*n, 128)
	return p
}

// Parse reads one formula, as the function of that name does.
func (p *Parser) Parse(text string) (*Expr, []*Error) {
	e := &Expr{Text: text}
	if len(text) > MaxBytes {
		e.Root = &Node{end: int32(min(len(text), math.MaxInt32))}
		return e, []*Error{{End: MaxBytes, Code: "formula-long", Msg: "a formula holds at most 4096 bytes", Hint: "give parts of it names of their own"}}
	}
	s := &p.s
	s.reset(text)
	s.run()
	if len(s.errs) == 0 {
		e.Root = p.tree()
	}
	if len(s.errs) > 0 || e.Root == nil {
		e.Root = &Node{end: int32(min(len(text), math.MaxInt32))}
	}
	return e, s.errs
}

// tree hands the masked text to expr's parser and converts the tree.
func (p *Parser) tree() *Node {
	p.mask()
	shape, known := p.shapes[string(p.masked)]
	if !known {
		// A fresh parser each time: expr's Parser keeps lexer offsets between uses.
		masked := string(p.masked)
		t, err := parser.Parse(masked)
		if err != nil {
			p.s.refused(err, p.places)
			return nil
		}
		shape = t.Node
		p.remember(masked, shape)
	}
	c := converter{s: &p.s, places: p.places}
	return c.convert(shape).node
}

func (p *Parser) remember(masked string, shape ast.Node) {
	if len(masked) > maxShapeBytes || len(p.shapes) >= maxShapes {
		return
	}
	if p.shapes == nil {
		p.shapes = map[string]ast.Node{}
	}
	p.shapes[masked] = shape
}

// mask writes the tokens as expr reads them and notes, for each rune of the
// result, which token it stands for.
func (p *Parser) mask() {
	text, places := p.masked[:0], p.places[:0]
	for i := range p.s.toks {
		t := &p.s.toks[i]
		if t.kind == tokOperand || t.kind == tokFunction {
			text = utf8.AppendRune(text, rune(placeholder+i))
			places = append(places, int32(i))
		} else {
			text = append(text, t.op...)
			for range len(t.op) {
				places = append(places, int32(i))
			}
		}
		text = append(text, ' ')
		places = append(places, int32(i))
	}
	p.masked, p.places = text, places
}

// refused puts a complaint of expr's parser in our words and at our place.
func (s *scanner) refused(err error, places []int32) {
	off, end := 0, len(s.text)
	msg := "the formula cannot be read"
	var fe *file.Error
	if errors.As(err, &fe) && len(places) > 0 {
		t := s.toks[places[min(max(fe.From, 0), len(places)-1)]]
		off, end = t.off, t.end
		msg = "`" + s.text[off:end] + "` cannot stand here"
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
	places []int32
}

func (c *converter) place(n ast.Node) int {
	at := n.Location().From
	if at < 0 || at >= len(c.places) {
		return 0
	}
	return int(c.places[at])
}

// convert turns one node and adds the parentheses that stand round it.
func (c *converter) convert(n ast.Node) span {
	r := c.inner(n)
	toks := c.s.toks
	for r.from > 0 && r.to+1 < len(toks) && toks[r.from-1].kind == tokOpen && toks[r.from-1].match == r.to+1 {
		r.from, r.to = r.from-1, r.to+1
		p := c.at(NodeParen, r)
		p.Args = c.s.newArgs(r.node)
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
	c.s.fail(t.off, t.end, "formula-barred", "this is no part of formulas", "")
	return span{node: c.s.newNode(NodeBad, t.off, t.end), from: i, to: i}
}

func (c *converter) operand(n *ast.IdentifierNode) span {
	r, _ := utf8.DecodeRuneInString(n.Value)
	i := int(r) - placeholder
	if i < 0 || i >= len(c.s.toks) || c.s.toks[i].node == nil {
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
	r.node.Args = c.s.newArgs(a.node)
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
		r.node.ops = soloOps[n.Operator]
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
	r.node.Args = c.s.newArgs(a.node, b.node)
	return r
}

// soloOps are the operators of chains of one link, which share them.
var soloOps = map[string]*[]string{"==": {"=="}, "!=": {"!="}, "<": {"<"}, "<=": {"<="}, ">": {">"}, ">=": {">="}}

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
	r.node.ops, r.node.Args = &ops, args
	return r
}

func (c *converter) conditional(n *ast.ConditionalNode) span {
	a, b, d := c.convert(n.Cond), c.convert(n.Exp1), c.convert(n.Exp2)
	r := span{from: a.from, to: d.to}
	r.node = c.at(NodeIf, r)
	r.node.Args = c.s.newArgs(a.node, b.node, d.node)
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
