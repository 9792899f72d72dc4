package pdf

import (
	"strconv"

	"guardband/eval"
)

// attention lists the claims that the record puts first, each with what a
// decision needs: numbers, corner, page, place.
func (d *document) attention() {
	if len(d.r.Attention) == 0 {
		d.note("No claim needs attention.")
		return
	}
	for _, id := range d.r.Attention {
		d.attend(id)
	}
}

// attentionUpTo fills pages up to the given one and says what is left.
func (d *document) attentionUpTo(pages int) {
	const rest = 46
	if len(d.r.Attention) == 0 {
		d.note("No claim needs attention.")
		return
	}
	for i, id := range d.r.Attention {
		if d.sheet() >= pages && !d.fits(d.attendHeight(id)+rest) {
			d.space(6)
			d.others(d.r.Attention[i:])
			return
		}
		d.attend(id)
	}
}

// others names the claims that had no room, as far as a few lines hold.
func (d *document) others(ids []string) {
	st := small().in(soft)
	spans := []span{d.sp(st, count(len(ids), "further claim needs", "further claims need")+" attention; the full record has them")}
	most := 60
	for i, id := range ids[:min(len(ids), most)] {
		sep := ", "
		if i == 0 {
			sep = ": "
		}
		spans = append(spans, d.sp(st, sep), d.code(st, d.fit(id, mono, st.size, 160)))
	}
	if len(ids) > most {
		spans = append(spans, d.sp(st, " …"))
	}
	ls := d.layout(spans, d.w)
	for len(ls) > 1 && !d.fits(height(ls)) {
		ls = ls[:len(ls)-1]
	}
	d.lines(ls, 0)
}

const attendIndent = 9

// attendLines is the entry of one claim.
func (d *document) attendLines(c *eval.Claim) [][]span {
	st := small()
	head := []span{d.verdict(c.Verdict, bodySize), d.sp(body(), "  "), d.claimLink(c.ID, body()), d.sp(st.in(soft), "  "+c.Headline)}
	lines := [][]span{head, {d.sp(body(), c.Statement)}}
	for i := range c.Criteria {
		if l := d.attendCriterion(c, &c.Criteria[i]); len(l) > 0 {
			lines = append(lines, l)
		}
	}
	for _, o := range c.Open {
		lines = append(lines, d.openPoint(o, st))
	}
	if c.Waiver != nil {
		lines = append(lines, d.waiverLine(c.Waiver, st))
	}
	if c.Inspection != nil && c.Inspection.Result == "" {
		lines = append(lines, d.words(st, "To inspect: "+c.Inspection.Text))
	}
	tail := d.join(st, " · ", d.cites(c.Cites, st), d.where(c.Position, st))
	if len(tail) > 0 {
		lines = append(lines, tail)
	}
	return lines
}

// attendCriterion is what matters of one criterion: the corner of a failure,
// the reason of an open one, the margin of a thin pass.
func (d *document) attendCriterion(c *eval.Claim, k *eval.Criterion) []span {
	st := small()
	var groups [][]span
	if k.State != "" {
		groups = append(groups, d.words(st, "state "+k.State))
	}
	for _, t := range k.Tests {
		if t.Margin != nil && t.Margin.Text != "" {
			groups = append(groups, d.words(st, "margin "+t.Margin.Text))
		}
	}
	if k.Failure != "" {
		groups = append(groups, d.words(st, k.Failure))
	}
	if s := cornerText(k); s != "" && k.Verdict != eval.Open {
		groups = append(groups, d.words(st, s))
	}
	for _, o := range k.Open {
		groups = append(groups, d.openPoint(o, st))
	}
	if len(groups) == 0 {
		return nil
	}
	return append([]span{d.code(st.in(soft), k.Text), d.sp(st, ": ")}, d.join(st, "; ", groups...)...)
}

// cornerText is the corner in one line: the inputs, then the sides.
func cornerText(k *eval.Criterion) string {
	s := ""
	for i, v := range k.Corner {
		if i > 0 {
			s += ", "
		}
		s += v.Name + " = " + v.Text
		if v.End != "" {
			s += " (" + v.End + ")"
		}
	}
	if s != "" {
		s = "at " + s
	}
	if k.CornerText != "" {
		if s != "" {
			s += ": "
		}
		s += k.CornerText
	}
	return s
}

func (d *document) openPoint(o eval.OpenPoint, st style) []span {
	out := []span{d.sp(st.with(bold).in(verdictColour(eval.Open)), o.Reason), d.sp(st, ": "+o.Text)}
	if o.Settle != "" {
		out = append(out, d.sp(st, " To settle: "+o.Settle))
		if o.Source != "" {
			out = append(out, d.sp(st.to(d.pageOf(o.Source, o.Page)), " ("+oneLine(o.Source+" "+o.Page)+")"))
		}
		out = append(out, d.sp(st, "."))
	}
	return out
}

func (d *document) attend(id string) {
	c := d.claims[id]
	if c == nil {
		d.note(id)
		return
	}
	d.space(6)
	lines := d.attendLines(c)
	d.openBar(verdictColour(c.Verdict), 2.2, attendIndent, min(d.attendHeight(id), 160))
	for _, l := range lines {
		d.para(l...)
	}
	d.closeBar(attendIndent)
}

func (d *document) attendHeight(id string) float64 {
	c := d.claims[id]
	if c == nil {
		return small().leading()
	}
	h := 6.0
	for _, l := range d.attendLines(c) {
		h += height(d.layout(l, d.w-attendIndent))
	}
	return h
}

// lookUp is what to find in which document to settle open claims.
func (d *document) lookUp() {
	st := small()
	t := table{cols: []column{{head: "Document", most: 80}, {head: "Page", most: 50}, {head: "Look for"}, {head: "Settles"}}}
	for _, l := range d.r.LookUp {
		t.rows = append(t.rows, row{cells: []cell{
			{d.code(st.to("source:"+l.Source), l.Source)}, {d.sp(st, orDash(l.Page))}, {d.sp(st, l.Text)}, d.claimLinks(l.Claims, st),
		}})
	}
	d.table(t)
}

// diagnostics are the complaints about the notebook, with the line they mean.
func (d *document) diagnostics() {
	st := small()
	t := table{cols: []column{{head: "Place", most: 110}, {head: "Kind", most: 60}, {head: "Complaint"}}}
	for _, g := range d.r.Diagnostics {
		what := cell{d.sp(st, g.Message)}
		if g.Source != "" {
			what = append(what, newLine(st), d.code(st.in(soft), g.Source))
		}
		if g.Hint != "" {
			what = append(what, newLine(st), d.sp(st, "Hint: "+g.Hint))
		}
		for _, rel := range g.Related {
			what = append(what, newLine(st), d.sp(st.in(soft), rel.File+":"+strconv.Itoa(rel.Line)+": "+rel.Message))
		}
		t.rows = append(t.rows, row{cells: []cell{
			{d.sp(st, g.File+":"+strconv.Itoa(g.Line)+":"+strconv.Itoa(g.Column))}, {d.sp(st, g.Severity), newLine(st), d.code(st.in(soft), g.Code)}, what,
		}})
	}
	d.table(t)
}
