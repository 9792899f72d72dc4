package sheet

import (
	"bytes"
	"fmt"
	"strings"
	"time"

	"github.com/go-fonts/dejavu/dejavusans"
	"github.com/go-fonts/dejavu/dejavusansbold"
	"github.com/go-fonts/dejavu/dejavusanscondensed"
	"github.com/go-fonts/dejavu/dejavusanscondensedbold"
	"github.com/go-fonts/dejavu/dejavuserif"
	"github.com/go-fonts/dejavu/dejavuserifbold"
	"github.com/go-pdf/fpdf"
)

// corpusSheet is a data sheet and what stands on it.
type corpusSheet struct {
	Name   string // device and layout
	Layout corpusLayout
	Device corpusDevice
	PDF    []byte
	Pages  map[string]int // counted page on which a section begins
}

// writer draws one sheet.
type corpusWriter struct {
	*fpdf.Fpdf
	l      corpusLayout
	d      corpusDevice
	w, h   float64 // of the page as it is read
	x0, x1 float64 // of the text
	y      float64 // baseline position of the next line's top
	pages  map[string]int
	chaps  int
	toc    []corpusTocLine
	turned bool // inside a turned page
}

type corpusTocLine struct {
	text string
	page int
}

// corpusWrite sets a device in a layout. Equal input gives equal bytes.
func corpusWrite(d corpusDevice, l corpusLayout) (corpusSheet, error) {
	d = l.printed(d)
	var toc []corpusTocLine
	var w *corpusWriter
	for range 2 { // the second run knows the page numbers of the contents
		w = corpusNewWriter(d, l)
		w.sheet(toc)
		toc = w.toc
	}
	var b bytes.Buffer
	if err := w.Output(&b); err != nil {
		return corpusSheet{}, fmt.Errorf("%s in layout %s: %w", d.Name, l.Name, err)
	}
	pdf := b.Bytes()
	if l.Greek {
		pdf = corpusRelink(bytes.ReplaceAll(pdf, []byte("/BaseFont /ZapfDingbats"), []byte("/BaseFont /Symbol")))
	}
	if l.Rotate != 0 {
		pdf = corpusRelink(bytes.ReplaceAll(pdf, []byte("<</Type /Page\n"), fmt.Appendf(nil, "<</Type /Page\n/Rotate %d\n", l.Rotate)))
	}
	return corpusSheet{Name: d.Name + "-" + l.Name, Layout: l, Device: d, PDF: pdf, Pages: w.pages}, nil
}

func corpusNewWriter(d corpusDevice, l corpusLayout) *corpusWriter {
	orientation := "P"
	if l.Landscape {
		orientation = "L"
	}
	f := fpdf.New(orientation, "pt", "A4", "")
	f.SetCompression(true)
	f.SetCatalogSort(true)
	f.SetCreationDate(time.Date(2025, 1, 2, 3, 4, 5, 0, time.UTC))
	f.SetModificationDate(time.Date(2025, 1, 2, 3, 4, 5, 0, time.UTC))
	f.SetTitle(d.Name+" data sheet", true)
	f.SetAutoPageBreak(false, 0)
	switch l.Font {
	case "sans":
		f.AddUTF8FontFromBytes("body", "", dejavusans.TTF)
		f.AddUTF8FontFromBytes("body", "B", dejavusansbold.TTF)
	case "condensed":
		f.AddUTF8FontFromBytes("body", "", dejavusanscondensed.TTF)
		f.AddUTF8FontFromBytes("body", "B", dejavusanscondensedbold.TTF)
	case "serif":
		f.AddUTF8FontFromBytes("body", "", dejavuserif.TTF)
		f.AddUTF8FontFromBytes("body", "B", dejavuserifbold.TTF)
	}
	pw, ph := f.GetPageSize()
	w := &corpusWriter{Fpdf: f, l: l, d: d, w: pw, h: ph, pages: map[string]int{}}
	if l.Rotate == 90 {
		w.w, w.h = ph, pw
	}
	return w
}

func (w *corpusWriter) font(bold bool, size float64) {
	style := ""
	if bold {
		style = "B"
	}
	if w.l.Font == "core" {
		w.SetFont("Helvetica", style, size)
		return
	}
	w.SetFont("body", style, size)
}

// page begins a page with a running head that names a section, as sheets have.
func (w *corpusWriter) page() {
	if w.turned {
		w.TransformEnd()
		w.turned = false
	}
	w.AddPage()
	if w.l.Rotate == 90 { // the reader turns the page clockwise: draw it turned back
		w.TransformBegin()
		w.TransformRotate(90, 0, 0)
		w.TransformTranslate(-w.w, 0)
		w.turned = true
	}
	w.x0, w.x1, w.y = 48, w.w-48, 40
	w.font(false, 7)
	w.text(w.x0, 26, w.d.Name+"  "+w.d.Title)
	w.text(w.x1-40, w.h-20, fmt.Sprintf("Page %d", w.PageNo()))
	w.text(w.x0, w.h-20, w.d.Maker+", rev. "+w.d.Revision)
	w.y = 50
}

// text draws one line at a baseline, changing to the Symbol face for Greek
// letters where the layout asks for it.
func (w *corpusWriter) text(x, y float64, s string) {
	if w.l.Font != "core" {
		w.Text(x, y, s)
		return
	}
	size, _ := w.GetFontSize()
	for _, run := range corpusRuns(s) {
		if run.greek {
			w.SetFont("Symbol", "", size)
			w.Text(x, y, run.text)
			x += size * 0.62 * float64(len(run.text))
			w.font(false, size)
			continue
		}
		w.Text(x, y, run.text)
		x += w.GetStringWidth(run.text)
	}
}

func (w *corpusWriter) width(s string) float64 {
	if w.l.Font != "core" {
		return w.GetStringWidth(s)
	}
	size, _ := w.GetFontSize()
	total := 0.0
	for _, run := range corpusRuns(s) {
		if run.greek {
			total += size * 0.62 * float64(len(run.text))
		} else {
			total += w.GetStringWidth(run.text)
		}
	}
	return total
}

type corpusTextRun struct {
	text  string
	greek bool
}

// symbolCodes are codes of the Symbol face (ISO 32000-1, annex D.5).
var corpusSymbolCodes = map[rune]byte{'µ': 0x6d, 'Ω': 0x57, 'Δ': 0x44, 'θ': 0x71, '≤': 0xa3}

// latinCodes are codes of Windows code page 1252 beyond ASCII.
var corpusLatinCodes = map[rune]byte{'°': 0xb0, '±': 0xb1, '²': 0xb2, '–': 0x96, '—': 0x97, '•': 0x95}

func corpusRuns(s string) []corpusTextRun {
	var out []corpusTextRun
	for _, r := range s {
		code, greek := corpusSymbolCodes[r]
		if !greek {
			if c, ok := corpusLatinCodes[r]; ok {
				code = c
			} else {
				code = byte(r)
			}
		}
		if n := len(out); n > 0 && out[n-1].greek == greek {
			out[n-1].text += string([]byte{code})
			continue
		}
		out = append(out, corpusTextRun{text: string([]byte{code}), greek: greek})
	}
	return out
}

// heading begins a section.
func (w *corpusWriter) heading(section string) {
	w.chaps++
	text := w.l.Headings[section]
	w.pages[section] = w.PageNo()
	w.head(text, section == corpusAbsolute && w.l.Footnotes)
}

func (w *corpusWriter) head(text string, mark bool) {
	full := text
	if w.l.Numbered {
		full = fmt.Sprintf("%d. %s", w.chaps, text)
	}
	if w.l.Outline {
		w.font(true, 13)
		w.Bookmark(full, 0, w.y)
	}
	w.toc = append(w.toc, corpusTocLine{full, w.PageNo()})
	if mark {
		full += " (1)"
	}
	w.y += 22
	size := 13.0
	if w.l.HeadSize > 0 {
		size = w.l.HeadSize
	}
	w.font(true, size)
	w.text(w.x0, w.y, full)
	w.y += 12
}

// para sets running text between the margins.
func (w *corpusWriter) para(s string, x0, x1 float64) {
	w.font(false, 9)
	for _, line := range w.wrap(s, x1-x0) {
		w.y += 12
		w.text(x0, w.y, line)
	}
	w.y += 6
}

// wrap breaks text into lines of a width.
func (w *corpusWriter) wrap(s string, width float64) []string {
	var lines []string
	for _, part := range strings.Split(s, "\n") {
		line := ""
		for _, word := range strings.Fields(part) {
			switch {
			case line == "":
				line = word
			case w.width(line+" "+word) <= width:
				line += " " + word
			default:
				lines = append(lines, line)
				line = word
			}
		}
		lines = append(lines, line)
	}
	return lines
}
