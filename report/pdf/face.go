package pdf

import (
	"fmt"

	"github.com/go-fonts/dejavu/dejavusanscondensed"
	"github.com/go-fonts/dejavu/dejavusanscondensedbold"
	"github.com/go-fonts/dejavu/dejavusanscondensedoblique"
	"github.com/go-fonts/dejavu/dejavusansmono"
	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// faceID names one of the four embedded faces.
type faceID uint8

const (
	regular faceID = iota
	bold
	oblique
	mono
	faceCount
)

// face is an embedded font with the widths that the PDF will carry.
type face struct {
	family, style string
	ttf           []byte
	font          *sfnt.Font
	buf           sfnt.Buffer
	units         float64
	ascent        float64 // of 1
	descent       float64 // of 1, positive
	// widths holds, per rune of the basic plane, 0 for not yet looked up, -1
	// for a rune the face cannot set, else 1 + the width in 1/1000 of the size.
	widths []int16
}

// newFaces opens the four faces. They are compiled into the program, so an
// error here is a defect of the build.
func newFaces() (*[faceCount]*face, error) {
	fs := [faceCount]*face{
		regular: {family: "text", style: "", ttf: dejavusanscondensed.TTF},
		bold:    {family: "text", style: "B", ttf: dejavusanscondensedbold.TTF},
		oblique: {family: "text", style: "I", ttf: dejavusanscondensedoblique.TTF},
		mono:    {family: "mono", style: "", ttf: dejavusansmono.TTF},
	}
	for _, f := range fs {
		var err error
		if f.font, err = sfnt.Parse(f.ttf); err != nil {
			return nil, fmt.Errorf("font %s%s: %w", f.family, f.style, err)
		}
		f.units = float64(f.font.UnitsPerEm())
		ppem := fixed.I(int(f.font.UnitsPerEm()))
		m, err := f.font.Metrics(&f.buf, ppem, font.HintingNone)
		if err != nil {
			return nil, fmt.Errorf("font %s%s: %w", f.family, f.style, err)
		}
		f.ascent = float64(m.Ascent) / float64(ppem)
		f.descent = float64(m.Descent) / float64(ppem)
		f.widths = make([]int16, 1<<16)
	}
	return &fs, nil
}

// width is the advance of r in 1/1000 of the size, or -1 where the face has no
// glyph for it, a glyph without width (a mark that would need placing), or
// where fpdf cannot address it (above U+FFFF).
func (f *face) width(r rune) int {
	if r < 0 || r > 0xFFFF {
		return -1
	}
	switch w := f.widths[r]; {
	case w > 0:
		return int(w) - 1
	case w < 0:
		return -1
	}
	w := f.measure(r)
	if w < 0 {
		f.widths[r] = -1
	} else {
		f.widths[r] = int16(w + 1)
	}
	return w
}

// measure looks r up in the font. The rounding is that of the width table
// which fpdf writes, so that measured and drawn text agree.
func (f *face) measure(r rune) int {
	g, err := f.font.GlyphIndex(&f.buf, r)
	if err != nil || g == 0 {
		return -1
	}
	adv, err := f.font.GlyphAdvance(&f.buf, g, fixed.Int26_6(f.units*64), font.HintingNone)
	if err != nil || adv <= 0 {
		return -1
	}
	return int(float64(adv)/64*1000/f.units + 0.5)
}

// stringWidth measures cleaned text set in face id at size, in points. Runes
// that the face lacks are set in the regular face, as page.text does.
func (g *guard) stringWidth(id faceID, size float64, s string) float64 {
	f, sum := g.faces[id], 0
	for _, r := range s {
		w := f.width(r)
		if w < 0 {
			w = max(0, g.faces[regular].width(r))
		}
		sum += w
	}
	return float64(sum) * size / 1000
}

// width measures for package draw.
func (g *guard) width(size float64, s string) float64 {
	return g.stringWidth(regular, size, g.clean(s))
}
