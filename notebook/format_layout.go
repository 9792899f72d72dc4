package notebook

import "strings"

// laidLine is one line of a block on its way to its columns. Lines of one run
// (no blank line or comment between, all of one form) share their columns.
type laidLine struct {
	form    lineForm
	indent  string
	cols    []string // aligned; the last one is the body
	glue    string   // between the last aligned column and the body
	class   string   // lines of one class share the columns after the first
	tail    string   // citations, aligned where it can be
	comment string
}

type lineForm uint8

const (
	verbatim lineForm = iota
	attrForm
	argForm // a label with an argument
	defForm
	rowForm
)

const (
	tailColumn = 76 // citations stand at this column at most; longer bodies push their own
	cellColumn = 44 // a wider cell of a row does not widen the column
	labelLeast = 9  // values of attributes start at column 11 at the least
	labelMost  = 10 // and a longer label, colon included, pushes its own value
	contIndent = "    "
	rowIndent  = "  "
)

// layout gives every line of a block in its canonical form.
func layout(b *Block, lines []rawLine) []string {
	f := &former{b: b, text: b.Src.text, lines: lines, common: commonIndent(lines)}
	f.out = make([]laidLine, len(lines))
	for i := range lines {
		f.out[i] = f.plain(i)
	}
	for _, e := range b.Entries {
		f.entry(e)
	}
	return align(f.out)
}

// former gives each line its form.
type former struct {
	b      *Block
	text   string
	lines  []rawLine
	common int
	out    []laidLine
}

// plain is a line that keeps its words: blank, comment or continuation.
func (f *former) plain(i int) laidLine {
	l := f.lines[i]
	if l.blank() {
		return laidLine{}
	}
	return laidLine{indent: strings.Repeat(" ", l.indent-f.common), cols: []string{f.text[l.start:l.end]}}
}

// index is the index of the line of the file in the block.
func (f *former) index(line int) int {
	first := f.b.Src.lineOf(f.lines[0].off) + 1
	return line - first
}

func (f *former) entry(e *Entry) {
	i, last := f.index(int(e.Lines[0])), f.index(int(e.Lines[1]))
	switch {
	case e.Kind == Attribute:
		f.attribute(i, e)
		f.continued(i+1, last, contIndent)
	case e.Kind == RowGroup:
		f.attribute(i, e)
		for _, row := range e.Rows {
			k := f.index(int(row.Lines[0]))
			f.row(k, row, rowIndent)
			f.continued(k+1, f.index(int(row.Lines[1])), rowIndent+contIndent)
		}
	case e.Kind == Definition:
		f.definition(i, e)
		f.continued(i+1, last, contIndent)
	default:
		f.row(i, e, "")
		f.continued(i+1, last, contIndent)
	}
}

// continued gives continuation lines their indentation. Comments among them
// keep theirs: in prose it tells them from text.
func (f *former) continued(i, last int, indent string) {
	for ; i <= last; i++ {
		if l := f.lines[i]; !l.blank() && f.text[l.start] != '#' {
			f.out[i].indent = indent
		}
	}
}

// split parts a line into words, citations and comment, by the offsets that
// the entry knows. The comment is what join cut.
func (f *former) split(i int, e *Entry) (body, tail, comment string) {
	l := f.lines[i]
	j := joiner{r: &reader{src: f.b.Src}}
	end := j.cut(l.start, l.end)
	comment = strings.TrimRight(strings.TrimLeft(f.text[end:l.end], " \t"), " \t")
	tailAt := end
	for _, c := range e.Cites {
		if off := c.Text.Offset(0); off >= l.start && off < tailAt {
			tailAt = off
		}
	}
	body = strings.TrimRight(f.text[l.start:tailAt], " \t")
	tail = strings.TrimRight(f.text[tailAt:end], " \t")
	return body, tail, comment
}

func (f *former) attribute(i int, e *Entry) {
	l := f.lines[i]
	spec := specOf(f.b.Kind).label(e.Label)
	line := laidLine{form: attrForm, glue: " "}
	body := strings.TrimRight(f.text[l.start:l.end], " \t")
	if !spec.prose {
		body, line.tail, line.comment = f.split(i, e)
	}
	_, colon := labelHead(body)
	if colon < 0 {
		return
	}
	head := e.Label + ":"
	if e.Arg != "" {
		head, line.form = e.Label+" "+e.Arg+":", argForm
	}
	value := strings.TrimLeft(body[colon+1:], " \t")
	if quantityLabels[e.Label] {
		value = spaced(tidy(value))
	}
	if e.Kind == RowGroup || value == "" {
		line.form, line.cols = verbatim, []string{head}
		f.out[i] = line
		return
	}
	line.cols = []string{head, value}
	f.out[i] = line
}

func (f *former) definition(i int, e *Entry) {
	body, tail, comment := f.split(i, e)
	eq := equalsAt(body)
	if eq < 0 || hasConds(tail) {
		return // "=" on the next line, or conditions after citations: as written
	}
	name := strings.TrimRight(body[:eq], " \t")
	cols := []string{}
	if e.Section != "" {
		name = strings.TrimLeft(name[len(e.Section):], " \t")
		cols = append(cols, e.Section)
	}
	right := canonicalRHS(body[eq+1:], e.Lines[0] == e.Lines[1])
	if k := condAt(right); k > 0 {
		right = right[:k] + " " + right[k:]
	}
	f.out[i] = laidLine{form: defForm, cols: append(cols, tidy(name), right), glue: " = ", tail: tidy(tail), comment: comment}
}

// hasConds says that conditions stand among the citations.
func hasConds(tail string) bool {
	for _, m := range findMarks(tail, true) {
		if m.part == condPart || m.part == refPart {
			return true
		}
	}
	return false
}

// condAt is where the blank before the word "at" stands; -1 for none.
func condAt(s string) int {
	for _, m := range findMarks(s, true) {
		if m.part == condPart {
			return m.at - 1
		}
	}
	return -1
}

// row lays out a row: its cells in columns.
func (f *former) row(i int, e *Entry, indent string) {
	if e.Kind == Attribute || e.Pin == nil && e.Need == nil && e.Placement == nil && e.Load == nil {
		f.out[i].indent = indent
		return
	}
	body, tail, comment := f.split(i, e)
	var cols []string
	class := ""
	src := &Source{text: body}
	t := Text{S: body, Src: src}
	switch {
	case e.Pin != nil:
		cols = wordColumns(t, numberWords(e, t), 1)
	case e.Need != nil:
		if cols = wordColumns(t, 0, 2); cols != nil {
			cols[len(cols)-1] = needText(e, spaced(cols[len(cols)-1]))
		}
	case e.Load != nil && e.Load.From != "":
		cols = wordColumns(t, 0, 1)
	default:
		cols = cellColumns(t, e)
		if e.Placement != nil && e.Placement.Kind != "" {
			class = "kind"
		}
	}
	if cols == nil {
		f.out[i].indent = indent
		return
	}
	f.out[i] = laidLine{form: rowForm, indent: indent, cols: cols, class: class, glue: "  ", tail: tidy(tail), comment: comment}
}

// numberWords is how many words the numbers of a pin take.
func numberWords(e *Entry, t Text) int {
	n := 0
	for off := e.Pin.NameText.Offset(0) - e.Text.Offset(0); ; n++ {
		var w Text
		if w, t = word(t); w.S == "" || w.Offset(0) >= off {
			return n
		}
	}
}

// wordColumns gives numbers (first words taken together), then words one by
// one, then the rest; nil where the line ends before.
func wordColumns(t Text, first, words int) []string {
	var cols, head []string
	for range first {
		var w Text
		w, t = word(t)
		head = append(head, w.S)
	}
	if first > 0 {
		cols = append(cols, strings.Join(head, " "))
	}
	for range words {
		var w Text
		w, t = word(t)
		cols = append(cols, w.S)
	}
	if t.S == "" {
		return nil
	}
	return append(cols, tidy(t.S))
}

// cellColumns gives the cells of a circuit or budget row, "in use:" as one.
func cellColumns(t Text, e *Entry) []string {
	use := ""
	if k := strings.Index(t.S, "in use:"); k > 0 && isBlank(t.S[k-1]) {
		use = spaced(tidy(t.S[k:]))
		t = t.Slice(0, k).Trim()
	}
	var cols []string
	split := cells
	if e.Placement != nil {
		split = circuitCells
	}
	for k, c := range split(t) {
		cell := strings.Join(strings.Fields(c.S), " ") // nets may be spelled like quantities: 5V
		switch {
		case e.Load != nil && k >= 2:
			cell = spaced(tidy(c.S))
		case e.Placement != nil && k == 1:
			cell = spacedKind(e, tidy(c.S))
		}
		cols = append(cols, cell)
	}
	if len(cols) > 3 {
		cols = append(cols[:2:2], strings.Join(cols[2:], " "))
	}
	if len(cols) == 1 && use == "" {
		return nil
	}
	if use != "" {
		cols = append(cols, use)
	}
	return cols
}
