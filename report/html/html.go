// Package html writes a Record as one HTML page: no request to anywhere, no
// script needed, every text inert. It draws the record's outline; what is said
// and in which order is the outline's.
package html

import (
	"bufio"
	_ "embed"
	"errors"
	"fmt"
	"html/template"
	"io"

	"guardband/eval/record"
	"guardband/report/internal/words"
	"guardband/report/outline"
)

// Options of a page. The zero value is a full page without links to files.
type Options struct {
	Short bool // the version for a meeting: page one and what needs attention
	// Base is the path from the page to the folder of the root notebook, with
	// forward slashes ("..", "../board"). With it file names become links;
	// "." is the page's own folder.
	Base string
	// Notes is the path from the page to the folder that the paths of
	// notebooks in the Record start from; "" is Base. Citations' files start
	// from the root notebook's folder, notebooks' paths from where the program
	// was started.
	Notes string
	// Events is the path of an event stream on the page's own origin that tells
	// the version of the page; with it the page loads itself again where that is
	// not its own (OfVersion), keeps its place and marks what changed. "" allows
	// no connection at all.
	Events string
}

//go:embed page.tmpl
var layout string

var pages = template.Must(template.New("").Funcs(new(page).functions()).Parse(layout))

// Write writes the page in UTF-8. It fails where w fails; the same Record and
// Options give the same bytes.
func Write(w io.Writer, r *record.Record, opt Options) error {
	p := &page{r: r, o: outline.Make(r, opt.Short), opt: opt}
	return p.write(w, "record", map[string]any{"Record": r, "Outline": p.o, "Short": opt.Short, "Total": words.Total(r.Summary)})
}

func (p *page) write(w io.Writer, name string, data any) error {
	b := bufio.NewWriterSize(w, 1<<16)
	t := template.Must(pages.Clone()).Funcs(p.functions())
	if err := errors.Join(t.ExecuteTemplate(b, name, data), b.Flush()); err != nil {
		return fmt.Errorf("writing the HTML record: %w", err)
	}
	return nil
}
