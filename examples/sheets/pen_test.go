package sheets

import (
	"bytes"
	"fmt"
	"time"

	"github.com/go-fonts/dejavu/dejavusanscondensed"
	"github.com/go-fonts/dejavu/dejavusanscondensedbold"
	"github.com/go-fonts/dejavu/dejavuserifcondensed"
	"github.com/go-fonts/dejavu/dejavuserifcondensedbold"
	"github.com/go-pdf/fpdf"
)

const (
	margin = 18.0 // mm
	body   = 9.0  // point
	small  = 8.0
)

// pen draws one sheet. Lengths are millimetres.
type pen struct {
	*fpdf.Fpdf
	sheet  *Sheet
	width  float64 // of the text
	bottom float64 // lowest y that an item may reach
	over   error   // first page that ran over its end
}

// Render draws a sheet; the same sheet gives the same bytes.
func Render(s *Sheet) ([]byte, error) {
	size := "A4"
	if s.Style.Letter {
		size = "Letter"
	}
	p := &pen{Fpdf: fpdf.New("P", "mm", size, ""), sheet: s}
	p.SetMargins(margin, margin, margin)
	p.SetAutoPageBreak(false, 0)
	p.SetCatalogSort(true)
	day, err := time.Parse(time.DateOnly, s.Date)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", s.File, err)
	}
	p.SetCreationDate(day)
	p.SetModificationDate(day)
	p.SetTitle(s.Code+" "+s.Title, true)
	p.SetAuthor(s.Issuer, true)
	p.SetSubject(Notice, true)
	p.fonts()
	w, h := p.GetPageSize()
	p.width, p.bottom = w-2*margin, h-22
	for i := range s.Pages {
		p.page(i)
	}
	var out bytes.Buffer
	if err := p.Output(&out); err != nil {
		return nil, fmt.Errorf("%s: %w", s.File, err)
	}
	return out.Bytes(), p.over
}

func (p *pen) fonts() {
	regular, bold := dejavusanscondensed.TTF, dejavusanscondensedbold.TTF
	if p.sheet.Style.Serif {
		regular, bold = dejavuserifcondensed.TTF, dejavuserifcondensedbold.TTF
	}
	p.AddUTF8FontFromBytes("text", "", regular)
	p.AddUTF8FontFromBytes("text", "B", bold)
}

func (p *pen) page(i int) {
	s := p.sheet
	p.AddPage()
	p.headAndFoot(i + 1)
	p.SetXY(margin, 26)
	if i == 0 {
		p.SetFont("text", "B", 17)
		p.CellFormat(p.width, 9, s.Code, "", 1, "L", false, 0, "")
		p.SetFont("text", "", 12)
		p.CellFormat(p.width, 7, s.Title, "", 1, "L", false, 0, "")
		p.Ln(3)
	}
	title := s.Pages[i].Title
	if s.Style.Number {
		title = fmt.Sprintf("%d  %s", i+1, title)
	}
	p.Bookmark(title, 0, -1)
	p.SetFont("text", "B", 12)
	p.CellFormat(p.width, 7, title, "", 1, "L", false, 0, "")
	p.Ln(1.5)
	for _, item := range s.Pages[i].Items {
		item.draw(p)
	}
	if p.GetY() > p.bottom && p.over == nil {
		p.over = fmt.Errorf("%s page %d runs over its end", s.File, i+1)
	}
}

func (p *pen) headAndFoot(n int) {
	s := p.sheet
	_, h := p.GetPageSize()
	p.accent()
	p.SetLineWidth(0.5)
	p.Line(margin, 19, margin+p.width, 19)
	p.SetLineWidth(0.2)
	p.Line(margin, h-18, margin+p.width, h-18)
	p.SetFont("text", "", small)
	count := fmt.Sprintf("Page %d of %d", n, len(s.Pages))
	rev := fmt.Sprintf("Revision %s, %s", s.Revision, s.Date)
	left, right := s.Issuer, s.Code
	if s.Style.Right {
		left, right = s.Code+", "+s.Issuer, count
		count = rev
		rev = s.Issuer
	}
	p.SetXY(margin, 13)
	p.CellFormat(p.width/2, 5, left, "", 0, "L", false, 0, "")
	p.CellFormat(p.width/2, 5, right, "", 0, "R", false, 0, "")
	p.SetXY(margin, h-17)
	p.CellFormat(p.width/4, 5, rev, "", 0, "L", false, 0, "")
	p.CellFormat(p.width/2, 5, Notice, "", 0, "C", false, 0, "")
	p.CellFormat(p.width/4, 5, count, "", 0, "R", false, 0, "")
}

func (p *pen) accent() {
	c := p.sheet.Style.Accent
	p.SetDrawColor(c[0], c[1], c[2])
}

func (p *pen) black() { p.SetDrawColor(0, 0, 0) }
