package html

import (
	"cmp"
	"fmt"
	"strings"

	"guardband/eval/record"
	"guardband/report/draw"
	"guardband/report/internal/words"
	"guardband/report/outline"
)

// Size of a margin plot in CSS pixels. It fits a phone's width.
const (
	plotWidth = 336
	plotText  = 11
)

// front is page one, with the choice of what the page shows.
func (p *page) front() {
	p.raw(markup("<section class=\"summary\" aria-labelledby=\"summary\"><h2 id=\"summary\">Verdict</h2>\n"))
	p.blocks(p.o.Front)
	if n := words.Total(p.r.Summary); n > 0 && !p.opt.Short {
		p.filter(n)
	}
	p.raw(markup("</section>\n"))
}

// filter is a set of radio buttons that the style sheet alone obeys; the
// script adds the search field.
func (p *page) filter(n int) {
	p.raw(markup(`<fieldset class="filter"><legend>Show claims that are</legend>`))
	p.raw(markup(`<label><input type="radio" name="show" id="show-all" checked> all <b>`), n, markup(`</b></label>`))
	for _, v := range words.Verdicts {
		if c := words.Count(p.r.Summary, v); c > 0 {
			p.raw(markup(`<label><input type="radio" name="show" id="show-`), v, markup(`"> <span class="v v-`), v, markup(`">`), v,
				markup(`</span> <b>`), c, markup(`</b></label>`))
		}
	}
	p.raw(markup(`<span class="search" hidden><label for="search">with the words</label> <input type="search" id="search" autocomplete="off"></span></fieldset>`))
	p.raw(markup("\n<p class=\"status small\" role=\"status\" id=\"found\"></p>\n"))
}

func (p *page) chapter(i int) {
	c := &p.o.Chapters[i]
	p.level = 2
	p.raw(markup(`<section aria-labelledby="`), c.Anchor, markup(`"><h2 id="`), c.Anchor, markup(`">`))
	if !p.opt.Short {
		p.raw(markup(`<span class="no">`), i+1, markup(`</span> `))
	}
	p.raw(c.Title, markup("</h2>\n"))
	if c.Anchor == "notes" || c.Anchor == "checks" || c.Anchor == "attention" {
		p.raw(markup(`<p class="filtered small">Only some claims are shown. <a href="#summary">Change what is shown</a></p>`))
	}
	p.blocks(c.Blocks)
	p.raw(markup("</section>\n"))
}

// contents lists the chapters and the upper headings of the notes.
func (p *page) contents() {
	p.raw(markup("<nav class=\"contents\" aria-labelledby=\"contents\"><h2 id=\"contents\">Contents</h2>\n<ol>"))
	for i, c := range p.o.Chapters {
		p.raw(markup(`<li><a href="#`), c.Anchor, markup(`"><span class="no">`), i+1, markup(`</span> `), c.Title, markup(`</a>`))
		for k, e := range c.Entries {
			if k == 0 {
				p.raw(markup(`<ol>`))
			}
			p.raw(markup(`<li>`))
			p.link(e.Anchor, e.Title)
			p.raw(markup(`</li>`))
		}
		if len(c.Entries) > 0 {
			p.raw(markup(`</ol>`))
		}
		p.raw(markup("</li>"))
	}
	p.raw(markup("</ol></nav>\n"))
}

func (p *page) foot() {
	p.raw(markup("</main>\n"))
	p.pictureStore()
	p.raw(markup("<script>"), markup(script), markup("</script>\n"))
	if p.opt.Events != "" {
		p.raw(markup("<script>"), markup(reload(p.opt.Events)), markup("</script>\n"))
	}
	p.raw(markup("</body>\n</html>\n"))
}

// heading opens a heading that never skips a level below the one before.
func (p *page) heading(level int) markup {
	level = max(3, min(6, level, p.level+1))
	p.level = level
	return markup(fmt.Sprintf("h%d", level))
}

func (p *page) blocks(list []outline.Block) {
	for i := range list {
		p.block(&list[i])
	}
}

func (p *page) block(b *outline.Block) {
	switch b.Kind {
	case outline.Paragraph:
		p.paragraph(b)
	case outline.Heading:
		tag := p.heading(b.Level + 2)
		p.raw(markup(`<`), tag)
		p.id(b.Anchor)
		p.raw(markup(`>`))
		p.spans(b.Text)
		p.raw(markup(`</`), tag, markup(">\n"))
	case outline.Labelled:
		p.raw(markup(`<p class="row"`))
		p.id(b.Anchor)
		p.raw(markup(`>`))
		if b.Label != "" {
			p.raw(markup(`<span class="lab">`), b.Label, markup(`</span> `))
		}
		p.spans(b.Text)
		p.raw(markup("</p>\n"))
	case outline.Group:
		p.grouped(b)
	case outline.List:
		p.list(b)
	case outline.Quote:
		p.raw(markup(`<blockquote>`))
		p.blocks(b.Blocks)
		p.raw(markup("</blockquote>\n"))
	case outline.CodeBlock:
		p.raw(markup(`<pre tabindex="0">`))
		for _, s := range b.Text {
			p.raw(s.Text)
		}
		p.raw(markup("</pre>\n"))
	case outline.TableBlock:
		p.table(b.Table)
	case outline.Formula:
		p.criterion(b)
	case outline.Value:
		p.value(b)
	case outline.Evidence:
		p.evidence(b.Cites)
	case outline.Rule:
		p.raw(markup("<hr>\n"))
	case outline.Footnote:
		p.raw(markup(`<div class="footnote" role="note"`))
		p.id(b.Anchor)
		p.raw(markup(`><span class="no">`), b.Label, markup(`</span><div>`))
		p.blocks(b.Blocks)
		p.raw(markup("</div></div>\n"))
	case outline.Fold:
		p.fold("typed", b.Label, b.Blocks)
	case outline.Fields:
		p.raw(markup(`<dl class="fields">`))
		for _, f := range b.Pairs {
			p.raw(markup(`<div><dt>`), f[0], markup(`</dt><dd>`), f[1], markup(`</dd></div>`))
		}
		p.raw(markup("</dl>\n"))
	case outline.Tally:
		p.tally(b.Summary)
	}
}

func (p *page) paragraph(b *outline.Block) {
	p.raw(markup(`<p`))
	p.id(b.Anchor)
	switch {
	case b.Lead:
		p.raw(markup(` class="lead lead-`), b.Verdict, markup(`"`))
	case b.Small:
		p.raw(markup(` class="small"`))
	}
	p.raw(markup(`>`))
	p.spans(b.Text)
	p.raw(markup("</p>\n"))
}

// grouped is a claim, a line about one, or a safety message.
func (p *page) grouped(b *outline.Block) {
	before := p.level
	tag := p.heading(p.level + 1)
	switch {
	case b.Word != "":
		p.raw(markup(`<div class="caution"`))
		p.attr("data-word", b.Word)
	case b.Once:
		p.raw(markup(`<article class="claim"`))
		p.attr("data-verdict", string(b.Verdict))
	default:
		p.raw(markup(`<article class="brief"`))
		p.attr("data-verdict", string(b.Verdict))
	}
	p.id(b.Anchor)
	p.raw(markup(`><`), tag, markup(`>`))
	if b.Word != "" {
		p.raw(markup(`<span class="word">`), b.Word, markup(`</span> `))
	}
	p.spans(b.Head)
	p.raw(markup(`</`), tag, markup(`>`))
	p.blocks(b.Blocks)
	if b.Word != "" {
		p.raw(markup("</div>\n"))
	} else {
		p.raw(markup("</article>\n"))
	}
	p.level = before
}

func (p *page) fold(class markup, label string, list []outline.Block) {
	p.raw(markup(`<details class="`), class, markup(`"><summary>`), label, markup(`</summary>`))
	p.blocks(list)
	p.raw(markup("</details>\n"))
}

func (p *page) list(b *outline.Block) {
	tag, first := markup("ul"), ""
	if len(b.Blocks) > 0 {
		first = strings.TrimSuffix(b.Blocks[0].Label, ".")
	}
	if first != "" && strings.Trim(first, "0123456789") == "" {
		tag = "ol"
	}
	p.raw(markup(`<`), tag)
	if tag == "ol" && first != "1" {
		p.attr("start", first)
	}
	p.raw(markup(`>`))
	for i := range b.Blocks {
		item := &b.Blocks[i]
		p.raw(markup(`<li>`))
		switch item.Label {
		case "☑":
			p.raw(markup(`<span class="tick">done</span> `))
		case "☐":
			p.raw(markup(`<span class="tick">to do</span> `))
		}
		p.blocks(item.Blocks)
		p.raw(markup(`</li>`))
	}
	p.raw(markup(`</`), tag, markup(">\n"))
}

func (p *page) table(t *outline.Table) {
	class := markup("")
	if t.Ruled {
		class = ` class="ruled"`
	}
	p.raw(markup(`<div class="wide" tabindex="0" role="group"`))
	p.attr("aria-label", cmp.Or(t.Caption, "Table of the notes"))
	p.raw(markup(`><table`), class, markup(`>`))
	if t.Caption != "" {
		p.raw(markup(`<caption>`), t.Caption, markup(`</caption>`))
	}
	p.raw(markup(`<thead><tr>`))
	for _, c := range t.Columns {
		p.raw(markup(`<th scope="col"`), right(c), markup(`>`), c.Head, markup(`</th>`))
	}
	p.raw(markup(`</tr></thead><tbody>`))
	for i := range t.Rows {
		p.row(t, &t.Rows[i])
	}
	p.raw(markup("</tbody></table></div>\n"))
}

func right(c outline.Column) markup {
	if c.Right {
		return ` class="r"`
	}
	return ""
}

func (p *page) row(t *outline.Table, r *outline.Row) {
	p.raw(markup(`<tr`))
	p.id(r.Anchor)
	if r.Title != nil {
		p.raw(markup(` class="group"><th scope="colgroup" colspan="`), len(t.Columns), markup(`">`))
		p.spans(r.Title)
		if len(r.Fold) > 0 {
			p.fold("more", "in full", r.Fold)
		}
		p.raw(markup("</th></tr>\n"))
		return
	}
	if r.Verdict != "" {
		p.attr("data-verdict", string(r.Verdict))
	}
	p.raw(markup(`>`))
	for i, c := range t.Columns {
		tag := markup("td")
		if i == 0 && len(r.Cells) > 0 && outline.Plain(r.Cells[0]) != "" {
			tag = `th scope="row"`
		}
		p.raw(markup(`<`), tag)
		if i > 0 {
			p.raw(right(c))
		}
		p.raw(markup(`>`))
		if i < len(r.Cells) {
			p.spans(r.Cells[i])
		}
		if c.Gauge && r.Gauge != nil {
			p.raw(markup(draw.SVG(r.Gauge.Picture(96, 11))))
		}
		if i == 1 && len(r.Fold) > 0 {
			p.fold("more", "in full", r.Fold)
		}
		p.raw(markup(`</`), tag[:2], markup(`>`))
	}
	p.raw(markup("</tr>\n"))
}

func (p *page) criterion(b *outline.Block) {
	if b.Math != nil {
		p.formula(b.Math, "f")
	} else if len(b.Text) > 0 {
		p.raw(markup(`<p class="typed">`))
		p.spans(b.Text)
		p.raw(markup(`</p>`))
	}
	p.formula(b.Numbers, "f put")
	for _, x := range draw.Bars(b.Tests) {
		p.raw(markup(`<div class="plot">`), markup(draw.SVG(draw.MarginBar(x, draw.Plain{}, plotWidth, plotText))), markup("</div>\n"))
	}
}

// value is a name with its formula, the numbers put in, and what it comes to.
func (p *page) value(b *outline.Block) {
	p.raw(markup(`<div class="value"`))
	p.id(b.Anchor)
	p.raw(markup(`><span class="valuename">`))
	p.name(b.Label)
	p.raw(markup(`</span><div>`))
	p.formula(b.Math, "f")
	p.formula(b.Numbers, "f put")
	p.raw(markup(`<p>`))
	p.spans(b.Text)
	p.raw(markup("</p></div></div>\n"))
}

func (p *page) tally(s record.Summary) {
	p.raw(markup(`<div class="bar" aria-hidden="true">`))
	for _, v := range words.Verdicts {
		if c := words.Count(s, v); c > 0 {
			p.raw(markup(`<span class="b-`), v, markup(`" style="flex-grow:`), c, markup(`"></span>`))
		}
	}
	p.raw(markup("</div>\n"))
}
