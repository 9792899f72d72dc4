package sheet

import (
	"context"
	"fmt"
	"guardband/notebook/sheet/internal/corpus"
	"os"
	"testing"
)

func TestDevTables(t *testing.T) {
	name := os.Getenv("DEVLAY")
	if name == "" {
		return
	}
	dev := 0
	fmt.Sscan(os.Getenv("DEVDEV"), &dev)
	l := library(t)
	s := sheetOf(t, corpus.Devices()[dev], layoutNamed(t, name))
	path := put(t, "x.pdf", s.PDF)
	fmt.Println(s.Pages)
	in, err := l.Inspect(context.Background(), path)
	fmt.Println(in, err)
	for n := 1; n <= in.Pages; n++ {
		p, err := l.PageText(context.Background(), path, n)
		if err != nil {
			fmt.Println(err)
		}
		v := newView(&p)
		fmt.Println("PAGE", n, "turn", v.grid().turn)
		if os.Getenv("DEVROWS") != "" {
			for _, r := range v.grid().rows {
				fmt.Printf("   %.1f %s\n", r.y0, r.text())
			}
		}
		for _, tb := range v.tables() {
			fmt.Println(" TABLE", tb.Title)
			for _, c := range tb.Columns {
				fmt.Printf("  [%s %q u=%s %.0f-%.0f]", c.Kind, c.Title, c.Unit, c.x0, c.x1)
			}
			fmt.Println()
			for _, r := range tb.Rows {
				fmt.Printf("   (%s) ", r.Group)
				for _, c := range r.Cells {
					m := ""
					if !c.Given && c.Text != "" {
						m = "^"
					}
					fmt.Printf("%s%s | ", m, c.Text)
				}
				fmt.Println()
			}
		}
	}
}
