package sheet

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode"
)

// limits takes the rows of a table of ratings or characteristics.
func (d *drafter) limits(t *Table, head heading, within Section, s *pageSignals) {
	into := d.place(t, head)
	mixed := namesRatings(cmp.Or(t.Title, head.text)) && head.section != SectionRatings
	if into == nil && (within == SectionApplication || within == SectionElectrical && d.partOf(head)) {
		into = &d.Spec
	}
	if into == nil {
		d.passOver(t, s, "it is under “"+head.text+"”")
		into = &d.Unplaced
	}
	over := s.wordsOver(t)
	from := len(*into)
	defer func() {
		for i := range (*into)[from:] {
			(*into)[from+i].Table = over
		}
	}()
	for i := range t.Rows {
		r := &t.Rows[i]
		if t.joinsLimit(i) {
			continue
		}
		if v := t.versions(); v != nil {
			for _, row := range d.versionRows(t, r, v, s) {
				at := d.placeOf(row, into, head.text+" "+t.Title, within, mixed)
				*at = append(*at, row)
			}
			continue
		}
		row, ok := d.limitRow(t, r, s)
		row.Untold = t.untold(r)
		switch {
		case t.version > 0 && t.of == "":
			row.Other = fmt.Sprintf("column %d of several without a title", t.version)
		case t.version > 0:
			row.Version = t.of
		}
		if i+1 < len(t.Rows) && t.joinsLimit(i+1) {
			row.join(t, &t.Rows[i+1])
		}
		if row.Value != "" && row.Min+row.Typ+row.Max == "" {
			row.stated()
		}
		row.splitRange()
		if !ok || row.Name+row.Symbol == "" || row.Min+row.Typ+row.Max+row.Value == "" && !row.Unread {
			if ok && head.section != SectionPackage && within != SectionPackage {
				d.Loose = append(d.Loose, row.Quoted)
			}
			continue
		}
		at := d.placeOf(row, into, head.text+" "+t.Title, within, mixed)
		*at = append(*at, row)
	}
}

// placeOf says where one row of a table belongs whose rows go into a list.
func (d *drafter) placeOf(row DraftRow, into *[]DraftRow, heading string, within Section, mixed bool) *[]DraftRow {
	switch {
	case within == SectionApplication && isExternal(row):
		return &d.Operating
	case mixed:
		return d.byName(row)
	case into == &d.Spec && rates(row, heading):
		return &d.Ratings
	case into != &d.Spec && thermalUnit().MatchString(foldString(row.Unit)): // no stress, wherever it stands
		return &d.Spec
	}
	return into
}

// What a table of ratings and characteristics in one says of a row: limiting
// values and characteristics by the names that IEC 60747-2, -6, -7 and -8 give them.
var (
	ratedName = pattern(`(?i)\b(?:reverse voltage|(?:blocking|isolation|collector|emitter|drain|gate)\b.*\bvoltage|surge|rectified|power dissipation|` +
		`(?:storage|junction)\b.*\btemperature|(?:forward|collector|drain|base|output) current|i2t|rating for fusing)\b`)
	characteristicName = pattern(`(?i)\b(?:voltage drop|(?:forward|saturation|threshold|on-state|breakdown|clamping) voltage|` +
		`(?:reverse|leakage|cut-?off) current|capacitance|thermal (?:resistance|impedance)|(?:recovery|delay|rise|fall|switching|turn-o[nf]+) time|gain|charge|resistance)\b`)
)

// namesRatings says whether a heading is of ratings and of something else too.
func namesRatings(heading string) bool {
	list, _, _ := sectionsNamed(heading)
	return len(list) > 1 && slices.Contains(list, SectionRatings)
}

// byName gives the place of a row of a table that holds ratings and characteristics.
func (d *drafter) byName(r DraftRow) *[]DraftRow {
	name := headingTail().ReplaceAllString(r.Name, "")
	switch rated, own := ratedName().MatchString(name), characteristicName().MatchString(name); {
	case own && !rated:
		return &d.Spec
	case rated && !own:
		return &d.Ratings
	}
	return &d.Unplaced
}

// isExternal says whether a row is what is asked of an external part: a
// capacitance, an inductance, a series resistance, by symbol and unit.
func isExternal(r DraftRow) bool {
	unit := foldString(r.Unit)
	return strings.HasPrefix(r.Symbol, "C") && strings.HasSuffix(unit, "F") || strings.HasPrefix(r.Symbol, "L") && strings.HasSuffix(unit, "H") ||
		strings.HasPrefix(r.Symbol, "ESR") && strings.HasSuffix(unit, "Ω")
}

// ratedTemperature matches temperatures that a part must not exceed: with the
// thermal resistances stand ratings (IEC 60747-1).
var ratedTemperature = pattern(`(?i)^max|\bmaximum\b|\bstorage\b|\blead\b|\bsolder|\b(?:junction|ambient|case|operating) (?:\w+ )?temperature`)

// rates says whether a row under a heading of thermal data is a rating.
func rates(r DraftRow, heading string) bool {
	m, ok := parseMeasure(r.Unit)
	return ok && m.kind == "°C" && strings.Contains(headingText(heading), "thermal") && ratedTemperature().MatchString(r.Name)
}

// thermalUnit matches the unit of a thermal resistance.
var thermalUnit = pattern(`^(?:°?\s*C|K|deg)\s*/\s*W$`)

// repeatedRatings takes out of the characteristics what a summary on the first
// page repeats of the ratings: drafted, it would promise what must not be exceeded.
func (d *drafter) repeatedRatings() {
	d.Spec = slices.DeleteFunc(d.Spec, func(r DraftRow) bool {
		again := r.Value != "" && r.Min+r.Typ+r.Max == "" && slices.ContainsFunc(d.Ratings, func(o DraftRow) bool {
			return r.Symbol+r.Name != "" && cmp.Or(r.Symbol, r.Name) == cmp.Or(o.Symbol, o.Name) && r.Value == o.Value && r.Unit == o.Unit
		})
		if again {
			d.Unplaced = append(d.Unplaced, r)
		}
		return again
	})
}

// wordsOver gives a short line close over a table, which may tell it from
// another with the same rows: "Type B".
func (s *pageSignals) wordsOver(t *Table) string {
	g := s.view.grid()
	for i := len(g.rows) - 1; i >= 0; i-- {
		r := g.rows[i]
		if r.y1 > t.top || t.top-r.y1 > 60 {
			continue
		}
		chunks := chunksOf(inside(r.words, t.left, t.right))
		switch text := ""; {
		case len(chunks) == 0:
		case inTable(s.tables, r):
			return ""
		case len(chunks) == 1 || strings.HasPrefix(foldString(chunks[1].text()), "("): // conditions
			if text = chunks[0].text(); len(chunks[0].words) > 6 || !titled(text) {
				break
			}
			if _, _, known := headKind(text); !known && !headsSection(text) {
				return text
			}
		}
	}
	return ""
}

// versionRows reads a row that gives a value for each grade, version or package:
// one row for each value, at the titles of its columns.
func (d *drafter) versionRows(t *Table, r *TableRow, columns []int, s *pageSignals) []DraftRow {
	titles := map[string][]string{}
	var order []string
	for _, k := range columns {
		text := strings.TrimSpace(foldString(r.Cells[k].Text))
		if text == "" || isBlankMark(text) {
			continue
		}
		if titles[text] == nil {
			order = append(order, text)
		}
		titles[text] = append(titles[text], t.Columns[k].Title)
	}
	var out []DraftRow
	for _, text := range order {
		row, ok := d.limitRow(t, r, s)
		if !ok {
			continue
		}
		row.Min, row.Typ, row.Max, row.Value = "", "", "", text
		if len(order) > 1 {
			row.Condition = strings.Trim(row.Condition+"; "+strings.Join(titles[text], ", "), "; ")
		}
		switch t.valuesAre {
		case KindMin:
			row.Min, row.Value = text, ""
		case KindTyp:
			row.Typ, row.Value = text, ""
		case KindMax:
			row.Max, row.Value = text, ""
		}
		row.stated()
		row.splitRange()
		out = append(out, row)
	}
	return out
}

// boundBehind matches a typical value with its bound: "1.30 (≤ 1.5)".
var boundBehind = pattern(`^([-+]?[0-9.]+) ?\(([≤≥<>]) ?([-+]?[0-9.]+)\)$`)

// ofCase matches a value that says what it holds for, before a colon.
var ofCase = pattern(`^([A-Za-z][^:=]{0,24}): ?([-+±≤≥<>]? ?[0-9.].*)$`)

// remarkBehind matches what stands behind a value with its unit, in brackets or
// behind a comma.
var remarkBehind = pattern(`^(\S.*?[^\s,(]) ?(?:\(([^)]*)\)|, (.*))$`)

// stated reads the value of a row with what it says of itself: "min", "≤", "Approx.",
// the case that it holds for, a remark behind it. "2.7/5.5" at "V min/max" is both.
func (r *DraftRow) stated() {
	if m := boundBehind().FindStringSubmatch(r.Value); m != nil {
		switch r.Typ, r.Value = m[1], ""; m[2] {
		case "≤", "<":
			r.Max = m[3]
		default:
			r.Min = m[3]
		}
		return
	}
	if m := ofCase().FindStringSubmatch(r.Value); m != nil {
		r.Condition, r.Value = strings.Trim(r.Condition+", "+m[1], ", "), m[2]
	}
	unit, kind := cutStatedWord(strings.TrimSpace(foldString(r.Unit)))
	if low, high, ok := strings.Cut(r.Value, "/"); ok && strings.HasSuffix(r.Unit, " min/max") {
		r.Min, r.Max, r.Value, r.Unit = low, high, "", strings.TrimSuffix(r.Unit, " min/max")
		return
	}
	text, own := cutStatedWord(r.Value)
	if own != KindValue {
		kind = own
	}
	if r.Unit = unit; unit == "" {
		if v, ok := readStated(text); ok {
			text, r.Unit = v.text, v.unit
			if v.kind != KindValue {
				kind = v.kind
			}
		} else if m := remarkBehind().FindStringSubmatch(text); m != nil {
			if v, ok := readStated(m[1]); ok && !sameQuantity(m[3], v.unit) {
				text, r.Unit, r.Condition = v.text, v.unit, strings.Trim(r.Condition+", "+m[2]+m[3], ", ")
				if v.kind != KindValue {
					kind = v.kind
				}
			}
		}
	} else if m := boundSign().FindStringSubmatch(foldString(text)); m != nil && kind == KindValue {
		text, kind = m[2], boundKind(m[1])
	}
	switch r.Value = text; kind {
	case KindMin:
		r.Min, r.Value = text, ""
	case KindTyp:
		r.Typ, r.Value = text, ""
	case KindMax:
		r.Max, r.Value = text, ""
	}
}

// sameQuantity says whether a remark holds a unit of the same quantity: then it is
// another value, "30 V, 240 V", "300 VA, 72 W".
func sameQuantity(remark, unit string) bool {
	m, _ := parseMeasure(unit)
	want, _ := m.basic()
	words := strings.FieldsFunc(remark, func(r rune) bool { return strings.ContainsRune(" ,/~()+-±0123456789.", r) })
	return slices.ContainsFunc(words, func(s string) bool {
		s = directCurrent().ReplaceAllString(s, "$1")
		o, ok := unitWord(s)
		got, _ := o.basic()
		return ok && (o.kind == m.kind || got.kind != "" && got.kind == want.kind)
	})
}

// limitRow reads one row; false if it has no number or cannot be cited.
func (d *drafter) limitRow(t *Table, r *TableRow, s *pageSignals) (DraftRow, bool) {
	q, ok := s.quoted(t, r)
	row := DraftRow{Quoted: q, Group: r.Group, Name: t.Cell(r, KindName), Symbol: t.Cell(r, KindSymbol),
		Condition: t.condition(r), Head: s.view.headOf(t, r)}
	row.Min, row.Typ, row.Max, row.Value = t.limit(r, KindMin), t.limit(r, KindTyp), t.limit(r, KindMax), t.limit(r, KindValue)
	if row.Unit = t.unitOf(r); row.Unit == "" && !t.statesUnits() { // "Charge voltage (V)"
		if m := unitOfName().FindStringSubmatch(row.Name); m != nil && plainNumber(row.Min+row.Typ+row.Max+row.Value) {
			if _, ok := unitWord(m[2]); ok {
				row.Name, row.Unit = strings.TrimSpace(m[1]+m[3]), m[2]
			}
		}
	}
	row.NoUnit = row.Unit == "" && !t.statesUnits() && !namesUnit(row)
	if t.column(KindSymbol) < 0 {
		if k := t.column(KindName); k >= 0 && r.Cells[k].Text != "" {
			name, symbol := splitSymbol(withoutNotes(r.Cells[k].words))
			if len(symbol) > 0 {
				row.Name, row.Symbol = joinWords(name), joinWords(symbol)
			}
		}
	}
	for i, c := range r.Cells {
		row.Unread = row.Unread || c.Unread && t.Columns[i].Kind.isLimit()
		row.NoUnit = row.NoUnit || c.Unread && t.Columns[i].Kind == KindUnit
	}
	return row, ok && (row.Min+row.Typ+row.Max+row.Value != "" || row.Unread)
}

// unitOfName matches a name with its unit in brackets.
var unitOfName = pattern(`^([^(]*[^( ]) ?\(([^()0-9]{1,5})\)(.*)$`)

// statesUnits says whether a table has a place for units: without one, a number
// without a unit tells nothing.
func (t *Table) statesUnits() bool {
	for _, c := range t.Columns {
		if c.Kind == KindUnit || c.Kind.isLimit() && c.Unit != "" {
			return true
		}
	}
	return false
}

// namesUnit says whether a row brings its unit along, behind its numbers.
func namesUnit(r DraftRow) bool {
	for _, s := range []string{r.Min, r.Typ, r.Max, r.Value} {
		if strings.IndexFunc(s, unicode.IsLetter) >= 0 || strings.Contains(s, "%") {
			return true
		}
	}
	return false
}

// bareName matches a symbol alone, as the second line of "0.7 VDD".
var bareName = pattern(`^[x×*·]?\s*[A-Za-zθ][A-Za-z0-9_]{0,11}$`)

// joinsLimit says whether row i is nothing but the second line of a number in
// the row above: a narrow cell that breaks "0.7 VDD" after its number.
func (t *Table) joinsLimit(i int) bool {
	if i == 0 {
		return false
	}
	r, above := &t.Rows[i], &t.Rows[i-1]
	n := 0
	for k, c := range r.Cells {
		switch kind := t.Columns[k].Kind; {
		case c.Text == "":
		case !kind.isLimit():
			if c.Given {
				return false
			}
		case !bareName().MatchString(foldString(c.Text)) && !digits(c.Text) || !plainNumber(foldString(above.Cells[k].Text)):
			return false
		default:
			n++
		}
	}
	return n > 0 && sameRow(t, r, above)
}

// sameRow says whether two rows carry the same name and symbol.
func sameRow(t *Table, a, b *TableRow) bool {
	return t.Cell(a, KindName) == t.Cell(b, KindName) && t.Cell(a, KindSymbol) == t.Cell(b, KindSymbol)
}

func plainNumber(s string) bool { return s != "" && strings.Trim(s, "+-0123456789.") == "" }

// digits says whether a text is nothing but digits.
func digits(s string) bool { return s != "" && strings.Trim(s, "0123456789") == "" }

// join puts the second line of a number behind its first. Where that is digits
// alone it may be the rest of the number or another number: neither is offered.
func (r *DraftRow) join(t *Table, below *TableRow) {
	for k, at := range map[Kind]*string{KindMin: &r.Min, KindTyp: &r.Typ, KindMax: &r.Max, KindValue: &r.Value} {
		switch s := t.limit(below, k); {
		case s == "":
		case digits(s):
			*at, r.Unread = "", true
		default:
			*at += " " + s
		}
	}
}

// partOf says whether a numbered heading stands in a section of characteristics
// and speaks of no ratings: "8.1 Power-on timing" in "8 Electrical characteristics".
func (d *drafter) partOf(head heading) bool {
	of := numberOf(head.text)
	of = of[:max(0, strings.LastIndexByte(of, '.'))]
	return of != "" && d.chapters[of] && !speaksOfRatings().MatchString(head.text)
}

// numberOf gives the number of a heading, "" if it has none.
func numberOf(s string) string {
	return strings.Trim(numbering().FindString(strings.ToLower(s)), " .)")
}

var speaksOfRatings = pattern(`(?i)maxim|absolute|rating|stress|limit|recommend|operating`)

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
	case section == SectionElectrical && isOperating(text) && !bothKinds().MatchString(text):
		return &d.Operating
	case section == "" && t.complete() && t.column(KindTyp) < 0: // bounds alone: ratings, limits of use or characteristics
		return nil
	case section == SectionElectrical, section == "" && head.text == "", section == "" && t.complete():
		return &d.Spec
	}
	return nil
}

// bothKinds matches a heading of limits of use and characteristics in one table.
var bothKinds = pattern(`(?i)[/&+]|\band\b|characteristics|specifications?`)

func captionRest(s string) string {
	rest, _ := captionOf(s)
	return rest
}

// complete says whether a table has the columns of characteristics.
func (t *Table) complete() bool {
	return t.column(KindMin) >= 0 && t.column(KindMax) >= 0 &&
		(t.column(KindUnit) >= 0 || t.Columns[len(t.Columns)-1].Unit != "") &&
		(t.column(KindName) >= 0 || t.column(KindSymbol) >= 0)
}

// condition joins the conditions and the note of a row.
func (t *Table) condition(r *TableRow) string {
	var out []string
	for i, c := range t.Columns {
		text := r.Cells[i].Text
		switch name := strings.TrimSpace(strings.TrimSuffix(c.Title, "("+c.Unit+")")); {
		case c.Kind != KindCondition && (c.Kind != KindNote || t.column(KindCondition) >= 0) || isBlankMark(text) || text == "" ||
			c.Kind == KindNote && digits(text):
		case c.Unit != "" && !strings.Contains(name, " ") && hasDigit(text): // "VCC (V)" over "4.5"
			out = append(out, name+" = "+text+" "+c.Unit)
		default:
			out = append(out, text)
		}
	}
	return strings.Join(out, ", ")
}

// limit gives a number as printed, "" where a mark for nothing stands.
func (t *Table) limit(r *TableRow, k Kind) string {
	s := strings.TrimSpace(foldString(t.Cell(r, k)))
	if isBlankMark(s) || strings.EqualFold(s, "n/a") {
		return ""
	}
	return s
}

// Fonts without names for their signs lose the degree: a temperature in C, or in
// any other sign and C, is in °C.
var (
	lostDegree    = pattern(`^[^ ]? ?C$`)
	ofTemperature = pattern(`(?i)temperature|\btemp\b|temperatur|température|温度|結温|结温`)
)

// unitOf gives the unit of a row: its cell, else that of the column titles if
// they agree.
func (t *Table) unitOf(r *TableRow) string {
	if u := t.Cell(r, KindUnit); u != "" && !isBlankMark(u) {
		if lostDegree().MatchString(foldString(u)) && ofTemperature().MatchString(t.Cell(r, KindName)) {
			return "°C"
		}
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

var rangeText = pattern(`^([-+]?[0-9]+(?:\.[0-9]+)?)\s*([^-+0-9. ~]*)\s*(?:\b[tT]o\b|\.\.\.?|~)\s*(\S.*)$`)

// splitRange takes "-0.3 to 6.2" and "-0.3 to VIN + 0.3" apart. A unit behind
// the range is left where it stands unless the row has none.
func (r *DraftRow) splitRange() {
	value := r.Value
	if r.Min+r.Typ+r.Value == "" { // a range under "Maximum"
		value = r.Max
	}
	m := rangeText().FindStringSubmatch(looseSign().ReplaceAllString(value, "$1$2$3"))
	if m == nil || r.Min != "" || r.Max != "" && r.Max != value {
		return
	}
	max := m[3]
	if unit := strings.TrimSpace(m[2]); unit != "" { // "-0.3V to 6V"
		if _, ok := unitWord(unit); !ok || !strings.HasSuffix(max, unit) {
			return
		}
		max = strings.TrimSpace(strings.TrimSuffix(max, unit))
		if r.Unit == "" {
			r.Unit = unit
		}
	}
	r.Min, r.Max, r.Value = m[1], max, ""
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

// edition matches the edition of a sheet in a line of its own or a running head.
var edition = pattern(`(?i:\b(?:revision|rev\.?|edition|issue|version)\s*:?\s+)([A-Z]{1,2}[0-9]?|[0-9]{1,3}(?:\.[0-9]+)?[A-Z]?)\b(?:\s*[,–-]?\s*([0-9]{4}-[0-9]{2}-[0-9]{2}|(?:[0-9]{1,2} )?[A-Z][a-z]{2,8}\.? [0-9]{4}))?`)

// title takes the lines of the first page that are set in the largest type, and
// the edition.
func (d *drafter) title(s *pageSignals) {
	size := 0.0
	for _, l := range s.view.page.Lines {
		for _, w := range l.Words {
			d.first = append(d.first, codeHead(w.Text))
		}
		if n := lineSize(l); len(l.Text) > 2 && !noTitle(l.Text) {
			size = math.Max(size, n)
		}
	}
	lines := slices.Clone(s.view.page.Lines)
	slices.SortStableFunc(lines, func(a, b Line) int { // the part's name stands at the top
		return boolIndex(!namesPart(a, s.view.page.Height)) - boolIndex(!namesPart(b, s.view.page.Height))
	})
	for _, l := range lines {
		large := lineSize(l) > 0.6*size || len(d.Title) == 0 && lineSize(l) > 0.35*size && namesPart(l, s.view.page.Height)
		if len(d.Title) < 4 && len(l.Text) > 2 && large && !noTitle(l.Text) {
			d.Title = append(d.Title, Quoted{Text: l.Text, Page: s.page, Label: s.view.page.Label, Quote: l.Text})
		}
		if m := edition().FindStringSubmatch(l.Text); m != nil && d.Revision.Text == "" && len(l.Text) < 160 && s.prints(m[0]) {
			text := m[1]
			if m[2] != "" {
				text += ", " + m[2]
			}
			d.Revision = Quoted{Text: text, Page: s.page, Label: s.view.page.Label, Quote: m[0]}
		}
	}
}

var generalTitle = pattern(`(?i)^\W*((preliminary |product |technical )?(data ?sheet|specifications?|information)|features|(general |product )?description|applications?|confidential|` +
	`(internal |functional )*(block )?diagrams?|schematics?|package dimensions|contents|www\..*|https?:.*)\W*$`)

// noTitle says whether a line is a general heading and names no part.
func noTitle(s string) bool {
	_, _, heads := sectionHeading(s)
	if n := len(strings.Fields(s)); n > 8 || n > 4 && strings.HasSuffix(s, ".") { // a sentence
		return true
	}
	return heads || hasUnnamed(s) || generalTitle().MatchString(s) || !lettersIn([]cellWord{{text: s}})
}

// namesPart says whether a line in the upper part of its page begins with a word of
// capitals and digits.
func namesPart(l Line, height float64) bool {
	return l.Box.Y0 < 0.3*height && len(l.Words) > 0 && partWord().MatchString(strings.Trim(l.Words[0].Text, ",."))
}

func lineSize(l Line) float64 {
	size := 0.0
	for _, w := range l.Words {
		size = math.Max(size, w.Size)
	}
	return size
}
