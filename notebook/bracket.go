package notebook

import (
	"strings"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"
	"github.com/yuin/goldmark/util"
)

// This file reads what stands in square brackets in prose: citations, values
// and verdicts. Links, reference links, footnotes and checkboxes stay
// Markdown's.

var kindBracket = ast.NewNodeKind("Bracket")

// bracket is a citation, value or verdict in prose.
type bracket struct {
	ast.BaseInline
	node NodeKind
	src  Text
	cite Cite
	path string
	unit string
}

// Kind implements ast.Node.
func (*bracket) Kind() ast.NodeKind { return kindBracket }

// Dump implements ast.Node.
func (b *bracket) Dump(source []byte, level int) { ast.DumpHelper(b, source, level, nil, nil) }

// bracketParser goes before goldmark's link parser.
type bracketParser struct{}

// Trigger implements parser.InlineParser.
func (bracketParser) Trigger() []byte { return []byte{'['} }

// bracketLines is over how many lines a bracket in prose may run.
const bracketLines = 4

// Parse implements parser.InlineParser.
func (bracketParser) Parse(parent ast.Node, rd text.Reader, pc parser.Context) ast.Node {
	line, seg := rd.PeekLine()
	r := pc.Get(readerKey).(*reader)
	if len(line) < 3 || line[1] == '^' || line[1] == ']' || line[2] == ']' {
		if len(line) > 3 && line[1] == '^' && seg.Padding == 0 {
			r.missingNote(line, seg, pc)
		}
		return nil
	}
	t, ok := r.gather(rd, line, seg)
	if !ok || linksTo(t.S, pc) {
		return nil
	}
	b := r.readBracket(t)
	if b == nil {
		return nil
	}
	advance(rd, b.src)
	b.SetPos(b.src.Offset(0))
	return b
}

// gather gives the text from "[" on to the end of the line on which the
// bracket closes, at most bracketLines on.
func (r *reader) gather(rd text.Reader, line []byte, seg text.Segment) (Text, bool) {
	// Most brackets close on their line; those cost no copy.
	t := TextAt(r.src, seg.Start, seg.Start+len(strings.TrimRight(string(line), "\r\n")))
	if seg.Padding != 0 {
		return t, false
	}
	if end := closeCite(t.S, 0); t.S[end-1] == ']' && strings.IndexByte(t.S[:end], ']') >= 0 {
		return t, true
	}
	if strings.IndexByte(t.S, ']') >= 0 && strings.IndexByte(t.S, '"') < 0 && !strings.Contains(t.S, "“") {
		return t, false
	}
	saved, pos := rd.Position()
	defer rd.SetPosition(saved, pos)
	var b strings.Builder
	b.WriteString(t.S)
	var more []segment
	for range bracketLines - 1 {
		rd.AdvanceLine()
		line, seg := rd.PeekLine()
		if line == nil {
			break
		}
		b.WriteByte(' ')
		more = append(more, segment{b.Len(), seg.Start})
		b.WriteString(strings.TrimRight(string(line[seg.Padding:]), "\r\n"))
		s := b.String()
		if end := closeCite(s, 0); s[end-1] == ']' && end > 1 {
			t.S, t.more = s, more
			return t, true
		}
	}
	return t, false
}

// linksTo says that Markdown reads the bracket as a link.
func linksTo(s string, pc parser.Context) bool {
	end := closeCite(s, 0)
	if known(s[1:end-1], pc) {
		return true
	}
	switch {
	case end == len(s):
		return false
	case s[end] == '(':
		return true
	case s[end] == '[':
		if e := closeCite(s, end); s[e-1] == ']' && e > end+2 {
			return known(s[end+1:e-1], pc)
		}
	}
	return false
}

func known(label string, pc parser.Context) bool {
	if len(label) > 999 {
		return false
	}
	_, ok := pc.Reference(util.ToLinkReference([]byte(label)))
	return ok
}

// readBracket reads the bracket at the start of t; nil means plain text.
func (r *reader) readBracket(t Text) *bracket {
	end := closeCite(t.S, 0)
	src := t.Slice(0, end)
	inner := strings.TrimSpace(t.S[1 : end-1])
	word, rest, _ := strings.Cut(inner, " ")
	rest = strings.TrimSpace(rest)
	switch {
	case word == "value" && rest != "":
		return r.printValue(src, rest)
	case word == "verdict" && rest != "":
		if strings.ContainsAny(rest, " \t") {
			return nil
		}
		return &bracket{node: PrintVerdict, src: src, path: rest}
	}
	c, got, fault := parseCite(t.S, 0)
	if fault != nil || !c.located() {
		r.nearCite(src, c, fault)
		return nil
	}
	c.Text = t.Slice(0, got)
	if c.Source == "" {
		r.warnAt("cite-source", c.Text, 0, len(c.Text.S), "a citation in prose names its source", "write [ID "+strings.TrimLeft(c.Text.S, "["))
		return nil
	}
	return &bracket{node: CiteNode, src: c.Text, cite: c}
}

// printValue reads "path [in unit]"; other words are text, since "[value
// judgement of ...]" is English.
func (r *reader) printValue(src Text, rest string) *bracket {
	path, unit := rest, ""
	if k := strings.LastIndex(rest, " in "); k >= 0 {
		path, unit = strings.TrimSpace(rest[:k]), strings.TrimSpace(rest[k+4:])
	}
	if outsideQuotes(path, ' ') >= 0 || strings.ContainsAny(unit, " \t") || unit == "" && path != rest {
		r.warnAt("print-form", src, 0, len(src.S), "this prints no value",
			"write [value NAME] or [value NAME in mV]; a formula gets a name in a values block first")
		return nil
	}
	return &bracket{node: PrintValue, src: src, path: path, unit: unit}
}

// outsideQuotes is where a byte first stands in s outside quotes; -1 if it does not.
func outsideQuotes(s string, c byte) int {
	for i, x := range unquoted(s) {
		if x == c {
			return i
		}
	}
	return -1
}

// nearCite warns of brackets that were surely meant as a citation.
func (r *reader) nearCite(src Text, c Cite, fault *citeFault) {
	if fault == nil || c.Source == "" || !c.located() && fault.code != "cite-twice" {
		return
	}
	r.warnAt(fault.code, src, fault.at, min(fault.end, len(src.S)), fault.message, fault.hint)
}

// advance moves the reader behind a text of one or more lines.
func advance(rd text.Reader, t Text) {
	js := t.more
	for range js {
		rd.AdvanceLine()
	}
	n := len(t.S)
	if len(js) > 0 {
		n -= js[len(js)-1].at
	}
	rd.Advance(n)
}

// bracket makes a node of prose of a bracket.
func (c *converter) bracket(b *bracket) *Node {
	n := &Node{Kind: b.node, Pos: c.place(b.src.Offset(0)), Text: b.path, Src: b.src, Unit: b.unit}
	if b.node == CiteNode {
		n.Cite = &b.cite
	}
	return n
}
