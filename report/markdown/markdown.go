// Package markdown writes the summary of a Record for a merge request:
// counts, cautions, what needs attention, what to look up.
package markdown

import (
	"bufio"
	"fmt"
	"io"
	"strings"

	"guardband/eval/record"
	"guardband/report/internal/words"
)

// Options of the summary. The zero value lists everything that needs attention.
type Options struct {
	Max int // claims listed, 0 for 50; what is left out is counted
}

// Write writes the summary as CommonMark with GitHub-style tables. Texts of
// the record are escaped: they become neither markup nor HTML. It fails where
// w fails.
func Write(w io.Writer, r *record.Record, opt Options) error {
	if opt.Max <= 0 {
		opt.Max = 50
	}
	b := bufio.NewWriter(w)
	d := r.Design
	fmt.Fprintf(b, "## %s\n\n", esc(words.Join(", ", d.Title, prefixed("revision ", d.Revision))))
	fmt.Fprintf(b, "**%s**\n\n", esc(words.Totals(r.Summary)))
	cautions(b, r)
	attention(b, r, opt.Max)
	lookUp(b, r)
	fmt.Fprintf(b, "Judged as of %s by %s", esc(d.AsOf), esc(d.Tool))
	if d.Commit != "" {
		fmt.Fprintf(b, ", commit %s", esc(d.Commit))
	}
	b.WriteString(". Passing claims are not an approval to energise.\n")
	if err := b.Flush(); err != nil {
		return fmt.Errorf("writing the Markdown summary: %w", err)
	}
	return nil
}

func prefixed(word, s string) string {
	if s == "" {
		return ""
	}
	return word + s
}

func cautions(b *bufio.Writer, r *record.Record) {
	for _, c := range r.Safety {
		fmt.Fprintf(b, "> **%s** %s", esc(c.Word), esc(c.Hazard))
		if len(c.Text) > 0 {
			fmt.Fprintf(b, ": %s", esc(c.Text[0]))
		}
		b.WriteString("\n\n")
	}
	if len(r.Safety) > 0 {
		b.WriteString("The applicable standard, the local code and the judgement of a qualified person come before this summary.\n\n")
	}
}

func attention(b *bufio.Writer, r *record.Record, most int) {
	var rows []*record.Claim
	for _, c := range words.ByAttention(r) {
		if c.Verdict == record.Failed || c.Verdict == record.Open || c.Verdict == record.Waived {
			rows = append(rows, c)
		}
	}
	if len(rows) == 0 {
		return
	}
	b.WriteString("| verdict | claim | what it says | why | place |\n|---|---|---|---|---|\n")
	for _, c := range rows[:min(len(rows), most)] {
		fmt.Fprintf(b, "| %s | %s | %s | %s | %s |\n", c.Verdict, esc(c.ID), esc(c.Statement), why(c), esc(words.Place(c.Position)))
	}
	if left := len(rows) - most; left > 0 {
		fmt.Fprintf(b, "\n%d more are in the full record.\n", left)
	}
	b.WriteByte('\n')
}

// why is the headline, the breaking corner and what would settle an open claim.
func why(c *record.Claim) string {
	parts := []string{esc(c.Headline)}
	for i := range c.Criteria {
		k := &c.Criteria[i]
		if corner := words.Corner(k); k.Verdict == record.Failed && corner != "" {
			parts = append(parts, esc(words.CornerName(k)+": "+corner))
		}
	}
	for _, o := range words.OpenPoints(c) {
		if s := words.Settle(o); s != "" {
			parts = append(parts, esc("to settle: "+s))
		}
	}
	return strings.Join(parts, "<br>")
}

func lookUp(b *bufio.Writer, r *record.Record) {
	if len(r.LookUp) == 0 {
		return
	}
	b.WriteString("To look up:\n\n")
	for _, u := range r.LookUp {
		fmt.Fprintf(b, "- %s: %s", esc(words.Join(" ", u.Source, u.Page)), esc(u.Text))
		if len(u.Claims) > 0 {
			fmt.Fprintf(b, " (%s)", esc(strings.Join(u.Claims, ", ")))
		}
		b.WriteByte('\n')
	}
	b.WriteByte('\n')
}

// esc makes s plain text on one line: every ASCII sign that CommonMark can
// take for markup gets a backslash (CommonMark 0.31, section 2.4), "<" and "&"
// become entities, and "@" and "#" and long addresses lose their meaning to
// hosts that link them.
func esc(s string) string {
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
