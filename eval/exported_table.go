package eval

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"os"
	"slices"
	"strings"

	"guardband/eval/record"
	"guardband/notebook"
)

// What is read of an exported file at most: bytes, lines, and cells at any
// separator.
const (
	maxExported = 16 << 20
	maxRows     = 100_000
	maxCells    = 1_000_000
)

// exportedFile is a file that a design or circuit block names for comparison.
type exportedFile struct {
	entry    *notebook.Entry // the label that names it
	columns  *notebook.Entry // the `columns:` line that follows it, nil where none does
	leaveOut *notebook.Entry // the `leave out:` line, the same
	name     string          // as typed
	data     []byte
}

// exportedFiles reads the files named under a label, in the order written.
// What cannot be read is a diagnostic at the label.
func (c reader) exportedFiles(label string) []exportedFile {
	var out []exportedFile
	for _, n := range c.book.Notebooks {
		for _, b := range n.Blocks {
			if b.Kind != "design" && b.Kind != "circuit" {
				continue // no other takes these labels, and values are many
			}
			for i, e := range b.Entries {
				if e.Label != label || e.Trimmed() == "" {
					continue
				}
				f := exportedFile{entry: e, name: e.Trimmed()}
				for _, next := range b.Entries[i+1:] {
					if next.Label == "columns" && f.columns == nil {
						f.columns = next
					} else if next.Label == "leave out" && f.leaveOut == nil {
						f.leaveOut = next
					} else {
						break
					}
				}
				if c.readExported(&f) {
					out = append(out, f)
				}
			}
		}
	}
	return out
}

func (c reader) readExported(f *exportedFile) bool {
	bad := func(msg, hint string) bool {
		c.diagnose(notebook.Err, "exported-file", f.entry.Value, msg, hint)
		return false
	}
	path, err := c.book.Resolve(f.entry.Text.Src, f.name)
	switch {
	case err == notebook.ErrOutside:
		return bad("`"+f.name+"` is outside the design's folder", "copy the exported file into the folder of the notebook")
	case err != nil:
		return bad("`"+f.name+"` cannot be found", "the path is read from the notebook's own folder")
	}
	info, err := os.Stat(path)
	if err != nil || !info.Mode().IsRegular() {
		return bad("`"+f.name+"` cannot be read", "name the exported file itself")
	}
	if info.Size() > maxExported {
		return bad(fmt.Sprintf("`%s` is larger than %d MB", f.name, maxExported>>20), "export the list alone")
	}
	if f.data, err = os.ReadFile(path); err != nil {
		return bad("`"+f.name+"` cannot be read", "")
	}
	if !fewCells(f.data) {
		return bad(fmt.Sprintf("`%s` has more than %d rows or %d cells", f.name, maxRows, maxCells), "export the list alone")
	}
	sum := sha256.Sum256(f.data)
	c.exported = append(c.exported, record.File{Abs: path, SHA256: hex.EncodeToString(sum[:]), Kind: record.FileExported})
	return true
}

// fewCells says that a list is within its bounds.
func fewCells(data []byte) bool {
	rows, cells := 0, 0
	for _, b := range data {
		switch b {
		case '\n':
			rows++
		case ',', ';', '\t', '|':
			cells++
		}
	}
	return rows <= maxRows && cells <= maxCells
}

// table is an exported list: rows of cells under the columns that are wanted.
type table struct {
	rows []tableRow
	has  map[string]bool // which of the wanted columns the file has
}

type tableRow struct {
	line    int
	cells   map[string]string
	all     []string // every cell of the line
	leftOff bool     // it stands under a line that says so of those below
}

// headingLines is how many lines are looked at for the heading of a list.
const headingLines = 60

// readTable reads a list with a heading line, its cells separated by commas,
// semicolons, tabs or bars, or kept in columns by spaces. Titles and comments
// may stand above the heading. The `columns:` line says which heading is
// which; one that a role is known by needs no saying.
func (c reader) readTable(f exportedFile, wanted, needed []string) (table, bool) {
	t := table{has: map[string]bool{}}
	text, what := listText(f.data)
	if what != "" {
		c.diagnose(notebook.Err, "exported-form", f.entry.Value, "`"+f.name+"` is "+what,
			"export it as plain text, one part or pin a line")
		return t, false
	}
	named, ok := c.namedColumns(f, wanted)
	if !ok {
		return t, false
	}
	h := findHeading(text, named, wanted, needed)
	if !c.headingFound(f, h, needed) {
		return t, false
	}
	lines := h.fixed
	if h.sep != 0 {
		var err error
		var open *openQuote
		if lines, err = readCells(text, h.sep, h.line); errors.As(err, &open) {
			c.diagnose(notebook.Err, "exported-quote", f.entry.Value,
				fmt.Sprintf("`%s`, line %d: a quotation mark opens here and is not closed on its line", f.name,
					open.line), "the lines up to the next mark would be read as one cell; close it, or write it twice "+
					"where it belongs to the text")
			return t, false
		} else if err != nil {
			c.diagnose(notebook.Err, "exported-form", f.entry.Value, fmt.Sprintf("`%s` cannot be read: %v", f.name, err),
				"export it as plain text, one part a line")
			return t, false
		}
	}
	for k := range h.at {
		t.has[k] = true
	}
	for _, l := range lines[1:] {
		if slices.Equal(l.cells, lines[0].cells) {
			continue // the heading of a further page
		}
		row := tableRow{line: l.line, cells: map[string]string{}, all: l.cells}
		for k, i := range h.at {
			if i < len(l.cells) {
				row.cells[k] = strings.TrimSpace(l.cells[i])
			}
		}
		t.rows = append(t.rows, row)
	}
	return t, true
}

// heading is the heading line of a list.
type heading struct {
	sep            rune       // 0 for columns kept by spaces
	fixed          []cellLine // those
	line           int
	cells          []string
	at             map[string]int
	missing, twice []namedColumn
}

// findHeading looks for the line that has the columns needed, for each
// separator; the first line where none has them.
func findHeading(text string, named []namedColumn, wanted, needed []string) heading {
	var first heading
	lines := strings.SplitN(text, "\n", headingLines+1)
	lines = lines[:min(len(lines), headingLines)]
	seps := []rune{',', ';', '\t', '|'}
	if mark, ok := strings.CutPrefix(strings.ToLower(strings.TrimSpace(lines[0])), "sep="); ok && mark != "" {
		seps = []rune(mark)[:1]
		lines[0] = ""
	}
	for i, line := range lines {
		for _, sep := range append(seps, 0, -1) {
			var h heading
			if sep > 0 {
				if cells, err := readCellsBy(line, sep, true); err == nil && len(cells) == 1 {
					h = heading{cells: cells[0].cells, sep: sep}
				}
			} else if mayHead(line, named, needed) {
				if fixed := fixedCells(text, i+1, sep == 0); len(fixed) > 0 {
					h = heading{cells: fixed[0].cells, fixed: fixed}
				}
			}
			if len(h.cells) == 0 {
				continue
			}
			h.line = i + 1
			h.at, h.missing, h.twice = rolesIn(h.cells, named, wanted)
			found := len(h.missing) == 0
			for _, n := range needed {
				_, has := h.at[n]
				found = found && has
			}
			if found {
				return h
			}
			if first.line == 0 || first.line == h.line && len(h.cells) > len(first.cells) {
				first = h
			}
		}
	}
	return first
}

// headingFound says that a list has its columns, and complains of those it
// lacks or has twice.
func (c reader) headingFound(f exportedFile, h heading, needed []string) bool {
	ok := true
	complain := func(t notebook.Text, msg, hint string) {
		c.diagnose(notebook.Err, "exported-columns", t, msg, hint)
		ok = false
	}
	if h.line == 0 {
		c.diagnose(notebook.Err, "exported-form", f.entry.Value, "`"+f.name+"` has no heading line",
			"a line names the columns, above the first part or pin")
		return false
	}
	columns := strings.Join(h.cells, ", ")
	for _, x := range h.missing {
		complain(f.columns.Value, "`"+f.name+"` has no column `"+x.heading+"`", "its columns are "+columns)
	}
	for _, x := range h.twice {
		complain(f.entry.Value, "`"+f.name+"` has two columns `"+x.heading+"`",
			"name the one to use: `columns: "+x.role+" = \""+x.heading+"\" 2` is the second")
	}
	for _, n := range needed {
		if _, found := h.at[n]; !found && ok {
			complain(f.entry.Value, "`"+f.name+"` has no column `"+n+"`",
				"add `columns: "+n+" = ...`; its columns are "+columns)
		}
	}
	return ok
}
