package sheet

import (
	"context"
	"fmt"
	"strings"
)

// Draft is what could be read of a part from its data sheet. Every line cites
// its page and words that stand there; nothing is filled in that is not printed.
type Draft struct {
	Survey     Survey
	Title      []Quoted // what the first page says in its largest type
	Revision   Quoted   // edition of the sheet, as its first page prints it
	Orders     []DraftOrder
	Packages   []DraftPackage // that of the first order code first
	Pins       []DraftPin
	Ratings    []DraftRow   // absolute maximum ratings
	Operating  []DraftRow   // recommended operating conditions
	Spec       []DraftRow   // characteristics
	Unplaced   []DraftRow   // of tables of which nothing says whether they rate, limit or describe
	Drawn      []DraftValue // values that stand alone in the application section, as in its drawing
	Circuit    []Quoted     // lines of the application section that give external parts
	Loose      []Quoted     // lines with a number and its unit among ratings and characteristics that are in no table understood
	NotFound   []string     // what a first look wants and was not found, in words
	PassedOver []string     // tables that were seen and not taken, and why
}

// Quoted is a line and where it stands.
type Quoted struct {
	Text  string // as printed
	Page  int
	Label string
	Quote string // words that stand on the page in this order, to be cited
}

// Titled is a cell with the title of its column.
type Titled struct{ Title, Text string }

// DraftRow is a line of a table of ratings or characteristics. Texts are as
// printed, with the sign as a hyphen-minus; a single value stands in Value.
type DraftRow struct {
	Quoted
	Group, Name, Symbol, Condition string
	Head                           []HeadCondition // of the table, but for what Condition says otherwise
	Min, Typ, Max, Value, Unit     string
	Version                        string // the part, grade or package whose column of several this is
	Other                          string // the version or package the row speaks of, if that is not the one of the first order code
	Table                          string // what stands over the table, "" if nothing that names it
	Unread                         bool   // a number of the row cannot be told for sure and is left out
	Untold                         bool   // lines and white gaps of the table read its numbers or unit differently
	NoUnit                         bool   // its unit cannot be told for sure
}

// Draft reads the six sections of a data sheet. Errors: those of Inspect.
func (l *Reader) Draft(ctx context.Context, path string) (Draft, error) {
	d := &drafter{}
	var err error
	if d.Survey, err = l.survey(ctx, path, d.page); err != nil {
		return Draft{Survey: d.Survey}, err
	}
	d.sortOrders()
	for _, r := range d.ofParts {
		if len(d.Orders) > 0 && r.Version == d.Orders[0].Code {
			d.Spec = append(d.Spec, r)
		}
	}
	d.settlePackages()
	d.settlePins()
	d.otherVersions()
	d.repeatedRatings()
	d.notFound()
	return d.Draft, nil
}

// drafter goes through the pages in order and remembers under which heading it is.
type drafter struct {
	Draft
	under      heading         // the last heading passed
	within     Section         // the section it stands in
	chapters   map[string]bool // numbers of the headings of characteristics: "4"
	ofParts    []DraftRow      // quantities that ordering tables state of each part
	last       *Table          // the lowest table of the last page, its heading and section
	lastHead   heading
	lastWithin Section
	since      int             // its page
	drawn      []DraftPackage  // named by headings
	heads      map[string]bool // headings of no section on earlier pages: again, they are running heads
	first      []string        // how the words of the first page with text begin
}

// carryPages is how far a table may stand behind its heading, in pages.
const carryPages = 8

func (d *drafter) page(s *pageSignals) {
	if s.page == 1 {
		d.title(s)
	}
	d.dropRunning(s)
	if t := s.view.goesOn(d.last, s.view.page.Height); t != nil {
		s.tables = append([]*Table{t}, s.tables...)
		d.table(t, d.lastHead, d.lastWithin, s)
		d.last = t
	} else {
		d.last = nil
	}
	carried := d.last
	for i, t := range s.tables {
		if t == carried {
			continue
		}
		head, within := d.headOf(t, s)
		if used := s.tablesUnder(head, i); used && isOperating(head.text) || head.section == SectionRatings && t.stateTypical() {
			head = heading{section: SectionElectrical, text: string(SectionElectrical)}
		}
		d.table(t, head, within, s)
		if d.last == nil || t.bottom >= d.last.bottom {
			d.last, d.lastHead, d.lastWithin = t, head, within
		}
	}
	d.loose(s)
	d.orderText(s)
	d.packagesOver(s)
	d.circuit(s)
	d.drawing(s)
	if n := len(s.headings); n > 0 {
		last := s.headings[0]
		for _, h := range s.headings {
			if h.y >= last.y {
				last = h
			}
			if h.section != "" {
				d.within = h.section
			}
		}
		d.under, d.since = last, s.page
	}
}

// dropRunning takes out headings that stood on an earlier page and begin no section.
func (d *drafter) dropRunning(s *pageSignals) {
	if d.heads == nil {
		d.heads, d.chapters = map[string]bool{}, map[string]bool{}
	}
	kept := s.headings[:0]
	for _, h := range s.headings {
		if h.section != "" || !d.heads[h.text] {
			kept = append(kept, h)
		}
		d.heads[h.text] = d.heads[h.text] || h.section == ""
		d.chapters[numberOf(h.text)] = h.section == SectionElectrical
	}
	s.headings = kept
}

// headOf gives the heading over a table, and the section it stands in: that of
// the nearest heading that begins one.
func (d *drafter) headOf(t *Table, s *pageSignals) (heading, Section) {
	within := d.within
	if h := s.nearest(t, func(h *heading) bool { return h.section != "" }); h != nil {
		within = h.section
	}
	switch h := s.headingOver(t); {
	case h != nil && (h.section != "" || h.y > 0.08*s.view.page.Height): // not a running head
		return *h, within
	case s.page-d.since > carryPages:
		return heading{}, ""
	}
	return d.under, within
}

// tablesUnder says whether a table of other columns stands between a heading
// and table i: "operating conditions" heads the first only, what follows are
// characteristics.
func (s *pageSignals) tablesUnder(h heading, i int) bool {
	t := s.tables[i]
	for _, u := range s.tables[:i] {
		if u.top > h.y && u.top < t.top && u.hasLimits() && kindsOf(u) != kindsOf(t) {
			return true
		}
	}
	return false
}

// kindsOf lists the kinds of a table's columns: tables of one form that differ
// in the units of their titles are one list.
func kindsOf(t *Table) string {
	var b strings.Builder
	for _, c := range t.Columns {
		b.WriteString(string(c.Kind) + " ")
	}
	return b.String()
}

// stateTypical says whether a table prints typical values: a rating has none.
func (t *Table) stateTypical() bool {
	for i := range t.Rows {
		if t.limit(&t.Rows[i], KindTyp) != "" {
			return true
		}
	}
	return false
}

// table takes the rows of one table.
func (d *drafter) table(t *Table, head heading, within Section, s *pageSignals) {
	switch {
	case t.column(KindOrder) >= 0 && !t.hasLimits():
		d.orders(t, s)
	case t.listsPins():
		if head.section != SectionPins && within != SectionPins && !t.numbersPins() {
			d.passOver(t, s, "nothing says that it lists pins")
			return
		}
		d.pins(t, s)
	case t.hasLimits() && t.dimensions(s):
		d.passOver(t, s, "it gives the sizes of a package")
	case t.hasLimits():
		d.limits(t, head, within, s)
	case t.column(KindPackage) >= 0 && (head.section == SectionPackage || head.section == SectionOrdering):
		d.packages(t, s)
	default:
		d.passOver(t, s, "its columns are not among those known")
	}
}

func (d *drafter) passOver(t *Table, s *pageSignals, why string) {
	d.PassedOver = append(d.PassedOver, fmt.Sprintf("table “%s” on page %d: %s", joinTitles(t), s.page, why))
}

func joinTitles(t *Table) string {
	var titles []string
	for _, c := range t.Columns {
		titles = append(titles, c.Title)
	}
	return strings.Join(titles, " | ")
}

// quoted cites a row by words that are found on its page, or says that none are.
func (s *pageSignals) quoted(t *Table, r *TableRow) (Quoted, bool) {
	q := Quoted{Page: s.page, Label: s.view.page.Label, Text: s.view.grid().rows[r.Lines[0]].text()}
	for _, words := range t.cellTexts(r) {
		if s.prints(words) {
			q.Quote = words
			return q, true
		}
	}
	return q, false
}

// prints says whether the page holds the words in this order.
func (s *pageSignals) prints(words string) bool {
	f := foldQuote(words)
	return len(f.units) >= 2 && len(findQuote(s.view.page, s.view.text(), &f)) > 0
}

// cellTexts lists the words by which a row may be cited, best first.
func (t *Table) cellTexts(r *TableRow) []string {
	var out []string
	for _, k := range []Kind{KindName, KindOrder, KindPinName, KindFunction, KindPackage, KindSymbol, KindCondition} {
		if s := t.Cell(r, k); s != "" {
			out = append(out, s)
		}
	}
	for _, c := range r.Cells {
		if c.Given && c.Text != "" {
			out = append(out, c.Text)
		}
	}
	return out
}

func (d *drafter) notFound() {
	want := []struct {
		missing bool
		what    string
	}{
		{len(d.Orders) == 0, "order codes"}, {len(d.Packages) == 0, "packages"}, {len(d.Pins) == 0, "pin table"},
		{len(d.Operating) == 0, "operating conditions"}, {len(d.Spec) == 0, "characteristics"}, {len(d.Ratings) == 0, "absolute maximum ratings"},
		{len(d.Circuit) == 0 && len(d.Drawn) == 0, "external parts of the application circuit"},
	}
	for _, w := range want {
		if w.missing {
			d.NotFound = append(d.NotFound, w.what)
		}
	}
}
