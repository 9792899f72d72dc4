package pdf

import (
	"fmt"
	"io"
	"runtime"
	"testing"

	"github.com/go-fonts/dejavu/dejavusanscondensed"
	"github.com/go-pdf/fpdf"
	"github.com/stretchr/testify/require"

	"guardband/report/internal/fixture"
)

// BenchmarkRecord writes a record of about 500 pages; the floor is
// BenchmarkRawTable in the same run.
func BenchmarkRecord(b *testing.B) {
	r := fixture.Many(1300)
	pages := pageCount(b, write(b, r, false))
	b.ReportAllocs()
	for b.Loop() {
		require.NoError(b, Write(io.Discard, r, false))
	}
	b.ReportMetric(float64(b.Elapsed().Milliseconds())/float64(b.N)/float64(pages), "ms/page")
	b.ReportMetric(float64(pages), "pages")
}

// BenchmarkRawTable is what fpdf itself takes for 500 pages of text in table
// cells with the same font, no layout: the floor.
func BenchmarkRawTable(b *testing.B) {
	const pages, rows, cells = 500, 62, 6
	b.ReportAllocs()
	for b.Loop() {
		f := fpdf.NewCustom(&fpdf.InitType{OrientationStr: "P", UnitStr: "pt", SizeStr: "A4"})
		f.AddUTF8FontFromBytes("text", "", dejavusanscondensed.TTF)
		f.SetAutoPageBreak(false, 0)
		f.SetFont("text", "", 7.4)
		for p := range pages {
			f.AddPage()
			for r := range rows {
				for c := range cells {
					f.SetXY(40+float64(c)*85, 40+float64(r)*12)
					f.CellFormat(85, 12, fmt.Sprintf("%d.%d V ± %d %%", p, r, c), "B", 0, "L", false, 0, "")
				}
			}
		}
		require.NoError(b, f.Output(io.Discard))
	}
	b.ReportMetric(float64(b.Elapsed().Milliseconds())/float64(b.N)/pages, "ms/page")
}

// TestMemory holds the peak of the live heap while a record of about 500 pages
// is written: what Write keeps, not what the collector has yet to find.
func TestMemory(t *testing.T) {
	r := fixture.Many(1400)
	var before, after runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&before)
	w := &heapWatch{}
	require.NoError(t, Write(w, r, false))
	runtime.ReadMemStats(&after)
	require.Greater(t, w.bytes, int64(1<<20))
	live := float64(w.live-before.HeapAlloc) / (1 << 20)
	t.Logf("live heap at the end of writing %.1f MB, output %.1f MB", live, float64(w.bytes)/(1<<20))
	require.Less(t, live, 100.0)
}

// heapWatch is a writer that looks at the heap when the file comes, while the
// whole document is still held.
type heapWatch struct {
	live  uint64
	bytes int64
}

func (w *heapWatch) Write(b []byte) (int, error) {
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	w.live = max(w.live, m.HeapAlloc)
	w.bytes += int64(len(b))
	return len(b), nil
}
