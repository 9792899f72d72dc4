package sheets

import "strings"

func (t Text) draw(p *pen) {
	p.SetFont("text", "", body)
	p.SetX(margin)
	p.MultiCell(p.width, 4.6, string(t), "", "L", false)
	p.Ln(1.8)
}

func (s Sub) draw(p *pen) {
	p.SetFont("text", "B", 10)
	p.SetX(margin)
	p.CellFormat(p.width, 6, string(s), "", 1, "L", false, 0, "")
}

func (b Bullets) draw(p *pen) {
	p.SetFont("text", "", body)
	for _, line := range b {
		p.SetX(margin)
		p.CellFormat(5, 4.8, "•", "", 0, "L", false, 0, "")
		p.MultiCell(p.width-5, 4.8, line, "", "L", false)
	}
	p.Ln(1.8)
}

func (t Table) draw(p *pen) {
	if t.Caption != "" {
		Sub(t.Caption).draw(p)
	}
	widths := make([]float64, len(t.Widths))
	total := 0.0
	for _, w := range t.Widths {
		total += w
	}
	for i, w := range t.Widths {
		widths[i] = w / total * p.width
	}
	p.SetFont("text", "B", small)
	p.row(widths, cells(t.Head), true, 0)
	p.SetFont("text", "", small)
	for i, line := range t.Rows {
		p.row(widths, cells(line), false, i)
	}
	p.Ln(3.5)
}

func cells(line string) []string {
	parts := strings.Split(line, "|")
	for i := range parts {
		parts[i] = strings.TrimSpace(parts[i])
	}
	return parts
}

const lineHeight = 4.2

// row sets one table row, wrapping cells that are too long for their column.
func (p *pen) row(widths []float64, texts []string, head bool, n int) {
	lines := make([][]string, len(widths))
	tall := 1
	for i := range widths {
		if i >= len(texts) {
			continue
		}
		lines[i] = p.SplitText(texts[i], widths[i]-2.5)
		tall = max(tall, len(lines[i]))
	}
	height := float64(tall)*lineHeight + 1.4
	y := p.GetY()
	p.ground(head, n, y, height)
	x := margin
	for i, w := range widths {
		for k, line := range lines[i] {
			p.SetXY(x+0.4, y+0.7+float64(k)*lineHeight)
			p.CellFormat(w-0.8, lineHeight, line, "", 0, "L", false, 0, "")
		}
		if p.sheet.Style.Grid == Boxed {
			p.Rect(x, y, w, height, "D")
		}
		x += w
	}
	p.SetXY(margin, y+height)
}

// ground shades and rules a row by the sheet's style.
func (p *pen) ground(head bool, n int, y, height float64) {
	p.accent()
	p.SetLineWidth(0.2)
	c := p.sheet.Style.Accent
	switch {
	case head && p.sheet.Style.Grid != Ruled:
		p.SetFillColor(255-(255-c[0])/5, 255-(255-c[1])/5, 255-(255-c[2])/5)
		p.Rect(margin, y, p.width, height, "F")
	case p.sheet.Style.Grid == Striped && n%2 == 1:
		p.SetFillColor(243, 243, 243)
		p.Rect(margin, y, p.width, height, "F")
	}
	if p.sheet.Style.Grid == Ruled {
		p.Line(margin, y+height, margin+p.width, y+height)
	}
}
