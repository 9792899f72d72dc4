package sheet

import (
	"context"
	"os"
	"testing"
)

func BenchmarkDev(b *testing.B) {
	f := os.Getenv("DEVPDF")
	if f == "" {
		b.Skip("dev")
	}
	for range b.N {
		l := Open("")
		l.eng = newEngine(engineCache())
		fl, err := l.identify(f)
		if err != nil {
			b.Fatal(err)
		}
		c := l.content(fl.sha)
		h, err := l.header(context.Background(), fl, c)
		if err != nil {
			b.Fatal(err)
		}
		b.ResetTimer()
		for n := 1; n <= h.Pages; n++ {
			if _, err := l.fetch(context.Background(), fl, c, n); err != nil {
				b.Fatal(err)
			}
		}
		b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(h.Pages)/1000, "ms/page")
		l.Close()
	}
}
