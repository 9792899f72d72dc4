package draw

import (
	"guardband/eval/record"
)

// Gauge is a margin on a scale that all gauges of a table share.
type Gauge struct {
	Percent float64 // of the limit; below zero is a miss
	Asked   float64 // of the limit, 0 where nothing was asked
}

// NewGauge is nil where the margin has no percentage of a limit.
func NewGauge(m *record.Margin) *Gauge {
	if m.Percent == nil || m.Base != "limit" {
		return nil
	}
	g := &Gauge{Percent: *m.Percent}
	if m.RequiredAbsolute != nil && m.Absolute != nil && *m.Absolute != 0 {
		g.Asked = *m.RequiredAbsolute / *m.Absolute * *m.Percent
	}
	return g
}

// gaugeLeft is the part of the width left of zero, for misses.
const gaugeLeft = 0.2

// Picture draws the gauge: a line at zero, a bar to the right for what is left
// and to the left for a miss, a stroke at what was asked. From 100 percent on
// the bar ends in an arrowhead.
func (g *Gauge) Picture(width, height float64) Picture {
	q := Picture{W: width, H: height}
	zero := width * gaugeLeft
	per := (width - zero - height) / 100
	at := func(v float64) float64 { return zero + max(-zero, min(v*per, width-zero-height*0.6)) }
	y, h := height*0.25, height*0.5
	if g.Percent < 0 {
		x := min(at(g.Percent), zero-1)
		q.Ops = append(q.Ops, Op{Kind: OpRect, Role: Miss, X: x, Y: y - height*0.1, W: zero - x, H: h + height*0.2})
	} else if w := at(g.Percent) - zero; w > 0 {
		q.Ops = append(q.Ops, Op{Kind: OpRect, Role: Span, X: zero, Y: y, W: w, H: h})
		if g.Percent > 100 {
			q.Ops = append(q.Ops, Op{Kind: OpPath, Role: Span, Path: []Seg{
				{Cmd: 'M', X: zero + w, Y: y - height*0.1}, {Cmd: 'L', X: zero + w + height*0.6, Y: y + h/2},
				{Cmd: 'L', X: zero + w, Y: y + h + height*0.1}, {Cmd: 'Z'},
			}})
		}
	}
	if g.Asked > 0 && g.Asked < 1e4 {
		x := at(g.Asked)
		q.Ops = append(q.Ops, Op{Kind: OpLine, Role: Ink, X: x, X2: x, Y: 0, Y2: height, Stroke: height * 0.12})
	}
	q.Ops = append(q.Ops, Op{Kind: OpLine, Role: Quiet, X: zero, X2: zero, Y: 0, Y2: height, Stroke: height * 0.08})
	return q
}
