package sheet

import (
	"math"
	"regexp"
	"strings"
)

// limits takes the rows of a table of ratings or characteristics.
func (d *drafter) limits(t *Table, head heading, s *pageSignals) {
	into := d.place(t, head)
	if into == nil {
		d.passOver(t, s, "it stands under “"+head.text+"”")
		return
	}
	for i := range t.Rows {
		r := &t.Rows[i]
		q, ok := s.quoted(t, r)
		row := DraftRow{Quoted: q, Group: r.Group, Name: t.Cell(r, KindName), Symbol: t.Cell(r, KindSymbol), Condition: t.condition(r)}
		row.Min, row.Typ, row.Max, row.Value = t.limit(r, KindMin), t.limit(r, KindTyp), t.limit(r, KindMax), t.limit(r, KindValue)
		row.Unit = t.unitOf(r)
		row.splitRange()
		if !ok || row.Min+row.Typ+row.Max+row.Value == "" || row.Name+row.Symbol == "" {
			continue
		}
		*into = append(*into, row)
	}
}

// place says where the rows of a table belong; nil if that cannot be told.
func (d *drafter) place(t *Table, head heading) *[]DraftRow {
	text := head.text
	section := head.section
	if t.Title != "" {
		if sec, _, ok := sectionHeading(captionRest(t.Title)); ok {
			section, text = sec, captionRest(t.Title)
		}
	}
	switch {
	case section == SectionRatings:
		return &d.Ratings
	case section == SectionElectrical && isOperating(text):
		return &d.Operating
	case section == SectionElectrical, section == "" && head.text == "", section == "" && t.complete():
		return &d.Spec
	}
	return nil
}

func captionRest(s string) string {
	rest, _ := captionOf(s)
	return rest
}

// complete says whether a table has the columns of characteristics.
func (t *Table) complete() bool {
	return t.column(KindMin) >= 0 && t.column(KindMax) >= 0 && (t.column(KindUnit) >= 0 || t.Columns[len(t.Columns)-1].Unit != "") && (t.column(KindName) >= 0 || t.column(KindSymbol) >= 0)
}

// condition joins the conditions and the note of a row.
func (t *Table) condition(r *TableRow) string {
	return strings.TrimSpace(t.Cell(r, KindCondition))
}

// limit gives a number as printed, "" where a mark for nothing stands.
func (t *Table) limit(r *TableRow, k Kind) string {
	s := strings.TrimSpace(foldString(t.Cell(r, k)))
	if isBlankMark(s) || strings.EqualFold(s, "n/a") {
		return ""
	}
	return s
}

// unitOf gives the unit of a row: its cell, else that of the column titles if
// they agree.
func (t *Table) unitOf(r *TableRow) string {
	if u := t.Cell(r, KindUnit); u != "" && !isBlankMark(u) {
		return u
	}
	unit := ""
	for _, c := range t.Columns {
		if !c.Kind.isLimit() || c.Unit == "" {
			continue
		}
		if unit != "" && unit != c.Unit {
			return ""
		}
		unit = c.Unit
	}
	return unit
}

var rangeText = regexp.MustCompile(`^([-+]?[0-9.]+)\s*(?:to|\.\.\.?|~)\s*(\S.*)$`)

// splitRange takes "-0.3 to 6.2" and "-0.3 to VIN + 0.3" apart. A unit behind
// the range is left where it stands unless the row has none.
func (r *DraftRow) splitRange() {
	m := rangeText.FindStringSubmatch(r.Value)
	if m == nil || r.Min != "" || r.Max != "" {
		return
	}
	r.Min, r.Max, r.Value = m[1], m[2], ""
	if r.Unit != "" {
		return
	}
	if i := strings.LastIndexByte(r.Max, ' '); i > 0 {
		if _, ok := unitWord(r.Max[i+1:]); ok {
			r.Max, r.Unit = r.Max[:i], r.Max[i+1:]
		}
	}
}

func (d *drafter) pins(t *Table, s *pageSignals) {
	for i := range t.Rows {
		r := &t.Rows[i]
		q, ok := s.quoted(t, r)
		p := DraftPin{Quoted: q, Number: t.Cell(r, KindPin), Name: t.Cell(r, KindPinName), Type: t.Cell(r, KindType), Function: t.Cell(r, KindFunction)}
		if ok && p.Number+p.Name != "" {
			d.Pins = append(d.Pins, p)
		}
	}
}

func (d *drafter) orders(t *Table, s *pageSignals) {
	key := t.column(KindOrder)
	for i := range t.Rows {
		r := &t.Rows[i]
		q, ok := s.quoted(t, r)
		o := DraftOrder{Quoted: q, Code: t.Cell(r, KindOrder), Package: t.Cell(r, KindPackage), More: t.rest(r, key, t.column(KindPackage))}
		if ok && o.Code != "" && hasDigit(o.Code) {
			d.Orders = append(d.Orders, o)
		}
	}
}

// rest gives the cells of the other columns.
func (t *Table) rest(r *TableRow, but ...int) []Titled {
	var out []Titled
	for i, c := range r.Cells {
		skip := c.Text == ""
		for _, b := range but {
			skip = skip || i == b
		}
		if !skip {
			out = append(out, Titled{t.Columns[i].Title, c.Text})
		}
	}
	return out
}

func (d *drafter) options(t *Table, s *pageSignals) {
	for i := range t.Rows {
		r := &t.Rows[i]
		q, ok := s.quoted(t, r)
		o := DraftOption{Quoted: q, Code: r.Cells[0].Text, Meaning: r.Cells[1].Text}
		if ok && o.Code != "" && o.Meaning != "" && len(o.Code) <= 12 {
			d.Options = append(d.Options, o)
		}
	}
}

func (d *drafter) packages(t *Table, s *pageSignals) {
	key := t.column(KindPackage)
	for i := range t.Rows {
		r := &t.Rows[i]
		q, ok := s.quoted(t, r)
		p := DraftPackage{Quoted: q, Name: t.Cell(r, KindPackage), More: t.rest(r, key)}
		if ok && p.Name != "" && len(p.More) > 0 {
			d.Packages = append(d.Packages, p)
		}
	}
}

// part matches an external part with its value: "C1 2.2 µF", "L1 = 4.7 µH".
var part = regexp.MustCompile(`\b[CRLD][0-9]{1,2}\b[^0-9]{0,6}[0-9.]+ ?(x [0-9.]+ ?)?[pnuμmkMGΩ]?[FHΩ]`)

// circuit takes the lines that give parts on pages of the application section.
func (d *drafter) circuit(s *pageSignals) {
	if !s.has(SectionApplication) && d.under.section != SectionApplication {
		return
	}
	for _, l := range s.view.page.Lines {
		if len(d.Circuit) < 40 && len(l.Text) < 200 && part.MatchString(foldString(l.Text)) {
			d.Circuit = append(d.Circuit, Quoted{Text: l.Text, Page: s.page, Label: s.view.page.Label, Quote: l.Text})
		}
	}
}

// has says whether a heading on the page begins the section.
func (s *pageSignals) has(sec Section) bool {
	for _, h := range s.headings {
		if h.section == sec {
			return true
		}
	}
	return false
}

// title takes the lines of the first page that are set in the largest type.
func (d *drafter) title(s *pageSignals) {
	size := 0.0
	for _, l := range s.view.page.Lines {
		if n := lineSize(l); len(l.Text) > 2 {
			size = math.Max(size, n)
		}
	}
	for _, l := range s.view.page.Lines {
		if len(d.Title) < 4 && len(l.Text) > 2 && lineSize(l) > 0.6*size {
			d.Title = append(d.Title, Quoted{Text: l.Text, Page: s.page, Label: s.view.page.Label, Quote: l.Text})
		}
	}
}

func lineSize(l Line) float64 {
	size := 0.0
	for _, w := range l.Words {
		size = math.Max(size, w.Size)
	}
	return size
}
