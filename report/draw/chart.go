package draw

import "math"

// Row is one line of a bar chart: an SI value and the texts beside it.
type Row struct {
	Label string
	Value *float64 // nil draws no bar
	Text  string
}

// RowChart draws rows as horizontal bars on one scale from zero, the label
// left, the number right. A value of nil keeps its row and has no bar.
func RowChart(rows []Row, metrics Metrics, width, size float64) Picture {
	line := size * 1.7
	q := Picture{W: width, H: line * float64(len(rows)), Base: line}
	label, number, top := 0.0, 0.0, 0.0
	for _, r := range rows {
		label = math.Max(label, metrics.Width(Regular, size, r.Label))
		number = math.Max(number, metrics.Width(Regular, size, r.Text))
		if r.Value != nil && !math.IsInf(*r.Value, 0) {
			top = math.Max(top, *r.Value)
		}
	}
	label = math.Min(label, width*0.4)
	room := math.Max(size, width-label-number-size*1.6)
	left := label + size*0.8
	for i, r := range rows {
		y := line*float64(i) + line/2
		base := y + size*0.35
		q.Ops = append(q.Ops, Op{Kind: OpText, Y: base, Size: size, Font: Regular, Text: Fit(r.Label, metrics, size, label)})
		w := 0.0
		if r.Value != nil && top > 0 && *r.Value > 0 {
			w = math.Max(size*0.08, room*math.Min(1, *r.Value/top))
			q.Ops = append(q.Ops, Op{Kind: OpRect, Role: Span, X: left, Y: y - size*0.36, W: w, H: size * 0.72})
		}
		q.Ops = append(q.Ops, Op{Kind: OpText, X: left + w + size*0.5, Y: base, Size: size, Font: Regular, Text: r.Text})
	}
	q.Ops = append(q.Ops, Op{Kind: OpLine, Role: Ink, X: left, X2: left, Y: 0, Y2: q.H, Stroke: size * 0.06})
	return q
}

// Fit cuts s so that it is at most width wide, with an ellipsis where cut.
func Fit(s string, metrics Metrics, size, width float64) string {
	if metrics.Width(Regular, size, s) <= width*1.001 {
		return s
	}
	rs := []rune(s)
	lo, hi := 0, len(rs)
	for lo < hi {
		mid := (lo + hi + 1) / 2
		if metrics.Width(Regular, size, string(rs[:mid])+"…") <= width {
			lo = mid
		} else {
			hi = mid - 1
		}
	}
	return string(rs[:lo]) + "…"
}
