package sheets

import (
	"fmt"
	"math"
)

// draw sets a top view to scale with its dimensions, a side view, and the
// table of dimensions under them.
func (o Outline) draw(p *pen) {
	Sub("Outline drawing, " + o.Name + ", top view and side view, dimensions in millimetres").draw(p)
	extent := math.Max(o.Length, math.Max(o.Width, o.Span))
	scale := 44 / extent
	top := p.GetY() + 12
	cx, cy := margin+p.width*0.32, top+o.tall()*scale/2
	p.black()
	p.SetLineWidth(0.3)
	o.top(p, cx, cy, scale)
	o.dimensions(p, cx, cy, scale)
	o.side(p, margin+p.width*0.68, cy, scale)
	p.SetXY(margin, cy+o.tall()*scale/2+16)
	o.table(p)
}

func (o Outline) tall() float64 { return math.Max(o.Width, o.Span) }

func (o Outline) top(p *pen, cx, cy, s float64) {
	l, w := o.Length*s, o.Width*s
	p.Rect(cx-l/2, cy-w/2, l, w, "D")
	switch o.Kind {
	case "quad":
		o.pins(p, cx, cy, s, o.Pins/4, o.Pins/4, true)
	case "dual":
		o.pins(p, cx, cy, s, (o.Pins+1)/2, o.Pins/2, false)
	case "cylinder":
		p.Rect(cx+l/2, cy-w/6, 1.5, w/3, "D")
	case "chip":
		p.Rect(cx-l/2, cy-w/2, l/5, w, "D")
		p.Rect(cx+l/2-l/5, cy-w/2, l/5, w, "D")
	}
	if o.Kind == "quad" || o.Kind == "dual" {
		p.Circle(cx-l/2+2.5, cy+w/2-2.5, 0.8, "D") // mark of pin 1
	}
	if o.Pad[0] > 0 {
		p.SetDashPattern([]float64{1, 0.8}, 0)
		p.Rect(cx-o.Pad[0]*s/2, cy-o.Pad[1]*s/2, o.Pad[0]*s, o.Pad[1]*s, "D")
		p.SetDashPattern(nil, 0)
	}
}

// pins draws the leads of the lower and the upper side, and those of the other
// two for a quad package. An odd lead count leaves room on the upper side.
func (o Outline) pins(p *pen, cx, cy, s float64, lower, upper int, quad bool) {
	out := math.Max((o.Span-o.Width)/2*s, 0.9)
	wide := o.Pitch * 0.5 * s
	for k, n := range []int{lower, upper} {
		side, pitch := 1-2*float64(k), o.Pitch
		if n > 1 && n < lower {
			pitch *= float64(lower-1) / float64(n-1)
		}
		for i := range n {
			at := (float64(i) - float64(n-1)/2) * pitch * s
			y := cy + side*o.Width*s/2
			p.Rect(cx+at-wide/2, math.Min(y, y+side*out), wide, out, "D")
			if quad {
				x := cx + side*o.Length*s/2
				p.Rect(math.Min(x, x+side*out), cy+at-wide/2, out, wide, "D")
			}
		}
	}
}

// dimensions draws D under the body, E beside it and the pitch above it.
func (o Outline) dimensions(p *pen, cx, cy, s float64) {
	l, w := o.Length*s, o.Width*s
	reach := o.tall() * s / 2
	p.SetFont("text", "", small)
	p.SetLineWidth(0.12)
	p.arrow(cx-l/2, cy+reach+6, cx+l/2, cy+reach+6)
	p.label(cx, cy+reach+10, fmt.Sprintf("D %s", mm(o.Length)))
	p.arrow(cx-l/2-8, cy-w/2, cx-l/2-8, cy+w/2)
	p.label(cx-l/2-16, cy, fmt.Sprintf("E %s", mm(o.Width)))
	if o.Pitch > 0 {
		p.arrow(cx-o.Pitch*s/2, cy-reach-4, cx+o.Pitch*s/2, cy-reach-4)
		p.label(cx+12, cy-reach-6, fmt.Sprintf("e %s", mm(o.Pitch)))
	}
}

func (o Outline) side(p *pen, x, cy, s float64) {
	p.SetLineWidth(0.3)
	h := math.Max(math.Min(o.Height*s, 40), 2)
	w := math.Min(o.Length*s, 44)
	p.Rect(x, cy-h/2, w, h, "D")
	p.Line(x-4, cy+h/2, x+w+4, cy+h/2) // seating plane
	p.SetLineWidth(0.12)
	p.arrow(x+w+6, cy-h/2, x+w+6, cy+h/2)
	p.label(x+w+12, cy-h/2-3, fmt.Sprintf("A %s", mm(o.Height)))
}

func (o Outline) table(p *pen) {
	t := Table{
		Caption: "Package dimensions, " + o.Name,
		Head:    "Symbol | Dimension | Min | Nom | Max | Unit",
		Widths:  []float64{1, 3, 1, 1, 1, 1},
	}
	add := func(symbol, what string, v, tol float64) {
		if v > 0 {
			t.Rows = append(t.Rows, fmt.Sprintf("%s | %s | %.2f | %.2f | %.2f | mm", symbol, what, v-tol, v, v+tol))
		}
	}
	add("A", "Height", o.Height, o.Height*0.06)
	add("D", "Body length", o.Length, 0.1)
	add("E", "Body width", o.Width, 0.1)
	add("E1", "Span over leads", o.Span, 0.2)
	add("D2", "Exposed pad length", o.Pad[0], 0.1)
	add("E2", "Exposed pad width", o.Pad[1], 0.1)
	if o.Pitch > 0 {
		t.Rows = append(t.Rows, fmt.Sprintf("e | Pitch | – | %.2f | – | mm", o.Pitch))
	}
	if o.Pins > 0 {
		t.Rows = append(t.Rows, fmt.Sprintf("n | Leads | – | %d | – | –", o.Pins))
	}
	t.draw(p)
}

func mm(v float64) string { return fmt.Sprintf("%.2f", v) }

// arrow draws a dimension line with a head at both ends.
func (p *pen) arrow(x0, y0, x1, y1 float64) {
	p.Line(x0, y0, x1, y1)
	dx, dy := x1-x0, y1-y0
	n := math.Hypot(dx, dy)
	if n == 0 {
		return
	}
	dx, dy = dx/n*1.6, dy/n*1.6
	for _, end := range [][4]float64{{x0, y0, dx, dy}, {x1, y1, -dx, -dy}} {
		p.Line(end[0], end[1], end[0]+end[2]-end[3]*0.35, end[1]+end[3]+end[2]*0.35)
		p.Line(end[0], end[1], end[0]+end[2]+end[3]*0.35, end[1]+end[3]-end[2]*0.35)
	}
}

func (p *pen) label(x, y float64, text string) {
	w := p.GetStringWidth(text) + 1
	p.SetXY(x-w/2, y-2)
	p.CellFormat(w, 4, text, "", 0, "C", false, 0, "")
}
