package pdf

import (
	"strconv"

	"guardband/eval/record"
	"guardband/report/draw"
)

func itoa(n int) string { return strconv.Itoa(n) }

// drawing paints a picture of package draw with its top left at x, y.
func (p *page) drawing(q draw.Picture, x, y float64, c rgb) {
	for i := range q.Ops {
		o := &q.Ops[i]
		col := roleColour(o.Role)
		if o.Role == draw.Ink {
			col = c
		}
		switch o.Kind {
		case draw.OpText:
			p.text(x+o.X, y+o.Y, style{face: drawFace(o.Font), size: o.Size, colour: col}, p.g.clean(o.Text))
		case draw.OpLine:
			p.line(x+o.X, y+o.Y, x+o.X2, y+o.Y2, o.Stroke, col)
		case draw.OpRect:
			p.opRect(o, x, y, col)
		case draw.OpPath:
			p.opPath(o, x, y, col)
		}
	}
}

func (p *page) opRect(o *draw.Op, x, y float64, c rgb) {
	if o.Stroke > 0 {
		p.setStroke(o.Stroke, c)
		p.f.Rect(x+o.X, y+o.Y, o.W, o.H, "D")
		return
	}
	if o.Role == draw.Limit && o.W > 2 { // a limit that has a range itself
		c = rgb{0x8a, 0x8c, 0x90}
	}
	p.rect(x+o.X, y+o.Y, o.W, o.H, c)
}

func (p *page) opPath(o *draw.Op, x, y float64, c rgb) {
	if len(o.Path) == 0 {
		return
	}
	how := "F"
	if o.Stroke > 0 {
		how = "D"
		p.setStroke(o.Stroke, c)
	} else {
		p.setFill(c)
	}
	for _, s := range o.Path {
		switch s.Cmd {
		case 'M':
			p.f.MoveTo(x+s.X, y+s.Y)
		case 'L':
			p.f.LineTo(x+s.X, y+s.Y)
		case 'C':
			p.f.CurveBezierCubicTo(x+s.X1, y+s.Y1, x+s.X2, y+s.Y2, x+s.X, y+s.Y)
		case 'Z':
			p.f.ClosePath()
		}
	}
	p.f.DrawPath(how)
	p.setFill(ink)
}

// formula typesets m, smaller where it is too wide. It gives false where it
// cannot be set in the width, or is taller than a page bears.
func (p *page) formula(m *record.Math, size, width float64) (draw.Picture, bool) {
	if m == nil || mathSize(m, 0) > maxMath {
		return draw.Picture{}, false
	}
	for _, s := range []float64{size, size * 0.88, size * 0.76} {
		q := draw.Formula(m, metrics{p.g}, s)
		if q.W <= width && q.H <= 180 {
			return q, q.W > 0
		}
	}
	return draw.Picture{}, false
}

// maxMath bounds the parts of a formula that is typeset; a longer one is no
// help to a reader and is set as typed.
const maxMath = 400

func mathSize(m *record.Math, depth int) int {
	n := 1
	if depth > 60 {
		return maxMath + 1
	}
	for i := range m.Args {
		if n > maxMath {
			break
		}
		n += mathSize(&m.Args[i], depth+1)
	}
	return n
}
