package sheet

import (
	"cmp"
	"strings"
)

// DraftPin is a line of a pin table.
type DraftPin struct {
	Quoted
	Number, Name, Type, Function string
	Package                      string // the package whose table it stands in, "" if the table names none
	Table                        int    // tables are counted; a table that goes on over pages is one
}

var pinNumber = pattern(`^[A-Z]{0,2}[0-9]{1,3}([-,\s]+(to )?[A-Z]{0,2}[0-9]{1,3})*$`)

// listsPins says whether a table has the columns of a table of pins.
func (t *Table) listsPins() bool {
	pin, name := t.column(KindPin) >= 0, t.column(KindPinName) >= 0
	if pin && !name && t.column(KindFunction) < 0 && t.column(KindType) < 0 && strings.HasPrefix(strings.ToLower(t.Columns[0].Title), "pin") {
		return t.numbersPins() && !t.hasLimits() && len(t.pinVersions()) < len(t.Columns)
	}
	return (pin || name) && (t.column(KindFunction) >= 0 || t.column(KindType) >= 0 || pin && name) && t.column(KindPackage) < 0
}

// numbersPins says whether the pin column holds what pins are numbered with.
func (t *Table) numbersPins() bool { return t.countsPins(t.column(KindPin)) }

// countsPins says whether a column holds what pins are numbered with.
func (t *Table) countsPins(col int) bool {
	if col < 0 || len(t.Rows) < 2 {
		return false
	}
	n := 0
	for _, r := range t.Rows {
		if pinNumber().MatchString(foldString(r.Cells[col].Text)) {
			n++
		}
	}
	return 5*n >= 4*len(t.Rows)
}

func (d *drafter) pins(t *Table, s *pageSignals) {
	over := s.tableOf(t)
	for _, v := range t.pinVersions() {
		name, table := cmp.Or(v.title, over), 0
		if n := len(d.Pins); n > 0 {
			last := d.Pins[n-1]
			table = last.Table
			if name != "" && last.Package != "" && !sameName(name, last.Package) || d.numbered(t, v.number, table) {
				table++
			} else if name == "" {
				name = last.Package
			}
		}
		d.pinRows(t, v, name, table, s)
	}
}

// pinVersion is a pair of columns that number and name pins: those of a package
// or version where a table has several.
type pinVersion struct {
	number, name int // -1 where there is none
	title        string
}

// pinVersions gives the columns of a table of pins: one name with a column of
// numbers for each package, or one number with names for each version.
func (t *Table) pinVersions() []pinVersion {
	first := pinVersion{t.column(KindPin), t.column(KindPinName), ""}
	var out []pinVersion
	for k, c := range t.Columns {
		switch {
		case c.Kind == KindOther && first.name >= 0 && t.countsPins(k):
			out = append(out, pinVersion{k, first.name, packageIn(c.Title)})
		case c.Kind == KindOther && first.name < 0 && first.number >= 0 && t.column(KindFunction) < 0 && !t.countsPins(k):
			out = append(out, pinVersion{first.number, k, c.Title})
		}
	}
	if first.number >= 0 && first.name >= 0 || len(out) == 0 {
		out = append([]pinVersion{first}, out...)
	}
	return out
}

// packageIn is a title without the words that call it a number of pins.
func packageIn(title string) string {
	words := strings.Fields(title)
	for len(words) > 0 {
		if k, _, ok := headKind(words[0]); !ok || k != KindPin {
			break
		}
		words = words[1:]
	}
	return strings.Join(words, " ")
}

// pinRows takes the pins of one version of a table.
func (d *drafter) pinRows(t *Table, v pinVersion, name string, table int, s *pageSignals) {
	cell := func(r *TableRow, k int) string {
		if k < 0 {
			return ""
		}
		return r.Cells[k].Text
	}
	for i := range t.Rows {
		r := &t.Rows[i]
		q, ok := s.quotedAny(t, r, t.pinQuotes(r)...)
		p := DraftPin{Quoted: q, Number: cell(r, v.number), Name: cell(r, v.name), Type: t.Cell(r, KindType),
			Function: t.Cell(r, KindFunction), Package: name, Table: table}
		switch n := len(d.Pins); {
		case !ok:
		case p.Name == "" && p.Type == "" && p.Function == "" && n > 0 &&
			pinNumber().MatchString(foldString(p.Number)) && d.Pins[n-1].Page == s.page:
			d.Pins[n-1].Number += " " + p.Number // numbers run on in the next line
		case p.Number+p.Name != "":
			d.Pins = append(d.Pins, p)
		}
	}
}

// pinQuotes are the words to cite a line by: number, name and type as they stand.
func (t *Table) pinQuotes(r *TableRow) []string {
	var words []string
	for i, c := range t.Columns {
		switch c.Kind {
		case KindPin, KindPinName, KindType:
			if s := r.Cells[i].Text; s != "" {
				words = append(words, s)
			}
		}
	}
	if len(words) < 2 {
		return nil
	}
	return []string{strings.Join(words, " "), strings.Join(words[:2], " ")}
}

// numbered says whether a table numbers pins that the table before has already:
// it is that of another package.
func (d *drafter) numbered(t *Table, col, table int) bool {
	if col < 0 {
		return false
	}
	for _, p := range d.Pins {
		if p.Table == table && p.Number != "" && len(t.Rows) > 0 && p.Number == t.Rows[0].Cells[col].Text {
			return true
		}
	}
	return false
}

// tableOf reads the package that stands over a table of pins: in the line
// above its header, or in its caption.
func (s *pageSignals) tableOf(t *Table) string {
	rows := s.view.grid().rows
	for i, n := t.headRow, 0; i >= 0 && n < 2; i-- {
		if rows[i].y1 > t.top {
			continue
		}
		n++
		text := rows[i].text()
		if name := namedPackage(text); name != "" && len(text) < 60 {
			return name
		}
		if _, _, ok := sectionHeading(text); ok {
			return ""
		}
	}
	return ""
}

var pinRun = pattern(`^([A-Z]{0,2})([0-9]{1,3})\s*(?:to|through|\.\.\.?|…|-)\s*([A-Z]{0,2})([0-9]{1,3})$`)

// settlePins writes the numbers of a run of pins, "17 to 24", as the language does; one of several
// names is left for a person.
func (d *drafter) settlePins() {
	for i := range d.Pins {
		p := &d.Pins[i]
		if n := pinRun().FindStringSubmatch(foldString(p.Number)); n != nil && !pinRun().MatchString(p.Name) {
			p.Number = n[1] + n[2] + "-" + cmp.Or(n[3], n[1]) + n[4]
		}
		for _, k := range d.Packages { // the name as the sheet's own table has it
			if p.Package != "" && sameName(firstWord(k.Name), p.Package) {
				p.Package = k.Name
			}
		}
	}
}

func firstWord(s string) string {
	w, _, _ := strings.Cut(s, " ")
	return strings.TrimRight(w, ",")
}
