package outline

import (
	"fmt"
	"math"
	"sort"

	"guardband/eval/record"
)

// fewStressed is the share of a rating below which parts are named together.
const fewStressed = 0.1

// stresses is the table of ratings, the highest stressed first: what a part sees,
// what it withstands with the derating asked, and their ratio.
func (b *builder) stresses() []Block {
	type stressed struct {
		c     *record.Claim
		t     *record.Test
		ratio float64
	}
	var all []stressed
	for i := range b.r.Claims {
		c := &b.r.Claims[i]
		if c.Derating == "" {
			continue
		}
		s := stressed{c: c, ratio: math.Inf(1)}
		for k := range c.Criteria {
			for j := range c.Criteria[k].Tests {
				t := &c.Criteria[k].Tests[j]
				if x := ratio(t); s.t == nil || x > s.ratio {
					s.t, s.ratio = t, x
				}
			}
		}
		all = append(all, s)
	}
	sort.SliceStable(all, func(i, j int) bool { return all[i].ratio > all[j].ratio })
	t := Table{Caption: "Ratings, the most used first", Columns: []Column{{Head: "Claim", Width: 112}, {Head: "Stress"}, {Head: "Limit, derated"},
		{Head: "Ratio", Right: true}, {Head: "Derating"}}}
	var low Text
	for _, s := range all {
		name := Text{{Text: s.c.ID, Style: Code, To: "claim:" + s.c.ID}}
		switch {
		case s.t != nil && math.IsInf(s.ratio, -1): // it has a lower limit alone
		case s.t == nil || math.IsInf(s.ratio, 1):
			t.Rows = append(t.Rows, Row{Cells: []Text{name, plain("not known"), nil, nil, plain(s.c.Derating)}})
		case s.ratio < fewStressed:
			low = join(", ", low, name)
		default:
			t.Rows = append(t.Rows, Row{Cells: []Text{name, plain(s.t.Left.Shown), plain(s.t.Right.Shown),
				plain(fmt.Sprintf("%.0f %%", math.Ceil(100*s.ratio))), plain(s.c.Derating)}})
		}
	}
	if low != nil {
		t.Rows = append(t.Rows, Row{Title: join(" ", plain(fmt.Sprintf("Below %.0f %%:", 100*fewStressed)), low)})
	}
	return tableOf(t)
}

// ratio is what a comparison uses of its limit, +Inf where a side is not known.
// What has a lower limit to keep away from uses none of a rating, nor does a
// temperature.
func ratio(t *record.Test) float64 {
	if t.Op != "<=" && t.Op != "<" || t.Left.Unit == "K" {
		return math.Inf(-1)
	}
	most := func(s record.Span, least bool) float64 {
		if s.Min == nil || s.Max == nil {
			return math.Inf(1)
		}
		if a, z := math.Abs(*s.Min), math.Abs(*s.Max); (a < z) == least {
			return a
		} else {
			return z
		}
	}
	stress, limit := most(t.Left, false), most(t.Right, true)
	if math.IsInf(stress, 0) || math.IsInf(limit, 0) || limit == 0 {
		return math.Inf(1)
	}
	return stress / limit
}
