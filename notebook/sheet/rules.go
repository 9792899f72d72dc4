package sheet

import (
	"math"
	"sort"

	"github.com/klippa-app/go-pdfium/enums"
	"github.com/klippa-app/go-pdfium/references"
	"github.com/klippa-app/go-pdfium/requests"
	"github.com/klippa-app/go-pdfium/responses"
	"github.com/klippa-app/go-pdfium/structs"
)

// Ruled lines of a page say where the cells of its tables end. They are read
// only where the text has the head of a table, since drawings cost the most.

// Bounds on the search for ruled lines; a page that needs more is a drawing.
const (
	maxObjects  = 8000 // of a page, those of its text counted in
	maxSegments = 6000 // of the paths of a page, the simplest first
	maxForms    = 4    // drawings inside drawings
	thinRule    = 2.6  // points; what is thicker is an area
	minRule     = 3.0  // points; what is shorter is a mark
	maxMark     = 14.0 // points; what is larger is no character
	white       = 250  // of 255: what is lighter is not seen
	maxMarks    = 300  // of a page; where there are more, they draw
)

// ruler collects the ruled lines of one page.
type ruler struct {
	doc        *document
	frame      frame
	out, marks []rect
	picture    func(rect) // gets the pictures of the page, if it is there
	paths      []drawnPath
	objects    int
}

// drawnPath is a path that is no line by itself.
type drawnPath struct {
	object references.FPDF_PAGEOBJECT
	m      structs.FPDF_FS_MATRIX
	n      int // segments
}

// rules reads the ruled lines of a counted page, horizontal and vertical, as
// shown, and small filled shapes: some programs draw the characters of a font
// that they must not embed. What cannot be read is left out: the text still has
// its white gaps.
func (d *document) rules(at requests.Page, f frame) (rules, marks []rect) {
	r := &ruler{doc: d, frame: f}
	if r.pageObjects(at); r.objects > maxObjects {
		return nil, nil
	}
	sort.SliceStable(r.paths, func(i, j int) bool { return r.paths[i].n < r.paths[j].n }) // curves and lettering last
	segments := 0
	for _, p := range r.paths {
		if segments += p.n; segments > maxSegments {
			break
		}
		r.path(p)
	}
	if len(r.marks) > maxMarks {
		r.marks = nil
	}
	return joinRules(r.out), joinMarks(r.marks)
}

func (r *ruler) pageObjects(at requests.Page) {
	n, err := r.doc.inst.FPDFPage_CountObjects(&requests.FPDFPage_CountObjects{Page: at})
	if err != nil || n.Count > maxObjects {
		return
	}
	for i := range n.Count {
		o, err := r.doc.inst.FPDFPage_GetObject(&requests.FPDFPage_GetObject{Page: at, Index: i})
		if err == nil {
			r.object(o.PageObject, structs.FPDF_FS_MATRIX{A: 1, D: 1}, 0)
		}
	}
}

// joinMarks makes one of shapes that touch: a character is drawn in parts.
func joinMarks(in []rect) []rect {
	sort.SliceStable(in, func(i, j int) bool { return in[i].x0 < in[j].x0 })
	var out []rect
next:
	for _, r := range in {
		for i := len(out) - 1; i >= 0; i-- {
			if o := out[i]; r.x0 < o.x1+1 && r.y0 < o.y1+1 && r.y1 > o.y0-1 {
				out[i] = o.union(r)
				continue next
			}
		}
		out = append(out, r)
	}
	return out
}

func (r *ruler) object(o references.FPDF_PAGEOBJECT, m structs.FPDF_FS_MATRIX, depth int) {
	if r.objects++; r.objects > maxObjects {
		return
	}
	kind, err := r.doc.inst.FPDFPageObj_GetType(&requests.FPDFPageObj_GetType{PageObject: o})
	switch {
	case err != nil:
	case kind.Type == enums.FPDF_PAGEOBJ_FORM && depth < maxForms:
		own, err := r.doc.inst.FPDFPageObj_GetMatrix(&requests.FPDFPageObj_GetMatrix{PageObject: o})
		n, err2 := r.doc.inst.FPDFFormObj_CountObjects(&requests.FPDFFormObj_CountObjects{PageObject: o})
		if err != nil || err2 != nil {
			return
		}
		for i := range min(n.Count, maxObjects) {
			if in, err := r.doc.inst.FPDFFormObj_GetObject(&requests.FPDFFormObj_GetObject{PageObject: o, Index: uint64(i)}); err == nil {
				r.object(in.PageObject, times(own.Matrix, m), depth+1)
			}
		}
	case kind.Type == enums.FPDF_PAGEOBJ_PATH && r.picture == nil, kind.Type == enums.FPDF_PAGEOBJ_IMAGE && r.picture != nil:
		b, err := r.doc.inst.FPDFPageObj_GetBounds(&requests.FPDFPageObj_GetBounds{PageObject: o})
		if err != nil {
			return
		}
		x0, y0 := apply(m, b.Left, b.Bottom)
		x1, y1 := apply(m, b.Right, b.Top)
		if r.picture != nil {
			r.picture(r.frame.rect(x0, y0, x1, y1))
			return
		}
		n, err := r.doc.inst.FPDFPath_CountSegments(&requests.FPDFPath_CountSegments{PageObject: o})
		if oneLine := err != nil || n.Count <= 5; oneLine && r.add(x0, y0, x1, y1) || r.mark(o, x0, y0, x1, y1) {
			return
		}
		if err == nil && n.Count > 1 { // lines side by side may be parts of one path
			r.paths = append(r.paths, drawnPath{o, m, n.Count})
		}
	}
}

// mark keeps a filled shape of the size of a character.
func (r *ruler) mark(o references.FPDF_PAGEOBJECT, x0, y0, x1, y1 float64) bool {
	box := r.frame.rect(x0, y0, x1, y1)
	if math.Max(box.x1-box.x0, box.y1-box.y0) > maxMark {
		return false
	}
	mode, err := r.doc.inst.FPDFPath_GetDrawMode(&requests.FPDFPath_GetDrawMode{PageObject: o})
	if err != nil || mode.FillMode == enums.FPDF_FILLMODE_NONE {
		return false
	}
	r.marks = append(r.marks, rect{round(box.x0), round(box.y0), round(box.x1), round(box.y1)})
	return true
}

// inked says whether a path is filled, and not in white.
func (r *ruler) inked(o references.FPDF_PAGEOBJECT, mode *responses.FPDFPath_GetDrawMode) bool {
	if mode.FillMode == enums.FPDF_FILLMODE_NONE {
		return false
	}
	c, err := r.doc.inst.FPDFPageObj_GetFillColor(&requests.FPDFPageObj_GetFillColor{PageObject: o})
	return err != nil || min(c.FillColor.R, c.FillColor.G, c.FillColor.B) < white
}

// path takes the straight segments of a drawn path. Of one that is filled alone
// it takes the parts that are thin: a shade under a row is no line.
func (r *ruler) path(p drawnPath) {
	inst, o := r.doc.inst, p.object
	own, err := inst.FPDFPageObj_GetMatrix(&requests.FPDFPageObj_GetMatrix{PageObject: o})
	mode, err2 := inst.FPDFPath_GetDrawMode(&requests.FPDFPath_GetDrawMode{PageObject: o})
	if err != nil || err2 != nil || !mode.Stroke && !r.inked(o, mode) {
		return
	}
	m := times(own.Matrix, p.m)
	var x, y, startX, startY float64
	part := rect{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	none := part
	finish := func() {
		if !mode.Stroke && part != none {
			r.add(part.x0, part.y0, part.x1, part.y1)
		}
		part = none
	}
	for i := range p.n {
		s, err := inst.FPDFPath_GetPathSegment(&requests.FPDFPath_GetPathSegment{PageObject: o, Index: i})
		if err != nil {
			return
		}
		kind, err := inst.FPDFPathSegment_GetType(&requests.FPDFPathSegment_GetType{PathSegment: s.PathSegment})
		p, err2 := inst.FPDFPathSegment_GetPoint(&requests.FPDFPathSegment_GetPoint{PathSegment: s.PathSegment})
		shut, err3 := inst.FPDFPathSegment_GetClose(&requests.FPDFPathSegment_GetClose{PathSegment: s.PathSegment})
		if err != nil || err2 != nil || err3 != nil {
			return
		}
		px, py := apply(m, p.X, p.Y)
		switch {
		case kind.Type == enums.FPDF_SEGMENT_MOVETO:
			finish()
			startX, startY = px, py
		case kind.Type == enums.FPDF_SEGMENT_LINETO && mode.Stroke:
			r.add(x, y, px, py)
		}
		if shut.IsClose && mode.Stroke {
			r.add(px, py, startX, startY)
		}
		part = part.union(rect{px, py, px, py})
		x, y = px, py
	}
	finish()
}

// add keeps a line that is thin and long enough; false where the area is none.
func (r *ruler) add(x0, y0, x1, y1 float64) bool {
	box := r.frame.rect(x0, y0, x1, y1)
	w, h := box.x1-box.x0, box.y1-box.y0
	if w > thinRule && h > thinRule {
		return false
	}
	if math.Max(w, h) >= minRule {
		r.out = append(r.out, rect{round(box.x0), round(box.y0), round(box.x1), round(box.y1)})
	}
	return true
}

func apply(m structs.FPDF_FS_MATRIX, x, y float32) (float64, float64) {
	return float64(m.A*x + m.C*y + m.E), float64(m.B*x + m.D*y + m.F)
}

// times is the matrix that applies a and then b.
func times(a, b structs.FPDF_FS_MATRIX) structs.FPDF_FS_MATRIX {
	return structs.FPDF_FS_MATRIX{
		A: a.A*b.A + a.B*b.C, B: a.A*b.B + a.B*b.D,
		C: a.C*b.A + a.D*b.C, D: a.C*b.B + a.D*b.D,
		E: a.E*b.A + a.F*b.C + b.E, F: a.E*b.B + a.F*b.D + b.F,
	}
}

// joinRules makes one line of pieces that lie on each other or go on, as of
// tables whose every cell has its own border.
func joinRules(in []rect) []rect {
	var flat, tall []rect
	for _, r := range in {
		if r.x1-r.x0 >= r.y1-r.y0 {
			flat = append(flat, r)
		} else {
			tall = append(tall, rect{r.y0, r.x0, r.y1, r.x1})
		}
	}
	out := joinFlat(flat)
	for _, r := range joinFlat(tall) {
		out = append(out, rect{r.y0, r.x0, r.y1, r.x1})
	}
	return out
}

func joinFlat(in []rect) []rect {
	sort.SliceStable(in, func(i, j int) bool {
		a, b := math.Round(in[i].y0+in[i].y1), math.Round(in[j].y0+in[j].y1)
		if a != b {
			return a < b
		}
		return in[i].x0 < in[j].x0
	})
	var out []rect
	for _, r := range in {
		if n := len(out); n > 0 && math.Abs(out[n-1].y0+out[n-1].y1-r.y0-r.y1) < 3 && r.x0 <= out[n-1].x1+1.5 && r.x1 >= out[n-1].x0-1.5 {
			out[n-1] = out[n-1].union(r)
			continue
		}
		out = append(out, r)
	}
	return out
}
