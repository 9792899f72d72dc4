package sheet

import "strings"

// printed gives a device as the layout prints it: a list has no place for
// conditions, and a "name: value" line none for symbols and typical values.
func (l corpusLayout) printed(d corpusDevice) corpusDevice {
	if !l.Lists {
		return d
	}
	ratings, operating := []corpusRow(nil), []corpusRow(nil)
	for _, r := range d.AbsMax {
		r.Condition = ""
		ratings = append(ratings, r)
	}
	for _, r := range d.Operating {
		r.Condition, r.Symbol, r.Typ = "", "", ""
		operating = append(operating, r)
	}
	d.AbsMax, d.Operating = ratings, operating
	return d
}

// listed spells the limits of a row out.
func (w *corpusWriter) listed(r corpusRow) string {
	value := ""
	switch {
	case r.Min != "" && r.Max != "":
		value = r.Min + " " + r.Unit + " to " + r.Max
	case r.Min != "":
		value = "at least " + r.Min
	case w.l.Lists && r.Symbol == "":
		value = "up to " + r.Max
	default:
		value = r.Max
	}
	return strings.ReplaceAll(value+" "+r.Unit, "-", w.minus())
}

// dotted sets ratings as a list with leader dots.
func (w *corpusWriter) dotted(rows []corpusRow) {
	w.font(false, w.l.Size)
	for _, r := range rows {
		w.y += w.l.Size * 1.5
		name, value := r.Name+", "+r.Symbol+" ", " "+w.listed(r)
		at := w.x1 - w.width(value)
		w.text(w.x0, w.y, name)
		dots := int((at - w.x0 - w.width(name)) / w.width("."))
		w.text(at-float64(dots)*w.width("."), w.y, strings.Repeat(".", dots))
		w.text(at, w.y, value)
	}
	w.y += 14
}

// named sets operating conditions as lines of name and value.
func (w *corpusWriter) named(rows []corpusRow) {
	w.font(false, w.l.Size)
	for _, r := range rows {
		w.y += w.l.Size * 1.5
		w.text(w.x0, w.y, r.Name+": "+w.listed(r))
	}
	w.y += 14
}

// beside sets one table in two halves next to each other, whose rows do not
// stand level.
func (w *corpusWriter) beside(rows []corpusRow) {
	half, top, mid := (len(rows)+1)/2, w.y, (w.x0+w.x1)/2
	for half < len(rows) && rows[half].Name == rows[half-1].Name {
		half++
	}
	w.ratings(rows[:half], w.x0, mid-12)
	bottom := w.y
	w.y = top
	if w.l.Beside == "low" {
		w.y += 31
	}
	padding := w.l.Padding
	w.l.Padding += 1.3
	w.ratings(rows[half:], mid+12, w.x1)
	w.l.Padding, w.y = padding, max(bottom, w.y)
}
