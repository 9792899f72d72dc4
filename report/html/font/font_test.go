package font

import (
	"flag"
	"os"
	"slices"
	"testing"

	"github.com/go-fonts/dejavu/dejavumathtexgyre"
	"github.com/stretchr/testify/require"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"guardband/report/html/font/subset"
)

var update = flag.Bool("update", false, "write math.woff")

func made(t *testing.T) map[string][]byte {
	t.Helper()
	tables, err := subset.Make(dejavumathtexgyre.TTF, Runes(), subset.Naming{
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
		require.NoError(t, os.WriteFile("math.woff", subset.WOFF(want), 0o644))
		return
	}
	got, err := subset.UnpackWOFF(Math)
	require.NoError(t, err)
	subset.SFNT(want) // sets the checksum in head
	require.Equal(t, want, got)
	require.Less(t, len(Math), 80_000)
}

func TestOutlinesAreKept(t *testing.T) {
	tables, err := subset.UnpackWOFF(Math)
	require.NoError(t, err)
	small, err := sfnt.Parse(subset.SFNT(tables))
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
	tables, err := subset.UnpackWOFF(Math)
	require.NoError(t, err)
	full, err := subset.Tables(dejavumathtexgyre.TTF)
	require.NoError(t, err)
	require.Equal(t, full["MATH"], tables["MATH"])
	require.Less(t, len(tables["glyf"]), len(full["glyf"])/4)
}

func TestBrokenFontsAreRefused(t *testing.T) {
	ttf := dejavumathtexgyre.TTF
	for _, n := range []int{0, 3, 11, 40, 300, len(ttf) / 2, len(ttf) - 30} {
		_, err := subset.Make(ttf[:n], Runes(), subset.Naming{})
		require.ErrorIs(t, err, subset.ErrFont, "%d bytes", n)
	}
	spoilt := slices.Clone(ttf)
	for i := range spoilt {
		if i > 300 && i%7 == 0 {
			spoilt[i] ^= 0xff
		}
	}
	require.NotPanics(t, func() { _, _ = subset.Make(spoilt, Runes(), subset.Naming{}) })
	_, err := subset.UnpackWOFF([]byte("wOFF"))
	require.ErrorIs(t, err, subset.ErrWOFF)
}
