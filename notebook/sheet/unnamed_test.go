package sheet

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"
)

// bitmaps is the sheet whose type does not say which characters it shows.
const bitmaps = "../../testdata/sheets/bitmaps.pdf"

// TestUnnamedGlyphsStayVisible looks for numbers on a page that would read
// wrong by the codes of its glyphs: a minus has none, a point has the colon's.
func TestUnnamedGlyphsStayVisible(t *testing.T) {
	p, err := shared.PageText(context.Background(), bitmaps, 2)
	require.NoError(t, err)
	text := p.text()
	require.Contains(t, text, "Junction temperature TJ")
	require.NotContains(t, text, "40")
	require.NotContains(t, text, "0:3")
	require.Contains(t, text, string(unnamedGlyph))
	named, err := shared.PageText(context.Background(), "../../testdata/sheets/symbols.pdf", 2)
	require.NoError(t, err)
	require.NotContains(t, named.text(), string(unnamedGlyph))
	require.Contains(t, named.text(), "−40")
}

// TestUnnamedGlyphsSettleNothing asks for true and for wrong numbers and words
// of that page: neither is confirmed, none is blamed but what cannot be there.
func TestUnnamedGlyphsSettleNothing(t *testing.T) {
	_, fs, err := shared.Check(context.Background(), bitmaps, []Query{
		{From: "2", Counted: true, Quote: "Junction temperature", Numbers: []Number{{Text: "-40", Value: -40, Unit: "°C", Column: "min"}}},
		{From: "2", Counted: true, Quote: "Junction temperature", Numbers: []Number{{Text: "40", Value: 40, Unit: "°C", Column: "min"}}},
		{From: "2", Counted: true, Numbers: []Number{{Text: "1.9", Value: 1.9, Unit: "mA"}}},
		{From: "2", Counted: true, Quote: "no load, −40 °C ≤ TJ"},
		{From: "2", Counted: true, Quote: "Enable threshold"},
	})
	require.NoError(t, err)
	for _, f := range fs[:2] {
		require.Equal(t, GradeNoText, f.Grade)
		require.Contains(t, f.Line, "Junction temperature")
		require.Empty(t, f.Missing)
		require.Empty(t, f.Slip)
		require.Contains(t, f.Problem, "cannot be decided")
	}
	require.Equal(t, GradeNoText, fs[2].Grade)
	require.Empty(t, fs[2].Missing)
	require.Equal(t, GradeNoText, fs[3].Grade)
	require.Contains(t, fs[3].Problem, "the words may be on it")
	require.Equal(t, GradeNotFound, fs[4].Grade)
}

// TestUnreadableCells leaves out what a glyph without a name makes unsure.
func TestUnreadableCells(t *testing.T) {
	for _, c := range []struct {
		kind Kind
		text string
		want bool
	}{
		{KindMin, "\uFFFD0.3", true}, {KindMax, "1:9", true}, {KindTyp, "−0.3", false}, {KindUnit, "k\uFFFD", true}, {KindUnit, "V=ns", true},
		{KindUnit, "V/ns", false}, {KindPin, "\uFFFD", true}, {KindName, "Gain \uFFFD", false}, {KindCondition, "f = 1:9", false},
	} {
		require.Equal(t, c.want, unreadable(c.kind, c.text), "%s %q", c.kind, c.text)
	}
}
