package main

import (
	"encoding/json"
	"io"
	"slices"
	"strings"

	"guardband/eval/record"
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
	Title string
	Rows  []record.Change
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
		add(x.Title+", worse", x.Rows, is(record.Worse))
		add(x.Title+", better", x.Rows, is(record.Better))
		add(x.Title, x.Rows, is(record.Other))
	}
	for _, x := range []section{{"Values", d.Values}, {"Facts", d.Facts}, {"Documents", d.Sources}} {
		add(x.Title, x.Rows, func(record.Way) bool { return true })
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
	name := "differences"
	if format == "markdown" {
		name += " in Markdown"
	}
	return texts.ExecuteTemplate(w, name, all)
}

// Title is the design with its path before; "" of the one notebook asked for.
func (d difference) Title() string {
	if d.Was == "" {
		return d.Design
	}
	return strings.TrimSpace(d.Design + " (was " + d.Was + ")")
}
