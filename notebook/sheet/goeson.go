package sheet

import "math"

// A table may go on on the next page without its titles: the tall lines there
// stand where those of its columns stood.

// topShare and bottomShare are how near to the ends of its page a table must
// come to go on, as shares of the height.
const topShare, bottomShare = 0.35, 0.7

// goesOn reads the top of a page as the rest of a table of the page before; nil
// if it is none.
func (v *view) goesOn(prev *Table, height float64) *Table {
	g := v.grid()
	if prev == nil || !prev.rules.boxed || prev.bottom < bottomShare*height {
		return nil
	}
	top := math.Inf(1)
	matched := 0
	for _, c := range prev.Columns[1:] {
		for _, r := range g.tall {
			if math.Abs((r.x0+r.x1)/2-c.x0) < 3 && r.y0 < topShare*height {
				top = math.Min(top, r.y0)
				matched++
				break
			}
		}
	}
	if matched < 2 || 10*matched < 7*(len(prev.Columns)-1) {
		return nil
	}
	t := &Table{Page: g.page.Number, Title: prev.Title, Columns: append([]Column(nil), prev.Columns...), left: prev.left, right: prev.right,
		top: top, headRow: -1, valuesAre: prev.valuesAre, version: prev.version, of: prev.of}
	for i, r := range g.rows {
		if mid := (r.y0 + r.y1) / 2; mid < top {
			t.headRow = i
		} else if len(g.headersAt(i)) > 0 {
			return nil
		} else {
			break
		}
	}
	if t.headRow < 0 || inTable(v.tables(), g.rows[min(t.headRow+1, len(g.rows)-1)]) {
		return nil
	}
	t.rules = g.frame(t)
	body := g.body(t)
	if len(body) == 0 || !t.rules.boxed || !t.rowsOf(body) {
		return nil
	}
	return t
}
