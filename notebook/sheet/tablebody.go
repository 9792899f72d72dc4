package sheet

import (
	"math"
	"sort"
	"strings"
)

// bodyLine is a row of the page below a header, between the table's sides.
type bodyLine struct {
	row    int
	y0, y1 float64
	words  []cellWord
}

// maxTableGap is the widest gap between lines of one table, in type sizes.
const maxTableGap = 3.4

// maxTableLines bounds a table of one page.
const maxTableLines = 400

// body collects the lines of a table below its header up to what cannot belong
// to it any more.
func (g *grid) body(t *Table) []bodyLine {
	var out []bodyLine
	bottom := g.rows[t.headRow].y1
	for i := t.headRow + 1; i < len(g.rows) && len(out) < maxTableLines; i++ {
		words := inside(g.rows[i].words, t.left, t.right)
		if len(words) == 0 {
			continue
		}
		l := bodyLine{row: i, words: g.withMarks(words, t)}
		l.y0, l.y1 = span1(words)
		switch mid := (l.y0 + l.y1) / 2; {
		case mid < t.rules.head: // a second line of titles
			bottom = math.Max(bottom, l.y1)
			continue
		case t.rules.boxed && mid > t.rules.bottom:
			return out
		case t.rules.boxed:
			if g.repeatsHeader(t, l) {
				return out
			}
			out = append(out, l)
			bottom = math.Max(bottom, l.y1)
			continue
		}
		if l.y0-bottom > maxTableGap*emOf(sizeOf(words)) || g.ends(t, l, l.y0-bottom) {
			break
		}
		out = append(out, l)
		bottom = math.Max(bottom, l.y1)
	}
	return out
}

// withMarks puts into a line what is drawn in its height: characters without a name.
func (g *grid) withMarks(words []cellWord, t *Table) []cellWord {
	var out []cellWord
	size := sizeOf(words)
	for _, m := range g.marks {
		if m.x0 < t.left || m.x1 > t.right || m.y1-m.y0 < 0.25*size || !t.near(words, m) {
			continue
		}
		for i, w := range words {
			if mid := (m.y0 + m.y1) / 2; mid < w.r.y0-0.2*w.size || mid > w.r.y1+0.2*w.size || w.r.y1-w.r.y0 < flatType {
				continue
			}
			if out == nil {
				out = append(out, words...)
			}
			out = append(out, cellWord{text: string(unnamedGlyph), r: m, size: size, at: words[i].at})
			break
		}
	}
	if out == nil {
		return words
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].r.x0 < out[j].r.x0 })
	return out
}

// near says whether a mark stands beside a word or under a title.
func (t *Table) near(words []cellWord, m rect) bool {
	for _, c := range t.Columns {
		if m.x0 < c.head.x1+4 && m.x1 > c.head.x0-4 {
			return true
		}
	}
	for _, w := range words {
		if m.x0 < w.r.x1+0.8*w.size && m.x1 > w.r.x0-0.8*w.size {
			return true
		}
	}
	return false
}

func span1(words []cellWord) (y0, y1 float64) {
	y0, y1 = words[0].r.y0, words[0].r.y1
	for _, w := range words[1:] {
		y0, y1 = math.Min(y0, w.r.y0), math.Max(y1, w.r.y1)
	}
	return y0, y1
}

// sizeOf is the size of most of the type.
func sizeOf(words []cellWord) float64 {
	sizes := make([]float64, 0, len(words))
	for _, w := range words {
		sizes = append(sizes, w.size)
	}
	sort.Float64s(sizes)
	return sizes[len(sizes)/2]
}

// clearest finds between x0 and x1 the place that the fewest phrases cross, and
// among those the widest; at is its middle.
func clearest(lines []bodyLine, x0, x1 float64, more ...edge) (at, width float64, crossings int) {
	var edges []edge
	for _, e := range more {
		edges = append(edges, edge{math.Min(math.Max(e.x, x0), x1), e.delta})
	}
	for _, l := range lines {
		for _, c := range chunksOf(l.words) {
			if c.r.x1 > x0 && c.r.x0 < x1 {
				edges = append(edges, edge{math.Max(c.r.x0, x0), 1}, edge{math.Min(c.r.x1, x1), -1})
			}
		}
	}
	return stripe(edges, x0, x1)
}

type edge struct {
	x     float64
	delta int
}

// stripe sweeps over edges.
func stripe(edges []edge, x0, x1 float64) (at, width float64, crossings int) {
	sort.SliceStable(edges, func(i, j int) bool {
		if edges[i].x != edges[j].x {
			return edges[i].x < edges[j].x
		}
		return edges[i].delta < edges[j].delta
	})
	at, width, crossings = (x0+x1)/2, 0, math.MaxInt
	depth, from := 0, x0
	consider := func(to float64) {
		if w := to - from; w > 0.01 && (depth < crossings || depth == crossings && w > width) {
			at, width, crossings = (from+to)/2, w, depth
		}
	}
	for _, e := range edges {
		if e.x > from {
			consider(e.x)
			from = e.x
		}
		depth += e.delta
	}
	consider(x1)
	return at, width, crossings
}

// setColumns lays the borders between columns where the fewest phrases cross,
// those of the header counted in.
func (t *Table) setColumns(body []bodyLine) {
	left := t.left
	titles := make([]edge, 0, 2*len(t.Columns))
	for _, c := range t.Columns {
		titles = append(titles, edge{c.head.x0, 1}, edge{c.head.x1, -1})
	}
	for i := range t.Columns {
		t.Columns[i].x0 = left
		if i+1 == len(t.Columns) {
			t.Columns[i].x1 = t.right
			break
		}
		a, b := t.Columns[i].head, t.Columns[i+1].head
		x0, x1 := a.x0+0.3*(a.x1-a.x0), b.x1-0.3*(b.x1-b.x0)
		at, _, crossings := clearest(body, math.Min(x0, x1), math.Max(x0, x1), titles...)
		t.Columns[i+1].clear = 5*crossings <= len(body)
		if x, ok := t.rules.between(a, b, body); ok {
			at, t.Columns[i+1].clear = x, true
		}
		left = at
		t.Columns[i].x1 = at
	}
}

// cut puts the words of the body into cells.
func (t *Table) cut(body []bodyLine) []line {
	lines := make([]line, len(body))
	for i, b := range body {
		l := line{row: b.row, y0: b.y0, y1: b.y1, cells: make([][]cellWord, len(t.Columns))}
		for _, c := range chunksOf(b.words) {
			if t.put(&l, c) {
				l.span = true
			}
		}
		t.spanParts(&l)
		for k, c := range t.Columns {
			l.limits = l.limits || c.Kind.isLimit() && hasValue(joinWords(l.cells[k]))
		}
		l.limits = l.limits || t.saysInWords(l)
		lines[i] = l
	}
	return lines
}

// saysInWords says whether a line names something and has words where others
// have numbers: "Output coding | straight binary".
func (t *Table) saysInWords(l line) bool {
	name := t.column(KindName)
	if name < 0 || len(l.cells[name]) == 0 || lowerCase(l.cells[name]) {
		return false
	}
	for k, c := range t.Columns {
		if c.Kind.isLimit() && lettersIn(l.cells[k]) {
			return true
		}
	}
	return false
}

// put assigns a phrase: to one column if most of it lies there, else word by
// word. It says whether the phrase ran across a border.
func (t *Table) put(l *line, c chunk) bool {
	home, share := 0, -1.0
	for k, col := range t.Columns {
		if s := math.Min(c.r.x1, col.x1) - math.Max(c.r.x0, col.x0); s > share {
			home, share = k, s
		}
	}
	if share >= 0.85*(c.r.x1-c.r.x0) && !t.parts(c, home) {
		l.cells[home] = append(l.cells[home], c.words...)
		return false
	}
	for _, w := range c.words {
		mid := (w.r.x0 + w.r.x1) / 2
		for k, col := range t.Columns {
			if mid >= col.x0 && mid < col.x1 || k+1 == len(t.Columns) {
				l.cells[k] = append(l.cells[k], w)
				break
			}
		}
	}
	return true
}

// parts says whether a clear border of the home column runs between two words
// of a phrase: then they are cells that stand close together.
func (t *Table) parts(c chunk, home int) bool {
	for i, w := range c.words[1:] {
		prev := c.words[i]
		if col := t.Columns[home]; col.clear && prev.r.x1 <= col.x0 && w.r.x0 >= col.x0 {
			return true
		}
		if home+1 < len(t.Columns) && t.Columns[home+1].clear && prev.r.x1 <= t.Columns[home].x1 && w.r.x0 >= t.Columns[home].x1 {
			return true
		}
	}
	return false
}

// hasValue says whether a cell of numbers is filled; a dash fills it too, since
// sheets put one where they state nothing.
func hasValue(s string) bool {
	return hasDigit(s) || isBlankMark(s) || strings.EqualFold(s, "n/a") || s != "" && len(s) <= 12 &&
		strings.ContainsAny(s, "VI") && strings.ToUpper(s[:1]) == s[:1]
}

// isBlankMark says whether a cell holds only the mark for nothing stated.
func isBlankMark(s string) bool {
	return s != "" && strings.Trim(foldString(s), "-. ") == ""
}

// titleAbove finds the caption over a header.
func (g *grid) titleAbove(t *Table, head int) string {
	for i := head - 1; i >= 0 && i >= head-3; i-- {
		words := inside(g.rows[i].words, t.left, t.right)
		if len(words) == 0 {
			continue
		}
		if g.rows[head].y0-g.rows[i].y1 > 3*emOf(sizeOf(words)) {
			return ""
		}
		text := joinWords(words)
		if chunks := chunksOf(words); len(chunks) > 1 && strings.Count(text, " ") < 12 { // of headings side by side that over the table
			x := inside(g.rows[head].words, t.left, t.right)[0].r.x0
			for _, c := range chunks {
				if _, _, ok := sectionHeading(c.text()); ok && c.r.x0 < x+60 && c.r.x1 > x {
					return c.text()
				}
			}
		}
		if _, _, ok := sectionHeading(text); ok || strings.HasPrefix(text, "Table ") {
			return text
		}
	}
	return ""
}
