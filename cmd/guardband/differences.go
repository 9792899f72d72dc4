package main

import (
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"strings"

	"guardband/eval/record"
	"guardband/report/markdown"
)

var differenceForms = []string{"text", "markdown", "json"}

// difference is what differs of one design. Note says why there are no changes
// to list.
type difference struct {
	Design  string          `json:"design,omitempty"`
	Was     string          `json:"was,omitempty"` // its path before
	Note    string          `json:"note,omitempty"`
	Changes *record.Changes `json:"changes,omitempty"`
}

// section is one kind of change: what became worse stands before what became
// better.
type section struct {
	title string
	rows  []record.Change
}

func sections(d record.Changes) (out []section) {
	add := func(title string, rows []record.Change, which func(record.Way) bool) {
		rows = slices.DeleteFunc(slices.Clone(rows), func(c record.Change) bool { return !which(c.Way) })
		if len(rows) > 0 {
			out = append(out, section{title, rows})
		}
	}
	is := func(w record.Way) func(record.Way) bool { return func(x record.Way) bool { return x == w } }
	for _, x := range []section{{"Verdicts", d.Verdicts}, {"Margins", d.Margins}} {
		add(x.title+", worse", x.rows, is(record.Worse))
		add(x.title+", better", x.rows, is(record.Better))
		add(x.title, x.rows, is(record.Other))
	}
	for _, x := range []section{{"Values", d.Values}, {"Facts", d.Facts}, {"Documents", d.Sources}} {
		add(x.title, x.rows, func(record.Way) bool { return true })
	}
	add("Judged more easily", d.Eased, is(record.Worse))
	add("Judged otherwise, perhaps more easily", d.Eased, func(w record.Way) bool { return w != record.Worse })
	return out
}

// writeDifferences writes what differs in one of differenceForms.
func writeDifferences(w io.Writer, all []difference, format string) error {
	if format == "json" {
		e := json.NewEncoder(w)
		e.SetIndent("", "  ")
		return e.Encode(all)
	}
	title, heading, row := "%s\n\n", "%s\n", "  %s: %s -> %s\n"
	text := func(s string) string { return s }
	if format == "markdown" {
		title, heading, row = "## %s\n\n", "### %s\n\n| | before | now |\n|---|---|---|\n", "| %s | %s | %s |\n"
		text = markdown.Escape
	}
	for _, d := range all {
		name := d.Design
		if d.Was != "" {
			name = strings.TrimSpace(name + " (was " + d.Was + ")")
		}
		if name != "" {
			fmt.Fprintf(w, title, text(name))
		}
		if d.Note != "" {
			fmt.Fprintf(w, "%s\n\n", text(d.Note))
			continue
		}
		list := sections(*d.Changes)
		for _, s := range list {
			fmt.Fprintf(w, heading, s.title)
			for _, c := range s.rows {
				switch {
				case format == "markdown":
					fmt.Fprintf(w, row, text(c.Name), text(c.Old), text(c.New))
				case c.Old == "":
					fmt.Fprintf(w, "  %s: new, %s\n", c.Name, c.New)
				case c.New == "":
					fmt.Fprintf(w, "  %s: gone, was %s\n", c.Name, c.Old)
				default:
					fmt.Fprintf(w, row, c.Name, c.Old, c.New)
				}
			}
			fmt.Fprintln(w)
		}
		if len(list) == 0 {
			fmt.Fprintln(w, "no verdict, margin, value, fact or document differs")
		}
	}
	return nil
}
