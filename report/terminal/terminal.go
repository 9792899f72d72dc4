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
			"person come first; passing claims are not an approval to energise.")
		l.w.WriteByte('\n')
	}
}

func (l *listing) claims() {
	all := words.ByAttention(l.r)
	for _, v := range words.Verdicts {
		shown := 0
		told := map[string]bool{}
		if v == record.Open && !l.opt.Verbose {
			told = l.waiting()
			for id := range l.roots(told) {
				told[id] = true
			}
			shown = len(told)
		}
		capped := l.opt.Max > 0 && v != record.Failed && v != record.Open
		for _, c := range all {
			if c.Verdict != v || told[c.ID] || capped && shown >= l.opt.Max || l.folded(c) {
				continue
			}
			l.claim(c)
			shown++
		}
		left := words.Count(l.r.Summary, v) - shown // the record may hold but the first
		if v == record.Passed && !l.opt.Verbose {
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
		for _, row := range wrap(words.Visible(text), l.width-body-wide-2) {
			l.w.WriteString(spaces(body) + name + spaces(wide+2-width(name)) + row + "\n")
			name = ""
		}
	}
	return len(l.r.Summary.Checks)
}

// waiting are the claims that are open because the notebook has errors: one
// line while those stand.
func (l *listing) waiting() map[string]bool {
	told := map[string]bool{}
	if l.r.Summary.Errors == 0 {
		return told
	}
	var ids []string
	for i := range l.r.Claims {
		c := &l.r.Claims[i]
		points := words.OpenPoints(c)
		follows := c.Verdict == record.Open && len(points) > 0
		for _, o := range points {
			follows = follows && (o.Reason == "not evaluated" || o.Reason == "undefined")
		}
		if follows {
			ids = append(ids, c.ID)
			told[c.ID] = true
		}
	}
	if len(ids) > 0 {
		l.line(styles[record.Open], words.Plural(len(ids), "claim waits", "claims wait")+" for the errors above: "+named(ids))
	}
	return told
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
func (l *listing) roots(before map[string]bool) map[string]bool {
	told := map[string]bool{}
	for _, r := range l.r.Roots {
		if len(r.Claims) < 2 || before[r.Claims[0]] {
			continue
		}
		for _, id := range r.Claims {
			told[id] = true
		}
		head := fmt.Sprintf("%d claims for one reason, %s", len(r.Claims), words.Visible(r.Reason))
		l.w.WriteString(l.paint(styles[record.Open], string(record.Open)) + spaces(body-len(record.Open)) + head + "\n")
		l.indented(plainText, 2, r.Text)
		if s := words.Settle(record.OpenPoint{Settle: r.Settle, Source: r.Source, Page: r.Page}); s != "" {
			l.indented(plainText, 2, "to settle: "+s)
		}
		l.indented(dim, 2, named(r.Claims))
	}
	return told
}

func (l *listing) claim(c *record.Claim) {
	brief := (c.Verdict == record.Passed || c.Verdict == record.Skipped) && !l.opt.Verbose
	if brief || c.Verdict == record.Passed || c.Verdict == record.Skipped {
		l.first(c)
	} else {
		l.head(c)
	}
	if brief {
		switch { // a built-in check says by its ID what it is
		case c.Verdict == record.Skipped:
			l.indented(plainText, 2, c.Reason)
		case c.Kind != "built-in":
			l.indented(plainText, 2, c.Statement)
		}
		return
	}
	l.indented(plainText, 2, c.Statement)
	open := words.OpenPoints(c)
	if len(open) == 0 && len(c.Criteria) == 0 && c.Waiver == nil { // each reason once
		l.indented(plainText, 2, c.Headline)
	}
	for i := range c.Criteria {
		l.criterion(c, &c.Criteria[i])
	}
	if in := c.Inspection; in != nil {
		l.indented(plainText, 2, "inspection: "+in.Text)
	}
	for _, o := range open {
		l.indented(plainText, 2, "open, "+o.Reason+": "+o.Text)
		if s := words.Settle(o); s != "" {
			l.indented(plainText, 2, "to settle: "+s)
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

func (l *listing) criterion(c *record.Claim, k *record.Criterion) {
	for i := range k.Tests {
		l.indented(plainText, 2, words.Join(": ", prefixed("in ", k.State), words.Numbers(&k.Tests[i])))
	}
	if len(k.Tests) == 0 && k.Text != "" {
		l.indented(plainText, 2, words.Join(": ", prefixed("in ", k.State), k.Text))
	}
	if corner := words.Corner(k); corner != "" {
		l.indented(plainText, 2, words.CornerName(k)+": "+corner)
	}
	if k.Statistics != nil {
		l.indented(plainText, 2, k.Statistics.Text)
	}
	if len(k.Contributions) > 0 && (l.opt.Verbose || c.Verdict == record.Failed) {
		top := k.Contributions[0]
		l.indented(plainText, 2, fmt.Sprintf("largest effect: %s, %.0f %%; %s", top.Name, top.Share*100, top.Text))
	}
}

func (l *listing) pages(c *record.Claim) {
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

// recap is the last screen: what to do next, and the counts.
func (l *listing) recap() {
	l.lookUp()
	l.line(plainText, words.Evidence(l.r))
	s := l.r.Summary
	if ids := words.OnRatings(l.r); len(ids) > 0 {
		l.line(plainText, words.Plural(len(ids), "pass rests", "passes rest")+" on a maximum rating, which promises survival and no more: "+strings.Join(ids, ", "))
	}
	if n := s.LimitsUnjudged; n > 0 {
		l.line(plainText, fmt.Sprintf("%d of %s judged by nothing: see `limits`", n, words.Plural(s.LimitsNoted, "noted limit is", "noted limits are")))
	}
	for _, v := range []record.Verdict{record.Failed, record.Open} {
		var ids []string
		for _, c := range words.ByAttention(l.r) {
			if c.Verdict == v {
				ids = append(ids, c.ID)
			}
		}
		if len(ids) == 0 {
			continue
		}
		for i, row := range wrap(words.Visible(strings.Join(ids, ", ")), l.width-body) {
			if i == 0 {
				l.w.WriteString(l.paint(styles[v], string(v)) + spaces(body-len(v)) + row + "\n")
				continue
			}
			l.w.WriteString(spaces(body) + row + "\n")
		}
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
		for i, row := range wrap(words.Visible(text), l.width-at-4) {
			if i > 0 {
				ref = ""
			}
			fmt.Fprintf(l.w, "  %s%s  %s\n", ref, spaces(at-width(ref)), row)
		}
	}
	l.w.WriteByte('\n')
}
