package eval

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"runtime"
	"testing"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/extension"

	"guardband/eval/formula"
	"guardband/notebook"
)

// lossNotebook is a notebook of n claims of five values each: that what a
// regulator turns into heat stays under its rating.
func lossNotebook(n int) []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "# %d checks\n\n```design\ntitle: %d checks\nrevision: A\n```\n", n, n)
	for i := range n {
		fmt.Fprintf(&b, "\nCheck %d: what the regulator turns into heat stays under its rating, with a tenth to spare.\n\n```values\n", i)
		fmt.Fprintf(&b, "vin_%d = %g V ± 0.05 V\n", i, 5+float64(i%7)*0.01)
		fmt.Fprintf(&b, "vout_%d = %d mV ± 33 mV\n", i, 3300+i%11)
		fmt.Fprintf(&b, "iout_%d = %d mA ± 2 mA\n", i, 100+i%150)
		fmt.Fprintf(&b, "iq_%d = %d uA ± 5 uA\n", i, 15+i%9)
		fmt.Fprintf(&b, "pmax_%d = 400 mW\n", i)
		fmt.Fprintf(&b, "```\n\n```claim loss-%d\nstatement: loss %d under the rating\ncriterion: (vin_%[1]d - vout_%[1]d) * iout_%[1]d + vin_%[1]d * iq_%[1]d <= 0.9 * pmax_%[1]d\n```\n", i, i)
	}
	return b.Bytes()
}

func benchmarkCompile(b *testing.B, n int) {
	text := lossNotebook(n)
	b.SetBytes(int64(len(text)))
	b.ReportAllocs()
	for b.Loop() {
		book, err := notebook.Load("-", notebook.Options{Stdin: text})
		if err != nil {
			b.Fatal(err)
		}
		r := Compile(context.Background(), book, Options{On: "2026-11-24", Language: formula.NewLanguage(nil), Workers: runtime.GOMAXPROCS(0), Detail: 100})
		if r.Summary.Errors > 0 || r.Summary.Passed+r.Summary.Failed != n {
			b.Fatal(r.Summary)
		}
	}
	b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N)/float64(n), "µs/claim")
}

func BenchmarkCompile100(b *testing.B)   { benchmarkCompile(b, 100) }
func BenchmarkCompile1000(b *testing.B)  { benchmarkCompile(b, 1000) }
func BenchmarkCompile10000(b *testing.B) { benchmarkCompile(b, 10000) }

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
