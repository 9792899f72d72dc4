// Package terminal writes a Record for a reader at a terminal: what fails and
// what is open first, with the numbers that decide and what would settle it.
package terminal

import (
	"bufio"
	"fmt"
	"io"
	"strings"

	"guardband/eval"
	"guardband/report/internal/words"
)

// Options of the listing. The zero value is plain text, 100 columns, every
// claim listed, passed and skipped ones on one line each.
type Options struct {
	Color   bool // SGR colours (ECMA-48); the caller knows the terminal and NO_COLOR
	Width   int  // columns, 0 for 100; at most 100 and at least 40 are used
	Max     int  // claims listed per verdict, 0 for all; what is left out is counted
	Verbose bool // numbers, corner and pages of every claim
}

// Write writes the listing. It fails where w fails.
func Write(w io.Writer, r *eval.Record, opt Options) error {
	width := opt.Width
	if width <= 0 {
		width = 100
	}
	l := &listing{w: bufio.NewWriter(w), r: r, opt: opt, width: max(40, min(100, width))}
	l.title()
	l.cautions()
	l.claims()
	l.lookUp()
	l.line(plainText, words.Evidence(r))
	l.line(bold, words.Totals(r.Summary))
	if s := r.Summary; s.Passed+s.Failed+s.Open+s.Waived+s.Errors == 0 {
		l.line(plainText, "No claim was judged: nothing is proven.")
	}
	if n := r.Summary.LimitsUnjudged; n > 0 {
		l.line(plainText, fmt.Sprintf("%d of %s judged by nothing: see `limits`", n, words.Plural(r.Summary.LimitsNoted, "noted limit is", "noted limits are")))
	}
	if err := l.w.Flush(); err != nil {
		return fmt.Errorf("writing the verdicts: %w", err)
	}
	return nil
}

// style is an SGR parameter; 0 is plain.
type style string

const (
	plainText style = ""
	bold      style = "1"
	dim       style = "2"
)

// styles of the verdict words. The words carry the meaning.
var styles = map[eval.Verdict]style{
	eval.Failed: "1;31", eval.Open: "1;33", eval.Waived: "35", eval.Passed: "32", eval.Skipped: "2",
}

type listing struct {
	w     *bufio.Writer
	r     *eval.Record
	opt   Options
	width int
}

func (l *listing) paint(s style, text string) string {
	if !l.opt.Color || s == plainText || text == "" {
		return text
	}
	return "\x1b[" + string(s) + "m" + text + "\x1b[0m"
}

func (l *listing) line(s style, text string) {
	for _, row := range wrap(words.Visible(text), l.width) {
		l.w.WriteString(l.paint(s, row) + "\n")
	}
}

// body is the column in which everything but the verdict words stands.
const body = 9

// indented writes text in the body column, its later lines indented by more.
func (l *listing) indented(s style, more int, text string) {
	for i, row := range wrap(words.Visible(text), l.width-body-more) {
		pad := body
		if i > 0 {
			pad += more
		}
		fmt.Fprintf(l.w, "%*s%s\n", pad, "", l.paint(s, row))
	}
}

func (l *listing) title() {
	d := l.r.Design
	l.line(bold, words.Join(", ", d.Title, prefixed("revision ", d.Revision), prefixed("as of ", d.AsOf)))
	l.w.WriteByte('\n')
}

func prefixed(word, s string) string {
	if s == "" {
		return ""
	}
	return word + s
}

// cautions stand before every verdict.
func (l *listing) cautions() {
	for _, c := range l.r.Safety {
		text := ""
		if len(c.Text) > 0 {
			text = c.Text[0]
		}
		rows := wrap(words.Visible(words.Join(": ", words.Join(" ", c.Word, c.Hazard), text)), l.width)
		for _, row := range rows {
			l.w.WriteString(l.paint(bold, row) + "\n")
		}
	}
	if len(l.r.Safety) > 0 {
		l.line(plainText, "The applicable standard, the local code and the judgement of a licensed or qualified "+
			"person come first; passing claims are no approval to energise.")
		l.w.WriteByte('\n')
	}
}

func (l *listing) claims() {
	all := words.ByAttention(l.r)
	for _, v := range words.Verdicts {
		shown := 0
		told := map[string]bool{}
		if v == eval.Open && !l.opt.Verbose {
			told = l.roots()
			shown = len(told)
		}
		for _, c := range all {
			if c.Verdict == v && !told[c.ID] && (l.opt.Max <= 0 || shown-len(told) < l.opt.Max) {
				l.claim(c)
				shown++
			}
		}
		if left := words.Count(l.r.Summary, v) - shown; left > 0 { // the record may hold but the first
			l.indented(dim, 0, fmt.Sprintf("and %d more %s", left, v))
		}
		if shown > 0 {
			l.w.WriteByte('\n')
		}
	}
}

// mostNamed is how many claims of a shared reason are named.
const mostNamed = 6

// named lists claims, the first few of many.
func named(ids []string) string {
	if more := len(ids) - mostNamed; more > 1 {
		return fmt.Sprintf("%s and %d more", strings.Join(ids[:mostNamed], ", "), more)
	}
	return strings.Join(ids, ", ")
}

// roots tells the claims that are open for one shared reason as one; it says
// which they are.
func (l *listing) roots() map[string]bool {
	told := map[string]bool{}
	for _, r := range l.r.Roots {
		if len(r.Claims) < 2 {
			continue
		}
		for _, id := range r.Claims {
			told[id] = true
		}
		fmt.Fprintf(l.w, "%s%s%d claims for one reason, %s\n", l.paint(styles[eval.Open], string(eval.Open)), spaces(body-len(eval.Open)), len(r.Claims), words.Visible(r.Reason))
		l.indented(plainText, 2, r.Text)
		if s := words.Settle(eval.OpenPoint{Settle: r.Settle, Source: r.Source, Page: r.Page}); s != "" {
			l.indented(plainText, 2, "would settle it: "+s)
		}
		l.indented(dim, 2, named(r.Claims))
	}
	return told
}

func (l *listing) claim(c *eval.Claim) {
	l.first(c)
	if (c.Verdict == eval.Passed || c.Verdict == eval.Skipped) && !l.opt.Verbose {
		switch { // a built-in check says by its ID what it is
		case c.Verdict == eval.Skipped:
			l.indented(plainText, 2, c.Reason)
		case c.Kind != "built-in":
			l.indented(plainText, 2, c.Statement)
		}
		return
	}
	l.indented(plainText, 2, c.Statement)
	l.indented(plainText, 2, c.Headline)
	for i := range c.Criteria {
		l.criterion(c, &c.Criteria[i])
	}
	if in := c.Inspection; in != nil {
		l.indented(plainText, 2, "inspection: "+in.Text)
	}
	for _, o := range words.OpenPoints(c) {
		l.indented(plainText, 2, "open, "+o.Reason+": "+o.Text)
		if s := words.Settle(o); s != "" {
			l.indented(plainText, 2, "would settle it: "+s)
		}
	}
	if w := c.Waiver; w != nil {
		state := ""
		if !w.InForce {
			state = " (not in force: " + w.Why + ")"
		}
		l.indented(plainText, 2, fmt.Sprintf("waiver until %s, %s: %s%s", w.Until, w.Person, w.Reason, state))
	}
	if l.opt.Verbose {
		l.pages(c)
	}
}

// first is the line of verdict, ID and place; of a passed claim with its margin.
func (l *listing) first(c *eval.Claim) {
	id, place, note := words.Visible(c.ID), words.Visible(words.Place(c.Position)), ""
	if t := words.Thinnest(c); t != nil && t.Margin != nil && c.Verdict == eval.Passed {
		note = "margin " + words.Visible(t.Margin.Text)
	}
	const gutter = 2
	place = cutLeft(place, l.width/3)
	room := l.width - body - width(place) - gutter
	rows := wrap(id, room)
	pad := room + gutter - width(rows[0])
	if note != "" && width(rows[0])+gutter+width(note) <= room && len(rows) == 1 {
		at := max(width(rows[0])+gutter, min(40, room-width(note)))
		rows[0] += spaces(at-width(rows[0])) + note
		pad = room + gutter - width(rows[0])
	}
	fmt.Fprintf(l.w, "%s%s%s%s%s\n", l.paint(styles[c.Verdict], string(c.Verdict)), spaces(body-len(c.Verdict)), rows[0], spaces(pad), l.paint(dim, place))
	for _, row := range rows[1:] {
		fmt.Fprintf(l.w, "%*s%s\n", body, "", row)
	}
}

func (l *listing) criterion(c *eval.Claim, k *eval.Criterion) {
	for i := range k.Tests {
		l.indented(plainText, 2, words.Join(": ", prefixed("in ", k.State), words.Numbers(&k.Tests[i])))
	}
	if len(k.Tests) == 0 && k.Text != "" {
		l.indented(plainText, 2, words.Join(": ", prefixed("in ", k.State), k.Text))
	}
	if corner := words.Corner(k); corner != "" {
		l.indented(plainText, 2, words.CornerName(k)+": "+corner)
	}
	if len(k.Contributions) > 0 && (l.opt.Verbose || c.Verdict == eval.Failed) {
		top := k.Contributions[0]
		l.indented(plainText, 2, fmt.Sprintf("most of it: %s, %.0f %%; %s", top.Name, top.Share*100, top.Text))
	}
}

func (l *listing) pages(c *eval.Claim) {
	for _, ct := range c.Cites {
		l.indented(dim, 2, words.Join(" ", ct.Source, ct.Page, quoted(ct.Quote))+": "+words.Join("", ct.Text))
	}
}

func quoted(s string) string {
	if s == "" {
		return ""
	}
	return `"` + s + `"`
}

func (l *listing) lookUp() {
	if len(l.r.LookUp) == 0 {
		return
	}
	l.line(bold, "To look up")
	at := 0
	for _, u := range l.r.LookUp {
		at = max(at, width(words.Visible(words.Join(" ", u.Source, u.Page))))
	}
	at = min(at, l.width/3)
	for _, u := range l.r.LookUp {
		ref := cut(words.Visible(words.Join(" ", u.Source, u.Page)), at)
		text := u.Text
		if len(u.Claims) > 0 {
			text += " (" + named(u.Claims) + ")"
		}
		for i, row := range wrap(words.Visible(text), l.width-at-4) {
			if i > 0 {
				ref = ""
			}
			fmt.Fprintf(l.w, "  %s%s  %s\n", ref, spaces(at-width(ref)), row)
		}
	}
	l.w.WriteByte('\n')
}
