package sheet

import (
	"math"

	"github.com/klippa-app/go-pdfium/enums"
	"github.com/klippa-app/go-pdfium/structs"
)

// frame maps user space of a PDF page (origin bottom left, unrotated) to the
// page as shown (origin top left, rotated and cropped).
type frame struct {
	l, b, r, t float64 // visible area in user space
	turn       int     // quarter turns clockwise
}

func newFrame(area structs.FPDF_FS_RECTF, turn enums.FPDF_PAGE_ROTATION) frame {
	f := frame{l: float64(area.Left), b: float64(area.Bottom), r: float64(area.Right), t: float64(area.Top), turn: int(turn) & 3}
	if f.b > f.t {
		f.b, f.t = f.t, f.b
	}
	return f
}

func (f frame) size() (w, h float64) {
	w, h = f.r-f.l, f.t-f.b
	if f.turn&1 == 1 {
		return h, w
	}
	return w, h
}

func (f frame) point(x, y float64) (float64, float64) {
	switch f.turn {
	case 1:
		return y - f.b, x - f.l
	case 2:
		return f.r - x, y - f.b
	case 3:
		return f.t - y, f.r - x
	}
	return x - f.l, f.t - y
}

// rect is a box in some frame, without a page.
type rect struct{ x0, y0, x1, y1 float64 }

func (f frame) rect(l, b, r, t float64) rect {
	x0, y0 := f.point(l, b)
	x1, y1 := f.point(r, t)
	return rect{math.Min(x0, x1), math.Min(y0, y1), math.Max(x0, x1), math.Max(y0, y1)}
}

func (a rect) union(b rect) rect {
	return rect{math.Min(a.x0, b.x0), math.Min(a.y0, b.y0), math.Max(a.x1, b.x1), math.Max(a.y1, b.y1)}
}

func (a rect) box(page int) Box {
	return Box{Page: page, X0: a.x0, Y0: a.y0, X1: a.x1, Y1: a.y1}
}

// upright turns a rectangle on a page of w by h points so that text turned by
// the given quarter turns reads from left to right and lines go down.
func (a rect) upright(turn uint8, w, h float64) rect {
	switch turn {
	case 1: // reads downwards, lines go left
		return rect{a.y0, w - a.x1, a.y1, w - a.x0}
	case 2:
		return rect{w - a.x1, h - a.y1, w - a.x0, h - a.y0}
	case 3: // reads upwards, lines go right
		return rect{h - a.y1, a.x0, h - a.y0, a.x1}
	}
	return a
}

func (b Box) rect() rect { return rect{b.X0, b.Y0, b.X1, b.Y1} }

// quarterTurns rounds an angle in radians to quarter turns; 4 if it is oblique.
func quarterTurns(angle float64) uint8 {
	q := angle / (math.Pi / 2)
	n := math.Round(q)
	if math.Abs(q-n) > 0.06 {
		return 4
	}
	return uint8(((int(n) % 4) + 4) % 4)
}
