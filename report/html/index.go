package html

import (
	"bytes"

	"guardband/eval/record"
)

// IndexRow is one design on a page that lists several.
type IndexRow struct {
	Path     string // of its page, from that of the list
	Title    string
	Revision string
	Verdict  string // counts, in words
}

// Index is a page that lists designs. It is watched as a record's page is.
func Index(rows []IndexRow, events string) []byte {
	r := &record.Record{Design: record.Design{Title: "Designs"}}
	var b bytes.Buffer
	_ = (&page{r: r, opt: Options{Events: events}}).write(&b, "index", map[string]any{"Record": r, "Rows": rows}) // into memory
	return b.Bytes()
}
