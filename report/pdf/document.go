// Package pdf writes a record as a PDF: the notes as written with every claim,
// its numbers and its pages, and the lists that a design review asks for. The
// record alone decides what is printed; nothing is computed here but places on
// the page.
package pdf

import (
	"fmt"
	"io"
	"time"

	"guardband/eval"
)

// Options of Write. The zero value is the whole record on A4.
type Options struct {
	Only  string // "attention": two pages for a meeting; "" is everything
	Paper string // "A4" (ISO 216) or "letter"; "" is A4
}

// Write prints the record. The same record gives the same bytes: the dates in
// the file are those of the record. Errors are those of w, or tell an option
// that is not known.
func Write(w io.Writer, r *eval.Record, opt Options) error {
	paper, ok := papers[opt.Paper]
	if !ok {
		return fmt.Errorf("pdf: paper %q is not known; use A4 or letter", opt.Paper)
	}
	if opt.Only != "" && opt.Only != "attention" {
		return fmt.Errorf("pdf: %q is no part that can be printed alone; use attention", opt.Only)
	}
	p, err := newPage(paper, dateOf(r.Design))
	if err != nil {
		return fmt.Errorf("pdf: %w", err)
	}
	d := newDocument(p, r)
	d.compose(opt)
	if err := p.finish(w, d.running); err != nil {
		return fmt.Errorf("pdf: %w", err)
	}
	return nil
}

func (d *document) compose(opt Options) {
	d.describe()
	if opt.Only == "attention" {
		d.meeting()
	} else {
		d.whole()
	}
}

// dateOf is the day of the record, or the start of Unix time where it has
// none: never the clock.
func dateOf(d eval.Design) time.Time {
	for _, s := range []string{d.AsOf, d.Date} {
		if t, err := time.Parse(time.DateOnly, s); err == nil {
			return t
		}
	}
	return time.Unix(0, 0).UTC()
}

// document is a record on its way to paper.
type document struct {
	*page
	r       *eval.Record
	claims  map[string]*eval.Claim
	parts   map[string]*eval.Part
	values  map[string]*eval.Value
	sources map[string]*eval.Source
	placed  map[string]*eval.Placement
	set     map[string]bool // things already set in the notes: "claim:ID", "part:ID", ...
	trace   *trace
	under   int // level of the heading that the outline hangs claims below
}

func newDocument(p *page, r *eval.Record) *document {
	d := &document{
		page: p, r: r,
		claims: map[string]*eval.Claim{}, parts: map[string]*eval.Part{}, values: map[string]*eval.Value{},
		sources: map[string]*eval.Source{}, placed: map[string]*eval.Placement{}, set: map[string]bool{},
	}
	for i := range r.Claims {
		d.claims[r.Claims[i].ID] = &r.Claims[i]
	}
	for i := range r.Parts {
		d.parts[r.Parts[i].ID] = &r.Parts[i]
	}
	for i := range r.Values {
		d.values[r.Values[i].Name] = &r.Values[i]
	}
	for i := range r.Sources {
		d.sources[r.Sources[i].ID] = &r.Sources[i]
	}
	for i := range r.Placements {
		d.placed[r.Placements[i].Ref] = &r.Placements[i]
	}
	d.trace = newTrace(r)
	return d
}

// describe fills the file's own description.
func (d *document) describe() {
	c := d.g.clean
	d.f.SetTitle(c(oneLine(d.r.Design.Title)), true)
	d.f.SetAuthor(c(oneLine(d.r.Design.Author)), true)
	d.f.SetSubject(c("Design review record, revision "+orDash(d.r.Design.Revision)+", "+d.counts()), true)
	d.f.SetCreator(c(oneLine(d.r.Design.Tool)), true)
	d.f.SetProducer(c(oneLine(d.r.Design.Tool)), true)
	d.f.SetLang("en")
}

// section is a chapter of the record.
type section struct {
	title, anchor string
	has           bool
	draw          func()
}

func (d *document) sections() []section {
	r := d.r
	return []section{
		{"What needs attention", "attention", true, d.attention},
		{"To look up", "look-up", len(r.LookUp) > 0, d.lookUp},
		{"Complaints about the notebook", "diagnostics", len(r.Diagnostics) > 0, d.diagnostics},
		{"The notes", "notes", len(r.Content) > 0, d.notes},
		{"Claims outside the notes", "other-claims", d.unwritten(), d.otherClaims},
		{"Parts", "parts", len(r.Parts) > 0, d.partsRegister},
		{"Placement", "placement", d.unplaced(), d.placements},
		{"Parts list", "parts-list", len(r.PartsList) > 0, d.partsList},
		{"Values", "values", len(r.Values) > 0, d.valuesRegister},
		{"Budgets", "budgets", len(r.Budgets) > 0, d.budgetsRegister},
		{"Shortlists", "shortlists", len(r.Shortlists) > 0, d.shortlistsRegister},
		{"Requirements", "requirements", len(r.Requirements) > 0, d.requirements},
		{"Verification matrix", "matrix", len(r.Claims) > 0, d.matrix},
		{"From page to claim", "trace", len(d.trace.docs) > 0, d.traceability},
		{"Assumptions", "assumptions", len(r.Assumptions) > 0, d.assumptions},
		{"Waivers", "waivers", d.hasWaivers(), d.waivers},
		{"Open points", "open-points", d.hasOpen(), d.openPoints},
		{"Review and actions", "review", len(r.Review.Participants)+len(r.Review.Actions) > 0, d.review},
		{"Bring-up", "bring-up", d.hasBringUp(), d.bringUp},
		{"Documents", "sources", len(r.Sources)+len(r.Design.Notebooks) > 0, d.register},
		{"Limits of this record", "limits", true, d.limits},
		{"Sign-off", "sign-off", true, d.signOff},
	}
}

// whole is the full record.
func (d *document) whole() {
	d.titleBlock()
	d.cautions(false)
	var list []section
	for _, s := range d.sections() {
		if s.has {
			list = append(list, s)
		}
	}
	d.contents(list)
	for _, s := range list {
		d.chapter(s.title, s.anchor)
		s.draw()
		d.flush()
	}
}

// meeting is the short version: what a team decides about in a sitting.
func (d *document) meeting() {
	d.titleBlock()
	d.cautions(true)
	d.chapter("What needs attention", "attention")
	d.attentionUpTo(2)
	d.flush()
}

// running sets the head and foot of a page.
func (d *document) running(p *page, n, of int) {
	st := tiny()
	right := d.counts()
	rw := p.g.stringWidth(bold, st.size, right)
	y := p.top - 22
	p.text(p.right-rw, y, st.with(bold), right)
	left := d.r.Design.Title + " · revision " + orDash(d.r.Design.Revision)
	p.text(p.left, y, st, p.fit(left, regular, st.size, p.right-p.left-rw-12))
	p.line(p.left, y+5, p.right, y+5, 0.4, hairline)

	y = p.bottom + 22
	p.line(p.left, y-10, p.right, y-10, 0.4, hairline)
	foot := "Page " + itoa(n) + " of " + itoa(of)
	fw := p.g.stringWidth(regular, st.size, foot)
	p.text(p.right-fw, y, st, foot)
	about := "Design review record, as of " + orDash(d.r.Design.AsOf)
	if d.r.Design.Commit != "" {
		about += " · commit " + d.r.Design.Commit
	}
	p.text(p.left, y, st, p.fit(about, regular, st.size, p.right-p.left-fw-12))
}

// fit cuts a line with an ellipsis where it is wider than w.
func (p *page) fit(s string, f faceID, size, w float64) string {
	s = oneLine(p.g.clean(s))
	if p.g.stringWidth(f, size, s) <= w {
		return s
	}
	room := w - p.g.stringWidth(f, size, "…")
	sum, at := 0.0, 0
	for i, r := range s {
		if sum += p.g.stringWidth(f, size, string(r)); sum > room {
			break
		}
		at = i + len(string(r))
	}
	return s[:at] + "…"
}
