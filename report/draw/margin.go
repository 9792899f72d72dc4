package draw

import (
	"guardband/eval/record"
)

// Bar is what a margin plot shows: one side's range against its limits, to scale.
// All numbers are SI values in one unit; the labels are the Record's texts.
type Bar struct {
	Low, High           *Bound   // limits; nil where there is none
	Min, Max, Nominal   *float64 // of the value; nil where unknown
	ValueLabel          string   // its range as shown
	AskedLow, AskedHigh float64
}

// Bound is a limit; From and To differ where the limit itself has a range.
type Bound struct {
	From, To float64
	Label    string
}

// Bars merges the tests of a criterion into plots: two tests of one value, one
// from below and one from above, make one bar. Tests without a number to draw
// (an unknown limit, no comparison of size) make none.
func Bars(tests []record.Test) []Bar {
	var out []Bar
	index := map[string]int{}
	for _, t := range tests {
		b, ok := barOf(t)
		if !ok {
			continue
		}
		value := t.Left
		if !t.LimitRight {
			value = t.Right
		}
		key := value.Text + "\x00" + value.Shown
		if i, seen := index[key]; seen && merge(&out[i], b) {
			continue
		}
		index[key] = len(out)
		out = append(out, b)
	}
	return out
}

func barOf(t record.Test) (Bar, bool) {
	value, limit := t.Left, t.Right
	if !t.LimitRight {
		value, limit = t.Right, t.Left
	}
	if value.Min == nil && value.Max == nil && value.Nominal == nil || limit.Min == nil || limit.Max == nil {
		return Bar{}, false
	}
	b := Bar{Min: value.Min, Max: value.Max, Nominal: value.Nominal, ValueLabel: value.Shown}
	bound := &Bound{From: *limit.Min, To: *limit.Max, Label: limit.Shown}
	asked := 0.0
	if t.Margin != nil && t.Margin.RequiredAbsolute != nil {
		asked = *t.Margin.RequiredAbsolute
	}
	below := t.Op == "<" || t.Op == "<=" || t.Op == "≤"
	above := t.Op == ">" || t.Op == ">=" || t.Op == "≥"
	if !below && !above {
		return Bar{}, false
	}
	if below == t.LimitRight { // value below its limit
		b.High, b.AskedHigh = bound, asked
	} else {
		b.Low, b.AskedLow = bound, asked
	}
	return b, true
}

// merge joins a bar with the other limit of the same value.
func merge(a *Bar, b Bar) bool {
	switch {
	case a.High == nil && b.High != nil:
		a.High, a.AskedHigh = b.High, b.AskedHigh
	case a.Low == nil && b.Low != nil:
		a.Low, a.AskedLow = b.Low, b.AskedLow
	default:
		return false
	}
	return true
}
