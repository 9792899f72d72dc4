package sheet

import (
	"regexp"
	"sort"
	"strconv"
	"strings"
)

// DraftPackage is a package with what is said of its size.
type DraftPackage struct {
	Quoted
	Name  string
	Code  string   // letters of the order code that stand for it, where the sheet says so beside its name
	More  []Titled // pins, body size, pitch as a table of packages prints them
	Sizes []DraftSize
}

// DraftSize is a line of the dimension table of an outline drawing.
type DraftSize struct {
	DraftRow
	Of SizeOf
}

// SizeOf says what a dimension is of.
type SizeOf string

// What is taken from an outline drawing.
const (
	BodyLength SizeOf = "body length"
	BodyWidth  SizeOf = "body width"
	BodyHeight SizeOf = "height"
	LeadPitch  SizeOf = "pitch"
	PadLength  SizeOf = "exposed pad length"
	PadWidth   SizeOf = "exposed pad width"
	LeadCount  SizeOf = "leads"
)

// Size gives a dimension, false if it was not found.
func (p *DraftPackage) Size(of SizeOf) (DraftSize, bool) {
	for _, s := range p.Sizes {
		if s.Of == of {
			return s, true
		}
	}
	return DraftSize{}, false
}

// drawn is the dimension table of one drawing.
type drawn struct {
	Quoted
	name, code string
	sizes      []DraftSize
}

// sizeNames tell what a line of a dimension table is of, by its words. The
// first that fits counts (common practice of the trade).
var sizeNames = []struct {
	of SizeOf
	re func() *regexp.Regexp
}{
	{LeadCount, pattern(`^(number of )?(leads|pins|pads|balls|terminals|terminal count|pin count|lead count)$`)},
	{LeadPitch, pattern(`^((lead|pin|pad|ball|terminal|contact) )?(pitch|spacing)$`)},
	{PadLength, pattern(`^(exposed|thermal|die|heat) ?(pad|slug|sink) length$`)},
	{PadWidth, pattern(`^(exposed|thermal|die|heat) ?(pad|slug|sink) width$`)},
	{BodyHeight, pattern(`^((overall|total|package|body|maximum|seated|profile) )?(height|thickness)$`)},
	{BodyLength, pattern(`^((body|package|molded body|moulded body) )?length$`)},
	{BodyWidth, pattern(`^((body|package|molded body|moulded body) )?width$`)},
}

// sizeLetters are the letters of JEDEC Publication 95 for tables that print
// nothing else: A overall height, D and E the body unless D1 and E1 stand there
// (then D and E are over the leads), D2 and E2 the exposed pad, e the pitch,
// N or n the terminals. From memory of the standard.
var sizeLetters = map[string]SizeOf{"A": BodyHeight, "D": BodyLength, "E": BodyWidth, "D2": PadLength, "E2": PadWidth,
	"e": LeadPitch, "N": LeadCount, "n": LeadCount}

func isLength(unit string) bool {
	switch strings.ToLower(strings.Trim(unit, ".")) {
	case "mm", "mil", "mils", "in", "inch", "inches":
		return true
	}
	return false
}

// inMillimetres matches the words by which a drawing gives the unit of all its figures.
var inMillimetres = pattern(`(?i)\b(dimensions|measurements|values)\b[^.]{0,30}\b(in )?(millimetres|millimeters|mm)\b`)

// dimensions says whether a table is that of an outline drawing: lengths in
// most lines, and at least two that say what they are of.
func (t *Table) dimensions(s *pageSignals) bool {
	n, known := 0, 0
	for i := range t.Rows {
		r := &t.Rows[i]
		if isLength(t.unitOf(r)) {
			n++
		}
		if _, ok := sizeByName(t.Cell(r, KindName)); ok {
			known++
		} else if _, ok := sizeLetters[t.letter(r)]; ok {
			known++
		}
	}
	if n == 0 && known >= 3 && inMillimetres().MatchString(s.text()) {
		return true
	}
	return known >= 2 && 2*n >= len(t.Rows)
}

// text is the text of the page, in one line.
func (s *pageSignals) text() string {
	var b strings.Builder
	for _, r := range s.view.grid().rows {
		b.WriteString(r.text())
		b.WriteByte(' ')
	}
	return b.String()
}

func sizeByName(name string) (SizeOf, bool) {
	name = strings.ToLower(strings.Join(strings.Fields(foldString(name)), " "))
	for _, s := range sizeNames {
		if s.re().MatchString(name) {
			return s.of, true
		}
	}
	return "", false
}

// letter is the letter of a line of a dimension table.
func (t *Table) letter(r *TableRow) string {
	if s := t.Cell(r, KindSymbol); s != "" {
		return s
	}
	return t.Cell(r, KindName)
}

// outline takes the lines of a dimension table.
func (d *drafter) outline(t *Table, s *pageSignals) {
	w := drawn{}
	w.name, w.code, w.Quoted = s.packageOver(t)
	inMM := inMillimetres().MatchString(s.text())
	letters := map[string]bool{}
	for i := range t.Rows {
		letters[t.letter(&t.Rows[i])] = true
	}
	for i := range t.Rows {
		r := &t.Rows[i]
		row, ok := d.limitRow(t, r, s)
		if !ok {
			continue
		}
		of, named := sizeByName(row.Name)
		if !named {
			of = byLetter(t.letter(r), row.Name, letters)
		}
		if row.Unit == "" && of != LeadCount && of != "" && inMM {
			row.Unit = "mm"
		}
		w.sizes = append(w.sizes, DraftSize{DraftRow: row, Of: of})
	}
	d.drawn = append(d.drawn, w)
}

// byLetter reads a line by its letter alone, where the table prints no words.
func byLetter(letter, name string, all map[string]bool) SizeOf {
	if name != "" && name != letter {
		return ""
	}
	switch {
	case letter == "D1" && all["E1"]:
		return BodyLength
	case letter == "E1":
		return BodyWidth
	case letter == "D" && all["D1"] && all["E1"], letter == "E" && all["E1"]:
		return ""
	}
	return sizeLetters[letter]
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

// settlePackages joins drawings to the packages of tables and puts the package
// of the first order code first.
func (d *drafter) settlePackages() {
	for _, w := range d.drawn {
		at := -1
		for i := range d.Packages {
			if sameName(d.Packages[i].Name, w.name) {
				at = i
			}
		}
		if at < 0 && w.name == "" && len(d.Packages) == 1 && len(d.drawn) == 1 {
			at = 0
		}
		if size := d.orderedSize(w); at < 0 && size != "" { // ordered by its size, drawn by its name
			for i := range d.Orders {
				if d.Orders[i].Package == size {
					d.Orders[i].Package = w.name
				}
			}
		}
		if at < 0 {
			if w.name == "" {
				continue
			}
			d.Packages = append(d.Packages, DraftPackage{Quoted: w.Quoted, Name: w.name, Code: w.code})
			at = len(d.Packages) - 1
		}
		d.Packages[at].Sizes = append(d.Packages[at].Sizes, w.sizes...)
		if w.code != "" {
			d.Packages[at].Code = w.code
		}
	}
	for _, o := range d.Orders { // named by an order code only
		if o.Package != "" && !d.hasPackage(o.Package) {
			d.Packages = append(d.Packages, DraftPackage{Quoted: o.Quoted, Name: o.Package})
		}
	}
	want := d.packageOfOrder()
	sort.SliceStable(d.Packages, func(i, j int) bool {
		return want != "" && sameName(d.Packages[i].Name, want) && !sameName(d.Packages[j].Name, want)
	})
}

var bareSize = pattern(`^[0-9.]+( ?[x×] ?[0-9.]+)+ ?mm$`)

// orderedSize finds among the packages of the order codes one that is given as
// a size ("40 x 10 mm") and fits the nominal dimensions of a drawing; "" if
// there is none, or the size is not one of this drawing alone.
func (d *drafter) orderedSize(w drawn) string {
	if w.name == "" || len(d.drawn) != 1 {
		return ""
	}
	nominal := map[float64]int{}
	for _, s := range w.sizes {
		if v, err := strconv.ParseFloat(s.Typ, 64); err == nil && s.Unit == "mm" {
			nominal[v]++
		}
	}
	for _, o := range d.Orders {
		size := foldString(o.Package)
		if !bareSize().MatchString(size) {
			continue
		}
		fits := true
		for _, f := range strings.FieldsFunc(size, func(r rune) bool { return r == 'x' || r == ' ' || r == 'm' }) {
			v, err := strconv.ParseFloat(f, 64)
			fits = fits && err == nil && nominal[v] > 0
		}
		if fits {
			return o.Package
		}
	}
	return ""
}

func (d *drafter) hasPackage(name string) bool {
	for _, p := range d.Packages {
		if sameName(p.Name, name) {
			return true
		}
	}
	return false
}

// packageOfOrder is the package that the first order code buys, "" if the
// sheet does not say.
func (d *drafter) packageOfOrder() string {
	if len(d.Orders) == 0 {
		return ""
	}
	if d.Orders[0].Package != "" {
		return d.Orders[0].Package
	}
	got := d.decode(d.Orders[0].Code)
	for _, o := range d.Options {
		if c, ok := got[o.Field]; ok && c == o.Code && d.hasPackage(o.Meaning) {
			return o.Meaning
		}
	}
	return ""
}
