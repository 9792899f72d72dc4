package outline

import (
	"fmt"
	"strings"

	"guardband/eval/record"
	"guardband/report/internal/words"
)

// split parts the notebooks of the board from those that note parts alone.
func (b *builder) split() (notes, parts []int) {
	for i := range b.r.Content {
		part := false
		for k := range b.r.Content[i].Nodes {
			if x := b.r.Content[i].Nodes[k].Block; x != nil {
				part = part || x.Kind == "part"
				if x.Kind == "claim" || x.Kind == "circuit" {
					part = false
					break
				}
			}
		}
		if part && i > 0 {
			parts = append(parts, i)
		} else {
			notes = append(notes, i)
		}
	}
	return notes, parts
}

// maxEntries keeps the contents of a long notebook to about a page.
const maxEntries = 60

// maxDepth is the depth below which nested prose is plain text.
const maxDepth = 60

// books are notebooks as written, each block set as what it is.
func (b *builder) books(list []int) []Block {
	var out []Block
	for _, i := range list {
		book := &b.r.Content[i]
		if i > 0 && !b.hasPart(book) { // a part's head names its file
			out = append(out, Block{Kind: Paragraph, Small: true, Text: Text{{Text: book.Path, Style: Quiet, File: book.Path}}})
		}
		for k := range book.Nodes {
			n := &book.Nodes[k]
			if n.Kind == "heading" && n.Level <= 2 && len(b.entries) < maxEntries {
				b.entries = append(b.entries, Entry{noteAnchor(i, k), nodeText(n)})
			}
			out = append(out, b.node(n, i, k, 0)...)
		}
	}
	return out
}

func (b *builder) hasPart(book *record.Notebook) bool {
	for k := range book.Nodes {
		if x := book.Nodes[k].Block; x != nil && x.Kind == "part" {
			return true
		}
	}
	return false
}

func noteAnchor(book, node int) string { return fmt.Sprintf("note:%d-%d", book+1, node+1) }

// nodeText is the text of a node without its dress.
func nodeText(n *record.Node) string {
	var out strings.Builder
	var walk func(n *record.Node, depth int)
	walk = func(n *record.Node, depth int) {
		out.WriteString(n.Text)
		for i := range n.Children {
			if depth < 10_000 {
				walk(&n.Children[i], depth+1)
			}
		}
	}
	walk(n, 0)
	return out.String()
}

func (b *builder) nodes(list []record.Node, book, depth int) []Block {
	var out []Block
	for i := range list {
		out = append(out, b.node(&list[i], book, -1, depth+1)...)
	}
	return out
}

// node is a piece of prose; k is its place among the nodes of the notebook.
func (b *builder) node(n *record.Node, book, k, depth int) []Block {
	if depth > maxDepth {
		return []Block{para(plain(nodeText(n)))}
	}
	switch n.Kind {
	case "heading":
		return []Block{{Kind: Heading, Level: n.Level, Anchor: noteAnchor(book, k), Text: b.inline(n.Children, book)}}
	case "paragraph":
		return []Block{para(b.inline(n.Children, book))}
	case "list":
		return []Block{b.list(n, book, depth)}
	case "quote":
		return []Block{{Kind: Quote, Blocks: b.nodes(n.Children, book, depth)}}
	case "code":
		return []Block{{Kind: CodeBlock, Text: plain(n.Text)}}
	case "table":
		return b.proseTable(n, book)
	case "rule":
		return []Block{{Kind: Rule}}
	case "footnote":
		return []Block{{Kind: Footnote, Anchor: footAnchor(book, n.ID), Label: n.ID, Blocks: b.nodes(n.Children, book, depth)}}
	case "block":
		if n.Block == nil {
			return nil
		}
		return b.noteBlock(n.Block)
	}
	if t := b.inlineAt(n, 0, book, 0); len(t) > 0 {
		return []Block{para(t)}
	}
	return nil
}

func footAnchor(book int, id string) string { return fmt.Sprintf("foot:%d-%s", book+1, id) }

func (b *builder) list(n *record.Node, book, depth int) Block {
	out := Block{Kind: List, Verdict: ""}
	number := max(n.Start, 1)
	for i := range n.Children {
		item := &n.Children[i]
		label := "•"
		switch {
		case item.Checked == "yes":
			label = "☑"
		case item.Checked == "no":
			label = "☐"
		case n.Ordered:
			label = fmt.Sprintf("%d.", number+i)
		}
		out.Blocks = append(out.Blocks, Block{Kind: Item, Label: label, Blocks: b.nodes(item.Children, book, depth)})
	}
	return out
}

func (b *builder) proseTable(n *record.Node, book int) []Block {
	t := Table{}
	for i := range n.Children {
		r := &n.Children[i]
		if r.Head && len(t.Columns) == 0 {
			for k := range r.Children {
				t.Columns = append(t.Columns, Column{Head: nodeText(&r.Children[k]), Right: r.Children[k].Align == "right"})
			}
			continue
		}
		var cells []Text
		for k := range r.Children {
			cells = append(cells, b.inline(r.Children[k].Children, book))
		}
		for len(t.Columns) < len(cells) {
			t.Columns = append(t.Columns, Column{})
		}
		t.Rows = append(t.Rows, Row{Cells: cells})
	}
	return []Block{{Kind: TableBlock, Table: &t}}
}

// inline turns inline nodes into spans.
func (b *builder) inline(nodes []record.Node, book int) Text { return b.inlineAll(nodes, 0, book, 0) }

func (b *builder) inlineAll(nodes []record.Node, st Style, book, depth int) Text {
	var out Text
	for i := range nodes {
		if depth > maxDepth {
			out = append(out, Span{Text: nodeText(&nodes[i]), Style: st})
			continue
		}
		out = append(out, b.inlineAt(&nodes[i], st, book, depth)...)
	}
	return out
}

func (b *builder) inlineAt(n *record.Node, st Style, book, depth int) Text {
	inner := func(add Style) Text { return b.inlineAll(n.Children, st|add, book, depth+1) }
	switch n.Kind {
	case "emphasis":
		return inner(Emphasis)
	case "strong":
		return inner(Strong)
	case "strike":
		return inner(Struck)
	case "codespan":
		return append(Text{{Text: n.Text, Style: st | Code}}, inner(Code)...)
	case "break":
		return newLine
	case "link":
		out := inner(0)
		to := ""
		if id, local := strings.CutPrefix(n.URL, "#"); local {
			to = b.headingNamed(book, id)
		}
		for i := range out {
			if to != "" {
				out[i].To = to
			} else {
				out[i].URL = n.URL
			}
		}
		if to == "" && n.URL != "" && n.URL != nodeText(n) {
			out = append(out, Span{Text: " (" + n.URL + ")", Style: st | Quiet})
		}
		return out
	case "image":
		return append(Text{{Text: "[picture: " + words.Join(" ", n.Text, words.Prefixed("(", n.URL)) + ")]", Style: st | Quiet}}, inner(0)...)
	case "footref":
		return Text{{Text: n.ID, Style: st | Raised, To: footAnchor(book, n.ID)}}
	case "cite":
		if n.Cite == nil {
			return styled(st, n.Text)
		}
		out := Text{{Text: n.Text, Style: st, To: PageAnchor(n.Cite.Source, n.Cite.Page)}}
		if note := b.notFound(n.Cite); note != "" {
			out = append(out, Span{Text: " (" + note + ")", Style: st | Notice})
		}
		return out
	case "value":
		return Text{{Text: n.Text, Style: st, To: "value:" + n.Ref}}
	case "verdict":
		text := n.Text
		if text == "" {
			text = string(n.Verdict)
		}
		return Text{{Text: text, Style: st, Verdict: n.Verdict, To: "claim:" + n.Ref}}
	}
	return append(styled(st, n.Text), inner(0)...)
}

// headingNamed finds the heading of a notebook that has the ID.
func (b *builder) headingNamed(book int, id string) string {
	for i := range b.r.Content[book].Nodes {
		if n := &b.r.Content[book].Nodes[i]; n.Kind == "heading" && n.ID == id {
			return noteAnchor(book, i)
		}
	}
	return ""
}

// noteBlock sets a block of the notes as what it is, with the lines as typed
// behind it. What the record does not hold under the block's name is set as
// typed, so that nothing is lost.
func (b *builder) noteBlock(x *record.BlockRef) []Block {
	out := b.setBlock(x)
	if len(out) == 0 {
		return []Block{smallPara(blockHead(x.Kind, x.ID, nil, x.Position)), {Kind: CodeBlock, Text: plain(x.Lines)}}
	}
	if x.Lines == "" {
		return out
	}
	return append(out, Block{Kind: Fold, Label: words.Join(", ", "as typed", words.Place(x.Position)),
		Blocks: []Block{{Kind: CodeBlock, Text: plain(strings.TrimRight(x.Lines, "\n"))}}})
}

func (b *builder) setBlock(x *record.BlockRef) []Block {
	switch x.Kind {
	case "claim":
		if c := b.claims[x.ID]; c != nil && !b.set["claim:"+x.ID] {
			return []Block{b.claim(c)}
		}
	case "part":
		if p := b.parts[x.ID]; p != nil && !b.set["part:"+x.ID] {
			return b.part(p)
		}
	case "source":
		if s := b.sources[x.ID]; s != nil {
			return []Block{b.source(s)}
		}
	case "values":
		return b.valueList(x)
	case "circuit":
		return b.circuit(x)
	case "budget":
		for i := range b.r.Budgets {
			if y := &b.r.Budgets[i]; y.Net == x.ID && !b.set["budget:"+x.ID] {
				return b.budget(y)
			}
		}
	case "shortlist":
		for i := range b.r.Shortlists {
			if y := &b.r.Shortlists[i]; y.ID == x.ID && !b.set["shortlist:"+x.ID] {
				return b.shortlist(y)
			}
		}
	case "readings":
		return b.readings(x.Names)
	case "design", "review":
		var fields []Text
		for _, f := range x.Fields {
			fields = append(fields, join(" ", styled(Quiet, f.Name), plain(f.Value)))
		}
		if len(fields) > 0 {
			return []Block{smallPara(join(" · ", append([]Text{blockHead(x.Kind, x.ID, nil, x.Position)}, fields...)...))}
		}
	}
	return nil
}

// blockHead is the line above a block's content.
func blockHead(kind, id string, rest Text, at *record.Position) Text {
	return join("  ", styled(Quiet, kind), styled(Code|Strong, id), rest, where(at))
}

func (b *builder) source(s *record.Source) Block {
	text := words.Join(" · ", s.Title, s.Issuer, words.Prefixed("revision ", s.Revision), s.Date)
	return smallPara(join("  ", styled(Quiet, "document"), Text{{Text: s.ID, Style: Code, To: "source:" + s.ID}},
		plain(text), styled(Quiet, s.State)))
}
