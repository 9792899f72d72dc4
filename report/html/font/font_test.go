package font

import (
	"flag"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/go-fonts/dejavu/dejavumathtexgyre"
	"github.com/stretchr/testify/require"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

var update = flag.Bool("update", false, "write math.woff")

// Runes are the characters the font has: Latin, Greek, the signs that
// formulas are written with, and the mathematical italics that browsers put in
// place of single letters.
func Runes() []rune {
	var out []rune
	add := func(from, to rune) {
		for r := from; r <= to; r++ {
			out = append(out, r)
		}
	}
	add(' ', '~')
	add('\u00a0', '\u00ff')
	add('Α', 'ω')
	add('𝐴', '𝑧')
	add('𝛢', '𝜛')
	for _, s := range strings.Fields("− · × ⋅ ÷ ± ∓ ≤ ≥ < > ≠ ≈ ≡ √ ∞ ∑ ∏ ∫ ∈ ∉ ∥ ∠ ∝ Δ ∂ ℎ ′ ″ … – — ‖ ∣ ⌊ ⌋ ⌈ ⌉ → ⇒ ↔ ℓ ⌀ ₀ ₁ ₂ ₃ ₄ ₅ ₆ ₇ ₈ ₉ ⁻ ⁰ ⁴ ⁵ ⁶ ⁷ ⁸ ⁹ ∧ ∨ ¬") {
		out = append(out, []rune(s)...)
	}
	return append(out, '\u2009', '\u202f', '\u2061', '\u2062', '\u2063')
}

func made(t *testing.T) map[string][]byte {
	t.Helper()
	tables, err := Make(dejavumathtexgyre.TTF, Runes(), Naming{
		Family:    Family,
		Copyright: "DejaVu Math TeX Gyre: see LICENCE.txt beside this file.",
		Notice:    "A subset of DejaVu Math TeX Gyre, renamed; outlines of the kept characters unchanged.",
	})
	require.NoError(t, err)
	return tables
}

// TestMathIsTheSubset compares tables, not packed bytes: another Go release
// may pack differently.
func TestMathIsTheSubset(t *testing.T) {
	want := made(t)
	if *update {
		require.NoError(t, os.WriteFile("math.woff", WOFF(want), 0o644))
		return
	}
	got, err := UnpackWOFF(Math)
	require.NoError(t, err)
	SFNT(want) // sets the checksum in head
	require.Equal(t, want, got)
	require.Less(t, len(Math), 80_000)
}

func TestOutlinesAreKept(t *testing.T) {
	tables, err := UnpackWOFF(Math)
	require.NoError(t, err)
	small, err := sfnt.Parse(SFNT(tables))
	require.NoError(t, err)
	full, err := sfnt.Parse(dejavumathtexgyre.TTF)
	require.NoError(t, err)
	var a, b sfnt.Buffer
	kept := 0
	for _, r := range Runes() {
		want, err := full.GlyphIndex(&a, r)
		require.NoError(t, err)
		got, err := small.GlyphIndex(&b, r)
		require.NoError(t, err)
		require.Equal(t, want, got, "%q", r)
		if want == 0 {
			continue
		}
		kept++
		x, err := full.LoadGlyph(&a, want, fixed.I(1000), nil)
		require.NoError(t, err)
		x = slices.Clone(x)
		y, err := small.LoadGlyph(&b, got, fixed.I(1000), nil)
		require.NoError(t, err)
		require.Equal(t, x, y, "%q", r)
	}
	require.Greater(t, kept, 350)
	dropped, err := small.GlyphIndex(&b, 'Ж')
	require.NoError(t, err)
	require.Zero(t, dropped)
}

func TestStretchyPartsAreKept(t *testing.T) {
	tables, err := UnpackWOFF(Math)
	require.NoError(t, err)
	full, err := Tables(dejavumathtexgyre.TTF)
	require.NoError(t, err)
	require.Equal(t, full["MATH"], tables["MATH"])
	require.Less(t, len(tables["glyf"]), len(full["glyf"])/4)
}

func TestBrokenFontsAreRefused(t *testing.T) {
	ttf := dejavumathtexgyre.TTF
	for _, n := range []int{0, 3, 11, 40, 300, len(ttf) / 2, len(ttf) - 30} {
		_, err := Make(ttf[:n], Runes(), Naming{})
		require.ErrorIs(t, err, ErrFont, "%d bytes", n)
	}
	spoilt := slices.Clone(ttf)
	for i := range spoilt {
		if i > 300 && i%7 == 0 {
			spoilt[i] ^= 0xff
		}
	}
	require.NotPanics(t, func() { _, _ = Make(spoilt, Runes(), Naming{}) })
	_, err := UnpackWOFF([]byte("wOFF"))
	require.ErrorIs(t, err, ErrWOFF)
}
