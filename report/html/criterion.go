package html

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"guardband/eval"
	"guardband/report/draw"
	"guardband/report/internal/words"
)

// Size of a margin plot in CSS pixels. It fits a phone's width.
const (
	plotWidth = 336
	plotText  = 11
)

func (p *page) criterion(c *eval.Claim, k *eval.Criterion) {
	p.raw(markup(`<div class="criterion">`))
	if len(c.Criteria) > 1 || k.State != "" {
		p.raw(markup(`<p class="meta"><span class="v v-`), k.Verdict, markup(`">`), k.Verdict, markup(`</span> `))
		if k.State != "" {
			p.raw("in ", k.State, " ")
		}
		p.place(k.Position)
		p.raw(markup(`</p>`))
	}
	switch {
	case k.Math != nil:
		p.formula(k.Math, "f")
	case k.Text != "":
		p.raw(markup(`<p class="typed">`), k.Text, markup(`</p>`))
	}
	p.formula(k.Numbers, "f put")
	p.margins(k)
	p.corner(k)
	p.sensitivity(k)
	p.statistics(k.Statistics)
	p.openPoints(k.Open)
	p.raw(markup(`</div>`))
}

// margins draws the comparisons of a criterion and says the same in words.
func (p *page) margins(k *eval.Criterion) {
	for _, b := range draw.Bars(k.Tests) {
		p.raw(markup(`<div class="plot">`), markup(draw.SVG(draw.MarginBar(b, draw.Plain{}, plotWidth, plotText), "")), markup(`</div>`))
	}
	if len(k.Tests) == 0 {
		return
	}
	margin, asked := false, false
	for i := range k.Tests {
		if m := k.Tests[i].Margin; m != nil {
			margin, asked = margin || m.Text != "", asked || m.Required != ""
		}
	}
	p.raw(markup(`<table class="tests"><thead><tr><th scope="col">Value</th><th scope="col">Reaches</th><th scope="col">Limit</th>`))
	if margin {
		p.raw(markup(`<th scope="col">Margin</th>`))
	}
	if asked {
		p.raw(markup(`<th scope="col">Asked</th>`))
	}
	p.raw(markup(`</tr></thead><tbody>`))
	for i := range k.Tests {
		p.test(&k.Tests[i], margin, asked)
	}
	p.raw(markup(`</tbody></table>`))
}

func (p *page) test(t *eval.Test, margin, asked bool) {
	value, limit, op := words.Sides(t)
	p.raw(markup(`<tr><td>`))
	p.name(value.Text)
	p.raw(markup(`</td><td class="num">`), words.Reach(value), markup(`</td><td class="num">`), draw.Sign(op), " ", limit.Shown, markup(`</td>`))
	m := t.Margin
	if m == nil {
		m = &eval.Margin{}
	}
	if margin {
		p.raw(markup(`<td class="num">`), m.Text, markup(`</td>`))
	}
	if asked {
		p.raw(markup(`<td class="num">`), m.Required, markup(`</td>`))
	}
	p.raw(markup(`</tr>`))
}

// corner is the breaking corner, or the worst one of a pass.
func (p *page) corner(k *eval.Criterion) {
	if len(k.Corner) == 0 && k.CornerText == "" {
		return
	}
	label := words.CornerName(k)
	label = strings.ToUpper(label[:1]) + label[1:]
	p.raw(markup(`<p class="corner"><span class="lab">`), label, markup(`</span> `))
	for i, v := range k.Corner {
		if i > 0 {
			p.raw(", ")
		}
		p.raw(markup(`<span class="nb">`))
		p.basis(v.Name)
		p.raw(" = ", v.Text)
		if v.End != "" {
			p.raw(" (", v.End, ")")
		}
		p.raw(markup(`</span>`))
	}
	if k.CornerText != "" {
		if len(k.Corner) > 0 {
			p.raw(": ")
		}
		p.raw(markup(`<strong>`), k.CornerText, markup(`</strong>`))
	}
	p.raw(markup(`</p>`))
}

// sensitivity lists the inputs by how much of the margin each uses.
func (p *page) sensitivity(k *eval.Criterion) {
	if len(k.Contributions) == 0 {
		return
	}
	p.raw(markup(`<table class="share"><caption>What uses the margin</caption><thead><tr><th scope="col">Input</th><th scope="col" class="r">Share</th><th scope="col"><span class="vh">Share drawn</span></th><th scope="col">Verdict turns</th></tr></thead><tbody>`))
	for _, c := range k.Contributions {
		share := c.Share
		if math.IsNaN(share) || share < 0 {
			share = 0
		}
		p.raw(markup(`<tr><td>`))
		p.basis(c.Name)
		p.raw(markup(`</td><td class="num r">`), percent(c.Share), markup(`</td><td><span class="meter" aria-hidden="true"><span style="width:`),
			markup(strconv.FormatFloat(min(share, 1)*100, 'f', 1, 64)), markup(`%"></span></span></td><td class="num">`), c.Text, markup(`</td></tr>`))
	}
	p.raw(markup(`</tbody></table>`))
}

func percent(share float64) string {
	return fmt.Sprintf("%.0f\u00a0%%", share*100)
}

func (p *page) statistics(s *eval.Statistics) {
	if s == nil {
		return
	}
	p.raw(markup(`<p><span class="lab">Statistics</span> `), s.Text)
	if s.Samples > 0 {
		p.raw(" (", s.Held, " of ", s.Samples, " samples held)")
	}
	p.raw(markup(`</p>`))
}
