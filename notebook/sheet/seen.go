package sheet

import (
	"context"
	"fmt"
	"image"
	"maps"
	"math"
	"slices"
	"strings"
	"unicode"

	"github.com/klippa-app/go-pdfium/enums"
	"github.com/klippa-app/go-pdfium/references"
	"github.com/klippa-app/go-pdfium/requests"
)

// A document can hold text that nobody sees: in the colour of the paper, drawn
// with no ink, clipped away, off the page, covered, in a layer that is switched
// off. A citation may not rest on it. Words that would bear one are looked at:
// the page is drawn with them and without them, and where that makes no
// difference they are not there.

// sight is what a look at a word gave.
type sight byte

const (
	unseen  sight = iota + 1 // some of its glyphs cannot be seen
	shown                    // its ink is on the page
	layered                  // it has no ink of its own and lies over or under a picture, as behind a scan
)

const (
	lookDPI   = 144
	inkStep   = 20   // of 255: less of a difference nobody sees
	pictInk   = 48   // of 255: a picture that shows something
	tinyType  = 1.0  // points; smaller type nobody reads
	maxAlone  = 60   // words over others that are looked at, each by itself
	maxLooked = 4000 // words of a page
)

// looker looks at words of one page.
type looker struct {
	doc   *document
	at    requests.Page
	frame frame
	text  references.FPDF_TEXTPAGE
	page  *Page
	seen  map[place]sight
	pict  []rect // pictures of the page; made on first use
	asked bool   // pict is made
}

// inkedGlyph is a character of a word, with what draws it.
type inkedGlyph struct {
	word   place
	box    rect
	object references.FPDF_PAGEOBJECT
}

// look says of words of a page whether they are seen.
func (d *document) look(p *Page, words []place) (map[place]sight, error) {
	l := looker{doc: d, at: d.at(p.Number), page: p, seen: map[place]sight{}}
	err := d.do(func() (err error) {
		if len(words) > maxLooked {
			return ErrTooLarge
		}
		if l.frame, err = d.frame(l.at); err != nil {
			return err
		}
		text, err := d.inst.FPDFText_LoadPage(&requests.FPDFText_LoadPage{Page: l.at})
		if err != nil {
			return err
		}
		l.text = text.TextPage
		var free, over []place
		for _, w := range words {
			if l.stacked(w) {
				over = append(over, w)
			} else {
				free = append(free, w)
			}
		}
		if err := l.batch(free, false); err != nil {
			return err
		}
		for i, w := range over {
			if l.seen[w] = unseen; i < maxAlone {
				if err := l.batch([]place{w}, true); err != nil {
					return err
				}
			}
		}
		_, err = d.inst.FPDFText_ClosePage(&requests.FPDFText_ClosePage{TextPage: l.text})
		return err
	}, false)
	if err != nil { // an abandoned call may still write to l
		return nil, err
	}
	return l.seen, nil
}

func (p *Page) word(at place) *Word { return &p.Lines[at.line].Words[at.word] }

// stacked says whether another word lies where a word does: the ink there may
// be that of the other.
func (l *looker) stacked(at place) bool {
	a := l.page.word(at).Box.rect()
	for i := range l.page.Lines {
		if l.page.Lines[i].Box.rect().common(a) == 0 {
			continue
		}
		for j := range l.page.Lines[i].Words {
			b := l.page.Lines[i].Words[j].Box.rect()
			if (place{i, j}) != at && 4*a.common(b) > math.Min(a.area(), b.area()) {
				return true
			}
		}
	}
	return false
}

func (a rect) area() float64 { return (a.x1 - a.x0) * (a.y1 - a.y0) }

// common is the area that two rectangles share.
func (a rect) common(b rect) float64 {
	w, h := math.Min(a.x1, b.x1)-math.Max(a.x0, b.x0), math.Min(a.y1, b.y1)-math.Max(a.y0, b.y0)
	return math.Max(w, 0) * math.Max(h, 0)
}

// batch looks at words that do not lie over each other.
func (l *looker) batch(words []place, over bool) error {
	w, h := l.frame.size()
	var glyphs []inkedGlyph
	var area rect
	for _, at := range words {
		l.seen[at] = unseen
		if w := l.page.word(at); w.Size > 0 && w.Size < tinyType && strings.IndexFunc(w.Text, letterOrDigit) >= 0 {
			continue
		}
		list, err := l.glyphs(at)
		if err != nil {
			return err
		}
		for _, g := range list {
			if g.box.x0 < 0 || g.box.y0 < 0 || g.box.x1 > w || g.box.y1 > h {
				list = nil // some of it is off the page
				break
			}
		}
		for _, g := range list {
			if l.seen[at] = shown; len(glyphs) == 0 {
				area = g.box
			}
			area = area.union(g.box)
			glyphs = append(glyphs, g)
		}
	}
	if len(glyphs) == 0 {
		return nil
	}
	area = rect{math.Floor(area.x0 - 1), math.Floor(area.y0 - 1), math.Ceil(area.x1 + 1), math.Ceil(area.y1 + 1)}
	dpi := fittingDPI(area, lookDPI, maxPixels)
	with, err := l.draw(area, dpi)
	if err != nil {
		return err
	}
	for _, g := range glyphs {
		if err := l.switchOn(g, false); err != nil {
			return err
		}
	}
	without, err := l.draw(area, dpi)
	if err != nil {
		return err
	}
	for _, g := range glyphs {
		if err := l.switchOn(g, true); err != nil {
			return err
		}
	}
	scale := float64(dpi) / 72
	for _, g := range glyphs {
		switch px := pixels(g.box, area, scale, with.Rect); {
		case l.seen[g.word] == unseen || differ(with, without, px):
		case !over && l.pictured(g.box) && contrast(with, pixels(l.page.word(g.word).Box.rect(), area, scale, with.Rect)):
			l.seen[g.word] = layered
		default:
			l.seen[g.word] = unseen
		}
	}
	return nil
}

// glyphs gives the characters of a word that should have ink.
func (l *looker) glyphs(at place) (out []inkedGlyph, err error) {
	w, inst := l.page.word(at), l.doc.inst
	digits := hasDigit(w.Text)
	near := w.Box.rect()
	near = rect{near.x0 - 0.1, near.y0 - 0.1, near.x1 + 0.1, near.y1 + 0.1}
	for i := w.char; i < w.char+w.chars; i++ {
		c, err := inst.FPDFText_GetCharBox(&requests.FPDFText_GetCharBox{TextPage: l.text, Index: i})
		if err != nil {
			return nil, err
		}
		box := l.frame.rect(c.Left, c.Bottom, c.Right, c.Top)
		if box.area() == 0 || box.common(near) < box.area()/2 {
			continue // put in by the engine, or of another word
		}
		u, err := inst.FPDFText_GetUnicode(&requests.FPDFText_GetUnicode{TextPage: l.text, Index: i})
		if err != nil {
			return nil, err
		}
		if u.Unicode == ' ' || u.Unicode == 0xA0 {
			continue
		}
		o, err := inst.FPDFText_GetTextObject(&requests.FPDFText_GetTextObject{TextPage: l.text, Index: i})
		if err != nil {
			return nil, nil // nothing draws it
		}
		if digits && l.replaced(o.TextObject) {
			return nil, nil // what is drawn may be another number
		}
		out = append(out, inkedGlyph{at, box, o.TextObject})
	}
	return out, nil
}

// replaced says whether the document gives a text of its own for what is drawn
// (ISO 32000-1, 14.9.4).
func (l *looker) replaced(o references.FPDF_PAGEOBJECT) bool {
	inst := l.doc.inst
	n, err := inst.FPDFPageObj_CountMarks(&requests.FPDFPageObj_CountMarks{PageObject: o})
	for i := 0; err == nil && i < n.Count; i++ {
		m, err := inst.FPDFPageObj_GetMark(&requests.FPDFPageObj_GetMark{PageObject: o, Index: uint64(i)})
		if err != nil {
			return true
		}
		v, err := inst.FPDFPageObjMark_GetParamValueType(
			&requests.FPDFPageObjMark_GetParamValueType{PageObjectMark: m.Mark, Key: "ActualText"})
		if err == nil && v.ValueType != enums.FPDF_OBJECT_TYPE_UNKNOWN {
			return true
		}
	}
	return err != nil
}

func letterOrDigit(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) }

func (l *looker) switchOn(g inkedGlyph, on bool) error {
	_, err := l.doc.inst.FPDFPageObj_SetIsActive(&requests.FPDFPageObj_SetIsActive{PageObject: g.object, Active: on})
	return err
}

func (l *looker) draw(area rect, dpi int) (*image.RGBA, error) {
	var out *image.RGBA
	err := l.doc.render(l.at, area, dpi, func(src *image.RGBA) error {
		out = &image.RGBA{Pix: slices.Clone(src.Pix), Stride: src.Stride, Rect: src.Rect}
		return nil
	})
	return out, err
}

// pixels are those whose middle lies in a box, at least one.
func pixels(box, area rect, scale float64, bounds image.Rectangle) image.Rectangle {
	span := func(a, b, from float64) (int, int) {
		lo, hi := int(math.Ceil((a-from)*scale-0.5)), int(math.Floor((b-from)*scale-0.5))
		if hi < lo {
			lo = int(((a+b)/2 - from) * scale)
			hi = lo
		}
		return lo, hi + 1
	}
	x0, x1 := span(box.x0, box.x1, area.x0)
	y0, y1 := span(box.y0, box.y1, area.y0)
	if y1-y0 < 3 { // a dash or a point may lie a pixel off; no neighbour stands over or under it
		y0, y1 = y0-1, y1+1
	}
	return image.Rect(x0, y0, x1, y1).Add(bounds.Min).Intersect(bounds)
}

// differ says whether two pictures differ visibly somewhere.
func differ(a, b *image.RGBA, at image.Rectangle) bool {
	for y := at.Min.Y; y < at.Max.Y; y++ {
		p, q := a.Pix[a.PixOffset(at.Min.X, y):], b.Pix[b.PixOffset(at.Min.X, y):]
		for i := range 4 * at.Dx() {
			if d := int(p[i]) - int(q[i]); d >= inkStep || d <= -inkStep {
				return true
			}
		}
	}
	return false
}

// contrast says whether a part of a picture shows something.
func contrast(a *image.RGBA, at image.Rectangle) bool {
	lo, hi := byte(255), byte(0)
	for y := at.Min.Y; y < at.Max.Y; y++ {
		p := a.Pix[a.PixOffset(at.Min.X, y):]
		for x := range at.Dx() {
			lo, hi = min(lo, p[4*x+1]), max(hi, p[4*x+1])
		}
	}
	return int(hi)-int(lo) >= pictInk
}

// pictured says whether a picture covers a box.
func (l *looker) pictured(box rect) bool {
	if !l.asked {
		l.asked = true
		r := &ruler{doc: l.doc, frame: l.frame, picture: func(b rect) { l.pict = append(l.pict, b) }}
		r.pageObjects(l.at)
	}
	return slices.ContainsFunc(l.pict, func(p rect) bool { return p.common(box) >= 0.99*box.area() })
}

// lookAt looks at all words that would bear one of the queries, page by page,
// and takes from a page those that nobody sees. A page with one such word is
// looked at whole: what is hidden there may as well be a unit or a heading.
func (k *checker) lookAt(qs []Query) error {
	words := map[int][]place{}
	for _, q := range qs {
		for _, n := range cited(q, k.head) {
			err := onPage(n, func() error {
				v, err := k.view(n)
				if err == nil {
					words[n] = append(words[n], v.bearing(q)...)
				}
				return err
			})
			if err != nil && !lasting(err) {
				return err
			}
		}
	}
	for _, n := range slices.Sorted(maps.Keys(words)) {
		err := onPage(n, func() (err error) {
			k.views[n], err = k.lib.visible(k.ctx, k.file, k.views[n], words[n])
			return err
		})
		if err != nil && !lasting(err) {
			return err
		}
		if err != nil {
			k.unread[n] = fmt.Errorf("which of its text is visible cannot be decided: %w", err)
			delete(k.views, n)
		}
	}
	return nil
}

// visible gives a view of a page without the words that nobody sees, as far as
// a look at the given ones tells.
func (l *Reader) visible(ctx context.Context, f file, old *view, words []place) (*view, error) {
	p := old.page
	seen, err := l.look(ctx, f, p, words)
	if err != nil {
		return nil, err
	}
	hides := func(at place) bool { return seen[at] == unseen }
	if !slices.ContainsFunc(words, hides) {
		for _, at := range words {
			old.mark(at, seen[at])
		}
		return old, nil
	}
	if seen, err = l.look(ctx, f, p, p.places()); err != nil {
		return nil, err
	}
	q := p.clone()
	q.Lines = nil
	v := newView(&q)
	v.hidden = true
	for i, l := range p.Lines {
		kept := Line{}
		for j, w := range l.Words {
			if at := (place{i, j}); !hides(at) {
				v.mark(place{len(q.Lines), len(kept.Words)}, seen[at])
				kept.Words = append(kept.Words, w)
			}
		}
		if len(kept.Words) > 0 {
			q.Lines = append(q.Lines, kept.sum(p.Number))
		}
	}
	return v, nil
}

// mark notes that a word is a text layer over a picture.
func (v *view) mark(at place, s sight) {
	if s != layered {
		return
	}
	if v.layer == nil {
		v.layer = map[place]bool{}
	}
	v.layer[at] = true
}

// rowWords gives the words of the rows of all tables, and those off the page:
// where there are any, a drawing is cut off and hides more.
func (v *view) rowWords() (out []place) {
	for _, at := range v.page.places() {
		if b := v.page.word(at).Box; b.X1 < 0 || b.Y1 < 0 || b.X0 > v.page.Width || b.Y0 > v.page.Height {
			out = append(out, at)
		}
	}
	for _, t := range v.tables() {
		for i := range t.Rows {
			for _, c := range t.Rows[i].Cells {
				for _, w := range c.words {
					out = append(out, w.at)
				}
			}
		}
	}
	return out
}

func (p *Page) places() (out []place) {
	for i, l := range p.Lines {
		for j := range l.Words {
			out = append(out, place{i, j})
		}
	}
	return out
}

// bearing gives the words of a page that a query would rest on: those quoted,
// the numbers with their units, and of numbers in a table the row and the head.
func (v *view) bearing(q Query) (out []place) {
	quote := foldQuote(q.Quote)
	for _, s := range findQuote(v.page, v.text(), &quote) {
		out = append(out, s.words...)
	}
	in := map[place]bool{}
	for _, n := range append(q.Numbers[:len(q.Numbers):len(q.Numbers)], q.Aside...) {
		for _, t := range v.find(newWanted(n)) {
			for _, w := range v.grid().rows[t.row].words[t.first : t.last+1] {
				in[w.at] = true
				out = append(out, w.at)
			}
		}
	}
	for _, r := range v.allRows() {
		var row []place
		bears := false
		for _, c := range r.row.Cells {
			for _, w := range c.words {
				row, bears = append(row, w.at), bears || in[w.at]
			}
		}
		if !bears {
			continue
		}
		for _, w := range v.grid().rows[r.table.headRow].words {
			row = append(row, w.at)
		}
		out = append(out, row...)
	}
	return out
}

// look gives what is known of words of a page, from the store or the document.
func (l *Reader) look(ctx context.Context, f file, p *Page, words []place) (map[place]sight, error) {
	known := l.store.loadSights(f.sha, p.Number)
	var ask []place
	for _, w := range words {
		if known[w] == 0 && !slices.Contains(ask, w) {
			ask = append(ask, w)
		}
	}
	if len(ask) == 0 {
		return known, nil
	}
	err := l.use(ctx, f, func(d *document) error {
		got, err := d.look(p, ask)
		for w, s := range got {
			known[w] = s
		}
		return err
	})
	if err == nil {
		l.store.saveSights(f.sha, p.Number, known)
	}
	return known, err
}
