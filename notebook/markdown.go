package notebook

import (
	"bytes"
	"fmt"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"
	"github.com/yuin/goldmark/util"
)

// This file sets goldmark up: CommonMark with tables, strikethrough, bare
// links, task lists and footnotes, our brackets in prose, and guards against
// text that would take Markdown time or memory without bound.

var (
	readerKey  = parser.NewContextKey() // *reader
	marksKey   = parser.NewContextKey() // *markBudget
	closingKey = parser.NewContextKey() // map[ast.Node]int: offset of the closing fence line
)

// newParser builds the Markdown parser. One is built per file: goldmark's
// table parser keeps state in the context only, but building is cheap and a
// shared one would be global state.
func newParser() parser.Parser {
	md := goldmark.New(goldmark.WithExtensions(extension.Table, extension.Strikethrough, extension.Linkify, extension.TaskList),
		goldmark.WithParser(parser.NewParser(
			parser.WithBlockParsers(
				util.Prioritized(parser.NewSetextHeadingParser(), 100),
				util.Prioritized(parser.NewThematicBreakParser(), 200),
				util.Prioritized(nested{parser.NewListParser()}, 300),
				util.Prioritized(parser.NewListItemParser(), 400),
				util.Prioritized(parser.NewCodeBlockParser(), 500),
				util.Prioritized(headingGuard{parser.NewATXHeadingParser()}, 600),
				util.Prioritized(fenceParser{parser.NewFencedCodeBlockParser()}, 700),
				util.Prioritized(nested{parser.NewBlockquoteParser()}, 800),
				util.Prioritized(parser.NewHTMLBlockParser(), 900),
				util.Prioritized(parser.NewParagraphParser(), 1000)),
			parser.WithInlineParsers(append(parser.DefaultInlineParsers(), util.Prioritized(bracketParser{}, 90))...),
			parser.WithParagraphTransformers(append(parser.DefaultParagraphTransformers(), util.Prioritized(paragraphGuard{}, 50))...))),
		goldmark.WithParserOptions(footnoteOptions()...)) // after WithParser, which replaces the parser
	return md.Parser()
}

// markdown reads the file and fills the notebook.
func (r *reader) markdown() {
	c := &converter{reader: r, data: r.src.Data, closing: map[ast.Node]int{}}
	pc := parser.NewContext()
	pc.Set(readerKey, r)
	pc.Set(notesKey, map[string]bool{})
	pc.Set(marksKey, &markBudget{maxMarkWork, maxPieces})
	pc.Set(closingKey, c.closing)
	doc := newParser().Parse(text.NewReader(c.data), parser.WithContext(pc))
	r.book.Content = c.children(doc)
	r.book.Blocks = c.blocks
	heads := headingIDs{}
	for _, h := range c.heads {
		h.ID = heads.next(h)
	}
}

// nested keeps lists and quotes from standing in one another without bound;
// what is too deep is read as text.
type nested struct{ parser.BlockParser }

func (n nested) Open(parent ast.Node, rd text.Reader, pc parser.Context) (ast.Node, parser.State) {
	depth := 0
	for p := parent; p != nil && depth <= MaxNesting; p = p.Parent() {
		if k := p.Kind(); k == ast.KindList || k == ast.KindBlockquote {
			depth++
		}
	}
	if depth > MaxNesting {
		l, seg := rd.Position()
		node, _ := n.BlockParser.Open(parent, rd, pc)
		rd.SetPosition(l, seg)
		if node != nil {
			r := pc.Get(readerKey).(*reader)
			r.errorAt("prose-deep", TextAt(r.src, seg.Start, seg.Start), 0, 0,
				fmt.Sprintf("lists and quotes are nested more than %d deep", MaxNesting), "")
		}
		return nil, parser.NoChildren
	}
	return n.BlockParser.Open(parent, rd, pc)
}

// fenceParser notes where a fence is closed; goldmark takes an unclosed one
// in silence.
type fenceParser struct{ parser.BlockParser }

func (f fenceParser) Continue(node ast.Node, rd text.Reader, pc parser.Context) parser.State {
	_, seg := rd.Position()
	state := f.BlockParser.Continue(node, rd, pc)
	if state&parser.Continue == 0 {
		pc.Get(closingKey).(map[ast.Node]int)[node] = seg.Start
	}
	return state
}

// markBudget is what may still be spent on reading marks in one file.
type markBudget struct {
	left   int64 // squares of counts
	pieces int   // counts
}

// spend says whether n marks of one paragraph are within bounds.
func (b *markBudget) spend(n int) bool {
	work := int64(n) * int64(n)
	if n > MaxMarks || work > b.left || !b.keep(n) {
		return false
	}
	if n > 64 { // ordinary prose is free
		b.left -= work
	}
	return true
}

// keep says whether n more pieces of prose are within bounds.
func (b *markBudget) keep(n int) bool {
	if n > b.pieces {
		return false
	}
	b.pieces -= n
	return true
}

// countMarks counts the characters whose reading may look at all others.
func countMarks(b []byte) int {
	n := 0
	for i, c := range b {
		switch c {
		case '*', '_', '~', '[', ']', '`', '<':
			n++
		case '@', ':', '.': // may make a link of an address
			if i+1 < len(b) && (c == '@' || c == ':' && b[i+1] == '/' || c == '.' && i > 2 && string(b[i-3:i]) == "www") {
				n++
			}
		}
	}
	return n
}

// headingGuard refuses headings of nothing but marks.
type headingGuard struct{ parser.BlockParser }

func (h headingGuard) Open(parent ast.Node, rd text.Reader, pc parser.Context) (ast.Node, parser.State) {
	line, seg := rd.PeekLine()
	if len(line) > 128 && !pc.Get(marksKey).(*markBudget).spend(countMarks(line)) {
		r := pc.Get(readerKey).(*reader)
		r.errorAt("prose-marks", TextAt(r.src, seg.Start, seg.Start), 0, 0, "too much inline markup in this heading to parse", "")
		return nil, parser.NoChildren
	}
	return h.BlockParser.Open(parent, rd, pc)
}

// paragraphGuard turns a paragraph that would take too long to read, or a
// table that would take too much room, into plain text.
type paragraphGuard struct{}

func (paragraphGuard) Transform(node *ast.Paragraph, rd text.Reader, pc parser.Context) {
	src := rd.Source()
	marks, size := 0, 0
	for i := range node.Lines().Len() {
		seg := node.Lines().At(i)
		marks += countMarks(src[seg.Start:seg.Stop])
		size += seg.Stop - seg.Start
	}
	if marks > 0 && !pc.Get(marksKey).(*markBudget).spend(marks) {
		replaceByText(node, pc, "prose-marks", "too much inline markup in this paragraph to parse", "split it with empty lines, or fence it as text")
		return
	}
	tableGuard(node, src, size, pc)
}

// tableGuard refuses tables that would take too much room, and warns of cells
// that Markdown drops.
func tableGuard(node *ast.Paragraph, src []byte, size int, pc parser.Context) {
	line := func(i int) []byte { seg := node.Lines().At(i); return src[seg.Start:seg.Stop] }
	for i := 1; i < node.Lines().Len(); i++ {
		if !delimiterRow(line(i)) {
			continue
		}
		cols := countCells(line(i))
		switch rows := node.Lines().Len() - i; {
		case cols > MaxColumns:
			replaceByText(node, pc, "table-wide", fmt.Sprintf("a table of %d columns; at most %d are read", cols, MaxColumns), "part the table")
			return
		case cols > 1 && cols*rows > size+1000:
			replaceByText(node, pc, "table-ragged", fmt.Sprintf("a table of %d columns whose %d rows are nearly empty",
				cols, rows), "write out the cells of each row")
			return
		case countCells(line(i-1)) != cols:
			return
		case !pc.Get(marksKey).(*markBudget).keep(cols * rows):
			replaceByText(node, pc, "table-large",
				fmt.Sprintf("a table of %d cells is more than is read of one notebook", cols*rows), "name it as a file beside the notes")
			return
		}
		r := pc.Get(readerKey).(*reader)
		for j := i + 1; j < node.Lines().Len(); j++ {
			if n := countCells(line(j)); n > cols {
				seg := node.Lines().At(j)
				r.warnAt("table-cells", TextAt(r.src, seg.Start, seg.Start), 0, 0,
					fmt.Sprintf("this row has %d cells, the table %d columns; the rest is left out", n, cols), "a bar inside a cell is written \\|")
			}
		}
		return
	}
}

// delimiterRow says that a line parts the head of a table from its rows.
func delimiterRow(line []byte) bool {
	dash, bar := false, false
	for _, c := range line {
		switch c {
		case '|':
			bar = true
		case '-':
			dash = true
		case ':', ' ', '\t', '\r', '\n':
		default:
			return false
		}
	}
	return dash && bar
}

// countCells is how many cells a row of a table has.
func countCells(line []byte) int {
	line = bytes.TrimSpace(line)
	n := 1
	for i, c := range line {
		if c == '|' && i > 0 && i < len(line)-1 && line[i-1] != '\\' {
			n++
		}
	}
	return n
}

// replaceByText puts the lines of a paragraph into a code block, which
// Markdown does not look into.
func replaceByText(node *ast.Paragraph, pc parser.Context, code, message, hint string) {
	r := pc.Get(readerKey).(*reader)
	seg := node.Lines().At(0)
	r.errorAt(code, TextAt(r.src, seg.Start, seg.Start+len(bytes.TrimRight(seg.Value(r.src.Data)[seg.Padding:], "\r\n"))), 0, 0, message, hint)
	plain := ast.NewCodeBlock()
	plain.SetLines(node.Lines())
	plain.SetPos(seg.Start)
	plain.SetAttributeString("plain", true)
	parent := node.Parent()
	parent.ReplaceChild(parent, node, plain)
}
