package sheet

import (
	"math"
	"strings"
)

// Several parts, grades or temperatures side by side: "Parameter | Min Typ Max |
// Min Typ Max | Unit" is a table for each, with the names on the left and the
// units on the right shared by all.

// beside makes of headers side by side that share names and units a table for
// each; others are left as they are.
func (g *grid) beside(ts []*Table, head int) []*Table {
	if len(ts) < 2 {
		return ts
	}
	for _, t := range ts {
		g.extendHeader(t, head)
	}
	var cols []Column
	from := make([]int, len(ts)+1)
	for i, t := range ts {
		named := t.column(KindName) >= 0 || t.column(KindSymbol) >= 0
		shared := t.column(KindUnit) >= 0 || i > 0 && t.column(KindCondition) >= 0
		if !t.hasLimits() || named != (i == 0) || i+1 < len(ts) && shared {
			return ts
		}
		cols, from[i+1] = append(cols, t.Columns...), len(cols)+len(t.Columns)
	}
	last := ts[len(ts)-1]
	out := make([]*Table, len(ts))
	for n := range ts {
		t := *ts[0]
		t.right, t.headRow, t.version = last.right, last.headRow, n+1
		t.Columns = append([]Column(nil), cols...)
		x0, x1 := math.Inf(1), 0.0
		for k := range t.Columns {
			switch c := &t.Columns[k]; {
			case !c.Kind.isLimit():
			case k < from[n] || k >= from[n+1]:
				c.Kind = KindOther
			default:
				x0, x1 = math.Min(x0, c.head.x0), math.Max(x1, c.head.x1)
			}
		}
		t.of = g.over(head, x0, x1, len(ts))
		out[n] = &t
	}
	return out
}

// titlesVersions says whether a row only titles what the row below it heads:
// columns of numbers side by side.
func (g *grid) titlesVersions(i int) bool {
	if i+1 >= len(g.rows) {
		return false
	}
	for _, t := range g.headersAt(i) {
		if t.hasLimits() {
			return false
		}
	}
	below := g.headersAt(i + 1)
	for _, t := range below {
		if !t.hasLimits() {
			return false
		}
	}
	return len(below) > 1 && g.rows[i+1].y0-g.rows[i].y1 < 2*emOf(g.rows[i].y1-g.rows[i].y0)
}

// over gives the words that stand over the titles from x0 to x1 and over no
// other column of numbers.
func (g *grid) over(head int, x0, x1 float64, n int) string {
	for i := head - 1; i >= 0 && i >= head-2; i-- {
		if g.rows[head].y0-g.rows[i].y1 > 2.5*emOf(g.rows[head].y1-g.rows[head].y0) {
			break
		}
		for _, c := range chunksOf(g.rows[i].words) {
			mid := (c.r.x0 + c.r.x1) / 2
			if _, _, known := headKind(c.text()); !known && mid > x0-4 && mid < x1+4 && c.r.x1-c.r.x0 < 1.8*(x1-x0) {
				return c.text()
			}
		}
	}
	return ""
}

// symbolUnit matches a title such as "VDD V", "VCC (V)", "Tamb [°C]".
var symbolUnit = pattern(`^([A-Za-z][A-Za-z_]{0,8}) ?[(\[]?([^()\[\] /][^()\[\] ]*)[)\]]?$`)

// conditionColumns takes columns titled with a symbol and its unit for conditions.
func (t *Table) conditionColumns() {
	for k := range t.Columns {
		c := &t.Columns[k]
		m := symbolUnit().FindStringSubmatch(foldString(c.Title))
		if _, _, known := headKind(c.Title); m == nil || known || c.Kind != KindOther || !t.hasLimits() {
			continue
		}
		if _, ok := unitWord(m[2]); ok && strings.ToUpper(m[1][:1]) == m[1][:1] {
			c.Kind, c.Title, c.Unit = KindCondition, m[1]+" ("+m[2]+")", m[2]
		}
	}
}
