package pdf

import (
	"strconv"
	"strings"

	"guardband/eval"
)

const (
	claimIndent = 10
	claimLabel  = 62
)

// claim sets one claim where it stands in the notes: its sentence and verdict,
// each criterion as a formula with the numbers put in and the margin to scale,
// what it rests on, and the cited lines as pictures.
func (d *document) claim(c *eval.Claim) {
	d.set["claim:"+c.ID] = true
	d.openBar(verdictColour(c.Verdict), 2.6, claimIndent, 120)
	d.mark("claim:" + c.ID)
	d.bookmark(d.under+1, c.ID+": "+string(c.Verdict))
	d.claimHead(c)
	d.beside(c.Safety)
	for i := range c.Criteria {
		d.criterion(&c.Criteria[i], len(c.Criteria) > 1, i+1)
	}
	d.claimNotes(c)
	d.restsOn(c)
	d.citedLines(c.Cites)
	d.closeBar(claimIndent)
}

func (d *document) claimHead(c *eval.Claim) {
	st := body()
	d.para(d.verdict(c.Verdict, 9.4), d.sp(st, "  "), d.code(st.with(bold).to("matrix:"+c.ID), c.ID), d.sp(small(), "  "+c.Headline))
	d.para(d.sp(st.at(9.2).with(bold), c.Statement))
	sm := small().in(soft)
	about := d.join(sm, " · ",
		d.words(sm, kindText(c)), d.words(sm, c.Method), d.words(sm, c.Analysis),
		d.words(sm, prefixed("states ", strings.Join(c.States, ", "))),
		d.words(sm, prefixed("meets ", strings.Join(c.Meets, ", "))),
		d.where(c.Position, sm))
	if len(about) > 0 {
		d.para(about...)
	}
}

func kindText(c *eval.Claim) string {
	if c.Check != "" {
		return c.Kind + " check " + c.Check
	}
	if c.Kind == "claim" {
		return ""
	}
	return c.Kind
}

// claimNotes are the lines of text about the whole claim.
func (d *document) claimNotes(c *eval.Claim) {
	st := small()
	line := func(label string, spans []span) {
		if len(spans) > 0 {
			d.space(1.5)
			d.labelled(label, claimLabel, spans...)
		}
	}
	if c.Inspection != nil {
		d.inspection(c.Inspection, line)
	}
	for _, o := range c.Open {
		line("open", d.openPoint(o, st))
	}
	if c.Waiver != nil {
		line("waiver", d.waiverLine(c.Waiver, st))
	}
	line("reason", d.words(st, c.Reason))
	rule := d.words(st, c.Rule)
	if c.RuleSource != "" {
		rule = append(rule, d.sp(st.in(soft), " ("+c.RuleSource+")"))
	}
	line("rule", rule)
	for _, a := range c.Actions {
		line("action "+a.ID, d.action(a, st))
	}
	for _, i := range c.Assumes {
		if i >= 0 && i < len(d.r.Assumptions) {
			a := d.r.Assumptions[i]
			line("assumes", []span{d.sp(st.keepTo("assumption:"+itoa(i)), a.Text), d.sp(st.in(soft), " ("+a.Kind+")")})
		}
	}
}

func (d *document) inspection(n *eval.Inspection, line func(string, []span)) {
	st := small()
	line("inspect", d.words(st, n.Text))
	if n.Result == "" {
		line("result", d.words(st.in(verdictColour(eval.Open)), "not yet inspected"))
		return
	}
	line("result", d.words(st, joinText(", ", n.Result, n.Date, n.Person, n.Note)))
}

// joinText joins what is not empty.
func joinText(sep string, parts ...string) string {
	var out []string
	for _, s := range parts {
		if s != "" {
			out = append(out, s)
		}
	}
	return strings.Join(out, sep)
}

func (d *document) waiverLine(w *eval.Waiver, st style) []span {
	text := "until " + w.Until
	if w.Person != "" {
		text += ", by " + w.Person
	}
	if w.Reason != "" {
		text += ": " + w.Reason
	}
	if w.Accepts != "" {
		text += " Accepts a miss of " + w.Accepts + "."
	}
	out := []span{d.sp(st, text)}
	if !w.InForce {
		out = append(out, d.sp(st.with(bold).in(verdictColour(eval.Failed)), " Not in force"+prefixed(": ", w.Why)+"."))
	}
	return out
}

func (d *document) action(a eval.Action, st style) []span {
	out := d.words(st, a.Text)
	out = append(out, d.sp(st.in(soft), " "+joinText(", ", a.Owner, prefixed("due ", a.Due))))
	if a.Closed != "" {
		out = append(out, d.sp(st, ". Closed: "+a.Closed))
	}
	return out
}

// restsOn lists every fact and value under the claim with its page.
func (d *document) restsOn(c *eval.Claim) {
	if len(c.RestsOn) == 0 {
		return
	}
	st := small()
	var spans []span
	for i, b := range c.RestsOn {
		if i > 0 {
			spans = append(spans, newLine(st))
		}
		spans = append(spans, d.code(st.keepTo(basisAnchor(b.Name)), b.Name), d.sp(st, " = "+b.Shown))
		if b.At != "" {
			spans = append(spans, d.sp(st.in(soft), " at "+b.At))
		}
		if b.Assumed != "" {
			spans = append(spans, d.sp(st.in(verdictColour(eval.Open)), "  assumed: "+b.Assumed))
		}
		if len(b.Cites) > 0 {
			spans = append(spans, d.sp(st, "  "))
			spans = append(spans, d.cites(b.Cites, st)...)
		}
	}
	d.space(1.5)
	d.labelled("rests on", claimLabel, spans...)
}

// basisAnchor leads to a value, or to the placed part that has the fact.
func basisAnchor(name string) string {
	if ref, _, ok := strings.Cut(name, "."); ok {
		return "placed:" + ref
	}
	return "value:" + name
}

// citedLine is a citation as it is shown under a claim; picture is nil where
// there is none, or where it stands on an earlier page.
type citedLine struct {
	picture *picture
	caption []span
	key     string
}

// citedLines shows the pictures of the cited lines, two abreast, each once in
// the document; later claims point to the page where it stands.
func (d *document) citedLines(cs []eval.Cite) {
	const gutter = 12
	var items []citedLine
	for _, c := range cs {
		items = append(items, d.citedLine(c))
	}
	colW := (d.w - gutter) / 2
	for i := 0; i < len(items); i += 2 {
		pair := items[i:min(i+2, len(items))]
		h := 0.0
		laid := make([][]textLine, len(pair))
		for j, it := range pair {
			laid[j] = d.layout(it.caption, colW)
			h = max(h, height(laid[j])+pictureHeight(it.picture, colW)+3)
		}
		d.space(3)
		d.put(h, func() {
			for j, it := range pair {
				d.drawCited(it, laid[j], d.x+float64(j)*(colW+gutter), colW)
			}
		})
	}
}

func (d *document) citedLine(c eval.Cite) citedLine {
	it := citedLine{caption: d.citeCaption(c, tiny()), key: c.Source + "\x00" + c.Page + "\x00" + c.Quote}
	if it.picture = d.image(c.Picture); it.picture == nil {
		return it
	}
	if at, seen := d.shown[it.key]; seen {
		it.picture = nil
		it.caption = append(it.caption, d.sp(tiny(), "; picture on page "+itoa(at)))
	}
	return it
}

func (d *document) drawCited(it citedLine, caption []textLine, x, w float64) {
	y := d.y
	for _, l := range caption {
		d.drawLine(l, x, y, w, 'l')
		y += l.high
	}
	if it.picture != nil {
		h := pictureHeight(it.picture, w)
		d.drawImage(it.picture, x, y+1, h*float64(it.picture.w)/float64(it.picture.h), h)
		d.shown[it.key] = d.sheet()
	}
}

// pictureHeight sets a picture at 150 pixels to the inch, smaller where the
// column is narrower or it would be taller than a third of a page.
func pictureHeight(q *picture, w float64) float64 {
	if q == nil {
		return 0
	}
	scale := min(72.0/150, w/float64(q.w), 230/float64(q.h))
	return float64(q.h) * scale
}

func (d *document) citeCaption(c eval.Cite, st style) []span {
	head := joinText(" ", c.Source, c.Section, c.Page)
	if c.Quote != "" {
		head += " “" + c.Quote + "”"
	}
	col := soft
	if graded(c.Checked) != "" {
		col = verdictColour(eval.Open)
	}
	out := []span{d.sp(st.to(pageAnchor(c)), head), d.sp(st.in(col), ": "+c.Text)}
	if c.Picture == "" && c.Line != "" {
		out = append(out, d.sp(st, ": "), d.code(st.in(ink), c.Line))
	}
	if c.Counted > 0 && c.Printed != strconv.Itoa(c.Counted) {
		out = append(out, d.sp(st, " (counted page "+itoa(c.Counted)+")"))
	}
	return out
}
