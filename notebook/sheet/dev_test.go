package sheet

import (
	"context"
	"fmt"
	"os"
	"testing"
	"time"
)

func TestDev(t *testing.T) {
	f := os.Getenv("DEVPDF")
	if f == "" {
		return
	}
	l := Open("/tmp/gbsheet/cache")
	defer l.Close()
	t0 := time.Now()
	in, err := l.Inspect(context.Background(), f)
	fmt.Println(in, err, time.Since(t0))
	n := 1
	fmt.Sscan(os.Getenv("DEVPAGE"), &n)
	t0 = time.Now()
	p, err := l.PageText(context.Background(), f, n)
	fmt.Println(err, time.Since(t0), p.Width, p.Height)
	for _, ln := range p.Lines {
		fmt.Printf("%6.1f %6.1f t%d s%.1f| ", ln.Box.X0, ln.Box.Y0, ln.Words[0].Turn, ln.Words[0].Size)
		for _, w := range ln.Words {
			fmt.Printf("%s_", w.Text)
		}
		fmt.Println()
	}
	if q := os.Getenv("DEVQ"); q != "" {
		t0 = time.Now()
		_, fs, err := l.Check(context.Background(), f, []Query{{From: fmt.Sprint(n), Quote: q}})
		fmt.Printf("%+v %v %v\n", fs, err, time.Since(t0))
		t0 = time.Now()
		if fs[0].Page == 0 {
			return
		}
		pic, w, h, err := l.Crop(context.Background(), f, fs[0].Page, fs[0].Boxes, fs[0].Boxes, 150)
		fmt.Println(len(pic), w, h, err, time.Since(t0))
		os.WriteFile("/tmp/gbsheet/crop.png", pic, 0o644)
	}
}
