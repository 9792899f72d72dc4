package html

import (
	"crypto/sha256"
	_ "embed"
	"encoding/base64"
	"fmt"
	"strings"

	"guardband/eval"
	"guardband/report/html/font"
	"guardband/report/internal/words"
)

//go:embed page.css
var css string

//go:embed page.js
var script string

// reload is the script of a page that is watched.
func reload(path string) string {
	return "new EventSource(" + jsString(path) + ").onmessage=function(){location.reload()};"
}

// jsString writes s as a JavaScript string that cannot end its script element.
func jsString(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range s {
		if r < 0x80 && (r == '/' || r == '-' || r == '_' || r == '.' || r >= '0' && r <= '9' || r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z') {
			b.WriteRune(r)
			continue
		}
		fmt.Fprintf(&b, `\u{%x}`, r)
	}
	b.WriteByte('"')
	return b.String()
}

func scriptHash(s string) string {
	sum := sha256.Sum256([]byte(s))
	return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
}

// cssString writes s as a CSS string; every character that is not a plain
// letter, digit or blank is written by its number.
func cssString(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	n := 0
	for _, r := range s {
		if n++; n > 90 {
			b.WriteString("\\2026 ")
			break
		}
		if words.Hidden(r) || r == '\n' || r == '\t' {
			r = 0xfffd
		}
		if r == ' ' || r >= '0' && r <= '9' || r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' {
			b.WriteRune(r)
			continue
		}
		fmt.Fprintf(&b, "\\%x ", r) // the blank ends the number
	}
	b.WriteByte('"')
	return b.String()
}

func (p *page) head() {
	d := p.r.Design
	policy := "default-src 'none'; style-src 'unsafe-inline'; img-src data:; font-src data:; base-uri 'none'; form-action 'none'; script-src " + scriptHash(script)
	if p.opt.Events != "" {
		policy += " " + scriptHash(reload(p.opt.Events)) + "; connect-src 'self'"
	}
	p.raw(markup("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<meta http-equiv=\"Content-Security-Policy\""))
	p.attr("content", policy)
	p.raw(markup(">\n<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<meta name=\"referrer\" content=\"no-referrer\">\n<meta name=\"generator\""))
	p.attr("content", d.Tool)
	p.raw(markup(">\n<title>"))
	p.plainText(d.Title + ", revision " + d.Revision + ": design record")
	p.raw(markup("</title>\n<style>\n@font-face{font-family:\""+font.Family+"\";src:url(data:font/woff;base64,"),
		markup(base64.StdEncoding.EncodeToString(font.Math)), markup(") format(\"woff\")}\n"), markup(css))
	p.raw(markup("@page{@top-left{content:"), markup(cssString(words.Join(", ", d.Title, "revision "+d.Revision))), markup("}@top-right{content:"),
		markup(cssString(words.Counts(p.r.Summary))), markup("}@bottom-left{content:"), markup(cssString(words.Join(", ", "design record", d.Commit, "as of "+d.AsOf))),
		markup("}}\n</style>\n</head>\n<body>\n<a class=\"skip\" href=\"#attention\">Skip to what needs attention</a>\n"))
}

// plainText writes s escaped where no elements may stand.
func (p *page) plainText(s string) {
	for _, r := range s {
		if words.Hidden(r) {
			r = 0xfffd
		}
		p.rune(r)
	}
}

// title is the identity of the record, set like the title block of a drawing.
func (p *page) title() {
	d := p.r.Design
	p.raw(markup(`<header class="block"><h1>`), d.Title, markup(`</h1><dl class="title">`))
	cell := func(name, value string) {
		if value != "" {
			p.raw(markup(`<div><dt>`), name, markup(`</dt><dd>`), value, markup(`</dd></div>`))
		}
	}
	cell("Revision", d.Revision)
	cell("Date", d.Date)
	cell("Author", d.Author)
	cell("Commit", d.Commit)
	cell("Ambient", d.Ambient)
	cell("States", strings.Join(d.States, ", "))
	cell("Waivers judged on", d.AsOf)
	cell("Made by", d.Tool)
	if len(d.Notebooks) > 0 {
		n := d.Notebooks[0]
		p.raw(markup(`<div class="wide"><dt>Notebook</dt><dd>`))
		p.file(n.Path, "", n.Path)
		p.raw(markup(` <span class="hash">SHA-256 `), short(n.SHA256), markup(`</span>`))
		if more := len(d.Notebooks) - 1; more > 0 {
			p.raw(fmt.Sprintf(" and %d included", more))
		}
		p.raw(markup(`</dd></div>`))
	}
	if revs := p.revisions(); revs != "" {
		p.raw(markup(`<div class="wide"><dt>Documents</dt><dd>`), revs, markup(`</dd></div>`))
	}
	p.raw(markup("</dl></header>\n"))
}

// revisions names every document with its revision.
func (p *page) revisions() string {
	var out []string
	for _, s := range p.r.Sources {
		out = append(out, words.Join(" ", s.ID, s.Revision))
	}
	return strings.Join(out, " · ")
}

// short is the beginning of a digest.
func short(digest string) string {
	if len(digest) > 12 {
		return digest[:12] + "…"
	}
	return digest
}

// cautions is the safety banner. It stands before everything else and no
// option leaves it out.
func (p *page) cautions() {
	if len(p.r.Safety) == 0 {
		return
	}
	p.raw(markup("<section class=\"cautions\" aria-labelledby=\"cautions\"><h2 id=\"cautions\">Cautions</h2>\n"))
	for i := range p.r.Safety {
		p.caution(&p.r.Safety[i])
	}
	p.raw(markup("</section>\n"))
}

func (p *page) caution(c *eval.Caution) {
	p.raw(markup(`<div class="caution"`))
	p.attr("data-word", c.Word)
	p.id("caution", c.ID)
	p.raw(markup(`><h3><span class="word">`), c.Word, markup(`</span> `), c.Hazard, markup(`</h3>`))
	for _, t := range c.Text {
		p.raw(markup(`<p>`), t, markup(`</p>`))
	}
	p.raw(markup(`<p class="small">`))
	if c.Why != "" {
		p.raw("Called for by: ", c.Why, ". ")
	}
	if c.Source != "" {
		p.raw("Source: ", c.Source, ". ")
	}
	if len(c.Claims) > 0 {
		p.raw("Touches ")
		p.claimLinks(c.Claims)
		p.raw(". ")
	}
	if c.Acknowledged != "" {
		p.raw("Acknowledged: ", c.Acknowledged, ". ")
	}
	p.place(c.Position)
	p.raw(markup("</p></div>\n"))
}

func (p *page) claimLinks(ids []string) {
	for i, id := range ids {
		if i > 0 {
			p.raw(", ")
		}
		p.raw(markup(`<span class="id">`))
		p.link("claim", id, id)
		p.raw(markup(`</span>`))
	}
}
