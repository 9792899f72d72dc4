package sheet

import "math"

// view is what is worked out of a page to answer questions about it; each part
// is made on first use.
type view struct {
	page    *Page
	layer   map[place]bool // words known to be a text layer over a picture
	hidden  bool           // words that nobody sees were taken from it
	folded  *folded
	rows    *grid
	nums    []token
	units   []unitMark
	read    bool // nums and units are filled
	tabs    []*Table
	tabled  bool // tabs is filled
	ways    []tableRow
	inRow   map[place]rowUnits // of the rows that hold a number, by its word
	stated  map[wanted][]token
	heads   map[*Table][]HeadCondition
	digits  []figure
	counted bool // digits is filled
}

// unitMark is a unit that stands on the page, with a number or on its own.
type unitMark struct {
	m     measure
	row   int
	r     rect
	alone bool // stands by itself, as in the unit column of a table or in a header
	text  string
}

func newView(p *Page) *view { return &view{page: p} }

func (v *view) text() *folded {
	if v.folded == nil {
		f := foldPage(v.page)
		v.folded = &f
	}
	return v.folded
}

func (v *view) grid() *grid {
	if v.rows == nil {
		v.rows = newGrid(v.page)
	}
	return v.rows
}

func (v *view) tokens() []token {
	if !v.read {
		v.nums = v.grid().tokens()
		v.units = unitMarks(v.grid(), v.nums)
		v.read = true
	}
	return v.nums
}

// unitMarks collects the units of a page.
func unitMarks(g *grid, tokens []token) []unitMark {
	var marks []unitMark
	taken := map[[2]int]bool{}
	for _, t := range tokens {
		taken[[2]int{t.row, t.first}], taken[[2]int{t.row, t.last}] = true, true
		if t.sure {
			marks = append(marks, unitMark{m: t.unit, row: t.row, r: t.r})
		}
	}
	for i, row := range g.rows {
		for j, w := range row.words {
			if taken[[2]int{i, j}] {
				continue
			}
			m, ok := unitWord(w.text)
			if !ok {
				continue
			}
			if alone := standsAlone(row.words, j); alone || plainUnit(w.text) {
				marks = append(marks, unitMark{m: m, row: i, r: withTitle(row.words, j), alone: alone, text: w.text})
			}
		}
	}
	return marks
}

// standsAlone says whether a word is a cell of its own or stands in brackets.
func standsAlone(words []cellWord, j int) bool {
	w := words[j]
	if isBracketed(w.text) {
		return true
	}
	em := emOf(w.size)
	if j+1 < len(words) && isTail(words[j+1].text) {
		words = append(append([]cellWord(nil), words[:j+1]...), words[j+2:]...)
	}
	return (j == 0 || w.r.x0-words[j-1].r.x1 > 0.6*em) && (j+1 == len(words) || words[j+1].r.x0-w.r.x1 > 0.6*em)
}

// withTitle widens a unit in brackets over the title it stands behind.
func withTitle(words []cellWord, j int) rect {
	r := words[j].r
	if !isBracketed(words[j].text) {
		return r
	}
	for k := j - 1; k >= 0 && k >= j-3 && words[k+1].r.x0-words[k].r.x1 <= phraseGap*emOf(words[k].size); k-- {
		r = r.union(words[k].r)
	}
	return r
}

// plainUnit says whether a word can hardly be anything but a unit.
func plainUnit(s string) bool {
	s = foldString(s)
	switch s {
	case "min", "in", "ft", "oz", "bit", "bits", "bar", "deg", "rad", "mil", "mils", "sec", "inch", "year", "years",
		"hours", "cycles", "byte", "bytes", "ohms":
		return false
	}
	return len([]rune(s)) >= 2
}

// wanted is a number of a fact, ready to be compared.
type wanted struct {
	Number
	m     measure
	known bool // the unit is understood
}

func newWanted(n Number) wanted {
	m, ok := parseMeasure(n.Unit)
	return wanted{Number: n, m: m, known: ok}
}

func (w wanted) String() string {
	if w.Unit == "" {
		return w.Text
	}
	return w.Text + " " + w.Unit
}

// find gives the tokens of the page that state the number.
func (v *view) find(w wanted) []token {
	if out, ok := v.stated[w]; ok {
		return out
	}
	var out []token
	for _, t := range v.tokens() {
		if v.states(t, w) {
			out = append(out, t)
		}
	}
	if v.stated == nil {
		v.stated = map[wanted][]token{}
	}
	v.stated[w] = out
	return out
}

// states says whether a token is the number wanted: the same value in the same
// kind of unit. A token without a unit of its own takes those that may be
// meant: of its row, of the unit column, of the header above it.
func (v *view) states(t token, w wanted) bool {
	switch {
	case !w.known:
		return same(t, t.value, w.Value) && !t.sure
	case w.m.kind == "":
		return !t.sure && same(t, t.value, w.Value)
	case t.sure:
		return w.equals(t, t.unit)
	}
	if own, ok := v.rowUnits()[v.grid().rows[t.row].words[t.first].at]; ok && !own.unknown {
		for _, m := range own.list {
			if w.equals(t, m) {
				return true
			}
		}
		return false
	}
	for _, u := range v.units {
		if w.equals(t, u.m) && v.mayMean(t, u) {
			return true
		}
	}
	return false
}

// rowUnits are the units of the rows of tables that hold a number, one for each
// way to settle the table.
type rowUnits struct {
	list    []measure
	text    []string // as printed
	unknown bool     // a way gives the row no unit that is understood
	lost    bool     // there must be one all the same
}

// rowUnits gives the units of the numbers in tables: those of the unit cell of
// the row or of the head of the column. What stands nearby says nothing there.
func (v *view) rowUnits() map[place]rowUnits {
	if v.inRow != nil {
		return v.inRow
	}
	v.inRow = map[place]rowUnits{}
	for _, r := range v.allRows() {
		for i, c := range r.table.Columns {
			if !c.Kind.isLimit() {
				continue
			}
			text := r.table.unitOf(r.row)
			if c.Unit != "" && r.table.column(KindUnit) < 0 {
				text = c.Unit
			}
			m, ok := parseMeasure(text)
			lost := r.table.column(KindUnit) >= 0 &&
				(text != "" && !ok || text == "" && ofTemperature().MatchString(r.table.Cell(r.row, KindName)))
			for _, w := range r.row.Cells[i].words {
				u := v.inRow[w.at]
				u.lost = u.lost || lost
				u.text = append(u.text, text)
				if u.list = append(u.list, m); !ok || m.kind == "" {
					u.unknown = true
				}
				v.inRow[w.at] = u
			}
		}
	}
	return v.inRow
}

// equals compares a number of the page in a unit with the one wanted: 8 mS is 8 mA/V.
func (w wanted) equals(t token, page measure) bool {
	want := w.m
	if page.kind == "C" && want.kind == "°C" { // a lost degree sign
		page.kind = want.kind
	}
	if page.kind != want.kind {
		a, ok := page.basic()
		b, known := want.basic()
		if !ok || !known || a.kind != b.kind || a.kind == "dB" {
			return false
		}
		page, want = a, b
	}
	return same(t, t.value*page.factor, w.Value*want.factor)
}

// same compares to nine digits, far beyond what sheets print.
func same(t token, a, b float64) bool {
	if t.either {
		a, b = math.Abs(a), math.Abs(b)
	}
	return math.Abs(a-b) <= 1e-9*math.Max(math.Abs(a), math.Abs(b))
}

// mayMean says whether a unit may belong to a number printed without one.
func (v *view) mayMean(t token, u unitMark) bool {
	em := emOf(t.r.y1 - t.r.y0)
	switch {
	case u.row == t.row:
		return true
	case u.row == t.row+1 && !u.alone: // a list that runs on in the next line
		return u.r.y0-t.r.y1 < em
	case !u.alone:
		return false
	case u.r.x0 > t.r.x1: // unit column whose cell spans rows
		return math.Abs(u.r.y0-t.r.y0) < 6*em
	}
	return u.r.y1 <= t.r.y0 && u.r.x0 < t.r.x1+1.5*em && u.r.x1 > t.r.x0-1.5*em && t.r.y0-u.r.y1 < 40*em
}
