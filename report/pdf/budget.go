package pdf

import (
	"guardband/eval"
	"guardband/report/draw"
)

func (d *document) budgetBlock(b *eval.BlockRef) func() {
	for i := range d.r.Budgets {
		if x := &d.r.Budgets[i]; x.Net == b.ID {
			return func() { d.budget(x) }
		}
	}
	return nil
}

// budget sets the loads of a supply, what they come to, and their averages as
// a chart.
func (d *document) budget(b *eval.Budget) {
	d.set["budget:"+b.Net] = true
	st := small()
	d.blockHead("budget", b.Net, d.words(st, prefixed("supply ", b.Supply)), b.Position, "budget:"+b.Net)
	t := table{cols: []column{{head: "Load", most: 80}, {head: "State", most: 80}, {head: "Current"}, {head: "Duty"}, {head: "Average", align: 'r'}, {head: "Page", most: 110}}}
	var rows []draw.Row
	for _, l := range b.Rows {
		t.rows = append(t.rows, row{cells: []cell{
			d.words(st.with(bold), l.Ref), d.words(st, l.State), d.words(st, l.Text), d.words(st, l.Duty), d.words(st, l.AverageText), d.cites(l.Cites, st),
		}})
		rows = append(rows, draw.Row{Label: joinText(" ", l.Ref, l.State), Value: l.Average, Text: l.AverageText})
	}
	d.table(dropEmpty(t))
	d.space(5)
	for i := range b.Results {
		d.value(&b.Results[i])
	}
	d.chart(rows)
}

// chart draws the rows in pieces that fit on a page.
func (d *document) chart(rows []draw.Row) {
	const most = 30
	d.space(6)
	d.keepPara(d.sp(tiny(), "Average current by load and state:"))
	for len(rows) > 0 {
		n := min(most, len(rows))
		q := draw.RowChart(rows[:n], metrics{d.g}, min(d.w, 380), 7)
		d.put(q.H+4, func() { d.drawing(q, d.x, d.y+2, ink) })
		rows = rows[n:]
	}
	d.flush()
}

// budgetsRegister is one line a budget; those that stand in no notebook follow.
func (d *document) budgetsRegister() {
	st := small()
	t := table{cols: []column{{head: "Net", most: 90}, {head: "Supply", most: 90}, {head: "Comes to"}, {head: "Set on page", align: 'r', most: 60}}}
	for i := range d.r.Budgets {
		b := &d.r.Budgets[i]
		var res cell
		for j, v := range b.Results {
			if j > 0 {
				res = append(res, newLine(st))
			}
			res = append(res, d.code(st, v.Name), d.sp(st, " = "+v.Text))
		}
		page := "below"
		if d.set["budget:"+b.Net] {
			page = d.number("budget:" + b.Net)
		}
		t.rows = append(t.rows, row{cells: []cell{{d.code(st.to("budget:"+b.Net), b.Net)}, d.words(st, b.Supply), res, d.words(st, page)}})
	}
	d.table(dropEmpty(t))
	for i := range d.r.Budgets {
		if b := &d.r.Budgets[i]; !d.set["budget:"+b.Net] {
			d.space(10)
			d.budget(b)
		}
	}
}

func (d *document) shortlistBlock(b *eval.BlockRef) func() {
	for i := range d.r.Shortlists {
		if x := &d.r.Shortlists[i]; x.ID == b.ID {
			return func() { d.shortlist(x) }
		}
	}
	return nil
}

// shortlist sets candidates against criteria, a verdict and a page in each cell.
func (d *document) shortlist(s *eval.Shortlist) {
	d.set["shortlist:"+s.ID] = true
	st := small()
	d.blockHead("shortlist", s.ID, nil, s.Position, "shortlist:"+s.ID)
	t := table{cols: []column{{head: "Candidate", most: 90}}}
	for i := range s.Criteria {
		t.cols = append(t.cols, column{head: "Criterion " + itoa(i+1)})
	}
	for i, c := range s.Criteria {
		d.keepPara(d.sp(st.in(soft), "criterion "+itoa(i+1)+": "), d.code(st, c))
	}
	for i, name := range s.Candidates {
		face := st
		if name == s.Choice {
			face = st.with(bold)
		}
		cells := []cell{d.words(face, name)}
		for j := range s.Criteria {
			if i < len(s.Cells) && j < len(s.Cells[i]) {
				cells = append(cells, d.shortlistCell(&s.Cells[i][j], st))
			}
		}
		t.rows = append(t.rows, row{cells: cells, shade: name == s.Choice && name != ""})
	}
	d.table(t)
	if s.Choice != "" || s.Reason != "" {
		d.space(3)
		d.labelled("choice", claimLabel, d.sp(st.with(bold), s.Choice), d.sp(st, prefixed("  ", s.Reason)))
	}
}

func (d *document) shortlistCell(c *eval.ShortlistCell, st style) cell {
	out := cell{d.verdict(c.Verdict, st.size)}
	if c.Text != "" {
		out = append(out, d.sp(st, " "+c.Text))
	}
	if c.Margin != "" {
		out = append(out, d.sp(st, ", margin "+c.Margin))
	}
	if len(c.Cites) > 0 {
		out = append(out, d.sp(st, " "))
		out = append(out, d.cites(c.Cites, st)...)
	}
	return out
}

func (d *document) shortlistsRegister() {
	st := small()
	t := table{cols: []column{{head: "Shortlist", most: 120}, {head: "Choice", most: 120}, {head: "Reason"}, {head: "Set on page", align: 'r', most: 60}}}
	for i := range d.r.Shortlists {
		s := &d.r.Shortlists[i]
		page := "below"
		if d.set["shortlist:"+s.ID] {
			page = d.number("shortlist:" + s.ID)
		}
		t.rows = append(t.rows, row{cells: []cell{{d.code(st.to("shortlist:"+s.ID), s.ID)}, d.words(st, orDash(s.Choice)), d.words(st, s.Reason), d.words(st, page)}})
	}
	d.table(dropEmpty(t))
	for i := range d.r.Shortlists {
		if s := &d.r.Shortlists[i]; !d.set["shortlist:"+s.ID] {
			d.space(10)
			d.shortlist(s)
		}
	}
}

func (d *document) readingsBlock(b *eval.BlockRef) func() {
	var list []*eval.Reading
	for i := range d.r.Readings {
		for _, n := range b.Names {
			if d.r.Readings[i].Name == n {
				list = append(list, &d.r.Readings[i])
				break
			}
		}
	}
	if len(list) == 0 {
		return nil
	}
	return func() {
		d.blockHead("readings", b.ID, nil, b.Position, "")
		d.table(d.readingTable(list))
	}
}

func (d *document) readingTable(list []*eval.Reading) table {
	st := small()
	t := table{cols: []column{{head: "Quantity", most: 110}, {head: "Reading"}, {head: "Predicted"}, {head: "Verdict", most: 60}, {head: "Says"}, {head: "Settles", most: 110}, {head: "Instrument", most: 110}}}
	for _, r := range list {
		var settles cell
		if r.Settles != "" {
			settles = cell{d.claimLink(r.Settles, st)}
		}
		t.rows = append(t.rows, row{cells: []cell{
			{d.code(st, r.Name)}, d.words(st, r.Reading), d.words(st, r.Predicted), {d.verdict(r.Verdict, st.size)}, d.words(st, r.Text), settles, d.cites(r.Cites, st),
		}})
	}
	return dropEmpty(t)
}
