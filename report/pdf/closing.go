package pdf

import (
	"sort"
	"strconv"

	"guardband/eval"
)

func (d *document) assumptions() {
	st := small()
	t := table{cols: []column{{head: "No.", align: 'r', fixed: 28}, {head: "Taken as given"}, {head: "Kind", most: 90}, {head: "Claims that rest on it"}, {head: "Place", most: 90}}}
	for i, a := range d.r.Assumptions {
		t.rows = append(t.rows, row{anchor: "assumption:" + itoa(i), cells: []cell{
			d.words(st, itoa(i+1)), d.words(st, a.Text), d.words(st, a.Kind), d.claimLinks(a.Claims, st), d.where(a.Position, st),
		}})
	}
	d.table(dropEmpty(t))
}

func (d *document) hasWaivers() bool {
	for i := range d.r.Claims {
		if d.r.Claims[i].Waiver != nil {
			return true
		}
	}
	return false
}

// waivers are departures accepted in writing. A waiver never makes a failed
// claim passed.
func (d *document) waivers() {
	st := small()
	t := table{cols: []column{{head: "Claim", most: 140}, {head: "Without it", most: 60}, {head: "Until", most: 60}, {head: "Accepted by", most: 90}, {head: "Reason"}, {head: "Miss accepted", most: 70}, {head: "In force", most: 80}}}
	for i := range d.r.Claims {
		c := &d.r.Claims[i]
		w := c.Waiver
		if w == nil {
			continue
		}
		under := c.Under
		if under == "" {
			under = c.Verdict
		}
		force := d.words(st, "yes")
		if !w.InForce {
			force = d.words(st.in(verdictColour(eval.Failed)), "no"+prefixed(": ", w.Why))
		}
		t.rows = append(t.rows, row{cells: []cell{
			{d.claimLink(c.ID, st)}, {d.verdict(under, st.size)}, d.words(st, w.Until), d.words(st, w.Person), d.words(st, w.Reason), d.words(st, orDash(w.Accepts)), force,
		}})
	}
	d.table(t)
}

type openEntry struct {
	claim string
	point eval.OpenPoint
}

func (d *document) openEntries() []openEntry {
	var out []openEntry
	for i := range d.r.Claims {
		c := &d.r.Claims[i]
		if c.Verdict == eval.Skipped {
			continue
		}
		for _, o := range c.Open {
			out = append(out, openEntry{c.ID, o})
		}
		for j := range c.Criteria {
			for _, o := range c.Criteria[j].Open {
				out = append(out, openEntry{c.ID, o})
			}
		}
	}
	return out
}

func (d *document) hasOpen() bool { return len(d.openEntries()) > 0 }

func (d *document) openPoints() {
	st := small()
	t := table{cols: []column{{head: "Claim", most: 140}, {head: "Reason", most: 80}, {head: "Open because"}, {head: "What settles it"}, {head: "Where to look", most: 90}}}
	for _, e := range d.openEntries() {
		o := e.point
		var look cell
		if o.Source != "" {
			look = cell{d.sp(st.to(d.pageOf(o.Source, o.Page)), joinText(" ", o.Source, o.Page))}
		}
		t.rows = append(t.rows, row{cells: []cell{{d.claimLink(e.claim, st)}, d.words(st.with(bold), o.Reason), d.words(st, o.Text), d.words(st, o.Settle), look}})
	}
	d.table(dropEmpty(t))
}

func (d *document) review() {
	st := small()
	for _, p := range d.r.Review.Participants {
		d.labelled(p.Name, 110, d.sp(st, joinText(", ", p.Value, p.Means)))
	}
	if len(d.r.Review.Actions) == 0 {
		return
	}
	d.space(6)
	t := table{cols: []column{{head: "Action", most: 60}, {head: "Text"}, {head: "Claim", most: 130}, {head: "Owner", most: 80}, {head: "Due", most: 60}, {head: "Closed"}}}
	for _, a := range d.r.Review.Actions {
		var claim cell
		if a.Claim != "" {
			claim = cell{d.claimLink(a.Claim, st)}
		}
		closed := d.words(st, a.Closed)
		if a.Closed == "" {
			closed = d.words(st.in(verdictColour(eval.Open)), "open")
		}
		t.rows = append(t.rows, row{cells: []cell{{d.code(st, a.ID)}, d.words(st, a.Text), claim, d.words(st, a.Owner), d.words(st, a.Due), closed}})
	}
	d.table(dropEmpty(t))
}

// register is every document and notebook with its digest.
func (d *document) register() {
	st := small()
	t := table{cols: []column{{head: "Document", most: 80}, {head: "Title, issuer, revision"}, {head: "File and SHA-256", fixed: 222}, {head: "Pages", align: 'r', most: 42}, {head: "Citations", most: 62}, {head: "State", most: 78}}}
	for i := range d.r.Sources {
		s := &d.r.Sources[i]
		state := st
		if s.Changed || !s.OnFile {
			state = st.in(verdictColour(eval.Open))
		}
		t.rows = append(t.rows, row{anchor: "source:" + s.ID, cells: []cell{
			{d.code(st, s.ID)}, d.sourceTitle(s, st), d.sourceFile(s, st), d.words(st, pagesText(s)), d.words(st, citedText(s)), d.words(state, s.State),
		}})
	}
	for _, n := range d.r.Design.Notebooks {
		t.rows = append(t.rows, row{cells: []cell{d.words(st.in(soft), "notebook"), nil, {d.code(st, n.Path), newLine(st), d.digest(n.SHA256, soft)}}})
	}
	d.table(t)
}

func (d *document) sourceTitle(s *eval.Source, st style) cell {
	out := cell{d.sp(st, s.Title)}
	if more := joinText(", ", s.Issuer, prefixed("revision ", s.Revision), s.Date, prefixed("corrects ", s.Corrects)); more != "" {
		out = append(out, newLine(st), d.sp(st.in(soft), more))
	}
	return out
}

func (d *document) sourceFile(s *eval.Source, st style) cell {
	if s.File == "" && s.SHA256 == "" {
		return d.words(st.in(soft), "no file")
	}
	out := cell{d.code(st, s.File)}
	if s.SHA256 != "" {
		out = append(out, newLine(st), d.digest(s.SHA256, soft))
	}
	if s.Recorded != "" && s.Recorded != s.SHA256 {
		out = append(out, newLine(st), d.sp(st, "recorded in the notes:"), newLine(st), d.digest(s.Recorded, verdictColour(eval.Open)))
	}
	return out
}

// digest sets a SHA-256 so that it fits its column on one line.
func (d *document) digest(s string, c rgb) span {
	return d.sp(style{face: mono, size: 5.5, colour: c}, s)
}

func pagesText(s *eval.Source) string {
	if s.Pages == 0 {
		return "—"
	}
	return strconv.Itoa(s.Pages)
}

// citedText is how many citations the document carries, by how far each was
// checked.
func citedText(s *eval.Source) string {
	text := strconv.Itoa(s.Cited)
	grades := make([]string, 0, len(s.Checked))
	for g := range s.Checked {
		grades = append(grades, g)
	}
	sort.Strings(grades)
	for i, g := range grades {
		if i == 0 {
			text += ": "
		} else {
			text += ", "
		}
		text += g + " " + strconv.Itoa(s.Checked[g])
	}
	return text
}
