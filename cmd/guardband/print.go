package main

import (
	"cmp"
	_ "embed"
	"strings"
	"text/tabwriter"
	"text/template"

	"guardband/eval/record"
	"guardband/report/markdown"
	"guardband/report/outline"
)

// texts are what the commands print, and the notes that `new` writes.
//
//go:embed print.tmpl
var printText string

//go:embed newfrom.tmpl
var noteText string

// pair is what a template gets besides its own matter.
type pair struct{ A, B any }

var texts = template.Must(template.New("").Funcs(template.FuncMap{
	"join":     func(list []string) string { return strings.Join(list, ", ") },
	"pin":      func(p record.Field) string { return cmp.Or(pinType(p), "TYPE") },
	"cell":     func(s string) string { return strings.ReplaceAll(s, "|", "/") },
	"sections": sections,
	"md":       markdown.Escape,
	"fields":   strings.Fields,
	"trim":     strings.TrimSpace,
	"pair":     func(a, b any) pair { return pair{a, b} },
	"math": func(m *record.Math) string {
		return strings.ReplaceAll(outline.Plain(outline.MathText(m)), "\u00a0", " ")
	},
	"look":      toLook,
	"counted":   counted,
	"section":   sectionName,
	"shown":     shownPages,
	"pageShown": pageShown,
	"surety":    surety,
	"short":     short,
	"signature": signature,
}).Parse(printText + noteText))

// print prints one of texts; tabs in it are columns.
func (a *app) print(name string, of any) error {
	w := tabwriter.NewWriter(a.out, 0, 4, 2, ' ', 0)
	if err := texts.ExecuteTemplate(w, name, of); err != nil {
		return err
	}
	return w.Flush()
}
