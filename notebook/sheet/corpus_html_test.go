package sheet

import (
	"fmt"
	"html"
	"strings"
)

// corpusHTML sets a device for a browser to print: another engine of layout, with
// real subscripts and spanning cells. plain leaves out rules and spans.
func corpusHTML(d corpusDevice, plain bool) string {
	var b strings.Builder
	style := "td,th{border:1px solid #888;padding:2px 4px}"
	if plain {
		style = "td,th{padding:1px 6px} tr:nth-child(even){background:#f2f2f2}"
	}
	fmt.Fprintf(&b, "<!doctype html><meta charset=utf-8><title>%s</title><style>@page{size:A4;margin:18mm} body{font:9pt sans-serif} table{border-collapse:collapse;width:100%%} h2{font-size:13pt} %s th{text-align:left} section{break-before:page} sub{font-size:70%%}</style>", d.Name, style)
	fmt.Fprintf(&b, "<h1>%s</h1><p>%s. %s, revision %s.</p><p>"+corpusFiller+"</p>", d.Name, d.Title,
		html.EscapeString(d.Maker), d.Revision, "Absolute maximum ratings", "Electrical characteristics", "Typical application")
	b.WriteString("<section><h2>Pin description</h2><table><tr><th>Pin<th>Name<th>Type<th>Description")
	for _, p := range d.Pins {
		fmt.Fprintf(&b, "<tr><td>%s<td>%s<td>%s<td>%s", p.Number, p.Name, p.Type, p.Function)
	}
	b.WriteString("</table></section><section><h2>Absolute maximum ratings</h2>")
	corpusHtmlRows(&b, d.AbsMax, plain)
	b.WriteString("<h2>Recommended operating conditions</h2>")
	corpusHtmlRows(&b, d.Operating, plain)
	b.WriteString("</section><section><h2>Electrical characteristics</h2>")
	corpusHtmlRows(&b, d.Electric, plain)
	b.WriteString("</section><section><h2>Ordering information</h2><table><tr><th>Order code<th>Option<th>Package<th>Temperature range")
	for _, o := range d.Orders {
		fmt.Fprintf(&b, "<tr><td>%s<td>%s<td>%s<td>%s", o.Code, o.Option, o.Package, o.Temperature)
	}
	b.WriteString("</table></section>")
	return b.String()
}

func corpusHtmlRows(b *strings.Builder, rows []corpusRow, plain bool) {
	b.WriteString("<table><tr><th>Parameter<th>Symbol<th>Test conditions<th>Min<th>Typ<th>Max<th>Unit")
	for i, r := range rows {
		span := 1
		for !plain && i+span < len(rows) && rows[i+span].Name == r.Name {
			span++
		}
		b.WriteString("<tr>")
		if plain || i == 0 || rows[i-1].Name != r.Name {
			symbol := []rune(r.Symbol)
			fmt.Fprintf(b, "<td rowspan=%d>%s<td rowspan=%d>%s<sub>%s</sub>", span, html.EscapeString(r.Name), span,
				string(symbol[:1]), html.EscapeString(string(symbol[1:])))
		}
		for _, s := range []string{r.Condition, r.Min, r.Typ, r.Max, r.Unit} {
			fmt.Fprintf(b, "<td>%s", html.EscapeString(strings.ReplaceAll(s, "-", "−")))
		}
	}
	b.WriteString("</table>")
}
