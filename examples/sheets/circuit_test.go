package sheets

// pitch of the wires of an application drawing: room for a part to ground.
const wirePitch = 17.0

// draw sets a block with its pins wired left and right.
func (c Circuit) draw(p *pen) {
	rows := max(len(c.Left), len(c.Right))
	high := float64(rows)*wirePitch + 4
	wide := 38.0
	x, y := margin+p.width/2-wide/2, p.GetY()+2
	p.black()
	p.SetLineWidth(0.4)
	p.Rect(x, y, wide, high, "D")
	p.SetFont("text", "B", body)
	p.label(x+wide/2, y+high/2, c.Block)
	for i, w := range c.Left {
		w.draw(p, x, y+7+float64(i)*wirePitch, -1)
	}
	for i, w := range c.Right {
		w.draw(p, x+wide, y+7+float64(i)*wirePitch, 1)
	}
	p.SetXY(margin, y+high+4)
	if c.Note != "" {
		Text(c.Note).draw(p)
	}
}

// draw sets one wire from the block's edge outwards; side is -1 or 1.
func (w Wire) draw(p *pen, x, y, side float64) {
	const long = 42.0
	p.SetLineWidth(0.25)
	p.SetFont("text", "", small)
	tw := p.GetStringWidth(w.Pin) + 1
	p.SetXY(x-tw/2-side*(tw/2+1), y-2)
	p.CellFormat(tw, 4, w.Pin, "", 0, "C", false, 0, "")
	p.Line(x, y, x+side*long, y)
	p.label(x+side*(long+8), y, w.Net)
	if w.Kind == "" {
		return
	}
	at := x + side*long*0.38
	p.Line(at, y, at, y+3)
	w.symbol(p, at, y+3)
	p.Line(at, y+8, at, y+11)
	for i := range 3 { // ground
		half := 2.2 - 0.8*float64(i)
		p.Line(at-half, y+11+0.8*float64(i), at+half, y+11+0.8*float64(i))
	}
	tw = p.GetStringWidth(w.Part) + 1
	p.label(at+side*(tw/2+3), y+5.5, w.Part)
}

// symbol draws a two-terminal part five millimetres high, the resistor as the
// rectangle of IEC 60617.
func (w Wire) symbol(p *pen, x, y float64) {
	switch w.Kind {
	case "C":
		p.Line(x, y, x, y+2)
		p.Line(x-2.2, y+2, x+2.2, y+2)
		p.Line(x-2.2, y+3, x+2.2, y+3)
		p.Line(x, y+3, x, y+5)
	case "X":
		p.Line(x, y, x, y+1)
		p.Line(x-1.8, y+1, x+1.8, y+1)
		p.Rect(x-1.4, y+1.6, 2.8, 1.8, "D")
		p.Line(x-1.8, y+4, x+1.8, y+4)
		p.Line(x, y+4, x, y+5)
	default:
		p.Rect(x-1.1, y, 2.2, 5, "D")
	}
}
