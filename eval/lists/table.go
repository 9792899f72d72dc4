package lists

import (
	"errors"
	"slices"
	"strings"
)

// Form is a kind of list by its columns, of which the first ones are needed.
type Form struct {
	Columns []string
	Needed  int
}

// The forms: a table of pins, a parts list, a board's test netlist (IPC-D-356A), which has the columns of pins.
var (
	Pins    = &Form{[]string{"designator", "pin", "net", "name", "type"}, 3}
	Parts   = &Form{[]string{"designator", "order code", "value", "package", "quantity", "not fitted", "fitted"}, 1}
	Netlist = &Form{}
)

// Table is a list that was read.
type Table struct {
	Text  string // of the file
	Form  *Form
	Rows  []Row
	Loose []Row           // of a table of pins: nets without a designator or a pin
	Has   map[string]bool // columns of the form that the file has
}

// Row is one line of a list, or several where a quoted cell holds line ends.
type Row struct {
	Line  int // the first, from 1
	Cells map[string]string
	below bool // a line above says that the parts below it are left off
	Cut   bool // of a test netlist: the name of the net fills its columns and may be longer
}

// Fault is why a list cannot be read.
type Fault struct {
	Code, Msg, Hint string
	InColumns       bool // it lies in the `columns:` line
	Line            int  // of the file, 0 where it is not of one line
}

// Read reads a list in the first of some forms whose needed columns it has. columns is the text of the `columns:` line
// beside its name, "" without one.
func Read(name string, data []byte, columns string, forms ...*Form) (t Table, faults []Fault) {
	text, what := textOf(data)
	if t.Text = text; what != "" {
		return t, []Fault{{Code: "exported-form", Msg: "`" + name + "` is " + what,
			Hint: "export it as plain text, one part or pin a line"}}
	}
	var h heading
	for _, t.Form = range forms {
		if t.Form == Netlist {
			if t.Rows, faults = readNetlist(name, text); len(faults) == 0 || faults[0].Line > 0 || len(forms) == 1 {
				return t, faults
			}
			continue
		}
		var cols []column
		cols, faults = t.Form.columns(columns)
		if h = findHeading(text, cols); h.line > 0 && len(h.lacking) == 0 {
			break
		}
	}
	if len(faults) == 0 {
		faults = h.faults(name)
	}
	if len(faults) > 0 {
		return t, faults
	}
	lines, err := h.rows, error(nil)
	if h.sep != 0 {
		var open *openQuote
		if lines, err = readCells(text, h.sep, h.line); errors.As(err, &open) {
			return t, []Fault{{Code: "exported-quote", Msg: "a quotation mark opens here and is not closed on its line",
				Hint: "the lines up to the next mark would be read as one cell; close it, or write it twice where it belongs to the text",
				Line: open.line}}
		} else if err != nil {
			return t, []Fault{{Code: "exported-form", Msg: "`" + name + "` cannot be read: " + err.Error(),
				Hint: "export it as plain text, one part a line"}}
		}
	}
	t.Has = map[string]bool{}
	for role := range h.at {
		t.Has[role] = true
	}
	for _, l := range lines[1:] {
		if slices.Equal(l.cells, lines[0].cells) {
			continue // the heading of a further page
		}
		r := Row{Line: l.line, Cells: map[string]string{}}
		for role, i := range h.at {
			if i < len(l.cells) {
				r.Cells[role] = strings.TrimSpace(l.cells[i])
			}
		}
		switch {
		case t.Form != Pins || r.Cells["designator"] != "" && r.Cells["pin"] != "":
			t.Rows = append(t.Rows, r)
		case r.Cells["net"] != "":
			t.Loose = append(t.Loose, r)
		}
	}
	return t, nil
}
