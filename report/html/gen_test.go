package html

import (
	"os"
	"testing"

	"guardband/eval"
	"guardband/report/internal/fixture"
)

func TestGenPages(t *testing.T) {
	for name, r := range map[string]*eval.Record{"small": fixture.Small(), "large": fixture.Large(), "many": fixture.Many(2000), "failures": fixture.Failures(), "empty": fixture.Empty(), "hostile": fixture.Hostile()} {
		f, _ := os.Create("/tmp/gb/out/" + name + ".html")
		if err := Write(f, r, Options{Base: "."}); err != nil {
			t.Fatal(err)
		}
		f.Close()
	}
	f, _ := os.Create("/tmp/gb/out/short.html")
	Write(f, fixture.Small(), Options{Only: "attention"})
	f.Close()
}
