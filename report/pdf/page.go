package pdf

import (
	"bytes"
	"strings"
	"time"

	"github.com/go-pdf/fpdf"
)

// page is the guarded writer: the only file that calls fpdf for text, lines,
// links and bookmarks. It keeps the cursor, the column and what must stay
// together, and knows nothing of records.
//
// Defects of fpdf v0.9.0 that it works round, each held by a test: boxes and
// panics on runes that cannot be set (guard.go), map order of images of equal
// width (image.go), bookmarks as raw bytes unless a UTF-8 font is current,
// dates of the clock, catalogues in map order, attachments that shift links
// (never used), links to places that were never set, and writes into the font
// bytes that it is given (which are shared by the whole program).
type page struct {
	f *fpdf.Fpdf
	g *guard

	width, height            float64 // of the sheet, points
	left, right, top, bottom float64 // of the text area, from the top left

	x, w float64 // current column
	y    float64 // top of what comes next

	gap     float64 // space wanted before what comes next
	kept    []kept  // what must stand with what comes next
	bars    []bar
	set     fontState
	fill    rgb
	stroke  float64
	drawn   rgb
	level   int // of the last bookmark
	places  map[string]place
	links   []link
	late    []lateText
	picture map[string]*picture
	shown   map[string]int // pages of pictures already shown
	watch   func(drawn)    // sees every text as it is drawn; nil but in tests
}

type fontState struct {
	face   faceID
	size   float64
	colour rgb
	ok     bool
}

type kept struct {
	h    float64
	draw func()
}

// bar is a rule along the left of everything until it is closed.
type bar struct {
	x, w, from float64
	colour     rgb
}

// drawn is a piece of text as it stands on a page.
type drawn struct {
	page             int
	x, base, w, size float64
	text             string
}

// The sheet in points: ISO 216 A4.
const paperWidth, paperHeight = 595.28, 841.89

func newPage(date time.Time) (*page, error) {
	faces, err := newFaces()
	if err != nil {
		return nil, err
	}
	f := fpdf.NewCustom(&fpdf.InitType{OrientationStr: "P", UnitStr: "pt", Size: fpdf.SizeType{Wd: paperWidth, Ht: paperHeight}})
	f.SetCatalogSort(true)
	f.SetCreationDate(date)
	f.SetModificationDate(date)
	f.SetAutoPageBreak(false, 0)
	f.SetMargins(0, 0, 0)
	for _, fc := range faces {
		f.AddUTF8FontFromBytes(fc.family, fc.style, bytes.Clone(fc.ttf))
	}
	p := &page{
		f: f, g: newGuard(faces), width: paperWidth, height: paperHeight,
		left: 52, right: paperWidth - 44, top: 56, bottom: paperHeight - 50,
		places: map[string]place{}, picture: map[string]*picture{}, shown: map[string]int{},
	}
	p.x, p.w = p.left, p.right-p.left
	p.newSheet()
	return p, f.Error()
}

// newSheet begins a page; open bars go on.
func (p *page) newSheet() {
	p.drawBars(p.y)
	p.f.AddPage()
	p.f.SetFillColor(int(ink.r), int(ink.g), int(ink.b)) // equal to the text's colour: fpdf then writes no colour per text
	p.fill, p.stroke, p.set.ok, p.drawn = ink, -1, false, rgb{1, 2, 3}
	p.y, p.gap = p.top, 0
	for i := range p.bars {
		p.bars[i].from = p.y
	}
}

func (p *page) sheet() int { return p.f.PageNo() }

// ready makes room for h points, with the space and the kept things before
// it, beginning a new page where they do not fit.
func (p *page) ready(h float64) {
	total := h
	for _, k := range p.kept {
		total += k.h
	}
	if p.y+p.gap+total > p.bottom && p.y > p.top && (total <= p.bottom-p.top || p.y+p.gap+40 > p.bottom) {
		p.newSheet()
	}
	if p.y > p.top {
		p.y += p.gap
	}
	p.gap = 0
	ks := p.kept
	p.kept = nil
	for _, k := range ks {
		k.draw()
		p.y += k.h
	}
}

// space asks for at least h points before what comes next.
func (p *page) space(h float64) { p.gap = max(p.gap, h) }

// keep holds something back until what it belongs to comes.
func (p *page) keep(h float64, draw func()) { p.kept = append(p.kept, kept{h, draw}) }

// put draws something h points high.
func (p *page) put(h float64, draw func()) {
	p.ready(h)
	draw()
	p.y += h
}

// flush draws what is kept although nothing follows it.
func (p *page) flush() {
	if len(p.kept) > 0 {
		p.ready(0)
	}
}

// openBar begins a rule of the given width and colour at the left of the
// column and moves the column right of it, where need points have room.
func (p *page) openBar(c rgb, w, indent, need float64) {
	p.ready(need)
	p.bars = append(p.bars, bar{x: p.x, w: w, from: p.y, colour: c})
	p.x += indent
	p.w -= indent
}

func (p *page) closeBar(indent float64) {
	p.drawBars(p.y)
	p.bars = p.bars[:len(p.bars)-1]
	for i := range p.bars {
		p.bars[i].from = p.y
	}
	p.x -= indent
	p.w += indent
}

func (p *page) drawBars(to float64) {
	for _, b := range p.bars {
		if to > b.from {
			p.rect(b.x, b.from, b.w, to-b.from, b.colour)
		}
	}
}

// rect fills a rectangle.
func (p *page) rect(x, y, w, h float64, c rgb) {
	p.setFill(c)
	p.f.Rect(x, y, w, h, "F")
	p.setFill(ink)
}

func (p *page) setFill(c rgb) {
	if c != p.fill {
		p.f.SetFillColor(int(c.r), int(c.g), int(c.b))
		p.fill = c
	}
}

func (p *page) setStroke(w float64, c rgb) {
	if w != p.stroke {
		p.f.SetLineWidth(w)
		p.stroke = w
	}
	if c != p.drawn {
		p.f.SetDrawColor(int(c.r), int(c.g), int(c.b))
		p.drawn = c
	}
}

// line draws a straight rule w points wide.
func (p *page) line(x1, y1, x2, y2, w float64, c rgb) {
	p.setStroke(w, c)
	p.f.Line(x1, y1, x2, y2)
}

// text draws cleaned text from x along the baseline and gives the x behind it.
func (p *page) text(x, base float64, st style, s string) float64 {
	if s == "" {
		return x
	}
	w := p.g.stringWidth(st.face, st.size, s)
	if st.turn != "" {
		p.late = append(p.late, lateText{p.sheet(), x + w, base, st, func() string { return "p." + p.number(st.turn) }, 0})
		return x + w
	}
	at := x
	p.byFace(st.face, visual(s), func(id faceID, part string) {
		at = p.run(at, base-st.raise, id, st, part)
	})
	if st.strike {
		p.line(x, base-st.size*0.3, x+w, base-st.size*0.3, st.size*0.06, st.colour)
	}
	if _, ok := p.places[st.place]; !ok && st.place != "" {
		p.places[st.place] = place{p.sheet(), base - st.ascent()}
	}
	if st.anchor != "" {
		p.links = append(p.links, link{p.sheet(), x, base - st.ascent(), w, st.leading(), st.anchor})
	}
	if st.url != "" {
		p.f.LinkString(x, base-st.ascent(), w, st.leading(), st.url)
	}
	return x + w
}

// run draws text of one face that has all its glyphs.
func (p *page) run(x, base float64, id faceID, st style, s string) float64 {
	want := fontState{id, st.size, st.colour, true}
	if want != p.set {
		f := p.g.faces[id]
		p.f.SetFont(f.family, f.style, st.size)
		p.f.SetTextColor(int(st.colour.r), int(st.colour.g), int(st.colour.b))
		p.set = want
	}
	p.f.Text(x, base, s)
	w := p.g.stringWidth(id, st.size, s)
	if p.watch != nil {
		p.watch(drawn{p.sheet(), x, base, w, st.size, s})
	}
	return x + w
}

// byFace cuts s where the wanted face lacks a rune that the regular one has.
func (p *page) byFace(id faceID, s string, do func(faceID, string)) {
	f := p.g.faces[id]
	start, cur := 0, id
	for i, r := range s {
		want := id
		if f.width(r) < 0 {
			want = regular
		}
		if want != cur {
			if i > start {
				do(cur, s[start:i])
			}
			start, cur = i, want
		}
	}
	do(cur, s[start:])
}

// oneLine folds line ends, so that text of any origin is one paragraph.
func oneLine(s string) string { return strings.Join(strings.Fields(s), " ") }
