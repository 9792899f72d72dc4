package lists

import (
	"encoding/csv"
	"fmt"
	"io"
	"slices"
	"strings"
)

// cellLine is one line of a list, or several where a quoted cell holds line ends.
type cellLine struct {
	line  int // the first, from 1
	cells []string
}

// openQuote says on which line a quotation mark opens a cell that swallows further lines.
type openQuote struct{ line int }

func (q *openQuote) Error() string { return fmt.Sprintf("quotation mark on line %d", q.line) }

// readCells reads a list by RFC 4180 from a line of it. Where its quotes do not follow that, as in 3.5" of an unquoted
// cell, they are taken as text, but then no cell may hold a line end: it would be one that nobody closed.
func readCells(text string, sep rune, from int) ([]cellLine, error) {
	above := strings.Repeat("\n", from-1)
	text = above + strings.Join(strings.Split(text, "\n")[from-1:], "\n")
	lines, err := readCellsBy(text, sep, false)
	if err == nil {
		return lines, nil
	}
	lines, err = readCellsBy(text, sep, true)
	for _, l := range lines {
		if slices.ContainsFunc(l.cells, func(cell string) bool { return strings.Contains(cell, "\n") }) {
			return nil, &openQuote{l.line}
		}
	}
	return lines, err
}

func readCellsBy(text string, sep rune, lazy bool) (out []cellLine, err error) {
	r := csv.NewReader(strings.NewReader(text))
	r.Comma, r.FieldsPerRecord, r.LazyQuotes, r.TrimLeadingSpace = sep, -1, lazy, sep != '\t'
	for {
		cells, err := r.Read()
		if err == io.EOF {
			return out, nil
		} else if err != nil {
			return out, err
		}
		line, _ := r.FieldPos(0)
		out = append(out, cellLine{line, cells})
	}
}

// fixedCells reads a list whose columns are kept by spaces alone, from its heading line. Where every line has as many
// cells, two spaces apart, those are the cells. Else a column begins under a word of the heading where every line has a
// space before it; where wide, only under words two spaces apart.
func fixedCells(text string, heading int, wide bool) []cellLine {
	var rows []cellLine
	for i, l := range strings.Split(text, "\n")[heading-1:] {
		if bare := strings.TrimLeft(l, "#"); i == 0 {
			l = strings.Repeat(" ", len(l)-len(bare)) + bare
		}
		if strings.TrimSpace(l) != "" && !strings.HasPrefix(l, "#") {
			rows = append(rows, cellLine{heading + i, []string{l}})
		}
	}
	if len(rows) == 0 || wide && spacedCells(rows) {
		return rows
	}
	columns := append(columnStarts(rows, wide), 1<<30)
	for i := range rows {
		row := []rune(rows[i].cells[0])
		rows[i].cells = nil
		for k, s := range columns[1:] {
			rows[i].cells = append(rows[i].cells, strings.TrimSpace(string(row[min(columns[k], len(row)):min(s, len(row))])))
		}
	}
	return rows
}

// spacedCells splits rows at two spaces and more, if all have as many cells.
func spacedCells(rows []cellLine) bool {
	cells := make([][]string, len(rows))
	for i, r := range rows {
		for s := range strings.SplitSeq(strings.ReplaceAll(r.cells[0], "\t", "  "), "  ") {
			if s = strings.TrimSpace(s); s != "" {
				cells[i] = append(cells[i], s)
			}
		}
		if len(cells[i]) != len(cells[0]) || len(cells[0]) < 2 {
			return false
		}
	}
	for i := range rows {
		rows[i].cells = cells[i]
	}
	return true
}

// columnStarts are the columns at which words of the heading begin and no line has anything right before.
func columnStarts(rows []cellLine, wide bool) []int {
	head := []rune(rows[0].cells[0])
	used := make([]bool, len(head)) // columns in which a line has anything
	for _, r := range rows[1:] {
		for i, b := range []rune(r.cells[0]) {
			if i < len(used) && b != ' ' {
				used[i] = true
			}
		}
	}
	out, begun := []int{0}, false
	for s := 1; s < len(head); s++ {
		begun = begun || head[s-1] != ' '
		if begun && head[s] != ' ' && head[s-1] == ' ' && !used[s-1] && (!wide || s < 2 || head[s-2] == ' ') {
			out = append(out, s)
		}
	}
	return out
}
