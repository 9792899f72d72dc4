package html

import (
	"bytes"
	"crypto/sha256"
	_ "embed"
	"encoding/base64"
	"fmt"
	"strings"

	"guardband/report/internal/words"
)

//go:embed page.css
var css string

//go:embed page.js
var script string

//go:embed watch.js
var watching string

// reload is the script of a page that is watched.
func reload(path string) string {
	return "(" + strings.TrimSpace(watching) + ")(" + jsString(path) + ");"
}

const versionMark = ` data-version="%010d"`

// OfVersion is a page that is watched, as its version.
func OfVersion(page []byte, version int) []byte {
	return bytes.Replace(page, fmt.Appendf(nil, versionMark, 0), fmt.Appendf(nil, versionMark, version), 1)
}

// jsString writes s as a JavaScript string that cannot end its script element.
func jsString(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range s {
		if r < 0x80 && (r == '/' || r == '-' || r == '_' || r == '.' || r >= '0' && r <= '9' || r >= 'a' && r <= 'z' ||
			r >= 'A' && r <= 'Z') {
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
	policy := "default-src 'none'; style-src 'unsafe-inline'; img-src data:; base-uri 'none'; form-action 'none'; script-src " + scriptHash(script)
	if p.opt.Events != "" {
		policy += " " + scriptHash(reload(p.opt.Events)) + "; connect-src 'self'"
	}
	mark := ""
	if p.opt.Events != "" {
		mark = fmt.Sprintf(versionMark, 0)
	}
	p.raw(markup("<!DOCTYPE html>\n<html lang=\"en\"" + mark + ">\n<head>\n<meta charset=\"utf-8\">\n<meta http-equiv=\"Content-Security-Policy\""))
	p.attr("content", policy)
	p.raw(markup(">\n<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<meta name=\"referrer\" content=\"no-referrer\">\n<meta name=\"generator\""))
	p.attr("content", d.Tool)
	p.raw(markup(">\n<title>"))
	p.plainText(d.Title + ", revision " + d.Revision + ": design record")
	p.raw(markup("</title>\n<style>\n"), markup(css))
	p.raw(markup("@page{@top-left{content:"), markup(cssString(words.Join(", ", d.Title, "revision "+d.Revision))), markup("}@top-right{content:"),
		markup(cssString(words.Counts(p.r.Summary))), markup("}@bottom-left{content:"),
		markup(cssString(words.Join(", ", "design record", d.Commit, "as of "+d.AsOf))),
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

// title is the name of what was judged.
func (p *page) title() {
	p.raw(markup(`<header class="block"><p class="small">Design review record</p><h1>`), p.r.Design.Title, markup("</h1></header>\n"))
}
