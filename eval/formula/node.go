package formula

import "guardband/units"

// NodeKind is the kind of a parsed node.
type NodeKind uint8

const (
	NodeBad     NodeKind = iota
	NodeLiteral          // Lit
	NodeRange            // literal range right of inside: Args lo, hi (either NodeBad where that end is absent)
	NodeText             // quoted string: Word is the text without quotes
	NodeBool             // true, false: Word
	NodeName             // path: Path
	NodeUnary            // Word "-" or "not"
	NodeBinary           // Word + - * / ^ and or
	NodeChain            // comparisons: Ops()[i] stands between Args[i] and Args[i+1]
	NodeInside           // Args value, set; Word "inside" or "not inside"
	NodeIf               // Args cond, then, else
	NodeCall             // Word is the name called, Args
	NodeList             // Args
	NodeField            // ".NAME" inside sum/all/any/count/max/min/each: Word (may be dotted, "V_DD.min")
	NodeParen            // Args[0]; kept for typesetting
)

// Node is one node of a formula as typed.
type Node struct {
	Kind     NodeKind
	off, end int32
	Word     string
	Path     *Path
	Lit      *units.Quantity
	Args     []*Node
	ops      []string // of a chain
}

// Expr is a parsed formula.
type Expr struct {
	Text string
	Root *Node // never nil; NodeBad where parsing failed
}

// Walk calls f for n and for every node below it, parents first, in the order
// of the text.
func Walk(n *Node, f func(*Node)) {
	if n == nil {
		return
	}
	f(n)
	for _, a := range n.Args {
		Walk(a, f)
	}
}

// Off is where in the formula's text the node begins, in bytes.
func (n *Node) Off() int { return int(n.off) }

// End is where in the formula's text the node ends, in bytes.
func (n *Node) End() int { return int(n.end) }

// Ops are the operators of a chain. They must not be changed.
func (n *Node) Ops() []string { return n.ops }

// bare is the node without the parentheses around it.
func (n *Node) bare() *Node {
	for n.Kind == NodeParen {
		n = n.Args[0]
	}
	return n
}
