// Package csv writes the values and claims of a Record as comma-separated
// values (RFC 4180), a row each under one head, for spreadsheets and scripts.
package csv

import (
	"encoding/csv"
	"fmt"
	"io"
	"strconv"
	"strings"

	"guardband/eval/record"
	"guardband/report/internal/words"
	"guardband/units"
)

// Head names the columns. least and most are of a value and in its unit; what
// a row does not have is empty.
var Head = []string{"kind", "name", "verdict", "text", "least", "most", "unit", "margin", "file", "line"}

// Write writes the table. It fails where w fails.
func Write(w io.Writer, r *record.Record) error {
	c := csv.NewWriter(w)
	c.Write(Head)
	row := func(at *record.Position, cells ...string) {
		file, line := "", ""
		if at != nil {
			file, line = at.File, strconv.Itoa(at.Line)
		}
		cells = append(cells, file, line)
		for i := range cells {
			cells[i] = Inert(words.Visible(cells[i]))
		}
		c.Write(cells)
	}
	for i := range r.Values {
		v := &r.Values[i]
		row(v.Position, "value", v.Name, "", v.Text, number(v.Min), number(v.Max), v.Unit, "")
	}
	for i := range r.Claims {
		k := &r.Claims[i]
		margin := ""
		if t := k.Thinnest(); t != nil {
			margin = t.Text
		}
		row(k.Position, k.Kind, k.ID, string(k.Verdict), words.Join("; ", k.Statement, k.Headline), "", "", "", margin)
	}
	c.Flush()
	if err := c.Error(); err != nil {
		return fmt.Errorf("writing the values and claims: %w", err)
	}
	return nil
}

func number(x *float64) string {
	if x == nil {
		return ""
	}
	return strconv.FormatFloat(*x, 'g', -1, 64)
}

// Inert keeps a spreadsheet from running a cell: one that begins as a formula
// does gets an apostrophe, unless it is wholly a number with its unit.
// Source: OWASP, "CSV Injection".
func Inert(cell string) string {
	if cell == "" || !strings.ContainsRune("=+-@\t\r\n", rune(cell[0])) {
		return cell
	}
	if _, err := units.ParseLiteral(cell); err == nil {
		return cell
	}
	return "'" + cell
}
