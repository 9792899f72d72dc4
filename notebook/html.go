package notebook

import (
	"bytes"
	"fmt"
	"strings"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/text"
)

// This file keeps raw HTML as text, and tells of fences that Markdown does
// not see as such.

// html keeps raw HTML as the text it is; comments are left out.
func (c *converter) html(out []*Node, n *ast.HTMLBlock) []*Node {
	s := linesText(n.Lines(), c.data)
	if n.HasClosure() {
		s += string(n.ClosureLine.Value(c.data))
	}
	c.hides(s)
	if n.HTMLBlockType != ast.HTMLBlockType2 {
		c.swallowed(n.Lines(), "it is inside HTML; separate them with an empty line")
	} else {
		c.unread(n.Lines(), "", "it is inside a comment", "take it out, or the marks of the comment", Warn)
		if i := strings.Index(s, "-->"); i < 0 || strings.TrimSpace(s[i+3:]) == "" {
			return out
		}
	}
	m := c.leaf(Code, n)
	m.Info, m.Text = "html", s
	return append(out, m)
}

// hides notes whether HTML opens what is not shown, or closes it: a block of
// ours behind it would be judged and not be seen on the rendered page.
func (c *converter) hides(s string) {
	s = strings.ToLower(strings.Join(strings.Fields(s), " "))
	c.hidden = c.hidden && !strings.Contains(s, "</")
	for _, mark := range []string{" hidden", "display:none", "display: none", "visibility:hidden", "<template"} {
		if i := strings.LastIndex(s, mark); i >= 0 && !strings.Contains(s[i:], "</") {
			c.hidden = true
		}
	}
}

func (c *converter) rawHTML(out []*Node, n *ast.RawHTML) []*Node {
	var s string
	for i := range n.Segments.Len() {
		seg := n.Segments.At(i)
		s += string(seg.Value(c.data))
	}
	switch tag := strings.ToLower(strings.Trim(s, "<>/ ")); {
	case tag == "br":
		return append(out, c.leaf(Break, n))
	case strings.HasPrefix(s, "<!--"):
		return out
	}
	m := c.leaf(Inline, n)
	m.Text = s
	return append(out, m)
}

// swallowed refuses lines that look like fences of ours and are not.
func (c *converter) swallowed(lines *text.Segments, why string) {
	c.unread(lines, "", why, "start it within the first three columns, after an empty line", Err)
}

// overrun refuses fences of ours inside a foreign one that their own last line would close: it was left open.
func (c *converter) overrun(outer string, lines *text.Segments) {
	c.unread(lines, outer, "the fence of other code above it is not closed",
		"close that one; to show a block as it is written, fence it with four marks", Err)
}

// unread tells of fences of ours among lines; inside an outer fence of those alone that could close it.
func (c *converter) unread(lines *text.Segments, outer, why, hint string, sev Severity) {
	for i := range lines.Len() {
		seg := lines.At(i)
		line := c.data[seg.Start:seg.Stop]
		k := 0
		for k < len(line) && isBlank(line[k]) {
			k++
		}
		run := fenceRun(string(line[k:]))
		if run == "" || outer != "" && (k > 3 || !strings.HasPrefix(run, outer)) {
			continue
		}
		word, _ := splitInfo(strings.TrimLeft(string(bytes.TrimRight(line[k:], "\r\n")), "`~ "))
		if specOf(word) != nil {
			t := TextAt(c.src, seg.Start+k, seg.Start+len(bytes.TrimRight(line, "\r\n")))
			c.at(sev, "fence-swallowed", t, 0, len(t.S), fmt.Sprintf("this %s block is not read: %s", word, why), hint)
		}
	}
}

// fenceRun is the run of backticks or tildes that opens a fence; "" if s opens none.
func fenceRun(s string) string {
	for _, mark := range []string{"`", "~"} {
		if n := len(s) - len(strings.TrimLeft(s, mark)); n >= 3 {
			return s[:n]
		}
	}
	return ""
}
