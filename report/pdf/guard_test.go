package pdf

import (
	"bytes"
	"testing"
	"unicode/utf8"

	"github.com/go-fonts/dejavu/dejavusanscondensed"
	"github.com/go-pdf/fpdf"
	"github.com/stretchr/testify/require"

	"guardband/eval/record"
)

func newTestGuard(t testing.TB) *guard {
	t.Helper()
	faces, err := newFaces()
	require.NoError(t, err)
	return newGuard(faces)
}

func TestClean(t *testing.T) {
	for _, c := range []struct{ in, want string }{
		{"plain", "plain"},
		{"µ Ω θ ± ≤ ≥ √ − · × °C ₁ ² ✓ ✗ ☐", "µ Ω θ ± ≤ ≥ √ − · × °C ₁ ² ✓ ✗ ☐"},
		{"e\u0301", "é"},            // composed
		{"x\u0301", "x[U+0301]"},    // no composed form
		{"\U0001F600", "[U+1F600]"}, // above U+FFFF
		{"\U0001D445 = 5", "R = 5"}, // mathematical italic R
		{"a\u202fb\u2009c\td\u00a0e", "a\u00a0b c d\u00a0e"},
		{"so\u00adft\u200b\ufeff\u2060", "soft"},
		{"\u202egnp\u202c", "[U+202E]gnp[U+202C]"},
		{"bell\a\x1b[0m\x00", "bell[U+0007][U+001B][0m[U+0000]"},
		{"bad \xff utf", "bad \ufffd utf"},
		{"漢", "[U+6F22]"},
		{"two\nlines\r\n", "two lines  "},
	} {
		g := newTestGuard(t)
		require.Equal(t, c.want, g.clean(c.in), "%q", c.in)
		require.Equal(t, c.want, g.clean(c.in), "again %q", c.in)
	}
}

func TestReplacementsAreListed(t *testing.T) {
	g := newTestGuard(t)
	g.clean("\U0001F600\U0001F600 \u200b")
	g.clean("漢")
	require.Equal(t, map[rune]string{0x200b: "", 0x6f22: "[U+6F22]", 0x1f600: "[U+1F600]"}, g.replaced)
}

func TestVisualOrder(t *testing.T) {
	for _, c := range []struct{ in, want string }{
		{"left to right", "left to right"},
		{"שלום", "םולש"},
		{"a שלום b", "a םולש b"},
		{"שלום עולם", "םלוע םולש"},
		{"של 123 ום", "םו 123 לש"},
		{"(של)", "(לש)"},
		{"של (ום) x", "(םו) לש x"},
	} {
		require.Equal(t, c.want, visual(c.in), c.in)
	}
}

// The widths that the layout measures are those of the file.
func TestWidthsAgreeWithTheFile(t *testing.T) {
	g := newTestGuard(t)
	f := fpdf.New("P", "pt", "A4", "")
	f.AddUTF8FontFromBytes("text", "", dejavusanscondensed.TTF)
	f.SetFont("text", "", 10)
	for _, s := range []string{"Hamburgefonstiv 0123456789", "µ Ω θ ± ≤ ≥ √ − · × °C ₁ ² ✓ ● ○ ◐ ✕ ☐", "R_θJA = 190 K/W"} {
		require.InDelta(t, f.GetStringWidth(s), g.stringWidth(regular, 10, s), 1e-9, s)
	}
}

// Every mark that the document itself sets has a glyph.
func TestOwnMarksHaveGlyphs(t *testing.T) {
	g := newTestGuard(t)
	for _, v := range []record.Verdict{record.Passed, record.Failed, record.Open, record.Waived, record.Skipped} {
		require.Equal(t, verdictMark(v), g.clean(verdictMark(v)))
	}
	const own = "•☐☑—…“”·≤≥≠−"
	require.Equal(t, own, g.clean(own))
}

// FuzzText puts any text everywhere a text can stand: never a panic, never a
// document that fails.
func FuzzText(f *testing.F) {
	for _, s := range []string{"", "a", "e\u0301\u0301\u0301", "\U0001F600", "\xff\xfe", "שלום (1.5) ", "\u202e",
		"a\nb\x00", "%%EOF endstream", "\\(\\)", "{nb}"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		r := &record.Record{
			Design: record.Design{Title: s, Author: s, Tool: s, AsOf: s, Revision: s},
			Safety: []record.Caution{{ID: s, Hazard: s, Word: s, Text: []string{s}}},
			Claims: []record.Claim{{ID: s, Statement: s, Verdict: record.Verdict(s), Headline: s,
				Criteria: []record.Criterion{{Text: s, Math: &record.Math{Op: "name", Text: s}, CornerText: s}},
				Cites:    []record.Cite{{Source: s, Page: s, Quote: s, Picture: "data:image/png;base64," + s}}}},
			Attention: []string{s},
			Content: []record.Notebook{{Path: s,
				Nodes: []record.Node{{Kind: "heading", Level: len(s), Children: []record.Node{{Kind: "text", Text: s}}},
					{Kind: "code", Text: s}, {Kind: s, Text: s}, {Kind: "link", URL: s}}}},
		}
		g := newTestGuard(t)
		c := g.clean(s)
		require.True(t, utf8.ValidString(c))
		for _, r := range c {
			require.GreaterOrEqual(t, g.faces[regular].width(r), 0, "%q", r)
		}
		require.NoError(t, Write(&bytes.Buffer{}, r, false))
	})
}
