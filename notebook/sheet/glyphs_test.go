package sheet

import (
	"math"
	"strings"
	"testing"

	"github.com/klippa-app/go-pdfium/responses"
	"github.com/stretchr/testify/require"
)

// drawnGlyph is a character on a page of 200 by 100 points: left, bottom, right, top.
func drawnGlyph(text string, l, b, r, t float64) *responses.GetPageTextStructuredChar {
	return &responses.GetPageTextStructuredChar{Text: text, PointPosition: responses.CharPosition{Left: l, Bottom: b, Right: r, Top: t}}
}

func readGlyphs(chars ...*responses.GetPageTextStructuredChar) string {
	var b strings.Builder
	for _, g := range glyphsOf(frame{r: 200, t: 100}, chars, nil) {
		b.WriteString(g.text)
	}
	return b.String()
}

// TestNamedByShape: a font of symbols without a map calls µ an m and a minus a
// b; the boxes are those of Helvetica and Symbol at 7 points.
func TestNamedByShape(t *testing.T) {
	five, s, C := drawnGlyph("5", 10, 50, 13, 55), drawnGlyph("s", 19, 50, 22, 54), drawnGlyph("C", 19, 50, 24, 55)
	for _, c := range []struct {
		want  string
		chars []*responses.GetPageTextStructuredChar
	}{
		{"5ms", []*responses.GetPageTextStructuredChar{five, drawnGlyph("m", 14, 50, 18.9, 53.8), s}},
		{"5µs", []*responses.GetPageTextStructuredChar{five, drawnGlyph("m", 14, 48.2, 18, 53.1), s}},
		{"5�s", []*responses.GetPageTextStructuredChar{five, drawnGlyph("m", 14, 50, 18, 55), s}}, // neither
		{"−5", []*responses.GetPageTextStructuredChar{drawnGlyph("b", 4, 52, 8.5, 52.3), five}},
		{"�5", []*responses.GetPageTextStructuredChar{drawnGlyph("e", 4, 51.5, 8.5, 53), five}}, // =, or ≈
		{"5°C", []*responses.GetPageTextStructuredChar{five, drawnGlyph("\x01", 15, 53, 17, 55), C}},
		{"5�C", []*responses.GetPageTextStructuredChar{five, drawnGlyph("\x01", 15, 48.5, 18, 53), C}}, // µC perhaps
		{"5k�", []*responses.GetPageTextStructuredChar{five, drawnGlyph("k", 14, 50, 17, 55), drawnGlyph("W", 18, 50, 23, 55.2)}},
		{"5kW", []*responses.GetPageTextStructuredChar{five, drawnGlyph("k", 14, 50, 17, 55), drawnGlyph("W", 18, 50, 24.5, 55)}},
	} {
		require.Equal(t, c.want, readGlyphs(c.chars...))
	}
}

// TestPrintedTwice: text printed twice in one place to look bold is read once,
// two letters that share one glyph are both read.
func TestPrintedTwice(t *testing.T) {
	f, i := drawnGlyph("f", 10, 50, 14, 55), drawnGlyph("i", 14.5, 50, 15.2, 55)
	one := []*responses.GetPageTextStructuredChar{f, f, i}
	require.Equal(t, "ffi", readGlyphs(one...))
	require.Equal(t, "ffi", readGlyphs(append(one, one...)...))
	require.Equal(t, "i", readGlyphs(i, i))
}

// TestMirroredText: glyphs that are said to be upside down and follow each other
// from left to right are not.
func TestMirroredText(t *testing.T) {
	var chars []*responses.GetPageTextStructuredChar
	for i, r := range "SUPPLY" {
		c := drawnGlyph(string(r), 10+6*float64(i), 50, 15+6*float64(i), 55)
		c.Angle = math.Pi
		chars = append(chars, c)
	}
	for _, g := range glyphsOf(frame{r: 200, t: 100}, chars, nil) {
		require.Zero(t, g.turn)
	}
}
