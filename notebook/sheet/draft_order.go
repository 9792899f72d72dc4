package sheet

import (
	"sort"
	"strings"
	"unicode"
)

// DraftOrder is an order code: a line of an ordering table, or words such as
// "order code QX30-30C5" in the text.
type DraftOrder struct {
	Quoted
	Code    string
	Package string
	More    []Titled // the other cells
}

func (d *drafter) orders(t *Table, s *pageSignals) {
	key := t.column(KindOrder)
	for i := range t.Rows {
		r := &t.Rows[i]
		q, ok := s.quoted(t, r)
		o := DraftOrder{Quoted: q, Code: t.Cell(r, KindOrder), Package: t.Cell(r, KindPackage), More: t.rest(r, key, t.column(KindPackage))}
		if ok && d.isCode(o.Code) {
			d.Orders = append(d.Orders, o)
			d.quantitiesOf(t, r, o)
		}
	}
}

// quantitiesOf reads what an ordering table states of each part in columns of
// their own, "Output current max. | Efficiency typ.", as characteristics of that part.
func (d *drafter) quantitiesOf(t *Table, r *TableRow, o DraftOrder) {
	for i, c := range t.Columns {
		v, ok := readStated(r.Cells[i].Text + " " + c.Unit)
		title := strings.TrimSpace(strings.TrimSuffix(c.Title, "("+c.Unit+")"))
		if _, _, known := headKind(title); known && !strings.HasSuffix(strings.ToLower(title), " voltage") { // options, sizes, temperatures
			continue
		}
		if ok && c.Kind == KindOther && title != "" {
			name, kind := cutStatedWord(foldString(title))
			if kind == KindValue {
				kind = v.kind
			}
			row := DraftRow{Quoted: o.Quoted, Name: name, Unit: v.unit, Version: o.Code}
			switch kind {
			case KindMin:
				row.Min = v.text
			case KindTyp:
				row.Typ = v.text
			case KindMax:
				row.Max = v.text
			default:
				row.Value = v.text
				row.splitRange()
			}
			d.ofParts = append(d.ofParts, row)
		}
	}
}

// openCode matches what stands for characters in a code: it is a pattern.
var openCode = pattern(`[*□_?…]|[xX]{2}|\.\.`)

// isCode says whether a text can be an order code of the part: it has a capital
// and a digit, nothing that stands for other characters, and begins like a word
// of the first page. Codes of one word only, unless the first page prints it so.
func (d *drafter) isCode(s string) bool {
	if !hasDigit(s) || strings.ToLower(s) == s || openCode().MatchString(s) || strings.ContainsAny(s, ",;:=—–") || len(s) > 40 {
		return false
	}
	if fields := strings.Fields(s); len(fields) > 2 || len(fields) == 2 && (len(fields[0]) > 5 || !hasDigit(fields[1])) {
		return false
	}
	head := codeHead(s)
	for i := 1; i < len(d.first); i++ { // a code of two words
		if strings.HasPrefix(d.first[i-1]+d.first[i], head) && len(d.first[i-1]) < 4 {
			return true
		}
	}
	for _, w := range d.first {
		if w != "" && (strings.HasPrefix(w, head) || len(w) >= 3 && hasDigit(w) && strings.HasPrefix(head, w)) {
			return true
		}
	}
	return len(d.first) == 0
}

// codeHead is how a code begins: its first four letters and digits.
func codeHead(s string) string {
	s = strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return unicode.ToUpper(r)
		}
		return -1
	}, s)
	return s[:min(len(s), 4)]
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

// quotedAny cites a row by the first of some words that its page holds, else as
// quoted does.
func (s *pageSignals) quotedAny(t *Table, r *TableRow, words ...string) (Quoted, bool) {
	for _, w := range words {
		if s.prints(w) {
			return Quoted{Page: s.page, Label: s.view.page.Label, Text: s.view.grid().rows[r.Lines[0]].text(), Quote: w}, true
		}
	}
	return s.quoted(t, r)
}

// codeText matches an order code in running text. The words are common practice.
var (
	codeText    = pattern(`(?i:\border(?:ing|able)?\s+(?:codes?|numbers?|part\s+numbers?|no\.?)(?:\s+(?:is|are))?\s*[:=]?\s+)([A-Z0-9][A-Za-z0-9./+#-]*)`)
	codeExample = pattern(`(?i:\b(?:for example|example|e\.g\.),?:?\s+)([A-Z0-9][A-Za-z0-9./+#-]*)`)
)

// orderText looks for order codes in the lines of a page.
func (d *drafter) orderText(s *pageSignals) {
	rows := s.view.grid().rows
	for i := range rows {
		text := rows[i].text()
		if i+1 < len(rows) && rows[i+1].y0-rows[i].y1 < emOf(rows[i].y1-rows[i].y0) {
			text += " " + rows[i+1].text()
		}
		pattern := false
		for _, m := range codeText().FindAllStringSubmatchIndex(text, -1) {
			switch {
			case m[0] >= len(rows[i].text()): // of the next row, which has its own turn
			case strings.ContainsAny(text[m[1]:min(m[1]+1, len(text))], "{<"): // fields stand in braces or angle brackets
				pattern = true
			default:
				d.takeCode(s, text[m[0]:m[1]], text[m[2]:m[3]])
			}
		}
		// "Part numbering guide: Example QX-25-N"
		if m := codeExample().FindStringSubmatch(text); m != nil && (pattern || headsOrders(rows[i].text())) {
			d.takeCode(s, m[0], m[1])
		}
	}
}

// headsOrders says whether a line begins with a heading of the ordering section.
func headsOrders(s string) bool {
	sec, _, ok := sectionHeading(s)
	return ok && sec == SectionOrdering
}

// takeCode enters a code found behind "order code".
func (d *drafter) takeCode(s *pageSignals, words, code string) {
	words, code = strings.TrimRight(words, ".,:;"), strings.TrimRight(code, ".,:;")
	if !s.prints(words) {
		words = code
	}
	if len(code) >= 4 && d.isCode(code) && s.prints(words) {
		q := Quoted{Text: code, Page: s.page, Label: s.view.page.Label, Quote: words}
		d.Orders = append(d.Orders, DraftOrder{Quoted: q, Code: code})
	}
}

// sortOrders puts the lines of tables before codes named in passing, and takes
// each code once.
func (d *drafter) sortOrders() {
	sort.SliceStable(d.Orders, func(i, j int) bool {
		return len(d.Orders[i].More)+len(d.Orders[i].Package) > 0 && len(d.Orders[j].More)+len(d.Orders[j].Package) == 0
	})
	seen := map[string]bool{}
	kept := d.Orders[:0]
	for _, o := range d.Orders {
		if !seen[o.Code] {
			seen[o.Code] = true
			kept = append(kept, o)
		}
	}
	d.Orders = kept
}

// otherVersions marks rows that speak of another order code, package or version
// than those of the first order code and not of it.
func (d *drafter) otherVersions() {
	if len(d.Orders) == 0 {
		return
	}
	var mine, others []string
	for i, o := range d.Orders {
		words := []string{o.Code, o.Package, namedPackage(o.Package)}
		for _, m := range o.More {
			words = append(words, m.Text)
		}
		if i == 0 {
			mine = words
		} else {
			others = append(others, words...)
		}
	}
	for i, p := range d.Packages {
		if names := []string{p.Name, namedPackage(p.Name)}; i == 0 {
			mine = append(mine, names...)
		} else {
			others = append(others, names...)
		}
	}
	for _, rows := range [][]DraftRow{d.Ratings, d.Operating, d.Spec} {
		for i := range rows {
			if text := apartWords(rows[i].Name + " | " + rows[i].Group); heldWords(text, mine) == "" {
				rows[i].Other = heldWords(text, others)
			}
		}
	}
}

// heldWords gives the words with a digit that stand in a text with borders on both sides.
func heldWords(text string, list []string) string {
	for _, w := range list {
		if len(w) >= 3 && hasDigit(w) && strings.Contains(text, apartWords(w)) {
			return w
		}
	}
	return ""
}

// apartWords is a text in words of letters, digits, points and hyphens.
func apartWords(s string) string {
	return " " + strings.Join(strings.FieldsFunc(foldString(s), func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '.' && r != '-'
	}), " ") + " "
}
