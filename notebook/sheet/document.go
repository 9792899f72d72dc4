package sheet

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"image"
	"strings"
	"sync"

	"github.com/klippa-app/go-pdfium"
	"github.com/klippa-app/go-pdfium/enums"
	pdferrors "github.com/klippa-app/go-pdfium/errors"
	"github.com/klippa-app/go-pdfium/references"
	"github.com/klippa-app/go-pdfium/requests"
)

// document is a PDF open in an instance of its own. It is not safe for
// concurrent use, and of no use any more once a call was abandoned.
type document struct {
	eng     *engine
	inst    pdfium.Pdfium
	memory  *sandbox
	inside  sync.Mutex // held during a call
	guarded bool
	ref     references.FPDF_DOCUMENT
	pages   int
	broken  bool // an error occurred: the instance must not be used again
	lost    bool // a call was abandoned
}

// header is what a document says about itself.
type header struct {
	Pages   int
	Title   string
	Labels  []string // printed label by page index; nil where the file has none
	Outline []outlineItem
}

// outlineItem is one bookmark, in the order of the outline.
type outlineItem struct {
	Title string
	Depth int // 0 at the top
	Page  int // counted, 0 if it leads nowhere
}

// openDocument opens the bytes of a PDF in a fresh instance.
func openDocument(ctx context.Context, eng *engine, data []byte) (*document, error) {
	if err := looksLikePDF(data); err != nil {
		return nil, err
	}
	inst, memory, guarded, err := eng.instance(ctx)
	if err != nil {
		return nil, err
	}
	d := &document{eng: eng, inst: inst, memory: memory, guarded: guarded}
	err = d.do(func() error {
		open, err := inst.OpenDocument(&requests.OpenDocument{File: &data})
		if err != nil {
			return err
		}
		count, err := inst.FPDF_GetPageCount(&requests.FPDF_GetPageCount{Document: open.Document})
		if err != nil {
			return err
		}
		d.ref, d.pages = open.Document, count.PageCount
		return nil
	}, true)
	if err == nil && d.pages > maxPageCount {
		err = fmt.Errorf("%w: %d pages", ErrTooLarge, d.pages)
	}
	if err == nil && d.pages < 1 {
		err = fmt.Errorf("%w: no page can be read", ErrDamaged)
	}
	if err != nil {
		d.close()
		return nil, err
	}
	return d, nil
}

// looksLikePDF asks for the mark of ISO 32000-1, 7.5.2 within the first
// kilobyte, where readers accept it.
func looksLikePDF(data []byte) error {
	if !bytes.Contains(data[:min(len(data), 1024)], []byte("%PDF-")) {
		return ErrNotPDF
	}
	return nil
}

// do runs f with a time limit and types its error.
func (d *document) do(f func() error, opening bool) error {
	limit := d.eng.pageLimit
	if opening {
		limit = d.eng.openLimit
	}
	d.inside.Lock()
	err, returned := watched(limit, func() error { return d.complete(f) })
	if !returned {
		d.broken, d.lost = true, true
		d.eng.abandon(d.inst, d.guarded)
		go d.leave()
		return err
	}
	if err == nil {
		return nil
	}
	d.broken = true
	return typedError(err)
}

// leave gives the memory back once no call is under way.
func (d *document) leave() {
	d.inside.Lock()
	defer d.inside.Unlock()
	d.memory.release()
}

// complete runs f. If the light engine ended meanwhile, errBlanked says so
// whatever f made of it: errors of single calls may be dropped on their way.
func (d *document) complete(f func() error) (err error) {
	defer d.inside.Unlock()
	defer func() {
		if d.ended() {
			_ = recover()
			err = errBlanked
		}
	}()
	return f()
}

// ended says whether the instance entered a function left out.
func (d *document) ended() bool {
	_, err := d.inst.FPDF_GetLastError(&requests.FPDF_GetLastError{})
	return err != nil && strings.Contains(err.Error(), fmt.Sprintf("exit_code(%d)", exitBlanked))
}

func typedError(err error) error {
	switch {
	case errors.Is(err, errBlanked):
		return err
	case errors.Is(err, ErrTooLarge), errors.Is(err, ErrDamaged):
		return err
	case errors.Is(err, pdferrors.ErrPassword):
		return ErrEncrypted
	case errors.Is(err, pdferrors.ErrSecurity):
		return fmt.Errorf("%w (by a method that is not supported)", ErrEncrypted)
	case strings.Contains(err.Error(), "wasm error"): // its memory gave out, or the file led it astray
		return fmt.Errorf("%w, or damaged", ErrTooLarge)
	default:
		return fmt.Errorf("%w: %v", ErrDamaged, err)
	}
}

func (d *document) close() {
	if d.lost {
		return
	}
	d.inside.Lock()
	end := func() error {
		defer d.inside.Unlock()
		return d.inst.Close()
	}
	if _, ok := watched(d.eng.pageLimit, end); !ok {
		d.eng.abandon(d.inst, d.guarded)
		go d.leave()
		return
	}
	d.leave()
}

// header reads labels, title and outline.
func (d *document) header() (header, error) {
	h := header{Pages: d.pages}
	err := d.do(func() error {
		if m, err := d.inst.FPDF_GetMetaText(&requests.FPDF_GetMetaText{Document: d.ref, Tag: "Title"}); err == nil {
			h.Title = m.Value
		}
		h.Labels = d.labels()
		h.Outline = d.outline()
		return nil
	}, true)
	if err != nil {
		return header{}, err
	}
	return h, nil
}

// labels reads the printed page labels; nil if the first page has none.
func (d *document) labels() []string {
	labels := make([]string, 0, d.pages)
	for i := range d.pages {
		l, err := d.inst.FPDF_GetPageLabel(&requests.FPDF_GetPageLabel{Document: d.ref, Page: i})
		if err != nil {
			if i == 0 {
				return nil
			}
			labels = append(labels, "")
			continue
		}
		labels = append(labels, l.Label)
	}
	return labels
}

// outline walks the bookmarks with its own bounds, since a hostile file may
// chain them in a circle.
func (d *document) outline() []outlineItem {
	const maxItems, maxDepth = 5000, 8
	var items []outlineItem
	var walk func(first references.FPDF_BOOKMARK, depth int)
	walk = func(mark references.FPDF_BOOKMARK, depth int) {
		for len(items) < maxItems {
			items = append(items, d.bookmark(mark, depth))
			if depth < maxDepth {
				child, err := d.inst.FPDFBookmark_GetFirstChild(&requests.FPDFBookmark_GetFirstChild{Document: d.ref, Bookmark: &mark})
				if err == nil && child.Bookmark != nil {
					walk(*child.Bookmark, depth+1)
				}
			}
			next, err := d.inst.FPDFBookmark_GetNextSibling(&requests.FPDFBookmark_GetNextSibling{Document: d.ref, Bookmark: mark})
			if err != nil || next.Bookmark == nil {
				return
			}
			mark = *next.Bookmark
		}
	}
	first, err := d.inst.FPDFBookmark_GetFirstChild(&requests.FPDFBookmark_GetFirstChild{Document: d.ref})
	if err == nil && first.Bookmark != nil {
		walk(*first.Bookmark, 0)
	}
	return items
}

func (d *document) bookmark(mark references.FPDF_BOOKMARK, depth int) outlineItem {
	item := outlineItem{Depth: depth}
	if t, err := d.inst.FPDFBookmark_GetTitle(&requests.FPDFBookmark_GetTitle{Bookmark: mark}); err == nil {
		item.Title = t.Title
	}
	dest, err := d.inst.FPDFBookmark_GetDest(&requests.FPDFBookmark_GetDest{Document: d.ref, Bookmark: mark})
	if err != nil || dest.Dest == nil {
		return item
	}
	at, err := d.inst.FPDFDest_GetDestPageIndex(&requests.FPDFDest_GetDestPageIndex{Document: d.ref, Dest: *dest.Dest})
	if err == nil && at.Index >= 0 && at.Index < d.pages {
		item.Page = at.Index + 1
	}
	return item
}

// at names a counted page to the engine.
func (d *document) at(n int) requests.Page {
	return requests.Page{ByIndex: &requests.PageByIndex{Document: d.ref, Index: n - 1}}
}

func (d *document) frame(at requests.Page) (frame, error) {
	bounds, err := d.inst.FPDF_GetPageBoundingBox(&requests.FPDF_GetPageBoundingBox{Page: at})
	if err != nil {
		return frame{}, err
	}
	turn, err := d.inst.FPDFPage_GetRotation(&requests.FPDFPage_GetRotation{Page: at})
	if err != nil {
		return frame{}, err
	}
	return newFrame(bounds.Rect, turn.PageRotation), nil
}

// page reads the text of a counted page.
func (d *document) page(n int) (Page, error) {
	var p Page
	at := d.at(n)
	err := d.do(func() error {
		f, err := d.frame(at)
		if err != nil {
			return err
		}
		if err := d.checkLength(at); err != nil {
			return err
		}
		text, err := d.inst.GetPageTextStructured(&requests.GetPageTextStructured{Page: at, Mode: requests.GetPageTextStructuredModeChars})
		if err != nil {
			return err
		}
		guessed, err := d.guessed(at, text.Chars)
		if err != nil {
			return err
		}
		if p = buildPage(n, f, glyphsOf(f, text.Chars, guessed)); newGrid(&p).heads() {
			p.rules, p.marks = d.rules(at, f)
		}
		return nil
	}, false)
	if err != nil { // an abandoned call may still write to p
		return Page{}, err
	}
	return p, nil
}

// checkLength refuses a page with more characters than any honest page has.
func (d *document) checkLength(at requests.Page) error {
	text, err := d.inst.FPDFText_LoadPage(&requests.FPDFText_LoadPage{Page: at})
	if err != nil {
		return err
	}
	count, err := d.inst.FPDFText_CountChars(&requests.FPDFText_CountChars{TextPage: text.TextPage})
	if err != nil {
		return err
	}
	if count.Count > maxPageChars {
		return fmt.Errorf("%w: page of %d characters", ErrTooLarge, count.Count)
	}
	_, err = d.inst.FPDFText_ClosePage(&requests.FPDFText_ClosePage{TextPage: text.TextPage})
	return err
}

// size gives width and height of a counted page in points, as shown.
func (d *document) size(n int) (width, height float64, err error) {
	var w, h float64
	err = d.do(func() error {
		s, err := d.inst.GetPageSize(&requests.GetPageSize{Page: d.at(n)})
		if err != nil {
			return err
		}
		w, h = s.Width, s.Height
		return nil
	}, false)
	if err != nil {
		return 0, 0, err
	}
	return w, h, nil
}

// render draws a region of a page; use gets the picture, which is gone when use
// returns. It is for the function given to do.
func (d *document) render(at requests.Page, area rect, dpi int, use func(*image.RGBA) error) error {
	region := requests.RenderPageCrop{X: area.x0, Y: area.y0, Width: area.x1 - area.x0, Height: area.y1 - area.y0}
	img, err := d.inst.RenderPageInDPI(&requests.RenderPageInDPI{
		Page: at, DPI: dpi, Crop: &region, RenderFlags: enums.FPDF_RENDER_FLAG_ANNOT,
	})
	if err != nil {
		return err
	}
	defer img.Cleanup()
	src, ok := img.Result.RenderedImage.(*image.RGBA)
	if !ok {
		return fmt.Errorf("unexpected kind of picture %T", img.Result.RenderedImage)
	}
	return use(src)
}

// grey draws a region of a counted page in shades of grey, coarser than asked
// where it would have more than the given number of pixels.
func (d *document) grey(n int, area rect, dpi, most int) (img *image.Paletted, used int, err error) {
	dpi = fittingDPI(area, dpi, most)
	var out *image.Paletted
	err = d.do(func() error {
		return d.render(d.at(n), area, dpi, func(src *image.RGBA) error { out = toGrey(src); return nil })
	}, false)
	if err != nil { // an abandoned call may still write to out
		return nil, 0, err
	}
	return out, dpi, nil
}

// fittingDPI lowers a resolution until an area has no more pixels than given.
func fittingDPI(area rect, dpi, most int) int {
	for dpi > 1 && area.area()*float64(dpi*dpi)/(72*72) > float64(most) {
		dpi--
	}
	return dpi
}
