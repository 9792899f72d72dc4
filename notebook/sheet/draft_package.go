package sheet

import (
	"cmp"
	"slices"
	"sort"
	"strings"
)

// DraftPackage is a package with what a table of packages or the ordering table says of it.
type DraftPackage struct {
	Quoted
	Name string
	More []Titled // pins, body size, pitch as a table of packages prints them
}

// sizeName matches what a line of a dimension table is of, by its words (common
// practice of the trade).
var sizeName = pattern(`(?i)^(number of )?(leads|pins|pads|balls|terminals|terminal count|pin count|lead count)$|` +
	`^((lead|pin|pad|ball|terminal|contact) )?(pitch|spacing)$|^(exposed|thermal|die|heat) ?(pad|slug|sink) (length|width)$|` +
	`^((overall|total|package|body|maximum|seated|profile) )?(height|thickness)$|^((body|package|molded body|moulded body) )?(length|width)$`)

// sizeLetters are the letters of JEDEC Publication 95 for tables that print
// nothing else: A overall height, D and E the body, D2 and E2 the exposed pad, e
// the pitch, N or n the terminals. From memory of the standard.
var sizeLetters = []string{"A", "D", "E", "D2", "E2", "e", "N", "n"}

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
		name := strings.Join(strings.Fields(foldString(t.Cell(r, KindName))), " ")
		if sizeName().MatchString(name) || slices.Contains(sizeLetters, cmp.Or(t.Cell(r, KindSymbol), name)) {
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

// packagesOver takes the packages that headings of the page name: "Package SC70-5",
// "Outline drawing, SO8".
func (d *drafter) packagesOver(s *pageSignals) {
	for _, x := range s.signals {
		if name := namedPackage(x.line); x.section == SectionPackage && x.kind != byTable && name != "" && s.prints(x.line) {
			q := Quoted{Text: x.line, Page: s.page, Label: s.view.page.Label, Quote: x.line}
			d.drawn = append(d.drawn, DraftPackage{Quoted: q, Name: name})
		}
	}
}

// settlePackages adds the packages that headings or order codes alone name, and
// puts that of the first order code first.
func (d *drafter) settlePackages() {
	var more []DraftPackage
	for _, o := range d.Orders {
		more = append(more, DraftPackage{Quoted: o.Quoted, Name: o.Package})
	}
	for _, p := range append(more, d.drawn...) {
		known := func(k DraftPackage) bool { return sameName(p.Name, k.Name) || sameName(p.Name, firstWord(k.Name)) }
		if p.Name != "" && !slices.ContainsFunc(d.Packages, known) {
			d.Packages = append(d.Packages, p)
		}
	}
	if len(d.Orders) == 0 || d.Orders[0].Package == "" {
		return
	}
	want := d.Orders[0].Package
	sort.SliceStable(d.Packages, func(i, j int) bool {
		return sameName(d.Packages[i].Name, want) && !sameName(d.Packages[j].Name, want)
	})
}

// packageName matches a name of a package as JEDEC and IEC 60191 form them:
// letters of the family, then the count of terminals or the outline's number.
var packageName = pattern(`^[A-Z]{0,3}(SO|SOIC|SOP|SON|SSOP|SOJ|MSOP|QFN|DFN|QFP|BGA|LGA|CSP|DIP|DIL|SIP|SOT|SC|SOD|TO|DO|PAK|PLCC|MELF)-?[0-9]+(-[0-9]+)?[A-Z]?$`)

// namedPackage gives the name of a package in a line, "" if it holds none.
func namedPackage(text string) string {
	for _, w := range strings.FieldsFunc(foldString(text), func(r rune) bool { return strings.ContainsRune(" ,():", r) }) {
		if packageName().MatchString(w) {
			return w
		}
	}
	return ""
}

// sameName compares names of packages without blanks, hyphens and case; what
// follows a comma or bracket is a remark.
func sameName(a, b string) bool {
	return nameKey(a) == nameKey(b) && a != ""
}

func nameKey(s string) string {
	s = foldString(s)
	if i := strings.IndexAny(s, ",("); i >= 0 {
		s = s[:i]
	}
	return strings.ToUpper(strings.NewReplacer(" ", "", "-", "", "_", "").Replace(s))
}
