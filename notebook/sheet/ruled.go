package sheet

import (
	"math"
	"slices"
	"sort"
	"strings"
)

// A table with ruled lines is settled by them: a cell is what stands between
// two lines, and what it says holds for all rows it spans. Within one cell, and
// where there are no lines, the white gaps decide.

// frameRules are the ruled lines of one table.
type frameRules struct {
	flat, tall []rect
	head       float64 // the line below the titles, 0 if there is none
	bottom     float64 // where tall lines end
	boxed      bool    // tall lines run down to the bottom, and nothing goes on below
}

// maxHeadHeight is how far below the titles the line under them may be, in points.
const maxHeadHeight = 45.0

// frame finds the ruled lines of the table whose titles stand in columns.
func (g *grid) frame(t *Table) frameRules {
	var f frameRules
	x0, x1 := t.Columns[0].head.x0, t.Columns[len(t.Columns)-1].head.x1
	below := g.rows[t.headRow].y1
	for _, r := range g.flat {
		share := math.Min(r.x1, x1) - math.Max(r.x0, x0)
		if share >= 0.8*(x1-x0) && r.y0 > below-1 && r.y0 < below+maxHeadHeight {
			f.head = (r.y0 + r.y1) / 2
			break
		}
	}
	start := math.Max(below, f.head) + 6
	for _, r := range g.tall {
		if r.x0 > t.left && r.x1 < t.right && r.y1 > start && r.y0 < start && g.touches(r, x0, x1, t.top) {
			f.tall = append(f.tall, r)
		}
	}
	left, right := x0+1, x1-1
	inner := slices.ContainsFunc(f.tall, func(r rect) bool { return r.x0 > x0+1 && r.x1 < x1-1 })
	for _, r := range f.tall {
		if !inner || r.x0 > x0+1 && r.x1 < x1-1 { // lines between the titles end with the table; a frame round the page goes on
			f.bottom = math.Max(f.bottom, r.y1)
		}
		left, right = math.Min(left, (r.x0+r.x1)/2), math.Max(right, (r.x0+r.x1)/2)
	}
	for _, r := range g.tall { // pieces that go on below, in the order of their tops
		within := r.x0 > left && r.x0 < right && r.y1 < f.bottom+3 && g.endsOnFlat(r)
		if r.y0 >= start && r.y0 < f.bottom+3 && (within || f.lines(r.x0)) {
			f.tall, f.bottom = append(f.tall, r), math.Max(f.bottom, r.y1)
		}
	}
	f.boxed = f.bottom > 0
	for _, r := range g.flat { // every other row is shaded: the sides say nothing of the end
		if r.y0 > f.bottom+3 && r.y0 < f.bottom+30 && f.lines(r.x0) && f.lines(r.x1) && !g.headsBelow(r.y0) {
			f.boxed = false
		}
	}
	// what stands outside of the box, or behind a line beside the titles too, is no part of the table
	if left < x0 && (f.boxed || f.cuts(left, t.top+1)) {
		t.left = math.Max(t.left, left)
	}
	if right > x1 && (f.boxed || f.cuts(right, t.top+1)) {
		t.right = math.Min(t.right, right)
	}
	for _, r := range g.flat {
		if r.x0 < x1-3 && r.x1 > x0+3 && r.y1 > t.top-30 && (!f.boxed || r.y0 < f.bottom+2) {
			f.flat = append(f.flat, r)
		}
	}
	sort.SliceStable(f.flat, func(i, j int) bool { return f.flat[i].y0 < f.flat[j].y0 })
	return f
}

// endsOnFlat says whether a tall line begins and ends at flat ones.
func (g *grid) endsOnFlat(tall rect) bool {
	top, bottom := false, false
	for _, r := range g.flat {
		if r.x0 < tall.x1+3 && r.x1 > tall.x0-3 {
			top, bottom = top || math.Abs(r.y0-tall.y0) < 3, bottom || math.Abs(r.y0-tall.y1) < 3
		}
	}
	return top && bottom
}

// headsBelow says whether one of the two rows below a height heads a table: its
// name may stand over the titles.
func (g *grid) headsBelow(y float64) bool {
	i := slices.IndexFunc(g.rows, func(r row) bool { return r.y0 > y })
	return i >= 0 && (len(g.headersAt(i)) > 0 || i+1 < len(g.rows) && len(g.headersAt(i+1)) > 0)
}

// touches says whether a tall line meets a flat one that runs along the titles
// between x0 and x1, and not only at the ends of a frame round the page: a bar in
// the margin does not.
func (g *grid) touches(tall rect, x0, x1, top float64) bool {
	for _, r := range g.flat {
		if r.y0 > top-60 && r.x0 < x1 && r.x1 > x0 && r.x0 < tall.x1+3 && r.x1 > tall.x0-3 && r.y0 < tall.y1-3 && r.y1 > tall.y0-3 {
			return true
		}
	}
	return false
}

// lines says whether a tall line of the table stands at x.
func (f frameRules) lines(x float64) bool {
	for _, r := range f.tall {
		if math.Abs(r.x0-x) < 3 {
			return true
		}
	}
	return false
}

// cuts says whether a tall line stands at x at a height.
func (f frameRules) cuts(x, y float64) bool {
	for _, r := range f.tall {
		if math.Abs((r.x0+r.x1)/2-x) < 3 && r.y0 < y+1 && r.y1 > y-1 {
			return true
		}
	}
	return false
}

// between finds the tall line between two titles: the only one, or the only one
// that runs beside the titles too.
func (f frameRules) between(a, b rect, body []bodyLine) (float64, bool) {
	for _, share := range []float64{0.5, 0.1} { // cells that span columns break their line
		ruled := f.borders(a.x1-1, b.x0+1, body[0].y0, body[len(body)-1].y1, share)
		if len(ruled) > 1 {
			ruled = slices.DeleteFunc(ruled, func(x float64) bool { return !f.cuts(x, (b.y0+b.y1)/2) })
		}
		if len(ruled) == 1 {
			return ruled[0], true
		}
	}
	return 0, false
}

// borders gives the places between x0 and x1 where tall lines run along more
// than a share of the body, from y0 to y1.
func (f frameRules) borders(x0, x1, y0, y1, share float64) []float64 {
	long := map[int]float64{}
	var at []float64
	for _, r := range f.tall {
		x := (r.x0 + r.x1) / 2
		if x <= x0 || x >= x1 {
			continue
		}
		k := int(math.Round(x / 2))
		for _, n := range []int{k - 1, k + 1} {
			if _, ok := long[n]; ok {
				k = n
			}
		}
		if _, ok := long[k]; !ok {
			at = append(at, x)
		}
		long[k] += math.Max(0, math.Min(r.y1, y1)-math.Max(r.y0, y0))
	}
	sort.Float64s(at)
	out := at[:0]
	for _, x := range at {
		k := int(math.Round(x / 2))
		if long[k]+long[k-1]+long[k+1] > share*(y1-y0) {
			out = append(out, x)
		}
	}
	return out
}

// capped says whether a line over the titles, which begin at top, cuts off what
// ends at a height above them.
func (f frameRules) capped(y, top float64) bool {
	return len(f.tall) > 0 && slices.ContainsFunc(f.flat, func(r rect) bool { return r.y0 > y-2 && r.y0 < top+1 })
}

// bandsOf gives the heights at which flat lines cut a column, from the top.
func (f frameRules) bandsOf(c Column) []float64 {
	x0, x1 := c.head.x0, c.head.x1
	if f.boxed {
		x0, x1 = math.Max(x0, c.x0), math.Min(x1, c.x1)
	}
	var out []float64
	for _, r := range f.flat {
		if share := math.Min(r.x1, x1) - math.Max(r.x0, x0); share >= 0.6*(x1-x0) {
			if y := (r.y0 + r.y1) / 2; len(out) == 0 || y-out[len(out)-1] > 3 {
				out = append(out, y)
			}
		}
	}
	return out
}

// bandAt numbers the band in which a height lies.
func bandAt(cuts []float64, y float64) int { return sort.SearchFloat64s(cuts, y) }

// splitRuled cuts columns that tall lines cut, each part of the kind of the
// whole unless its own title says otherwise. A line that cuts some rows alone
// makes parts that other rows span.
func (t *Table) splitRuled(g *grid, body []bodyLine) {
	y0, y1 := body[0].y0, body[len(body)-1].y1
	var out []Column
	for _, c := range t.Columns {
		whole := c
		x0, x1 := math.Max(c.x0, t.left)+4, math.Min(c.x1, t.right)-4
		for _, x := range t.rules.borders(x0, x1, y0, y1, 0.9) {
			if !hasBoth(body, c.x0, x, c.x1) {
				continue
			}
			part := c
			part.x1 = x
			c.x0 = x
			out = append(out, g.retitled(t, part, c))
		}
		if c.x0 > whole.x0 {
			c = g.retitled(t, c, c)
		}
		out = append(out, g.partly(t, c, body)...)
	}
	t.Columns = out
}

// partly cuts a column of names, conditions or values where tall lines cut some
// of its rows: what stands behind a name there is a condition, and values are
// those of the parts, grades or packages over them.
func (g *grid) partly(t *Table, c Column, body []bodyLine) []Column {
	if c.Kind != KindName && c.Kind != KindSymbol && c.Kind != KindCondition && c.Kind != KindValue {
		return []Column{c}
	}
	whole := c
	var out []Column
	for _, x := range t.rules.borders(math.Max(c.x0, t.left)+4, math.Min(c.x1, t.right)-4, body[0].y0, body[len(body)-1].y1, 0) {
		var cut []bodyLine
		for _, b := range body {
			if t.rules.cuts(x, (b.y0+b.y1)/2) {
				cut = append(cut, b)
			}
		}
		if !hasBoth(cut, c.x0, x, c.x1) || runAcross(cut, x) {
			continue
		}
		part := c
		part.x1, part.head.x1 = x, math.Min(c.head.x1, x-1)
		c.x0, c.part, c.clear, c.head.x0 = x, true, true, math.Max(c.head.x0, x+1)
		out = append(out, part)
	}
	out = append(out, c)
	for i := range out {
		p := &out[i]
		switch {
		case len(out) == 1:
		case c.Kind == KindValue:
			title := g.retitled(t, *p, whole)
			p.head, p.Title, p.Unit = title.head, strings.TrimSpace(strings.TrimPrefix(title.Title, whole.Title)), whole.Unit
		case i > 0:
			p.Kind, p.Title, p.Unit = KindCondition, "", ""
		}
		p.head.x0, p.head.x1 = math.Min(p.head.x0, p.x1-2), math.Max(p.head.x1, p.x0+2)
	}
	return out
}

// runAcross says whether a phrase of some line runs across a place.
func runAcross(body []bodyLine, x float64) bool {
	for _, b := range body {
		for _, c := range chunksOf(b.words) {
			if c.r.x0 < x-1 && c.r.x1 > x+1 && !cutAt(c.words, x) {
				return true
			}
		}
	}
	return false
}

// cutAt says whether a place lies between two words.
func cutAt(words []cellWord, x float64) bool {
	for i := 1; i < len(words); i++ {
		if words[i-1].r.x1 <= x+1 && words[i].r.x0 >= x-1 {
			return true
		}
	}
	return false
}

// spanParts gives the words of a line to the parts of a column that it spans:
// values hold for all of them, other words stand in the first.
func (t *Table) spanParts(l *line) {
	for from := 0; from < len(t.Columns); {
		to := from + 1
		for to < len(t.Columns) && (t.Columns[to].part || t.bordered(to)) && !t.rules.cuts(t.Columns[to].x0, l.middle()) {
			to++
		}
		var all []cellWord
		for k := from; k < to && to > from+1; k++ {
			all, l.cells[k] = append(all, l.cells[k]...), nil
		}
		for k := from; k < to && len(all) > 0 && (k == from || t.Columns[k].Kind == KindValue); k++ {
			l.cells[k] = all
		}
		from = to
	}
}

// bordered says whether a tall line cuts two columns of values in some rows.
func (t *Table) bordered(k int) bool {
	return t.Columns[k].Kind == KindValue && t.Columns[k-1].Kind == KindValue && t.rules.lines(t.Columns[k].x0)
}

// hasBoth says whether the body has words between x0 and x and between x and x1.
func hasBoth(body []bodyLine, x0, x, x1 float64) bool {
	left, right := false, false
	for _, b := range body {
		left = left || len(inside(b.words, x0, x)) > 0
		right = right || len(inside(b.words, x, x1)) > 0
	}
	return left && right
}

// retitled gives a part of a column the title that stands over it.
func (g *grid) retitled(t *Table, c, whole Column) Column {
	var words []cellWord
	for i := t.headRow; i >= 0 && i >= t.headRow-3 && g.rows[i].y1 > t.top-14 && !t.rules.capped(g.rows[i].y1, t.top); i-- {
		words = append(inside(g.rows[i].words, c.x0, c.x1), words...)
	}
	for i := t.headRow + 1; i < len(g.rows) && t.rules.head > 0 && g.rows[i].y1 < t.rules.head+1; i++ {
		words = append(words, inside(g.rows[i].words, c.x0, c.x1)...)
	}
	c.head = rect{c.x0 + 1, whole.head.y0, c.x1 - 1, whole.head.y1}
	c.clear = true
	if len(words) == 0 {
		switch c.Title, c.Unit = "", ""; c.Kind {
		case KindSymbol:
			c.Kind = KindOther
		case KindMin, KindTyp, KindMax: // the title is that of the part it stands over
			c.Kind = KindCondition
		}
		return c
	}
	c.Title, c.Unit = joinWords(words), ""
	if k, m, ok := headKind(c.Title); ok {
		c.Kind, c.Unit = k, unitText(c.Title, m)
	} else if k, m, ok := headKind(words[len(words)-1].text); ok {
		c.Kind, c.Unit = k, unitText(c.Title, m)
	} else if !strings.Contains(whole.Title, c.Title) && !strings.Contains(c.Title, whole.Title) {
		c.Kind = KindOther
	}
	return c
}

// assembleRuled makes the rows of a table by its lines; false where they say
// nothing about its rows.
func (t *Table) assembleRuled(lines []line) bool {
	if !t.hasLimits() {
		return false
	}
	bands := make([][]float64, len(t.Columns))
	cut := false
	for k, c := range t.Columns {
		bands[k] = t.rules.bandsOf(c)
		cut = cut || c.Kind.isLimit() && bandAt(bands[k], lines[len(lines)-1].y1) > bandAt(bands[k], lines[0].y0)
	}
	if !cut {
		return false
	}
	b := ruledBody{t: t, lines: lines, bands: bands}
	b.blocks()
	return len(t.Rows) > 0
}

// ruledBody is the body of a table on its way into rows.
type ruledBody struct {
	t     *Table
	lines []line
	bands [][]float64
	group string
}

func (l line) middle() float64 { return (l.y0 + l.y1) / 2 }

// sameBlock says whether some column has no rule between two lines.
func (b *ruledBody) sameBlock(i, j int) bool {
	for k := range b.t.Columns {
		if bandAt(b.bands[k], b.lines[i].middle()) == bandAt(b.bands[k], b.lines[j].middle()) {
			return true
		}
	}
	return false
}

// blocks takes the body apart where lines run across it all.
func (b *ruledBody) blocks() {
	for i := 0; i < len(b.lines); {
		j := i + 1
		for j < len(b.lines) && b.sameBlock(j-1, j) {
			j++
		}
		b.block(i, j)
		i = j
	}
}

// block makes the rows of lines from..to-1.
func (b *ruledBody) block(from, to int) {
	t := b.t
	var plans []rowPlan
	for i := from; i < to; i++ {
		switch l := b.lines[i]; {
		case !l.limits:
		case len(plans) > 0 && b.carriesOn(plans[len(plans)-1].last(), i):
			plans[len(plans)-1].lines = append(plans[len(plans)-1].lines, i)
		default:
			plans = append(plans, rowPlan{lines: []int{i}})
		}
	}
	if len(plans) == 0 {
		var words []cellWord
		filled := 0
		for i := from; i < to; i++ {
			words = append(words, b.lines[i].words()...)
			filled = max(filled, t.filled(b.lines[i]))
		}
		switch {
		case filled == 1 && len(b.lines[from].cells[0]) > 0 || len(chunksOf(words)) <= to-from:
			b.group = joinWords(words)
			return
		case filled < 2:
			return
		}
		plans = append(plans, rowPlan{lines: []int{from}}) // words where others have numbers
	}
	first := len(t.Rows)
	for _, p := range plans {
		r := TableRow{Cells: make([]Cell, len(t.Columns)), Group: b.group}
		r.y0, r.y1 = b.lines[p.lines[0]].y0, b.lines[p.last()].y1
		r.f0, r.f1 = r.y0, r.y1
		for _, i := range p.lines {
			r.Lines = append(r.Lines, b.lines[i].row)
		}
		t.Rows = append(t.Rows, r)
	}
	for k := range t.Columns {
		b.column(k, from, to, first, plans)
	}
	for _, k := range []Kind{KindName, KindSymbol, KindUnit} {
		if col := t.column(k); col >= 0 {
			b.carryBands(col, k, first)
		}
	}
}

// carriesOn says whether line j of numbers carries on line i, with no rule
// between them in the columns of numbers.
func (b *ruledBody) carriesOn(i, j int) bool {
	one := b.lines[j].y0 < b.lines[i].y1-1 // taller words beside them put a line in two
	for k, c := range b.t.Columns {
		if bandAt(b.bands[k], b.lines[i].middle()) == bandAt(b.bands[k], b.lines[j].middle()) {
			one = one && (len(b.lines[i].cells[k]) == 0 || len(b.lines[j].cells[k]) == 0 || !c.Kind.isLimit())
			continue
		}
		if one = false; c.Kind.isLimit() {
			return false
		}
	}
	return one || b.t.continues(b.lines[i], b.lines[j])
}

// column gives the words of one column to the rows of a block, band by band.
func (b *ruledBody) column(k, from, to, first int, plans []rowPlan) {
	for i := from; i < to; {
		band := bandAt(b.bands[k], b.lines[i].middle())
		j := i + 1
		for j < to && bandAt(b.bands[k], b.lines[j].middle()) == band {
			j++
		}
		var in []int // rows of the band
		for n, p := range plans {
			if p.lines[0] >= i && p.lines[0] < j {
				in = append(in, n)
			}
		}
		b.cell(k, i, j, first, in, plans)
		i = j
	}
}

// cell gives the words of one band of a column to its rows.
func (b *ruledBody) cell(k, from, to, first int, in []int, plans []rowPlan) {
	var all []cellWord
	for i := from; i < to; i++ {
		all = append(all, b.lines[i].cells[k]...)
	}
	if len(all) == 0 || len(in) == 0 {
		return
	}
	kind := b.t.Columns[k].Kind
	if len(in) == 1 {
		b.give(first+in[0], k, inLines(all), true)
		return
	}
	own := make([][]cellWord, len(in))
	missing := 0
	for n, r := range in {
		for _, i := range plans[r].lines {
			own[n] = append(own[n], b.lines[i].cells[k]...)
		}
		if len(own[n]) == 0 {
			missing++
		}
	}
	if missing == 0 && kind == KindName && b.oneName(own, in, plans) || missing > 0 && !kind.isLimit() &&
		(b.spans(all, kind, plans[in[0]], plans[in[len(in)-1]]) || kind == KindName && missing >= len(in)-1 && paragraph(all)) {
		all = inLines(all)
		for _, r := range in {
			b.give(first+r, k, all, r == in[0])
		}
		return
	}
	var head []cellWord // above the first row: it opens the block
	lead := make([][]cellWord, len(in))
	opensEach := kind == KindCondition && b.opensEach(k, from, to, in, plans)
	for i, n := from, 0; i < to; i++ {
		for n+1 < len(in) && plans[in[n+1]].lines[0] <= i {
			n++
		}
		switch words := b.lines[i].cells[k]; {
		case len(words) == 0 || b.lines[i].limits:
		case opensEach:
			next := n + boolIndex(i > plans[in[n]].lines[0])
			lead[next] = append(lead[next], words...)
		case i < plans[in[0]].lines[0]:
			head = append(head, words...)
		default:
			own[n] = append(own[n], words...)
		}
	}
	for n, r := range in {
		words := append(lead[n], own[n]...)
		if len(head) > 0 && (len(words) > 0 || n == 0) && !kind.isLimit() && kind != KindUnit && kind != KindName {
			words = append(append([]cellWord(nil), head...), words...)
		}
		if len(words) > 0 {
			b.give(first+r, k, words, true)
		}
	}
}

// opensEach says whether each row of a band begins above its numbers: words
// stand above the first of them, between them, and not below the last.
func (b *ruledBody) opensEach(k, from, to int, in []int, plans []rowPlan) bool {
	above := make([]bool, len(in)+1)
	for i, n := from, 0; i < to; i++ {
		for n < len(in) && plans[in[n]].lines[0] <= i {
			n++
		}
		above[n] = above[n] || !b.lines[i].limits && len(b.lines[i].cells[k]) > 0
	}
	return !above[len(in)] && !slices.Contains(above[:len(in)], false)
}

// oneName says whether names beside several rows of one band are the lines of
// one name: the band has one symbol, or they go on in small letters or a bracket.
func (b *ruledBody) oneName(own [][]cellWord, in []int, plans []rowPlan) bool {
	goOn := true
	for _, words := range own[1:] {
		goOn = goOn && (lowerCase(words) || isBracketed(words[0].text))
	}
	if goOn {
		return true
	}
	k := b.t.column(KindSymbol)
	if k < 0 {
		return false
	}
	first, last := b.lines[plans[in[0]].lines[0]].middle(), b.lines[plans[in[len(in)-1]].last()].middle()
	symbols := 0
	for _, l := range b.lines {
		if at := l.middle(); at >= first && at <= last && len(l.cells[k]) > 0 {
			symbols++
		}
	}
	return bandAt(b.bands[k], first) == bandAt(b.bands[k], last) && symbols == 1
}

// spans says whether the words of a cell are one text for all the rows from
// first to last: set in their middle, or names and units at their top.
func (b *ruledBody) spans(words []cellWord, kind Kind, first, last rowPlan) bool {
	if !paragraph(words) {
		return false
	}
	y0, y1 := span1(words)
	r0, r1 := b.lines[first.lines[0]], b.lines[last.last()]
	em := emOf(sizeOf(words))
	return math.Abs(y0+y1-r0.y0-r1.y1)/2 < 0.6*em || math.Abs(y0-r0.y0) < 0.6*em && (kind != KindCondition || y1-y0 < 1.6*em)
}

// give sets a cell of a row.
func (b *ruledBody) give(r, k int, words []cellWord, own bool) {
	row := &b.t.Rows[r]
	c := &row.Cells[k]
	c.words, c.Given = words, own
	c.Text = cellText(b.t.Columns[k].Kind, words)
	y0, y1 := span1(words)
	if own {
		row.f0, row.f1 = math.Min(row.f0, y0), math.Max(row.f1, y1)
	}
	kind := b.t.Columns[k].Kind
	if c.Unread = unreadable(kind, c.Text) || kind.isLimit() && apart(words); c.Unread {
		c.Text = ""
	}
}

// carryBands carries cells over to rows of the same band where gaps say that
// they span them.
func (b *ruledBody) carryBands(col int, k Kind, first int) {
	rows := b.t.Rows
	at := func(i int) int { return bandAt(b.bands[col], (rows[i].y0+rows[i].y1)/2) }
	for i := first; i < len(rows); {
		j := i + 1
		for j < len(rows) && at(j) == at(i) {
			j++
		}
		b.t.carryRange(col, k, i, j)
		i = j
	}
}

// inLines sorts the words of one cell by the lines that they make by themselves:
// lowered type and taller cells beside it may have put them in other rows.
func inLines(words []cellWord) []cellWord {
	var out []cellWord
	for _, r := range formRows(slices.Clone(words), 0, 0) {
		out = append(out, r.words...)
	}
	return out
}

// paragraph says whether words are lines of one text, close below each other.
func paragraph(words []cellWord) bool {
	for i := 1; i < len(words); i++ {
		a, b := words[i-1], words[i]
		if b.r.y0 > a.r.y1 && b.r.y0-a.r.y1 > 0.5*emOf(math.Min(a.size, b.size)) {
			return false
		}
	}
	return true
}

// untold says whether the lines of a table and its white gaps put other numbers
// or units into a row: then nothing here tells which is right. A unit that one
// of them leaves out is no other reading. Names that span rows are left to the
// lines: what gaps make of them is a guess.
func (t *Table) untold(r *TableRow) bool {
	if t.other == nil {
		return false
	}
	for i := range t.other.Rows {
		o := &t.other.Rows[i]
		if o.Lines[0] != r.Lines[0] {
			continue
		}
		for _, k := range []Kind{KindUnit, KindMin, KindTyp, KindMax, KindValue} {
			a, b := t.Cell(r, k), t.other.Cell(o, k)
			if a != b && (a != "" && b != "" || k.isLimit()) {
				return true
			}
		}
	}
	return false
}
