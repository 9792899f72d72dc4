package markdown

import (
	"bytes"
	"flag"
	"testing"

	"github.com/stretchr/testify/require"
	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/extension"
	"github.com/yuin/goldmark/renderer/html"

	"guardband/eval/record"
	"guardband/report/internal/fixture"
)

var update = flag.Bool("update", false, "write the golden files")

func summary(t *testing.T, r *record.Record) string {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, Write(&b, r))
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
	fixture.Golden(t, "../..", "small.golden.md", []byte(summary(t, fixture.Small())), *update)
	fixture.Golden(t, "../..", "empty.golden.md", []byte(summary(t, fixture.Empty())), *update)
}

func TestRendersAsATable(t *testing.T) {
	out := rendered(t, summary(t, fixture.Small()))
	require.Contains(t, out, "<td>dropout</td>")
	require.NotContains(t, out, "<p>|")
	require.Contains(t, out, "V_CELL = 3.30 V (min)")
	require.Contains(t, out, "<h2>Cautions</h2>")
	require.NotContains(t, out, "Part notes")
}

func TestHostileTextStaysText(t *testing.T) {
	r := fixture.Hostile()
	for i := range r.Claims {
		r.Claims[i].Verdict = record.Open
	}
	out := rendered(t, summary(t, r))
	for _, bad := range []string{"<script", "<img", "<!--", "<a href", "onerror=\"", "\x1b", "\u202e", "\x00"} {
		require.NotContains(t, out, bad)
	}
	require.Contains(t, out, "&lt;script&gt;alert(1)&lt;/script&gt;")
}

func TestEscapeSurvivesRendering(t *testing.T) {
	for _, s := range []string{
		"a | b", "1. one", "- x", "# h", "*a* _b_ `c` ~~d~~", "https://evil.invalid/x", "www.evil.invalid",
		"Www.evil.invalid", "@someone", "a\\b", "[x](y)", "![x](y)", "&amp; &#64; <b>", "V_OUT >= 3 V", "====",
	} {
		out := rendered(t, "x "+Escape(s))
		require.NotContains(t, out, "<a", s)
		require.NotContains(t, out, "<em>", s)
		require.NotContains(t, out, "<b>", s)
	}
}
