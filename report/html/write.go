package html

import (
	"bufio"
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"

	"guardband/eval/record"
	"guardband/report/internal/words"
	"guardband/report/outline"
)

// markup is HTML written by this package. Texts of the record never become
// markup: they pass through text or attr.
type markup string

// page is one page being written. Errors of the writer are kept by bufio and
// come back from Flush.
type page struct {
	w        *bufio.Writer
	r        *record.Record
	o        *outline.Document
	opt      Options
	pictures pictures
	level    int // heading level written last
}

func newPage(w *bufio.Writer, r *record.Record, opt Options) *page {
	p := &page{w: w, r: r, opt: opt, level: 2, o: outline.Make(r, opt.Short)}
	p.pictures.index = map[string]int{}
	return p
}

// raw writes markup, alternating with escaped text: raw(markup, text, markup).
func (p *page) raw(parts ...any) {
	for _, part := range parts {
		switch v := part.(type) {
		case markup:
			p.w.WriteString(string(v))
		case string:
			p.text(v)
		case record.Verdict:
			p.text(string(v))
		case int:
			p.w.WriteString(strconv.Itoa(v))
		default:
			panic(fmt.Sprintf("html: %T is neither markup nor text", part))
		}
	}
}

// text writes s escaped. Text with right-to-left letters is isolated; control
// characters and direction overrides are shown by their number, so that no
// reader is misled and nothing is lost.
func (p *page) text(s string) {
	if strings.IndexFunc(s, marked) < 0 {
		p.w.WriteString(s)
		return
	}
	isolate := strings.ContainsFunc(s, isRTL)
	if isolate {
		p.w.WriteString("<bdi>")
	}
	for _, r := range s {
		if words.Hidden(r) {
			fmt.Fprintf(p.w, `<span class="ctl">U+%04X</span>`, r)
			continue
		}
		p.rune(r)
	}
	if isolate {
		p.w.WriteString("</bdi>")
	}
}

// attr writes ` name="value"`.
func (p *page) attr(name markup, s string) {
	p.w.WriteByte(' ')
	p.w.WriteString(string(name))
	p.w.WriteString(`="`)
	for _, r := range s {
		if words.Hidden(r) {
			r = utf8.RuneError
		}
		p.rune(r)
	}
	p.w.WriteByte('"')
}

func (p *page) rune(r rune) {
	switch r {
	case '&':
		p.w.WriteString("&amp;")
	case '<':
		p.w.WriteString("&lt;")
	case '>':
		p.w.WriteString("&gt;")
	case '"':
		p.w.WriteString("&#34;")
	case '\'':
		p.w.WriteString("&#39;")
	default:
		p.w.WriteRune(r)
	}
}

// marked says that r needs an escape, a number in its place, or isolation.
func marked(r rune) bool {
	return words.Hidden(r) || r == utf8.RuneError || isRTL(r) || strings.ContainsRune(`&<>"'`, r)
}

// isRTL covers the right-to-left blocks of Unicode.
func isRTL(r rune) bool {
	return r >= 0x590 && (r <= 0x8ff || r >= 0xfb1d && r <= 0xfdff || r >= 0xfe70 && r <= 0xfefc ||
		r >= 0x10800 && r <= 0x10fff || r >= 0x1e800 && r <= 0x1efff)
}
