package notebook

import (
	"bytes"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/yuin/goldmark/ast"
	east "github.com/yuin/goldmark/extension/ast"
	"github.com/yuin/goldmark/text"
)

// converter turns goldmark's tree into Nodes.
type converter struct {
	*reader
	data    []byte
	closing map[ast.Node]int // offset of the closing line of each fence
	blocks  []*Block
	heads   []*Node // headings, which get their ids when all are known
	hidden  bool    // HTML above hides what follows
	run     *Node   // text that is being gathered, of these pieces
	pieces  []string
}

// children converts all children of a node.
func (c *converter) children(n ast.Node) []*Node {
	if !n.HasChildren() {
		return nil
	}
	out := make([]*Node, 0, n.ChildCount())
	for k := n.FirstChild(); k != nil; k = k.NextSibling() {
		if k.Kind() != ast.KindText {
			c.endRun()
		}
		out = c.node(out, k)
	}
	c.endRun()
	return out
}

// endRun puts the text gathered into the node that it belongs to. goldmark
// splits text at every line and bracket: added piece by piece, a long
// paragraph would be copied as often as it has lines.
func (c *converter) endRun() {
	if c.run != nil {
		c.run.Text = strings.Join(c.pieces, "")
		c.run, c.pieces = nil, c.pieces[:0]
	}
}

// node converts one node and adds what it becomes to out.
func (c *converter) node(out []*Node, n ast.Node) []*Node {
	switch n := n.(type) {
	case *ast.Text:
		return c.text(out, n)
	case *ast.Paragraph:
		c.swallowed(n.Lines(), "four spaces before it make it text")
		return append(out, c.parent(Paragraph, n))
	case *ast.TextBlock:
		c.swallowed(n.Lines(), "four spaces before it make it text")
		return append(out, c.parent(Paragraph, n))
	case *ast.Heading:
		m := c.parent(Heading, n)
		m.Level = n.Level
		c.heads = append(c.heads, m)
		return append(out, m)
	case *ast.List:
		m := c.parent(ListNode, n)
		m.Ordered, m.Start = n.IsOrdered(), n.Start
		return append(out, m)
	case *ast.ListItem:
		return append(out, c.item(n))
	case *ast.Blockquote:
		return append(out, c.parent(Quote, n))
	case *ast.ThematicBreak:
		return append(out, c.leaf(Rule, n))
	case *ast.FencedCodeBlock:
		return append(out, c.fence(n))
	case *ast.CodeBlock:
		if _, plain := n.AttributeString("plain"); !plain {
			c.swallowed(n.Lines(), "four spaces before it make it a code block of Markdown")
		}
		m := c.leaf(Code, n)
		m.Text = linesText(n.Lines(), c.data)
		return append(out, m)
	case *ast.HTMLBlock:
		return c.html(out, n)
	default:
		return c.inline(out, n)
	}
}

// inline converts what stands within a paragraph, and tables and footnotes.
func (c *converter) inline(out []*Node, n ast.Node) []*Node {
	switch n := n.(type) {
	case *bracket:
		return append(out, c.bracket(n))
	case *ast.Emphasis:
		kind := Emphasis
		if n.Level == 2 {
			kind = Strong
		}
		return append(out, c.parent(kind, n))
	case *east.Strikethrough:
		return append(out, c.parent(Strike, n))
	case *ast.CodeSpan:
		m := c.leaf(CodeSpan, n)
		m.Text = codeText(n, c.data)
		return append(out, m)
	case *ast.Link:
		m := c.parent(Link, n)
		m.URL = unescape(string(n.Destination))
		return append(out, m)
	case *ast.Image:
		m := c.leaf(Image, n)
		m.URL, m.Text = unescape(string(n.Destination)), plainText(c.children(n))
		return append(out, m)
	case *ast.AutoLink:
		m := c.leaf(Link, n)
		m.URL = string(n.URL(c.data))
		m.Children = []*Node{{Kind: Inline, Pos: m.Pos, Text: string(n.Label(c.data))}}
		return append(out, m)
	case *ast.RawHTML:
		return c.rawHTML(out, n)
	case *ast.String:
		m := c.leaf(Inline, n)
		m.Text = string(n.Value)
		return append(out, m)
	case *east.FootnoteLink:
		m := c.leaf(FootRef, n)
		m.ID = strconv.Itoa(n.Index)
		return append(out, m)
	case *east.FootnoteList:
		return append(out, c.children(n)...)
	case *east.Footnote:
		m := c.parent(Footnote, n)
		m.ID = strconv.Itoa(n.Index)
		return append(out, m)
	case *east.FootnoteBacklink, *east.TaskCheckBox, *ast.LinkReferenceDefinition:
		return out
	case *east.Table:
		return append(out, c.parent(Table, n))
	case *east.TableHeader:
		m := c.parent(TableRow, n)
		m.Head = true
		return append(out, m)
	case *east.TableRow:
		m := c.parent(TableRow, n)
		for _, k := range m.Children {
			if k.Pos.Line == 0 {
				k.Pos = m.Pos // a cell that Markdown added
			}
		}
		return append(out, m)
	case *east.TableCell:
		m := c.parent(Cell, n)
		if n.Alignment != east.AlignNone {
			m.Align = n.Alignment.String()
		}
		return append(out, m)
	}
	return append(out, c.children(n)...)
}

func (c *converter) parent(kind NodeKind, n ast.Node) *Node {
	m := c.leaf(kind, n)
	m.Children = c.children(n)
	return m
}

func (c *converter) leaf(kind NodeKind, n ast.Node) *Node {
	return &Node{Kind: kind, Pos: c.pos(n)}
}

// pos is the place of a node, or of the first thing in it; nodes that
// goldmark makes itself have none.
func (c *converter) pos(n ast.Node) Pos {
	for k := n; k != nil; k = k.FirstChild() {
		if k.Pos() >= 0 {
			return c.place(c.start(k))
		}
	}
	if n.Type() == ast.TypeBlock && n.Lines() != nil && n.Lines().Len() > 0 {
		return c.place(n.Lines().At(0).Start)
	}
	return Pos{}
}

// start is the offset of a node that has one. Goldmark counts the blanks that
// it puts for a tab which a list has partly eaten as if they stood in the
// file; such a block begins at the first character after that tab.
func (c *converter) start(n ast.Node) int {
	p := min(n.Pos(), len(c.data))
	if n.Type() != ast.TypeBlock || n.Kind() == east.KindTableCell || n.Kind() == east.KindTableRow {
		return p
	}
	tab := bytes.LastIndexByte(c.data[max(0, p-4):p], '\t')
	if tab < 0 {
		return p
	}
	k := max(0, p-4) + tab + 1
	for k < p && isBlank(c.data[k]) {
		k++
	}
	return k
}

// place is the place of a byte offset, counted from the last place asked for where
// that is before it on the same line: a line may be as long as the file.
func (r *reader) place(off int) Pos {
	p, k := &r.last, r.src.lineOf(off)
	if p.Line != k+1 || off < p.Offset {
		*p = Pos{File: r.src.Path, Line: k + 1, Col: 1, Offset: r.src.lines[k]}
	}
	p.Col += utf8.RuneCountInString(r.src.text[p.Offset:off])
	p.Offset = off
	return *p
}

func (c *converter) text(out []*Node, n *ast.Text) []*Node {
	s := c.src.text[n.Segment.Start:n.Segment.Stop]
	if !n.IsRaw() {
		s = unescape(s)
	}
	if n.SoftLineBreak() {
		s += "\n"
	}
	if s != "" {
		last := len(out) - 1
		if last >= 0 && out[last].Kind == Inline && out[last].Children == nil {
			if c.run != out[last] {
				c.endRun()
				c.run, c.pieces = out[last], append(c.pieces, out[last].Text)
			}
			c.pieces = append(c.pieces, s)
		} else {
			out = append(out, &Node{Kind: Inline, Pos: c.place(n.Segment.Start), Text: s})
		}
	}
	if n.HardLineBreak() {
		out = append(out, &Node{Kind: Break, Pos: c.place(n.Segment.Stop)})
	}
	return out
}

func (c *converter) item(n *ast.ListItem) *Node {
	m := c.parent(Item, n)
	if k := n.FirstChild(); k != nil {
		if box, ok := k.FirstChild().(*east.TaskCheckBox); ok {
			m.Checked = "no"
			if box.IsChecked {
				m.Checked = "yes"
			}
		}
	}
	return m
}

// plainText is the text of nodes without their marks.
func plainText(nodes []*Node) string {
	var b strings.Builder
	for _, n := range nodes {
		switch n.Kind {
		case CiteNode, PrintValue, PrintVerdict:
			b.WriteString(n.Src.S)
		default:
			b.WriteString(n.Text)
			b.WriteString(plainText(n.Children))
		}
	}
	return b.String()
}

func linesText(lines *text.Segments, data []byte) string {
	var b strings.Builder
	for i := range lines.Len() {
		seg := lines.At(i)
		b.Write(seg.Value(data))
	}
	return strings.ReplaceAll(b.String(), "\r\n", "\n")
}

func codeText(n ast.Node, data []byte) string {
	var b strings.Builder
	for k := n.FirstChild(); k != nil; k = k.NextSibling() {
		if t, ok := k.(*ast.Text); ok {
			b.Write(t.Segment.Value(data))
		}
		if s, ok := k.(*ast.String); ok {
			b.Write(s.Value)
		}
	}
	s := b.String()
	if strings.IndexByte(s, '\n') >= 0 {
		s = strings.ReplaceAll(strings.ReplaceAll(s, "\r\n", " "), "\n", " ")
	}
	return s
}
