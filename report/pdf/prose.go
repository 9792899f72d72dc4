package pdf

import (
	"net/url"
	"strconv"
	"strings"

	"guardband/eval"
)

func headingAnchor(notebook, node int) string {
	return "heading:" + strconv.Itoa(notebook) + ":" + strconv.Itoa(node)
}

// plain is the text of inline nodes without their dress.
func plain(nodes []eval.Node) string {
	var b strings.Builder
	for i := range nodes {
		b.WriteString(nodes[i].Text)
		b.WriteString(plain(nodes[i].Children))
	}
	return b.String()
}

// notes sets every notebook in its own order.
func (d *document) notes() {
	for i, n := range d.r.Content {
		if len(d.r.Content) > 1 {
			d.heading(1, "notebook:"+n.Path, []span{d.code(body(), n.Path)}, "")
		}
		for j := range n.Nodes {
			d.node(&n.Nodes[j], headingAnchor(i, j), 0)
		}
		d.flush()
	}
}

// maxNest bounds quotes in lists in quotes; what is deeper is set flat.
const maxNest = 12

func (d *document) node(n *eval.Node, anchor string, depth int) {
	switch n.Kind {
	case "heading":
		d.heading(n.Level, anchor, d.inline(n.Children, body()), oneLine(plain(n.Children)))
	case "paragraph":
		d.space(4.5)
		d.para(d.inline(n.Children, body())...)
	case "list":
		d.list(n, depth)
	case "quote":
		d.quote(n, depth)
	case "code":
		d.codeBlock(n.Text)
	case "table":
		d.proseTable(n)
	case "rule":
		d.space(6)
		d.put(6, func() { d.line(d.x, d.y, d.x+d.w, d.y, 0.4, hairline) })
	case "footnote":
		d.footnote(n, depth)
	case "block":
		d.block(n.Block)
	default:
		d.space(4.5)
		spans := d.inline([]eval.Node{*n}, body())
		if len(spans) > 0 {
			d.para(spans...)
		}
	}
}

func (d *document) children(nodes []eval.Node, depth int) {
	for i := range nodes {
		d.node(&nodes[i], "", depth+1)
	}
}

// indented sets children right of the column's edge, as deep as there is room.
func (d *document) indented(by float64, depth int, do func()) {
	if depth > maxNest {
		by = 0
	}
	d.x += by
	d.w -= by
	do()
	d.x -= by
	d.w += by
}

func (d *document) list(n *eval.Node, depth int) {
	number := n.Start
	if n.Ordered && number == 0 {
		number = 1
	}
	for i := range n.Children {
		item := &n.Children[i]
		label := "•"
		switch {
		case item.Checked == "yes":
			label = "☑"
		case item.Checked == "no":
			label = "☐"
		case n.Ordered:
			label = strconv.Itoa(number+i) + "."
		}
		d.space(3)
		x := d.x
		d.keep(0, func() { d.text(x+2, d.y+body().ascent(), body(), label) })
		d.indented(15, depth, func() {
			for j := range item.Children {
				c := &item.Children[j]
				if c.Kind == "paragraph" {
					d.space(2)
					d.para(d.inline(c.Children, body())...)
					continue
				}
				d.node(c, "", depth+1)
			}
		})
		d.flush()
	}
}

func (d *document) quote(n *eval.Node, depth int) {
	d.space(5)
	if depth > maxNest {
		d.children(n.Children, depth)
		return
	}
	d.openBar(hairline, 1.4, 9, 26)
	d.children(n.Children, depth)
	d.flush()
	d.closeBar(9)
}

func (d *document) footnote(n *eval.Node, depth int) {
	d.space(4)
	x := d.x
	d.keep(0, func() {
		d.mark("foot:" + n.ID)
		d.text(x+2, d.y+body().ascent(), small().in(soft), d.g.clean(n.ID))
	})
	d.indented(15, depth, func() { d.children(n.Children, depth) })
	d.flush()
}

// codeBlock keeps blanks and line ends.
func (d *document) codeBlock(text string) {
	d.space(5)
	st := style{face: mono, size: smallSize * monoScale, colour: ink}
	d.openBar(hairline, 0.8, 8, 2*st.leading())
	for line := range strings.Lines(strings.TrimRight(text, "\n")) {
		line = strings.ReplaceAll(strings.TrimRight(line, "\r\n"), "\t", "    ")
		s := strings.ReplaceAll(d.g.clean(line), " ", "\u00a0")
		d.lines(d.layout([]span{{st, s}}, d.w), 0)
	}
	d.closeBar(8)
}

func (d *document) proseTable(n *eval.Node) {
	t := table{}
	for i := range n.Children {
		r := &n.Children[i]
		if r.Head && len(t.cols) == 0 {
			for _, c := range r.Children {
				t.cols = append(t.cols, column{head: oneLine(plain(c.Children)), align: alignOf(c.Align)})
			}
			continue
		}
		var cells []cell
		for j := range r.Children {
			cells = append(cells, d.inline(r.Children[j].Children, small()))
		}
		for len(t.cols) < len(cells) {
			t.cols = append(t.cols, column{})
		}
		t.rows = append(t.rows, row{cells: cells})
	}
	d.space(6)
	d.table(t)
	d.space(4)
}

func alignOf(s string) byte {
	switch s {
	case "right":
		return 'r'
	case "center", "centre":
		return 'c'
	}
	return 'l'
}

// inline turns inline nodes into spans.
func (d *document) inline(nodes []eval.Node, st style) []span {
	var out []span
	for i := range nodes {
		out = append(out, d.inlineNode(&nodes[i], st)...)
	}
	return out
}

func (d *document) inlineNode(n *eval.Node, st style) []span {
	switch n.Kind {
	case "text":
		return d.words(st, n.Text)
	case "emphasis":
		return d.inline(n.Children, st.with(oblique))
	case "strong":
		return d.inline(n.Children, st.with(bold))
	case "strike":
		st.strike = true
		return d.inline(n.Children, st)
	case "codespan":
		return []span{d.code(st, n.Text)}
	case "break":
		return []span{newLine(st)}
	case "link":
		return d.outside(n, st)
	case "image":
		return d.words(st.in(soft), "[picture: "+n.Text+" ("+n.URL+")]")
	case "footref":
		st.raise, st.size = st.size*0.3, st.size*0.75
		return d.words(st.to("foot:"+n.ID), n.ID)
	case "cite":
		return d.proseCite(n, st)
	case "value":
		return d.words(st.keepTo("value:"+n.Ref), n.Text)
	case "verdict":
		v := d.verdict(n.Verdict, st.size)
		v.text = d.g.clean(verdictMark(n.Verdict) + "\u00a0" + n.Text)
		v.anchor = "claim:" + n.Ref
		return []span{v}
	}
	return append(d.words(st, n.Text), d.inline(n.Children, st)...)
}

func (d *document) proseCite(n *eval.Node, st style) []span {
	if n.Cite == nil {
		return d.words(st, n.Text)
	}
	out := []span{d.sp(st.to(pageAnchor(*n.Cite)), n.Text)}
	if note := graded(n.Cite.Checked); note != "" {
		out = append(out, d.sp(st.in(verdictColour(eval.Open)), " ("+note+")"))
	}
	return out
}

// outside is a link that leaves the document. Its address is printed, since
// paper cannot be followed; only addresses of the web and of mail are live.
func (d *document) outside(n *eval.Node, st style) []span {
	text := st
	if u, ok := liveURL(n.URL); ok {
		text = st.in(pointer)
		text.url = u
	}
	out := d.inline(n.Children, text)
	if n.URL != "" && n.URL != plain(n.Children) {
		out = append(out, d.sp(st.in(soft), " ("+n.URL+")"))
	}
	return out
}

func liveURL(s string) (string, bool) {
	u, err := url.Parse(s)
	if err != nil || u.Scheme != "http" && u.Scheme != "https" && u.Scheme != "mailto" {
		return "", false
	}
	for _, r := range u.String() {
		if r <= ' ' || r > '~' {
			return "", false
		}
	}
	return u.String(), true
}
