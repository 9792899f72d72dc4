package html

import (
	"bufio"
	"bytes"

	"guardband/eval/record"
)

// IndexRow is one design on a page that lists several.
type IndexRow struct {
	Path     string // of its page, from that of the list
	Title    string
	Revision string
	Verdict  string // counts, in words
}

// Index is a page that lists designs. It is watched as a record's page is.
func Index(rows []IndexRow, events string) []byte {
	var b bytes.Buffer
	r := &record.Record{}
	r.Design.Title = "Designs"
	p := newPage(bufio.NewWriter(&b), r, Options{Events: events})
	p.head()
	p.raw(markup("<main id=\"attention\"><header class=\"block\"><p class=\"small\">Design review records</p><h1>Designs</h1></header>\n<table><caption>Each design and its verdicts</caption>\n" +
		"<thead><tr><th scope=\"col\">Design</th><th scope=\"col\">Revision</th><th scope=\"col\">Verdicts</th></tr></thead>\n<tbody>"))
	for _, x := range rows {
		p.raw(markup("<tr><th scope=\"row\"><a"))
		p.attr("href", x.Path)
		p.raw(markup(">"), x.Title, markup("</a></th><td>"), x.Revision, markup("</td><td>"), x.Verdict, markup("</td></tr>\n"))
	}
	p.raw(markup("</tbody></table>\n"))
	p.foot()
	p.w.Flush()
	return b.Bytes()
}
