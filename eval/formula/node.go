package formula

import "guardband/units"

// NodeKind is the kind of a parsed node.
type NodeKind uint8

const (
	NodeBad     NodeKind = iota
	NodeLiteral          // Lit
	NodeRange            // literal range right of inside: Args lo, hi (either NodeBad where that end is absent)
	NodeText             // quoted string: Name is the text without quotes
	NodeBool             // true, false: Name
	NodeName             // path: Path
	NodeUnary            // Op "-" or "not"
	NodeBinary           // Op + - * / ^ and or
	NodeChain            // comparisons: Ops[i] stands between Args[i] and Args[i+1]
	NodeInside           // Args value, set; Op "inside" or "not inside"
	NodeIf               // Args cond, then, else
	NodeCall             // Name, Args
	NodeList             // Args
	NodeField            // ".NAME" inside sum/all/any/count/max/min/each: Name (may be dotted, "V_DD.min")
	NodeParen            // Args[0]; kept for typesetting
)

// Node is one node of a formula as typed. Off and End are its whole extent in
// bytes of the formula's text.
type Node struct {
	Kind     NodeKind
	Off, End int
	Op       string
	Ops      []string
	Name     string
	Path     *Path
	Lit      *units.Quantity
	Args     []*Node
}

// Path is a name with what qualifies it: U1.operating.V_DD.min, net("3V0"),
// U1.V_OH("D+"), U1.V_OH(PA3), budget("3V0").peak, candidate.I_SLEEP.
type Path struct {
	Head     string   // first name
	HeadArg  string   // net("3V0"): Head "net", HeadArg "3V0", HasArg true; so with budget, part, bench, claim
	HasArg   bool     // whether HeadArg was given
	Fields   []string // names after it, "operating", "V_DD"; without the column
	Selector string   // pin given in parentheses after the last name: U1.V_OH(PA3), V_OH("D+")
	Column   string   // "min", "typ", "max" or ""
	Text     string   // canonical text of the whole path
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

// bare is the node without the parentheses around it.
func (n *Node) bare() *Node {
	for n.Kind == NodeParen {
		n = n.Args[0]
	}
	return n
}
