// Package markdown writes the short version of a Record as Markdown, for merge
// requests and the summaries of build servers. It draws the record's outline.
package markdown

import (
	"bufio"
	"fmt"
	"io"
	"strings"

	"guardband/eval/record"
	"guardband/report/internal/words"
	"guardband/report/outline"
)

// Write writes page one and what needs attention as CommonMark with tables of
// GitHub's style. Texts of the record are escaped: they become neither markup
// nor HTML. It fails where w fails.
func Write(w io.Writer, r *record.Record) error {
	p := page{bufio.NewWriter(w)}
	o := outline.Make(r, true)
	p.line("## ", words.Join(", ", r.Design.Title, words.Prefixed("revision ", r.Design.Revision)))
	p.blocks(o.Front)
	for i := range o.Chapters {
		p.line("## ", o.Chapters[i].Title)
		p.blocks(o.Chapters[i].Blocks)
	}
	if err := p.Flush(); err != nil {
		return fmt.Errorf("writing the Markdown summary: %w", err)
	}
	return nil
}

type page struct{ *bufio.Writer }

// line writes a block of one line, markup before the text.
func (p page) line(markup, s string) { p.WriteString(markup + Escape(s) + "\n\n") }

func (p page) blocks(list []outline.Block) {
	for i := range list {
		b := &list[i]
		switch b.Kind {
		case outline.Paragraph:
			p.line("", outline.Plain(b.Text))
		case outline.Heading:
			p.line("### ", outline.Plain(b.Text))
		case outline.Labelled:
			p.line("- ", words.Join(": ", b.Label, outline.Plain(b.Text)))
		case outline.Group:
			p.line("### ", words.Join(" ", b.Word, outline.Plain(b.Head)))
			p.blocks(b.Blocks)
		case outline.Fields:
			for _, f := range b.Pairs {
				p.line("- ", f[0]+": "+f[1])
			}
		case outline.TableBlock:
			p.table(b.Table)
		}
	}
}

func (p page) table(t *outline.Table) {
	p.line("", t.Caption)
	for _, c := range t.Columns {
		p.WriteString("| " + Escape(c.Head) + " ")
	}
	p.WriteString("|\n" + strings.Repeat("|---", len(t.Columns)) + "|\n")
	for i := range t.Rows {
		cells := t.Rows[i].Cells
		if t.Rows[i].Title != nil {
			cells = []outline.Text{t.Rows[i].Title}
		}
		for k := range t.Columns {
			s := ""
			if k < len(cells) {
				s = Escape(outline.Plain(cells[k]))
			}
			p.WriteString("| " + s + " ")
		}
		p.WriteString("|\n")
	}
	p.WriteByte('\n')
}

// Escape makes s plain text on one line: every ASCII sign that CommonMark can
// take for markup gets a backslash (CommonMark 0.31, section 2.4), "<" and "&"
// become entities, and "@" and "#" and long addresses lose their meaning to
// hosts that link them.
func Escape(s string) string {
	var b strings.Builder
	last := ' '
	for _, r := range words.Visible(s) {
		before := last
		last = r
		switch r {
		case '.':
			if before == 'w' || before == 'W' {
				b.WriteString("&#46;") // "www." would become a link
				continue
			}
			b.WriteByte('.')
		case '<':
			b.WriteString("&lt;")
		case '>':
			b.WriteString("&gt;")
		case '&':
			b.WriteString("&amp;")
		case '@':
			b.WriteString("&#64;")
		case ':':
			b.WriteString("&#58;") // "https:" would become a link
		case '\\', '`', '*', '_', '[', ']', '#', '!', '|', '~':
			b.WriteByte('\\')
			b.WriteRune(r)
		default:
			b.WriteRune(r)
		}
	}
	return strings.TrimSpace(b.String())
}
