package eval

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"testing"

	"github.com/stretchr/testify/require"
	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/extension"
	"github.com/yuin/goldmark/text"

	"guardband/eval/formula"
	"guardband/notebook"
)

// lossNotebook is a notebook of n claims of five values each: that what a
// regulator turns into heat stays under its rating.
func lossNotebook(n int) []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "# %d checks\n\n```design\ntitle: %d checks\nrevision: A\n```\n", n, n)
	lossClaims(&b, 0, n)
	return b.Bytes()
}

func lossClaims(b *bytes.Buffer, from, to int) {
	for i := from; i < to; i++ {
		fmt.Fprintf(b, "\nCheck %d: what the regulator turns into heat stays under its rating, with a tenth to spare.\n\n```values\n", i)
		fmt.Fprintf(b, "vin_%d = %g V ± 0.05 V\n", i, 5+float64(i%7)*0.01)
		fmt.Fprintf(b, "vout_%d = %d mV ± 33 mV\n", i, 3300+i%11)
		fmt.Fprintf(b, "iout_%d = %d mA ± 2 mA\n", i, 100+i%150)
		fmt.Fprintf(b, "iq_%d = %d uA ± 5 uA\n", i, 15+i%9)
		fmt.Fprintf(b, "pmax_%d = 400 mW\n", i)
		fmt.Fprintf(b, "```\n\n```claim loss-%d\nstatement: loss %d under the rating\ncriterion: (vin_%[1]d - vout_%[1]d) * iout_%[1]d + vin_%[1]d * iq_%[1]d <= 0.9 * pmax_%[1]d\n```\n", i, i)
	}
}

// lossFiles writes the claims into files of 10,000, since one notebook holds
// no more than notebook.MaxBytes, and gives the root and the bytes of all.
func lossFiles(b *testing.B, n int) (root string, size int64) {
	dir := b.TempDir()
	write := func(name string, data []byte) {
		require.NoError(b, os.WriteFile(filepath.Join(dir, name), data, 0o644))
		size += int64(len(data))
	}
	top := fmt.Sprintf("# %d checks\n\n```design\ntitle: %d checks\nrevision: A\ninclude: parts\n```\n", n, n)
	require.NoError(b, os.Mkdir(filepath.Join(dir, "parts"), 0o755))
	write("board.md", []byte(top))
	for from := 0; from < n; from += 10000 {
		var part bytes.Buffer
		lossClaims(&part, from, min(n, from+10000))
		write(filepath.Join("parts", fmt.Sprintf("part%03d.md", from/10000)), part.Bytes())
	}
	return filepath.Join(dir, "board.md"), size
}

func benchmarkCompile(b *testing.B, n int) {
	root, size := lossFiles(b, n)
	b.SetBytes(size)
	b.ReportAllocs()
	for b.Loop() {
		book, err := notebook.Load(root, notebook.Options{})
		if err != nil {
			b.Fatal(err)
		}
		r := Compile(context.Background(), book,
			Options{Checks: TestChecks, On: "2026-11-24", Language: formula.NewLanguage(nil), Workers: runtime.GOMAXPROCS(0), Detail: 100})
		if r.Summary.Errors > 0 || r.Summary.Passed+r.Summary.Failed != n {
			b.Fatal(r.Summary)
		}
	}
	b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N)/float64(n), "µs/claim")
}

func BenchmarkCompile100(b *testing.B)    { benchmarkCompile(b, 100) }
func BenchmarkCompile1000(b *testing.B)   { benchmarkCompile(b, 1000) }
func BenchmarkCompile10000(b *testing.B)  { benchmarkCompile(b, 10000) }
func BenchmarkCompile100000(b *testing.B) { benchmarkCompile(b, 100000) }

// BenchmarkFloorParse10000 is goldmark with GFM parsing the file alone, which
// every reader of Markdown has to do first.
func BenchmarkFloorParse10000(b *testing.B) {
	source := lossNotebook(10000)
	md := goldmark.New(goldmark.WithExtensions(extension.GFM))
	b.SetBytes(int64(len(source)))
	for b.Loop() {
		md.Parser().Parse(text.NewReader(source))
	}
}

// BenchmarkFloorMarkdown10000 is the floor: goldmark with GFM parsing and
// rendering the same file.
func BenchmarkFloorMarkdown10000(b *testing.B) {
	text := lossNotebook(10000)
	md := goldmark.New(goldmark.WithExtensions(extension.GFM))
	b.SetBytes(int64(len(text)))
	for b.Loop() {
		if err := md.Convert(text, io.Discard); err != nil {
			b.Fatal(err)
		}
	}
}
