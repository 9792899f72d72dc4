package pdf

import (
	"cmp"

	"guardband/eval/record"
	"guardband/report/draw"
)

// rgb is a colour of the page.
type rgb struct{ r, g, b uint8 }

// The document's colours. All but the hairlines and fills keep a contrast of
// 4.5 to 1 on white, and none of them is the only carrier of a meaning.
var (
	ink      = rgb{0x1c, 0x1d, 0x1f}
	soft     = rgb{0x5a, 0x5c, 0x60}
	hairline = rgb{0xbf, 0xbf, 0xba}
	panel    = rgb{0xf1, 0xf0, 0xec}
	pointer  = rgb{0x24, 0x4b, 0x73} // text that leads elsewhere
	white    = rgb{0xff, 0xff, 0xff}
)

// looks are each verdict's colour, which repeats the word's meaning, and its
// mark, for readers without colour.
var looks = map[record.Verdict]struct {
	colour rgb
	mark   string
}{
	record.Passed: {rgb{0x1d, 0x66, 0x4c}, "●"},
	record.Failed: {rgb{0xa0, 0x22, 0x1e}, "✕"},
	record.Open:   {rgb{0x85, 0x57, 0x00}, "○"},
	record.Waived: {rgb{0x50, 0x47, 0x91}, "◐"},
}

func verdictColour(v record.Verdict) rgb {
	if l, ok := looks[v]; ok {
		return l.colour
	}
	return soft
}

func verdictMark(v record.Verdict) string { return cmp.Or(looks[v].mark, "–") }

// roleColours are those of the roles of package draw.
var roleColours = [...]rgb{
	draw.Ink: ink, draw.Quiet: soft, draw.Limit: ink, draw.Allowed: {0xdd, 0xe8, 0xe0}, draw.Asked: {0x6f, 0x8f, 0x7c},
	draw.Span: {0x33, 0x4e, 0x6b}, draw.Miss: looks[record.Failed].colour, draw.Unknown: looks[record.Open].colour,
}

// style is how a stretch of text is set.
type style struct {
	face   faceID
	size   float64
	colour rgb
	anchor string // internal place it leads to
	place  string // internal place that it is
	turn   string // internal place whose page is printed here
	url    string // outside address it leads to
	strike bool
	raise  float64 // of the baseline, in points
}

func (s style) with(f faceID) style        { s.face = f; return s }
func (s style) in(c rgb) style             { s.colour = c; return s }
func (s style) at(size float64) style      { s.size = size; return s }
func (s style) to(anchor string) style     { s.anchor, s.colour = anchor, pointer; return s }
func (s style) keepTo(anchor string) style { s.anchor = anchor; return s }
func (s style) leading() float64           { return s.size * 1.3 }
func (s style) ascent() float64            { return s.size * 0.93 }

// Text sizes in points.
const (
	bodySize  = 8.6
	smallSize = 7.4
	tinySize  = 6.6
	monoScale = 0.9 // DejaVu Sans Mono looks larger than the condensed face
)

func body() style  { return style{face: regular, size: bodySize, colour: ink} }
func small() style { return style{face: regular, size: smallSize, colour: ink} }
func tiny() style  { return style{face: regular, size: tinySize, colour: soft} }
