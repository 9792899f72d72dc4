package sheet

import (
	"context"
	"fmt"
	"regexp"
	"strings"
)

// Draft is what could be read of a part from its data sheet. Every line cites
// its page and words that stand there; nothing is filled in that is not printed.
type Draft struct {
	Survey     Survey
	Title      []Quoted // what the first page says in its largest type
	Orders     []DraftOrder
	Options    []DraftOption
	Packages   []DraftPackage
	Pins       []DraftPin
	Ratings    []DraftRow // absolute maximum ratings
	Operating  []DraftRow // recommended operating conditions
	Spec       []DraftRow // characteristics
	Circuit    []Quoted   // lines of the application section that give external parts
	NotFound   []string   // what a first look wants and was not found, in words
	PassedOver []string   // tables that were seen and not taken, and why
}

// Quoted is a line and where it stands.
type Quoted struct {
	Text  string // as printed
	Page  int
	Label string
	Quote string // words that stand on the page in this order, to be cited
}

// DraftOrder is a line of an ordering table.
type DraftOrder struct {
	Quoted
	Code    string
	Package string
	More    []Titled // the other cells
}

// DraftOption is a line of a table that decodes a part of the order code.
type DraftOption struct {
	Quoted
	Code, Meaning string
}

// Titled is a cell with the title of its column.
type Titled struct{ Title, Text string }

// DraftPackage is a package with what is said of its size.
type DraftPackage struct {
	Quoted
	Name string
	More []Titled // pins, body size, pitch as printed
}

// DraftPin is a line of a pin table.
type DraftPin struct {
	Quoted
	Number, Name, Type, Function string
}

// DraftRow is a line of a table of ratings or characteristics. Texts are as
// printed, with the sign as a hyphen-minus; a single value stands in Value.
type DraftRow struct {
	Quoted
	Group, Name, Symbol, Condition string
	Min, Typ, Max, Value, Unit     string
}

// Draft reads the six sections of a data sheet. Errors: those of Inspect.
func (l *Reader) Draft(ctx context.Context, path string) (Draft, error) {
	d := &drafter{}
	var err error
	if d.Survey, err = l.survey(ctx, path, d.page); err != nil {
		return Draft{Survey: d.Survey}, err
	}
	d.notFound()
	return d.Draft, nil
}

// drafter goes through the pages in order and remembers under which heading it is.
type drafter struct {
	Draft
	under heading // the last heading passed
	since int     // its page
}

// carryPages is how far a table may stand behind its heading, in pages.
const carryPages = 8

func (d *drafter) page(s *pageSignals) {
	if s.page == 1 {
		d.title(s)
	}
	for _, t := range s.tables {
		head := d.under
		if h := s.headingOver(t); h != nil {
			head = *h
		} else if s.page-d.since > carryPages {
			head = heading{}
		}
		d.table(t, head, s)
	}
	d.circuit(s)
	if n := len(s.headings); n > 0 {
		last := s.headings[0]
		for _, h := range s.headings {
			if h.y >= last.y {
				last = h
			}
		}
		d.under, d.since = last, s.page
	}
}

// table takes the rows of one table.
func (d *drafter) table(t *Table, head heading, s *pageSignals) {
	switch {
	case t.column(KindOrder) >= 0 && !t.hasLimits():
		d.orders(t, s)
	case (t.column(KindPin) >= 0 || t.column(KindPinName) >= 0) && (t.column(KindFunction) >= 0 || t.column(KindType) >= 0 || t.column(KindPin) >= 0 && t.column(KindPinName) >= 0) && t.column(KindPackage) < 0:
		if head.section != SectionPins && !t.numbersPins() {
			d.passOver(t, s, "nothing says that it lists pins")
			return
		}
		d.pins(t, s)
	case t.hasLimits():
		d.limits(t, head, s)
	case t.column(KindPackage) >= 0 && (head.section == SectionPackage || head.section == SectionOrdering):
		d.packages(t, s)
	case head.section == SectionOrdering && len(t.Columns) >= 2:
		d.options(t, s)
	default:
		d.passOver(t, s, "its columns are not among those known")
	}
}

var pinNumber = regexp.MustCompile(`^[A-Z]{0,2}[0-9]{1,3}([-,\s]+[A-Z]{0,2}[0-9]{1,3})*$`)

// numbersPins says whether the pin column holds what pins are numbered with.
func (t *Table) numbersPins() bool {
	col := t.column(KindPin)
	if col < 0 || len(t.Rows) < 2 {
		return false
	}
	n := 0
	for _, r := range t.Rows {
		if pinNumber.MatchString(foldString(r.Cells[col].Text)) {
			n++
		}
	}
	return 5*n >= 4*len(t.Rows)
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
	for _, words := range t.quotes(r) {
		f := foldQuote(words)
		if len(f.units) >= 2 && len(findQuote(s.view.page, s.view.text(), &f)) > 0 {
			q.Quote = words
			return q, true
		}
	}
	return q, false
}

// quotes lists the words by which a row may be cited, best first.
func (t *Table) quotes(r *TableRow) []string {
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
		{len(d.Orders) == 0, "order codes"}, {len(d.Packages) == 0, "packages with their size"}, {len(d.Pins) == 0, "pin table"},
		{len(d.Operating) == 0, "operating conditions"}, {len(d.Spec) == 0, "characteristics"}, {len(d.Ratings) == 0, "absolute maximum ratings"},
		{len(d.Circuit) == 0, "external parts of the application circuit"},
	}
	for _, w := range want {
		if w.missing {
			d.NotFound = append(d.NotFound, w.what)
		}
	}
}
