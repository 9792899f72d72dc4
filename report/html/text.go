package html

import (
	"fmt"
	"html/template"
	"strings"
	"unicode/utf8"

	"guardband/report/internal/words"
)

// markup is HTML written by this package. Texts of the record never become
// markup: they pass through text or attr.
type markup string

// raw writes markup, alternating with escaped text: raw(markup, text, markup).
func (p *page) raw(parts ...any) {
	for _, part := range parts {
		if m, ok := part.(markup); ok {
			p.b.WriteString(string(m))
		} else {
			p.text(part.(string))
		}
	}
}

// text writes s escaped. Text with right-to-left letters is isolated; control
// characters and direction overrides are shown by their number, so that no
// reader is misled and nothing is lost.
func (p *page) text(s string) {
	s = strings.ToValidUTF8(s, "\ufffd")
	isolate := strings.ContainsFunc(s, words.RightToLeft)
	if isolate {
		p.b.WriteString("<bdi>")
	}
	for s != "" {
		i := strings.IndexFunc(s, words.Hidden)
		if i < 0 {
			i = len(s)
		}
		template.HTMLEscape(&p.b, []byte(s[:i]))
		if s = s[i:]; s != "" {
			r, n := utf8.DecodeRuneInString(s)
			fmt.Fprintf(&p.b, `<span class="ctl">U+%04X</span>`, r)
			s = s[n:]
		}
	}
	if isolate {
		p.b.WriteString("</bdi>")
	}
}

// attr is ` name="value"`.
func attr(name, s string) template.HTMLAttr {
	return template.HTMLAttr(" " + name + `="` + template.HTMLEscapeString(strings.ToValidUTF8(shown(s), "\ufffd")) + `"`)
}
