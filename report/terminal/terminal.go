// Package terminal writes a Record for a reader at a terminal: what fails and
// what is open first, with the numbers that decide and what would settle it.
package terminal

import (
	"bufio"
	"fmt"
	"io"
	"slices"
	"strings"

	"guardband/eval/record"
	"guardband/report/internal/words"
	"guardband/report/outline"
)

// Options of the listing. The zero value is plain text, 100 columns: what did
// not pass in full, own passed claims on two lines, built-in passes on one line
// a check.
type Options struct {
	Color   bool // SGR colours (ECMA-48); the caller knows the terminal and NO_COLOR
	Width   int  // columns, 0 for 100; at most 160 and at least 40 are used
	Max     int  // passed and skipped claims listed, 0 for all; what is left out is counted
	Verbose bool // numbers, corner and pages of every claim
	Quiet   bool // the recap alone
}

// MaxWidth is the widest line that is written: longer ones are hard to read.
const MaxWidth = 160

// Write writes the listing: failed and open claims first and never cut, then
// what else there is, the recap last. It fails where w fails.
func Write(w io.Writer, r *record.Record, opt Options) error {
	width := opt.Width
	if width <= 0 {
		width = 100
	}
	l := &listing{w: bufio.NewWriter(w), r: r, opt: opt, width: max(40, min(MaxWidth, width))}
	l.title()
	l.cautions()
	if !opt.Quiet {
		l.claims()
	}
	l.recap()
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
var styles = map[record.Verdict]style{
	record.Failed: "1;31", record.Open: "1;33", record.Waived: "35", record.Passed: "32", record.Skipped: "2",
}

type listing struct {
	w     *bufio.Writer
	r     *record.Record
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

// beside writes text in rows beside a head that is so many columns wide.
func (l *listing) beside(head string, columns int, text string) {
	for _, row := range wrap(words.Visible(text), l.width-columns) {
		l.w.WriteString(head + row + "\n")
		head = spaces(columns)
	}
}

func (l *listing) title() {
	d := l.r.Design
	l.line(bold, words.Join(", ", d.Title, words.Prefixed("revision ", d.Revision), words.Prefixed("as of ", d.AsOf)))
	l.w.WriteByte('\n')
}

// cautions stand before every verdict.
func (l *listing) cautions() {
	for _, c := range l.r.Safety {
		text := ""
		if len(c.Text) > 0 {
			text = c.Text[0]
		}
		l.line(bold, words.Join(": ", words.Join(" ", c.Word, c.Hazard), text))
	}
	if len(l.r.Safety) > 0 {
		l.line(plainText, "The applicable standard, the local code and the judgement of a licensed or qualified "+
			"person come first; passing claims are not an approval to energise.")
		l.w.WriteByte('\n')
	}
}

// claims are the outline's groups of claims, what did not pass first and never
// cut, then own passes in brief and built-in ones, a line a check.
func (l *listing) claims() {
	groups := outline.Claims(l.r, l.opt.Verbose)
	for _, v := range words.Verdicts {
		shown := 0
		capped := l.opt.Max > 0 && v != record.Failed && v != record.Open
		more := func() bool { return !capped || shown < l.opt.Max }
		for i := range groups {
			if groups[i].Verdict == v && more() {
				l.group(&groups[i])
				shown++
			}
		}
		left := 0
		if v != record.Failed && v != record.Open {
			left = words.Count(l.r.Summary, v) - shown // the record may hold but the first
		}
		if v == record.Passed && !l.opt.Verbose {
			for _, c := range words.ByAttention(l.r) {
				if c.Verdict == v && more() && !l.folded(c) {
					l.first(c)
					if c.Kind != "built-in" { // whose ID says what it is
						l.indented(plainText, 2, c.Statement)
					}
					shown, left = shown+1, left-1
				}
			}
			for _, k := range l.r.Summary.Checks {
				left -= k.Passed
			}
			shown += l.checks()
		}
		if left > 0 {
			l.indented(dim, 0, fmt.Sprintf("and %d more %s", left, v))
		}
		if shown > 0 {
			l.w.WriteByte('\n')
		}
	}
}

// group is a claim, or several of one reason: a head, and a line for each line
// of the outline.
func (l *listing) group(g *outline.Block) {
	switch c := g.Claim; {
	case c == nil:
		head := strings.TrimSpace(strings.TrimPrefix(outline.Plain(g.Head), string(g.Verdict)))
		l.w.WriteString(l.paint(styles[g.Verdict], string(g.Verdict)) + spaces(body-len(g.Verdict)) + words.Visible(head) + "\n")
	case g.Verdict == record.Passed || g.Verdict == record.Skipped:
		l.first(c)
	default:
		l.head(c)
	}
	for i := range g.Blocks {
		x := &g.Blocks[i]
		line := x.Line()
		switch {
		case l.opt.Verbose:
		case x.Small, g.Verdict == record.Skipped && x.Label != "reason":
			continue
		case g.Claim == nil && x.Label == "claims":
			line = named(strings.Split(line, ", "))
		}
		l.indented(plainText, 2, line)
	}
}

// folded tells a built-in pass, which its check's line counts.
func (l *listing) folded(c *record.Claim) bool {
	return !l.opt.Verbose && c.Verdict == record.Passed && c.Check != "" && len(l.r.Summary.Checks) > 0
}

// checks are the built-in passes, a line a check.
func (l *listing) checks() int {
	wide := 0
	for _, k := range l.r.Summary.Checks {
		wide = max(wide, width(words.Visible(k.Check)))
	}
	wide = min(wide, l.width/3)
	for _, k := range l.r.Summary.Checks {
		name := cut(words.Visible(k.Check), wide)
		text := fmt.Sprintf("%d passed", k.Passed)
		if k.Least != "" {
			text += ", least " + k.Least + " at " + strings.TrimPrefix(k.Claim, k.Check+".")
		}
		l.beside(spaces(body)+name+spaces(wide+2-width(name)), body+wide+2, text)
	}
	return len(l.r.Summary.Checks)
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

// head is the line of a claim that did not pass: its place as editors read it,
// verdict, ID.
func (l *listing) head(c *record.Claim) {
	place := ""
	if at := c.Position; at != nil && at.File != "" {
		place = fmt.Sprintf("%s:%d:%d: ", at.File, at.Line, at.Column)
	}
	rows := wrap(words.Visible(place+string(c.Verdict)+" "+c.ID), l.width)
	for i, row := range rows {
		if at := strings.Index(row, string(c.Verdict)+" "); i == 0 && at >= 0 {
			end := at + len(c.Verdict)
			row = l.paint(dim, row[:at]) + l.paint(styles[c.Verdict], row[at:end]) + row[end:]
		}
		l.w.WriteString(row + "\n")
	}
}

// first is the line of verdict, ID and place; of a passed claim with its margin.
func (l *listing) first(c *record.Claim) {
	id, place, note := words.Visible(c.ID), words.Visible(words.Place(c.Position)), ""
	if t := words.Thinnest(c); t != nil && t.Margin != nil && c.Verdict == record.Passed {
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
	fmt.Fprintf(l.w, "%s%s%s%s%s\n", l.paint(styles[c.Verdict], string(c.Verdict)), spaces(body-len(c.Verdict)),
		rows[0], spaces(pad), l.paint(dim, place))
	for _, row := range rows[1:] {
		fmt.Fprintf(l.w, "%*s%s\n", body, "", row)
	}
}

// recap is the last screen: what to do next, and the counts.
func (l *listing) recap() {
	l.lookUp()
	l.line(plainText, words.Evidence(l.r))
	s := l.r.Summary
	if ids := words.OnRatings(l.r); len(ids) > 0 {
		l.line(plainText, words.Plural(len(ids), "pass rests", "passes rest")+
			" on a maximum rating, which promises survival and no more: "+strings.Join(ids, ", "))
	}
	if n := s.OnDefaults; n > 0 {
		l.line(plainText, fmt.Sprintf("passed on assumed defaults: %d (--strict shows them as open)", n))
	}
	if n := s.LimitsUnjudged; n > 0 {
		l.line(plainText, fmt.Sprintf("%d of %s judged by nothing: see `limits`", n, words.Plural(s.LimitsNoted,
			"noted limit is", "noted limits are")))
	}
	for _, v := range []record.Verdict{record.Failed, record.Open} {
		of := map[string][]string{} // IDs by check, the first few of many
		var names []string
		for _, c := range words.ByAttention(l.r) {
			if c.Verdict != v {
				continue
			}
			if of[c.Check] == nil {
				names = append(names, c.Check)
			}
			of[c.Check] = append(of[c.Check], c.ID)
		}
		for i, check := range names {
			names[i] = strings.Join(of[check], ", ")
			if check != "" {
				names[i] = named(of[check])
			}
		}
		if len(names) == 0 {
			continue
		}
		l.beside(l.paint(styles[v], string(v))+spaces(body-len(v)), body, strings.Join(names, ", "))
	}
	if s.Passed+s.Failed+s.Open+s.Waived+s.Errors == 0 {
		l.line(plainText, "No claim was judged: nothing is proven.")
	}
	l.line(bold, words.Totals(s))
}

// lookUp is what to find in the documents, what settles most first.
func (l *listing) lookUp() {
	if len(l.r.LookUp) == 0 {
		return
	}
	l.line(bold, "To look up")
	list := slices.Clone(l.r.LookUp)
	slices.SortStableFunc(list, func(a, b record.LookUp) int { return len(b.Claims) - len(a.Claims) })
	at := 0
	for _, u := range list {
		at = max(at, width(words.Visible(words.Join(" ", u.Source, u.Page))))
	}
	at = min(at, l.width/3)
	for _, u := range list {
		ref := cut(words.Visible(words.Join(" ", u.Source, u.Page)), at)
		text := u.Text
		if len(u.Claims) > 0 {
			text += fmt.Sprintf(" (settles %d: %s)", len(u.Claims), named(u.Claims))
		}
		l.beside("  "+ref+spaces(at-width(ref)+2), at+4, text)
	}
	l.w.WriteByte('\n')
}
