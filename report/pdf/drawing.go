package pdf

import (
	"strconv"

	"guardband/report/draw"
)

func itoa(n int) string { return strconv.Itoa(n) }

// drawing paints a picture of package draw with its top left at x, y.
func (p *page) drawing(q draw.Picture, x, y float64, c rgb) {
	for i := range q.Ops {
		o := &q.Ops[i]
		col := roleColours[o.Role]
		if o.Role == draw.Ink {
			col = c
		}
		switch o.Kind {
		case draw.OpText:
			p.text(x+o.X, y+o.Y, style{face: regular, size: o.Size, colour: col}, p.g.clean(o.Text))
		case draw.OpLine:
			p.line(x+o.X, y+o.Y, x+o.X2, y+o.Y2, o.Stroke, col)
		case draw.OpRect:
			if o.Role == draw.Limit && o.W > 2 { // a limit that has a range itself
				col = rgb{0x8a, 0x8c, 0x90}
			}
			p.rect(x+o.X, y+o.Y, o.W, o.H, col)
		case draw.OpPath:
			p.opPath(o, x, y, col)
		}
	}
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
		case 'Z':
			p.f.ClosePath()
		}
	}
	p.f.DrawPath(how)
	p.setFill(ink)
}
