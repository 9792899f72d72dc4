package pdf

import (
	"fmt"

	"guardband/eval"
	"guardband/report/draw"
)

// criterion sets one criterion: the formula, the numbers put in, what each
// side comes to, the margin to scale, the corner and what uses up the margin.
func (d *document) criterion(k *eval.Criterion, many bool, n int) {
	d.space(4)
	if many || k.State != "" {
		st := small()
		head := []span{}
		if many {
			head = append(head, d.sp(st.in(soft), fmt.Sprintf("criterion %d ", n)), d.verdict(k.Verdict, st.size))
		}
		if k.State != "" {
			head = append(head, d.sp(st.in(soft), " in state "+k.State))
		}
		d.keepPara(head...)
	}
	d.formulas(k)
	d.criterionNotes(k)
}

// formulas sets formula and numbers left and the plots right where both have
// room, else below each other.
func (d *document) formulas(k *eval.Criterion) {
	gapX := 16.0
	plotW := d.w*0.42 - gapX
	leftW := d.w - plotW - gapX
	bars := draw.Bars(k.Tests)
	top, okTop := d.formula(k.Math, 9.6, leftW)
	num, okNum := d.formula(k.Numbers, 8.2, leftW)
	beside := len(bars) > 0 && okTop && (okNum || k.Numbers == nil)
	if !beside {
		top, okTop = d.formula(k.Math, 9.6, d.w)
		num, okNum = d.formula(k.Numbers, 8.2, d.w)
		plotW = min(d.w, 300)
	}
	var plots []draw.Picture
	plotsH := 0.0
	for _, b := range bars {
		q := draw.MarginBar(b, metrics{d.g}, plotW, 6.6)
		if q.H > 0 {
			plots = append(plots, q)
			plotsH += q.H + 4
		}
	}
	textH := 0.0
	if okTop {
		textH += top.H + 5
	}
	if okNum {
		textH += num.H + 4
	}
	if !okTop {
		d.para(d.code(body(), k.Text))
	}
	if beside {
		d.besideEachOther(top, num, okNum, plots, max(textH, plotsH), leftW+gapX)
		return
	}
	if okTop {
		d.put(top.H+5, func() { d.drawing(top, d.x, d.y+1, ink) })
	}
	if okNum {
		d.put(num.H+4, func() { d.drawing(num, d.x, d.y+1, soft) })
	}
	for _, q := range plots {
		d.put(q.H+4, func() { d.drawing(q, d.x, d.y+2, ink) })
	}
}

func (d *document) besideEachOther(top, num draw.Picture, okNum bool, plots []draw.Picture, h, plotX float64) {
	d.put(h, func() {
		d.drawing(top, d.x, d.y+2, ink)
		if okNum {
			d.drawing(num, d.x, d.y+2+top.H+4, soft)
		}
		y := d.y
		for _, q := range plots {
			d.drawing(q, d.x+plotX, y, ink)
			y += q.H + 4
		}
	})
}

// criterionNotes are the lines of text under the formula.
func (d *document) criterionNotes(k *eval.Criterion) {
	st := small()
	line := func(label string, spans []span) {
		if len(spans) > 0 {
			d.labelled(label, claimLabel, spans...)
		}
	}
	for i := range k.Tests {
		line(testLabel(k, i), d.testLine(&k.Tests[i], st))
	}
	corner := "worst corner"
	if k.Verdict == eval.Failed {
		corner = "corner"
	}
	line(corner, d.words(st, cornerText(k)))
	line("margin used", d.contributions(k.Contributions, st))
	if s := k.Statistics; s != nil {
		line("statistics", d.words(st, s.Text))
	}
	for _, o := range k.Open {
		line("open", d.openPoint(o, st))
	}
	if k.Boxes > 0 {
		line("proof", d.words(st.in(soft), count(k.Boxes, "box", "boxes")+" of the input ranges examined"))
	}
}

func testLabel(k *eval.Criterion, i int) string {
	if k.Failure != "" && k.Tests[i].Verdict == eval.Failed {
		return k.Failure
	}
	return string(k.Tests[i].Verdict)
}

// testLine is a comparison with what its sides come to and its margin.
func (d *document) testLine(t *eval.Test, st style) []span {
	out := []span{d.sp(st, compared(t))}
	if m := t.Margin; m != nil {
		out = append(out, d.sp(st, "; margin "), d.sp(st.with(bold), m.Text))
		if m.Required != "" {
			out = append(out, d.sp(st, ", asked "+m.Required))
		}
	}
	return out
}

// compared is a comparison in one line; its sign is not parted from the limit.
func compared(t *eval.Test) string {
	return sideText(t.Left) + " " + draw.Sign(t.Op) + "\u00a0" + sideText(t.Right)
}

func sideText(s eval.Span) string {
	if s.Shown == "" {
		return s.Text
	}
	return s.Shown
}

// contributions says how much of the margin each input uses up, and at which
// value of it the verdict turns.
func (d *document) contributions(cs []eval.Contribution, st style) []span {
	var groups [][]span
	for _, c := range cs {
		text := fmt.Sprintf(" %.0f %%", c.Share*100)
		if c.Text != "" {
			text += ", " + c.Text
		}
		groups = append(groups, []span{d.code(st, c.Name), d.sp(st, text)})
	}
	return d.join(st, "; ", groups...)
}
