package markdown

import (
	"bytes"
	"flag"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/extension"
	"github.com/yuin/goldmark/renderer/html"

	"guardband/eval/record"
	"guardband/report/internal/fixture"
)

var update = flag.Bool("update", false, "write the golden files")

func summary(t *testing.T, r *record.Record, opt Options) string {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, Write(&b, r, opt))
	return b.String()
}

// rendered is the summary through a CommonMark renderer that lets raw HTML
// through: what a host would show.
func rendered(t *testing.T, s string) string {
	t.Helper()
	var b bytes.Buffer
	md := goldmark.New(goldmark.WithExtensions(extension.GFM), goldmark.WithRendererOptions(html.WithUnsafe()))
	require.NoError(t, md.Convert([]byte(s), &b))
	return b.String()
}

func TestGolden(t *testing.T) {
	fixture.Golden(t, "../..", "small.golden.md", []byte(summary(t, fixture.Small(), Options{})), *update)
	fixture.Golden(t, "../..", "empty.golden.md", []byte(summary(t, fixture.Empty(), Options{})), *update)
}

func TestRendersAsATable(t *testing.T) {
	out := rendered(t, summary(t, fixture.Small(), Options{}))
	require.Equal(t, 4, strings.Count(out, "<tr>"), out)
	require.Contains(t, out, "<td>dropout</td>")
	require.Contains(t, out, "V_CELL = 3.30 V (min)")
	require.NotContains(t, out, "supply-inside", "passed claims stay in the full record")
}

func TestHostileTextStaysText(t *testing.T) {
	r := fixture.Hostile()
	for i := range r.Claims {
		r.Claims[i].Verdict = record.Open
	}
	out := rendered(t, summary(t, r, Options{}))
	for _, bad := range []string{"<script", "<img", "<!--", "<a href", "onerror=\"", "\x1b", "\u202e", "\x00"} {
		require.NotContains(t, out, bad)
	}
	require.Contains(t, out, "&lt;script&gt;alert(1)&lt;/script&gt;")
}

func TestEscapeSurvivesRendering(t *testing.T) {
	for _, s := range []string{
		"a | b", "1. one", "- x", "# h", "*a* _b_ `c` ~~d~~", "https://evil.invalid/x", "www.evil.invalid", "Www.evil.invalid", "@someone", "a\\b", "[x](y)", "![x](y)", "&amp; &#64; <b>", "V_OUT >= 3 V", "====",
	} {
		out := rendered(t, "x "+esc(s))
		require.NotContains(t, out, "<a", s)
		require.NotContains(t, out, "<em>", s)
		require.NotContains(t, out, "<b>", s)
	}
}

func TestMaxSaysHowManyMore(t *testing.T) {
	require.Contains(t, summary(t, fixture.Failures(), Options{Max: 5}), "38 more are in the full record.")
}
