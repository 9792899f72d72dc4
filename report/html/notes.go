package html

import (
	"fmt"
	"strings"

	"guardband/eval"
)

// notes writes the notebooks as written, each block set as what it is.
func (p *page) notes() {
	p.open("notes")
	for b := range p.r.Content {
		book := &p.r.Content[b]
		if len(p.r.Content) > 1 {
			p.level = 2
			p.raw(markup(`<p class="file">`))
			p.file(book.Path, "", book.Path)
			p.raw(markup(`</p>`))
		}
		n := notePrinter{page: p, book: b}
		for i := range book.Nodes {
			n.top = i
			n.beside(&book.Nodes[i])
		}
	}
	p.valueTable(p.unset("value", len(p.r.Values), func(i int) string { return p.r.Values[i].Name }))
	p.close()
}

// notePrinter writes the nodes of one notebook.
type notePrinter struct {
	*page
	book, top int
	inHead    bool // inside a table's head row
}

// maxNodes is the depth below which nested prose is written as plain text.
const maxNodes = 200

// containers are the nodes that are an element around their children.
var containers = map[string]markup{
	"paragraph": "p", "item": "li", "quote": "blockquote", "emphasis": "em", "strong": "strong", "strike": "del",
}

func (n *notePrinter) children(node *eval.Node, depth int) {
	for i := range node.Children {
		n.node(&node.Children[i], depth+1)
	}
}

func (n *notePrinter) wrap(tag markup, node *eval.Node, depth int) {
	n.raw(markup(`<`), tag, markup(`>`))
	n.children(node, depth)
	n.raw(markup(`</`), tag, markup(`>`))
}

func (n *notePrinter) node(node *eval.Node, depth int) {
	if depth > maxNodes {
		n.raw(nodeText(*node))
		return
	}
	switch node.Kind {
	case "heading":
		tag := n.page.heading(node.Level + 2)
		n.raw(markup(`<`), tag)
		n.attr("id", headingID(n.book, n.top))
		n.raw(markup(`>`))
		n.children(node, depth)
		n.raw(markup(`</`), tag, markup(">\n"))
	case "paragraph", "quote", "emphasis", "strong", "strike":
		n.wrap(containers[node.Kind], node, depth)
	case "list":
		n.list(node, depth)
	case "item":
		n.item(node, depth)
	case "code":
		n.raw(markup(`<pre tabindex="0"><code>`), node.Text, markup("</code></pre>\n"))
	case "table":
		n.table(node, depth)
	case "rule":
		n.raw(markup("<hr>\n"))
	case "block":
		if node.Block != nil {
			n.block(node.Block)
		}
	case "footnote":
		n.raw(markup(`<div class="footnote" role="note"`))
		n.attr("id", n.footID(node.ID))
		n.raw(markup(`><span class="no">`), node.ID, markup(`</span>`))
		n.children(node, depth)
		n.raw(markup("</div>\n"))
	default:
		n.inline(node, depth)
	}
}

func (n *notePrinter) inline(node *eval.Node, depth int) {
	switch node.Kind {
	case "codespan":
		n.raw(markup(`<code>`), node.Text, markup(`</code>`))
		n.children(node, depth)
	case "link":
		n.linkNode(node, depth)
	case "image":
		n.raw(markup(`<span class="image">[picture: `), node.Text)
		n.children(node, depth)
		n.raw(markup(`]</span>`))
	case "break":
		n.raw(markup(`<br>`))
	case "footref":
		n.raw(markup(`<sup><a`))
		n.attr("href", "#"+n.footID(node.ID))
		n.attr("aria-label", "Footnote "+node.ID)
		n.raw(markup(`>`), node.ID, markup(`</a></sup>`))
	case "cite":
		n.citeNode(node)
	case "value":
		n.raw(markup(`<span class="printed num">`))
		n.page.link("value", node.Ref, node.Text)
		n.raw(markup(`</span>`))
	case "verdict":
		n.raw(markup(`<span class="v v-`), node.Verdict, markup(`">`))
		n.page.link("claim", node.Ref, orElse(node.Text, string(node.Verdict)))
		n.raw(markup(`</span>`))
	default: // text, and what a later form may bring: its text is kept
		n.raw(node.Text)
		n.children(node, depth)
	}
}

func (n *notePrinter) footID(id string) string {
	return anchor("foot", fmt.Sprintf("%d-%s", n.book+1, id))
}

func (n *notePrinter) list(node *eval.Node, depth int) {
	if !node.Ordered {
		n.wrap("ul", node, depth)
		return
	}
	n.raw(markup(`<ol`))
	if node.Start > 1 {
		n.attr("start", fmt.Sprint(node.Start))
	}
	n.raw(markup(`>`))
	n.children(node, depth)
	n.raw(markup(`</ol>`))
}

func (n *notePrinter) item(node *eval.Node, depth int) {
	n.raw(markup(`<li>`))
	switch node.Checked {
	case "yes":
		n.raw(markup(`<span class="tick">done</span> `))
	case "no":
		n.raw(markup(`<span class="tick">to do</span> `))
	}
	n.children(node, depth)
	n.raw(markup(`</li>`))
}

func (n *notePrinter) linkNode(node *eval.Node, depth int) {
	href, ok := address(node.URL)
	switch id, local := strings.CutPrefix(node.URL, "#"); {
	case local:
		href, ok = n.headingLink(id)
	case ok && !strings.Contains(href, ":"):
		href, ok = fileURL(n.opt.Base, node.URL)
	}
	if !ok {
		n.children(node, depth)
		n.raw(markup(` <span class="url">(`), node.URL, markup(`)</span>`))
		return
	}
	n.raw(markup(`<a rel="noreferrer"`))
	n.attr("href", href)
	n.raw(markup(`>`))
	n.children(node, depth)
	n.raw(markup(`</a>`))
	if !strings.HasPrefix(href, "#") {
		n.raw(markup(`<span class="url printonly"> (`), node.URL, markup(`)</span>`))
	}
}

// headingLink finds the heading of this notebook that has the ID.
func (n *notePrinter) headingLink(id string) (string, bool) {
	nodes := n.r.Content[n.book].Nodes
	for i := range nodes {
		if nodes[i].Kind == "heading" && nodes[i].ID == id {
			return "#" + headingID(n.book, i), true
		}
	}
	return "", false
}

// citeNode writes a citation in the line of the text.
func (n *notePrinter) citeNode(node *eval.Node) {
	if node.Cite == nil {
		n.raw(node.Text)
		return
	}
	n.raw(markup(`<span class="incite">[`))
	n.citeRef(node.Cite)
	n.raw(markup(`]</span>`))
}

// beside writes a piece of prose with a note beside it for each citation.
func (n *notePrinter) beside(node *eval.Node) {
	cites := citesOf(node, nil, 0)
	if len(cites) == 0 || node.Kind == "block" {
		n.node(node, 0)
		return
	}
	n.raw(markup(`<div class="pair"><div class="side" role="note">`))
	for _, c := range cites {
		n.raw(markup(`<p>`))
		n.citeWords(c)
		n.picture(c)
		n.raw(markup(`</p>`))
	}
	n.raw(markup(`</div>`))
	n.node(node, 0)
	n.raw(markup("</div>\n"))
}

// citesOf collects the citations below a node.
func citesOf(node *eval.Node, out []*eval.Cite, depth int) []*eval.Cite {
	if node.Cite != nil {
		out = append(out, node.Cite)
	}
	for i := range node.Children {
		if depth < maxNodes {
			out = citesOf(&node.Children[i], out, depth+1)
		}
	}
	return out
}

func (n *notePrinter) table(node *eval.Node, depth int) {
	n.raw(markup(`<div class="wide prose" tabindex="0" role="group" aria-label="Table of the notes"><table>`))
	body := false
	for i := range node.Children {
		row := &node.Children[i]
		if row.Head && !body {
			n.raw(markup(`<thead>`))
		} else if !body {
			n.raw(markup(`<tbody>`))
			body = true
		}
		n.inHead = row.Head
		n.raw(markup(`<tr>`))
		for k := range row.Children {
			n.cell(&row.Children[k], depth)
		}
		n.raw(markup(`</tr>`))
		if row.Head && !body {
			n.raw(markup(`</thead>`))
		}
	}
	if body {
		n.raw(markup(`</tbody>`))
	}
	n.raw(markup("</table></div>\n"))
}

func (n *notePrinter) cell(node *eval.Node, depth int) {
	tag := markup("td")
	if n.inHead {
		tag = `th scope="col"`
	}
	n.raw(markup(`<`), tag)
	switch node.Align {
	case "right":
		n.raw(markup(` class="r num"`))
	case "center":
		n.raw(markup(` class="c"`))
	}
	n.raw(markup(`>`))
	n.children(node, depth)
	n.raw(markup(`</`), tag[:2], markup(`>`))
}

// nodeText is the text of a node without its markup.
func nodeText(node eval.Node) string {
	var b strings.Builder
	var walk func(n *eval.Node, depth int)
	walk = func(n *eval.Node, depth int) {
		b.WriteString(n.Text)
		for i := range n.Children {
			if depth < 10_000 {
				walk(&n.Children[i], depth+1)
			}
		}
	}
	walk(&node, 0)
	return b.String()
}
