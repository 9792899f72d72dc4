package eval

import (
	"bytes"
	"crypto/sha256"
	"encoding/csv"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"guardband/notebook"
)

// maxExported bounds the size of an exported file, bytes.
const maxExported = 32 << 20

// exportedFile is a file that a design or circuit block names for comparison.
type exportedFile struct {
	entry   *notebook.Entry // the label that names it
	columns *notebook.Entry // the `columns:` line that follows it, nil where none does
	name    string          // as typed
	data    []byte
}

// exportedFiles reads the files named under a label, in the order written.
// What cannot be read is a diagnostic at the label.
func (c *compiler) exportedFiles(label string) []exportedFile {
	var out []exportedFile
	for _, n := range c.book.Notebooks {
		for _, b := range n.Blocks {
			if b.Kind != "design" && b.Kind != "circuit" {
				continue // no other takes these labels, and values are many
			}
			for i, e := range b.Entries {
				if e.Label != label || value(e) == "" {
					continue
				}
				f := exportedFile{entry: e, name: value(e)}
				if i+1 < len(b.Entries) && b.Entries[i+1].Label == "columns" {
					f.columns = b.Entries[i+1]
				}
				if c.readExported(&f) {
					out = append(out, f)
				}
			}
		}
	}
	return out
}

func (c *compiler) readExported(f *exportedFile) bool {
	bad := func(msg, hint string) bool {
		c.whole(notebook.Err, "exported-file", f.entry.Value, msg, hint)
		return false
	}
	path, err := c.book.Resolve(f.entry.Text.Src, f.name)
	switch {
	case err == notebook.ErrOutside:
		return bad("`"+f.name+"` lies outside the design's folder", "copy the exported file into the folder of the notebook")
	case err != nil:
		return bad("`"+f.name+"` cannot be found", "the path is read from the notebook's own folder")
	}
	info, err := os.Stat(path)
	if err != nil || !info.Mode().IsRegular() {
		return bad("`"+f.name+"` is no file that can be read", "name the exported file itself")
	}
	if info.Size() > maxExported {
		return bad(fmt.Sprintf("`%s` is larger than %d MB", f.name, maxExported>>20), "export the list alone")
	}
	if f.data, err = os.ReadFile(path); err != nil {
		return bad("`"+f.name+"` cannot be read", "")
	}
	sum := sha256.Sum256(f.data)
	c.exported = append(c.exported, File{path, hex.EncodeToString(sum[:]), FileExported})
	f.data = bytes.TrimPrefix(f.data, []byte("\xef\xbb\xbf"))
	return true
}

// table is an exported list: rows of cells under the columns that are wanted.
type table struct {
	rows []tableRow
	has  map[string]bool // which of the wanted columns the file has
}

type tableRow struct {
	line  int
	cells map[string]string
}

// readTable reads a list with a heading line, cells parted by commas,
// semicolons or tabs. The `columns:` line says which heading is which; a
// heading equal to a wanted column needs no saying.
func (c *compiler) readTable(f exportedFile, wanted, needed []string) (table, bool) {
	t := table{has: map[string]bool{}}
	lines, err := readCells(f.data)
	var open *openQuote
	switch {
	case errors.As(err, &open):
		c.whole(notebook.Err, "exported-quote", f.entry.Value, fmt.Sprintf("`%s`, line %d: a quotation mark opens here and is not closed on its line", f.name, open.line), "the lines up to the next mark would be read as one cell; close it, or write it twice where it belongs to the text")
		return t, false
	case err != nil:
		c.whole(notebook.Err, "exported-form", f.entry.Value, fmt.Sprintf("`%s` cannot be read: %v", f.name, err), "export it as plain text, one part a line")
		return t, false
	case len(lines) == 0:
		c.whole(notebook.Err, "exported-form", f.entry.Value, "`"+f.name+"` has no heading line", "the first line names the columns")
		return t, false
	}
	at, ok := c.columnsOf(f, lines[0].cells, wanted, needed)
	if !ok {
		return t, false
	}
	for k := range at {
		t.has[k] = true
	}
	for _, l := range lines[1:] {
		row := tableRow{line: l.line, cells: map[string]string{}}
		for k, i := range at {
			if i < len(l.cells) {
				row.cells[k] = strings.TrimSpace(l.cells[i])
			}
		}
		t.rows = append(t.rows, row)
	}
	return t, true
}

// cellLine is one line of a list, or several where a quoted cell holds line
// ends.
type cellLine struct {
	line  int // the first, from 1
	cells []string
}

// openQuote says on which line a quotation mark opens a cell that swallows
// further lines.
type openQuote struct{ line int }

func (q *openQuote) Error() string { return fmt.Sprintf("quotation mark on line %d", q.line) }

// readCells reads a list by RFC 4180. Where its quotes do not follow that, as
// in 3.5" of an unquoted cell, they are taken as text, but then no cell may
// hold a line end: it would be one that nobody closed.
func readCells(data []byte) ([]cellLine, error) {
	if lines, err := readCellsBy(data, false); err == nil {
		return lines, nil
	}
	lines, err := readCellsBy(data, true)
	for _, l := range lines {
		for _, cell := range l.cells {
			if strings.Contains(cell, "\n") {
				return nil, &openQuote{l.line}
			}
		}
	}
	return lines, err
}

func readCellsBy(data []byte, lazy bool) (out []cellLine, err error) {
	r := csv.NewReader(bytes.NewReader(data))
	r.Comma, r.FieldsPerRecord, r.LazyQuotes, r.TrimLeadingSpace = separator(data), -1, lazy, true
	for {
		cells, err := r.Read()
		if err == io.EOF {
			return out, nil
		}
		if err != nil {
			return out, err
		}
		line, _ := r.FieldPos(0)
		out = append(out, cellLine{line, cells})
	}
}

// columnsOf finds which cell of a row holds what: "designator = Ref, pin = Pin number".
func (c *compiler) columnsOf(f exportedFile, head, wanted, needed []string) (map[string]int, bool) {
	place := func(heading string) int {
		for i, h := range head {
			if strings.EqualFold(strings.TrimSpace(h), heading) {
				return i
			}
		}
		return -1
	}
	at := map[string]int{}
	for _, w := range wanted {
		if i := place(w); i >= 0 {
			at[w] = i
		}
	}
	ok := true
	complain := func(t notebook.Text, msg, hint string) {
		c.whole(notebook.Err, "exported-columns", t, msg, hint)
		ok = false
	}
	if f.columns != nil {
		for _, item := range splitList(value(f.columns)) {
			key, heading, has := strings.Cut(item, "=")
			key, heading = strings.TrimSpace(key), strings.TrimSpace(heading)
			switch i := place(heading); {
			case !has || !contains(wanted, key):
				complain(f.columns.Value, "`"+item+"` does not name a column: "+strings.Join(wanted, ", "), "write `"+wanted[0]+" = its heading in the file`")
			case i < 0:
				complain(f.columns.Value, "`"+f.name+"` has no column `"+heading+"`", "its columns are "+strings.Join(head, ", "))
			default:
				at[key] = i
			}
		}
	}
	for _, w := range wanted {
		for i, h := range head {
			if k, found := at[w]; found && i > k && strings.EqualFold(strings.TrimSpace(h), strings.TrimSpace(head[k])) {
				complain(f.entry.Value, "`"+f.name+"` has two columns `"+strings.TrimSpace(h)+"`", "export it with one column of that heading: it is not known which of them counts")
			}
		}
	}
	for _, n := range needed {
		if _, found := at[n]; !found && ok {
			complain(f.entry.Value, "`"+f.name+"` has no column `"+n+"`", "add `columns: "+n+" = ...`; its columns are "+strings.Join(head, ", "))
		}
	}
	return at, ok
}

// separator is what parts the cells of the heading line.
func separator(data []byte) rune {
	head, _, _ := bytes.Cut(data, []byte("\n"))
	best, most := ',', bytes.Count(head, []byte(","))
	for _, r := range ";\t" {
		if n := bytes.Count(head, []byte(string(r))); n > most {
			best, most = r, n
		}
	}
	return best
}
