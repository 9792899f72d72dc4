package sheet

import (
	"bytes"
	"context"
	"fmt"
	"os/exec"
	"sync"
	"testing"

	"github.com/go-pdf/fpdf"
	"github.com/stretchr/testify/require"
)

// thick is a document of 1000 pages of about 450 words, made once per run.
var thick = sync.OnceValues(func() ([]byte, error) {
	f := fpdf.New("P", "pt", "A4", "")
	f.SetCatalogSort(true)
	f.SetFont("Helvetica", "", 9)
	for page := range 1000 {
		f.AddPage()
		for row := range 45 {
			f.Text(40, 50+float64(row)*16, fmt.Sprintf("Quantity %d of page %d at %d mA and 25 C is %d.%d mV typical", row, page, row*10, page, row))
		}
	}
	var b bytes.Buffer
	err := f.Output(&b)
	return b.Bytes(), err
})

func thickPath(b *testing.B) string {
	data, err := thick()
	require.NoError(b, err)
	return put(b, "thick.pdf", data)
}

func perPage(b *testing.B, pages int) {
	b.ReportMetric(float64(b.Elapsed().Microseconds())/1000/float64(b.N*pages), "ms/page")
}

// BenchmarkThousandPages reads a document of 1000 pages: with the engine, from
// the store, with its index, and beside them pdftotext on the same file.
func BenchmarkThousandPages(b *testing.B) {
	path := thickPath(b)
	ctx := context.Background()
	run := func(l *Reader) {
		f, err := l.identify(path)
		require.NoError(b, err)
		c := l.content(f.sha)
		_, err = l.header(ctx, f, c)
		require.NoError(b, err)
		require.NoError(b, l.each(ctx, f, c, func(p *Page, err error) error { return err }))
	}
	b.Run("engine", func(b *testing.B) {
		for range b.N {
			l := Open("")
			l.eng = newEngine(engineCache())
			run(l)
			require.NoError(b, l.Close())
		}
		perPage(b, 1000)
	})
	dir := b.TempDir()
	l := Open(dir)
	l.eng = newEngine(engineCache())
	b.Run("engine-and-index", func(b *testing.B) {
		for range b.N {
			l := Open("")
			l.eng = newEngine(engineCache())
			_, err := l.Index(ctx, path)
			require.NoError(b, err)
			require.NoError(b, l.Close())
		}
		perPage(b, 1000)
	})
	_, err := l.Index(ctx, path)
	require.NoError(b, err)
	require.NoError(b, l.Close())
	b.Run("store", func(b *testing.B) {
		for range b.N {
			run(Open(dir))
		}
		perPage(b, 1000)
	})
	b.Run("find-from-index", func(b *testing.B) {
		for range b.N {
			hits, err := Open(dir).Find(ctx, path, "0.7007 V", 10)
			require.NoError(b, err)
			require.Len(b, hits, 1)
		}
	})
	b.Run("pdftotext", func(b *testing.B) {
		program := need(b, "pdftotext")
		for range b.N {
			require.NoError(b, exec.Command(program, "-layout", path, "-").Run())
		}
		perPage(b, 1000)
	})
}

// BenchmarkCitation checks one citation: with everything kept, with only the
// engine kept, and beside them pdftotext on the one page.
func BenchmarkCitation(b *testing.B) {
	s := sheetOf(b, corpusDevices()[0], corpusLayouts()[0])
	path := put(b, "s.pdf", s.PDF)
	ctx := context.Background()
	q := []Query{{From: fmt.Sprint(s.Pages[corpusElectrical]), Quote: "Dropout voltage", Numbers: []Number{{Text: "250",
		Value: 250, Unit: "mV", Column: "max"}}}}
	dir := b.TempDir()
	check := func(l *Reader) {
		_, fs, err := l.Check(ctx, path, q)
		require.NoError(b, err)
		require.Equal(b, GradeWords, fs[0].Grade)
	}
	first := Open(dir)
	first.eng = newEngine(engineCache())
	check(first)
	require.NoError(b, first.Close())
	b.Run("kept-text", func(b *testing.B) {
		for range b.N {
			check(Open(dir))
		}
	})
	b.Run("kept-engine", func(b *testing.B) {
		for range b.N {
			l := Open("")
			l.eng = newEngine(engineCache())
			check(l)
			require.NoError(b, l.Close())
		}
	})
	b.Run("pdftotext", func(b *testing.B) {
		program := need(b, "pdftotext")
		for range b.N {
			require.NoError(b, exec.Command(program, "-f", q[0].From, "-l", q[0].From, "-layout", path, "-").Run())
		}
	})
}

// BenchmarkCrop draws the row of a citation at 150 dpi, the document open.
func BenchmarkCrop(b *testing.B) {
	s := sheetOf(b, corpusDevices()[0], corpusLayouts()[0])
	path := put(b, "s.pdf", s.PDF)
	l := Open("")
	l.eng = newEngine(engineCache())
	box := []Box{{Page: s.Pages[corpusElectrical], X0: 40, Y0: 100, X1: 560, Y1: 200}}
	for b.Loop() {
		_, _, _, err := l.Crop(context.Background(), path, box[0].Page, box, box, 150)
		require.NoError(b, err)
	}
	require.NoError(b, l.Close())
}

// BenchmarkDraft reads a whole draft from a sheet of the corpus and from the
// document of 1000 pages, the text being kept.
func BenchmarkDraft(b *testing.B) {
	s := sheetOf(b, corpusDevices()[0], corpusLayouts()[0])
	for _, doc := range []struct{ name, path string }{{"sheet", put(b, "s.pdf", s.PDF)}, {"thousand-pages", thickPath(b)}} {
		b.Run(doc.name, func(b *testing.B) {
			dir := b.TempDir()
			l := Open(dir)
			l.eng = newEngine(engineCache())
			_, err := l.Draft(context.Background(), doc.path)
			require.NoError(b, err)
			require.NoError(b, l.Close())
			for b.Loop() {
				_, err := Open(dir).Draft(context.Background(), doc.path)
				require.NoError(b, err)
			}
		})
	}
}

// BenchmarkEngineStart compiles the engine without and with its disk cache.
func BenchmarkEngineStart(b *testing.B) {
	path := put(b, "p.pdf", onePage(stream("", "BT /F 12 Tf 50 200 Td (plain words) Tj ET")))
	start := func(dir string) {
		l := Open("")
		l.eng = newEngine(dir)
		_, err := l.PageText(context.Background(), path, 1)
		require.NoError(b, err)
		require.NoError(b, l.Close())
	}
	b.Run("cold", func(b *testing.B) {
		for range b.N {
			start("")
		}
	})
	start(engineCache())
	b.Run("kept", func(b *testing.B) {
		for range b.N {
			start(engineCache())
		}
	})
}
