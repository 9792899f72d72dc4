package sheet

import (
	"fmt"
	"strings"
)

// filler is running text that names sections without being one: a trap.
const corpusFiller = "The device is described in the following pages. Limits that must never be exceeded are listed under %s; the values under %s hold over the full range unless stated otherwise. " +
	"See the %s for external parts. Typical figures are given for 25 °C and are not tested in production."

func (w *corpusWriter) sheet(toc []corpusTocLine) {
	w.cover()
	if w.l.Contents {
		w.contents(toc)
	}
	w.pinning()
	w.limits()
	w.curves()
	w.application()
	w.ordering()
	w.outlines()
	if w.turned {
		w.TransformEnd()
		w.turned = false
	}
}

func (w *corpusWriter) filler() string {
	h := w.l.Headings
	return fmt.Sprintf(corpusFiller, h[corpusAbsolute], h[corpusElectrical], h[corpusApplication])
}

func (w *corpusWriter) cover() {
	w.page()
	w.font(true, 20)
	w.text(w.x0, w.y+24, w.d.Name)
	w.font(false, 13)
	w.text(w.x0, w.y+44, w.d.Title)
	w.y += 60
	w.font(true, 11)
	w.text(w.x0, w.y+12, "Features")
	w.y += 16
	for _, r := range w.d.Operating {
		w.para("• "+r.Name+" up to "+r.Max+" "+r.Unit, w.x0, w.x1)
	}
	w.font(true, 11)
	w.text(w.x0, w.y+12, "Description")
	w.y += 16
	w.para(w.filler(), w.x0, w.x1)
}

func (w *corpusWriter) contents(toc []corpusTocLine) {
	w.page()
	w.font(true, 13)
	w.text(w.x0, w.y+16, "Contents")
	w.y += 24
	w.font(false, 9)
	for _, t := range toc {
		page := fmt.Sprint(t.page)
		dots := strings.Repeat(".", max(3, int((w.x1-w.x0-w.width(t.text)-w.width(page)-12)/w.width("."))))
		w.y += 13
		w.text(w.x0, w.y, t.text+" "+dots+" "+page)
	}
}

// sides gives the part of the page for a table and fills the other with text.
func (w *corpusWriter) sides() (x0, x1 float64) {
	if !w.l.TwoColumn {
		return w.x0, w.x1
	}
	mid := (w.x0 + w.x1) / 2
	top := w.y
	for range 4 {
		w.para(w.filler(), w.x0, mid-10)
	}
	w.y = top
	return mid + 8, w.x1
}

func (w *corpusWriter) pinning() {
	w.page()
	w.heading(corpusPinning)
	w.para("Top view of the package; the dot marks pin 1.", w.x0, w.x1)
	g := corpusGrid{titles: []string{"Pin", "Name", "Type", "Description"}, shares: []float64{0.1, 0.16, 0.14, 0.6}}
	for _, p := range w.d.Pins {
		g.rows = append(g.rows, corpusGridRow{cells: []string{p.Number, p.Name, p.Type, p.Function}})
	}
	x0, x1 := w.sides()
	w.grid(g, x0, x1)
}

// limits sets ratings, operating conditions and characteristics.
func (w *corpusWriter) limits() {
	w.turnedPage(func() {
		w.heading(corpusAbsolute)
		x0, x1 := w.sides()
		w.ratingsOrRanges(w.d.AbsMax, x0, x1)
		if w.l.Footnotes {
			w.para("(1) Stresses beyond those listed may cause permanent damage to the device. These are stress ratings only.", w.x0, w.x1)
		}
		if w.l.TwoColumn {
			w.page()
		} else {
			w.room(190)
		}
		w.heading(corpusRecommended)
		x0, x1 = w.sides()
		if w.l.Lists {
			w.named(w.d.Operating)
		} else {
			w.ratings(w.d.Operating, x0, x1)
		}
		if len(w.d.Thermal) > 0 && !w.l.TwoColumn {
			w.room(110)
			w.chaps++
			w.head("Thermal Information", false)
			w.ratings(w.d.Thermal, x0, x1)
		}
	})
	w.turnedPage(func() {
		w.heading(corpusElectrical)
		w.para("Limits apply over the operating range of temperature unless otherwise noted.", w.x0, w.x1)
		x0, x1 := w.sides()
		if w.l.Beside != "" {
			w.beside(w.d.Electric)
			return
		}
		w.ratings(w.d.Electric, x0, x1)
	})
}

// ratingsOrRanges sets maximum ratings, with both limits in one cell where the
// layout has it so.
func (w *corpusWriter) ratingsOrRanges(rows []corpusRow, x0, x1 float64) {
	if w.l.Lists {
		w.dotted(rows)
		return
	}
	if !w.l.Ranges {
		w.ratings(rows, x0, x1)
		return
	}
	g := corpusGrid{titles: []string{"Parameter", "Symbol", "Value", "Unit"}, shares: []float64{0.5, 0.15, 0.2, 0.15}}
	for _, r := range rows {
		value := strings.ReplaceAll(r.Max, "-", w.minus())
		if r.Min != "" {
			between := " to "
			if w.l.SplitTo {
				between = " to\n"
			}
			value = strings.ReplaceAll(r.Min, "-", w.minus()) + between + value
		}
		g.rows = append(g.rows, corpusGridRow{cells: []string{r.Name, r.Symbol, value, r.Unit}})
	}
	w.grid(g, x0, x1)
}

// turnedPage sets a page whose text is turned by 90 degrees where the layout asks.
func (w *corpusWriter) turnedPage(set func()) {
	w.page()
	if !w.l.Turned {
		set()
		return
	}
	w.TransformBegin()
	w.TransformRotate(90, 0, 0) // counter-clockwise: the text reads upwards
	w.TransformTranslate(-w.h, 0)
	width, height, x1, y := w.w, w.h, w.x1, w.y
	w.w, w.h, w.x1, w.y = height, width, height-48, 48
	set()
	w.TransformEnd()
	w.w, w.h, w.x1, w.y = width, height, x1, y
}

func (w *corpusWriter) curves() {
	w.page()
	w.chaps++
	w.head("Typical Characteristics", false)
	for i := range 2 {
		top := w.y + 10
		w.Rect(w.x0+30, top, 300, 150, "D")
		w.font(false, 7)
		for k := range 6 {
			w.text(w.x0+10, top+150-float64(k)*30, fmt.Sprint(k*50))
			w.text(w.x0+30+float64(k)*60, top+162, fmt.Sprint(k*30))
		}
		w.y = top + 170
		w.para(fmt.Sprintf("Figure %d. %s versus temperature", i+1, w.d.Electric[i*2].Name), w.x0, w.x1)
	}
}

func (w *corpusWriter) application() {
	w.page()
	w.heading(corpusApplication)
	w.para("The figure shows the device with its external parts.", w.x0, w.x1)
	top := w.y
	w.Rect(w.x0+150, top, 120, 80, "D")
	w.font(true, 9)
	w.text(w.x0+190, top+44, w.d.Name)
	w.font(false, 8)
	for i, p := range w.d.Pins[:min(4, len(w.d.Pins))] {
		w.Line(w.x0+100, top+15+float64(i)*18, w.x0+150, top+15+float64(i)*18)
		w.text(w.x0+154, top+18+float64(i)*18, p.Name)
	}
	w.y = top + 90
	w.para("Figure 3. "+w.l.Headings[corpusApplication], w.x0, w.x1)
	for _, s := range w.d.Circuit {
		w.para(s, w.x0, w.x1)
	}
}

func (w *corpusWriter) ordering() {
	w.page()
	w.heading(corpusOrdering)
	g := corpusGrid{titles: []string{"Order code", "Option", "Package", "Temperature range"}, shares: []float64{0.3, 0.25, 0.2, 0.25}}
	for _, o := range w.d.Orders {
		g.rows = append(g.rows, corpusGridRow{cells: []string{o.Code, o.Option, o.Package,
			strings.ReplaceAll(o.Temperature, "-", w.minus())}})
	}
	w.grid(g, w.x0, w.x1)
}

func (w *corpusWriter) outlines() {
	w.page()
	w.heading(corpusPackaging)
	g := corpusGrid{titles: []string{"Package", "Pins", "Body size", "Pitch"}, shares: []float64{0.25, 0.15, 0.35, 0.25}}
	for _, p := range w.d.Packages {
		g.rows = append(g.rows, corpusGridRow{cells: []string{p.Name, p.Pins, p.Body, p.Pitch}})
	}
	w.grid(g, w.x0, w.x1)
	w.Rect(w.x0+40, w.y+20, 160, 120, "D")
	w.y += 150
	w.para("All dimensions in millimetres. The drawing is not to scale.", w.x0, w.x1)
}
