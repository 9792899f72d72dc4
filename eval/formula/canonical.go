package formula

import "strings"

// Canonical is the text of a node with blanks, symbols and units in their one
// spelling. src is the formula's text.
func (n *Node) Canonical(src string) string {
	if n == nil {
		return ""
	}
	w := writer{src: src}
	w.node(n)
	return w.String()
}

// writer writes canonical text; item, when set, replaces the list item that
// ".NAME" speaks of.
type writer struct {
	strings.Builder
	src  string
	item string
}

func (w *writer) node(n *Node) {
	switch n.Kind {
	case NodeLiteral:
		w.WriteString(n.Lit.String())
	case NodeRange:
		w.rangeOf(n)
	case NodeText:
		w.WriteString(`"` + n.Word + `"`)
	case NodeBool:
		w.WriteString(n.Word)
	case NodeName:
		w.WriteString(n.Path.Text())
	case NodeUnary:
		w.WriteString(n.Word)
		if n.Word == "not" {
			w.WriteByte(' ')
		}
		w.node(n.Args[0])
	case NodeBinary:
		w.binary(n)
	case NodeChain:
		w.node(n.Args[0])
		for i, op := range n.Ops() {
			w.WriteString(" " + op + " ")
			w.node(n.Args[i+1])
		}
	case NodeInside:
		w.node(n.Args[0])
		w.WriteString(" " + n.Word + " ")
		w.node(n.Args[1])
	case NodeIf:
		w.node(n.Args[0])
		w.WriteString(" ? ")
		w.node(n.Args[1])
		w.WriteString(" : ")
		w.node(n.Args[2])
	case NodeCall:
		w.WriteString(n.Word)
		w.list("(", n.Args, ")")
	case NodeList:
		w.items(n)
	case NodeField:
		w.WriteString(w.item + "." + n.Word)
	case NodeParen:
		w.list("(", n.Args, ")")
	default:
		w.WriteString(strings.TrimSpace(w.src[n.Off():n.End()]))
	}
}

func (w *writer) binary(n *Node) {
	op := " " + n.Word + " "
	if n.Word == "^" {
		op = n.Word
	}
	w.node(n.Args[0])
	w.WriteString(op)
	w.node(n.Args[1])
}

func (w *writer) rangeOf(n *Node) {
	lo, hi := n.Args[0], n.Args[1]
	switch {
	case lo.Kind == NodeBad:
		w.WriteString("max ")
		w.node(hi)
	case hi.Kind == NodeBad:
		w.WriteString("min ")
		w.node(lo)
	default:
		w.node(lo)
		w.WriteString(" to ")
		w.node(hi)
	}
}

// items writes a list; a run of designators keeps its short form.
func (w *writer) items(n *Node) {
	if k := len(n.Args); k > 0 && w.src[n.Off()] != '[' {
		w.WriteString(n.Args[0].Path.Text())
		if k > 1 {
			w.WriteString("-" + n.Args[k-1].Path.Text())
		}
		return
	}
	w.list("[", n.Args, "]")
}

func (w *writer) list(open string, args []*Node, shut string) {
	w.WriteString(open)
	for i, a := range args {
		if i > 0 {
			w.WriteString(", ")
		}
		w.node(a)
	}
	w.WriteString(shut)
}
