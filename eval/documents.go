package eval

import (
	"fmt"
	"os"
	"slices"

	"guardband/notebook"
)

// DocumentFile is a document of a design that is at hand.
type DocumentFile struct{ ID, Path, File string }

// Documents lists the documents of a book that are at hand, in the order of
// their sources; only those of the IDs given, where any are. A path that
// leaves the design's folder is never among them.
func Documents(book *notebook.Book, ids []string) ([]DocumentFile, error) {
	c := &compiler{book: book, diags: &notebook.Diagnostics{}, byCite: map[*notebook.Cite]*citation{}, skips: map[string]*skip{}}
	for _, n := range book.Notebooks {
		for _, b := range n.Blocks {
			if b.Kind == "source" {
				reader{c}.readSource(b)
			}
		}
	}
	for _, id := range ids {
		if _, ok := c.sources.Get(id); !ok {
			return nil, fmt.Errorf("there is no source named %q%s", id, hintAfter(notebook.Nearest(id, c.sources.Names())))
		}
	}
	var out []DocumentFile
	for _, s := range c.sources.List {
		if s.abs == "" || len(ids) > 0 && !slices.Contains(ids, s.id) {
			continue
		}
		if _, err := os.Stat(s.abs); err == nil {
			out = append(out, DocumentFile{s.id, s.abs, s.file})
		}
	}
	return out, nil
}
