package html

import (
	"bytes"
	"io"
	"testing"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/extension"
	"github.com/yuin/goldmark/text"

	"guardband/report/internal/fixture"
)

type counter int64

func (c *counter) Write(p []byte) (int, error) { *c += counter(len(p)); return len(p), nil }

// BenchmarkWrite writes a record of 2,000 claims, about 500 printed pages.
func BenchmarkWrite(b *testing.B) {
	r := fixture.Many(2000)
	for b.Loop() {
		var n counter
		if err := Write(&n, r, Options{Base: "."}); err != nil {
			b.Fatal(err)
		}
		b.SetBytes(int64(n))
	}
}

// BenchmarkFloor renders Markdown of about the same size, read beforehand, by
// goldmark's HTML renderer: headings, paragraphs and tables.
func BenchmarkFloor(b *testing.B) {
	section := []byte("## supply-inside\n\nThe 3.0 V rail stays *inside* the controller's supply range [reg p.4](#reg).\n\n" +
		"| Value | Reaches | Limit | Margin |\n|---|---|---|---|\n| V3V0 | 2.94 V to 3.06 V | >= 2.7 V | 0.24 V, 8.9 % of limit |\n| V3V0 | 2.94 V to 3.06 V | <= 3.6 V | 0.54 V, 15.0 % of limit |\n\n")
	src := bytes.Repeat(section, 12_000)
	md := goldmark.New(goldmark.WithExtensions(extension.GFM))
	doc := md.Parser().Parse(text.NewReader(src))
	for b.Loop() {
		var n counter
		if err := md.Renderer().Render(&n, src, doc); err != nil {
			b.Fatal(err)
		}
		b.SetBytes(int64(n))
	}
}

func BenchmarkSmall(b *testing.B) {
	r := fixture.Small()
	for b.Loop() {
		if err := Write(io.Discard, r, Options{Base: "."}); err != nil {
			b.Fatal(err)
		}
	}
}
