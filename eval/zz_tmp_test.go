package eval

import (
	"context"
	"fmt"
	"os"
	"testing"

	"guardband/eval/formula"
	"guardband/notebook"
	"guardband/notebook/sheet"
)

func TestZZ(t *testing.T) {
	p := os.Getenv("ZZ")
	if p == "" {
		return
	}
	book, err := notebook.Load(p, notebook.Options{})
	if err != nil {
		t.Fatal(err)
	}
	r := Compile(context.Background(), book, Options{On: "2026-11-24", Language: formula.NewLanguage(nil), Typeset: true, Evidence: sheet.Open("/tmp/gbcache")})
	for i, d := range r.Diagnostics {
		if i < 40 {
			fmt.Printf("%s:%d:%d %s %s: %s | %s\n", d.File, d.Line, d.Column, d.Severity, d.Code, d.Message, d.Hint)
		}
	}
	for _, c := range r.Claims {
		fmt.Printf("%-10s %-30s %s\n", c.Verdict, c.ID, c.Headline)
	}
	fmt.Printf("%+v\n", r.Summary)
	for _, s := range r.Safety {
		fmt.Println(s.Word, s.Hazard, s.Why)
	}
}
