package main

import (
	"cmp"
	"encoding/csv"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"guardband/eval"
	"guardband/eval/record"
	"guardband/eval/workspace"
	report "guardband/report/csv"
)

func (a *app) partsCommand() *cobra.Command {
	var format string
	var boards int
	var codes []string
	c := &cobra.Command{
		Use:   "parts [PATH...]",
		Short: "Parts list with order codes, and which of the six sections of each part are noted",
		Example: `  guardband parts examples/weirkeeper
  guardband parts board.md --format csv > parts.csv
  guardband parts board.md --boards 25
  guardband parts examples/weirkeeper --codes OZDL2 --codes volts="3.3 V"`,
		RunE: func(_ *cobra.Command, args []string) error {
			if format != "text" && format != "csv" {
				return fmt.Errorf("--format %s: text or csv", format)
			}
			if boards < 0 {
				return fmt.Errorf("--boards %d: a number from 1", boards)
			}
			paths, err := a.designs(args)
			if err != nil {
				return err
			}
			for _, p := range paths {
				if len(codes) > 0 {
					err = errors.Join(err, a.orderCodes(p, codes))
				}
			}
			if len(codes) > 0 {
				return err
			}
			code, err := a.judge(paths, eval.Options{Boards: boards}, func(_ string, x workspace.Result) (int, error) {
				if format == "csv" {
					return exitClear, a.partsCSV(x.Record)
				}
				return exitClear, a.partsText(x.Record)
			})
			return cmp.Or(err, ending(code))
		},
	}
	c.Flags().StringVar(&format, "format", "text", "text or csv")
	c.Flags().IntVar(&boards, "boards", 0, "how many boards to order parts for (default: as the design says)")
	c.Flags().StringArrayVar(&codes, "codes", nil, "list the order codes of a part, `PART`, then FIELD=MEANING for each that is wanted")
	return c
}

// orderCodes lists the order codes of a part that buy what is wanted.
func (a *app) orderCodes(path string, args []string) error {
	book, _, err := a.open(path, eval.Options{})
	if err != nil {
		return err
	}
	want := map[string]string{}
	for _, x := range args[1:] {
		field, means, ok := strings.Cut(x, "=")
		if !ok {
			return fmt.Errorf("--codes %s: a field and what it must mean, FIELD=MEANING", x)
		}
		want[field] = means
	}
	list, err := eval.OrderCodes(book, args[0], want)
	if err != nil {
		return err
	}
	var rows [][]string
	for _, o := range list {
		row := []string{o.Code}
		for _, f := range o.Fields {
			row = append(row, f.Name+" "+f.Means)
		}
		rows = append(rows, row)
	}
	return a.table(rows)
}

// table prints rows in columns.
func (a *app) table(rows [][]string) error {
	w := tabwriter.NewWriter(a.out, 2, 8, 2, ' ', 0)
	for _, r := range rows {
		fmt.Fprintln(w, strings.Join(r, "\t"))
	}
	return w.Flush()
}

// partsTable is the parts list, with what is to be ordered where the number of
// boards is known.
func partsTable(r *record.Record) [][]string {
	head := []string{"quantity", "designators", "order code", "package", "part", "maker", "status"}
	boards := 0
	if len(r.PartsList) > 0 {
		boards = r.PartsList[0].Boards
	}
	if boards > 0 {
		head = append([]string{fmt.Sprintf("order for %d", boards), "pack"}, head...)
	}
	rows := [][]string{head}
	for _, l := range r.PartsList {
		row := []string{strconv.Itoa(l.Quantity), strings.Join(l.Refs, " "), l.Order, l.Package, l.Title, l.Maker, l.Status}
		if boards > 0 {
			pack := strings.TrimPrefix(strconv.Itoa(l.Pack), "0")
			row = append([]string{strconv.Itoa(l.ToOrder), pack}, row...)
		}
		rows = append(rows, row)
	}
	return rows
}

func (a *app) partsCSV(r *record.Record) error {
	rows := partsTable(r)
	for _, row := range rows {
		for i := range row {
			row[i] = report.Inert(row[i])
		}
	}
	return csv.NewWriter(a.out).WriteAll(rows)
}

func (a *app) partsText(r *record.Record) error {
	rows := append(partsTable(r), nil, []string{"part", "sections noted", "pages"})
	for _, p := range r.Parts {
		noted, rest := 0, ""
		for _, n := range slices.Sorted(maps.Keys(p.Sections)) {
			if p.Sections[n].Noted {
				noted++
				continue
			}
			rest += ", " + n
		}
		bar := strings.Repeat("■", noted) + strings.Repeat("□", len(p.Sections)-noted)
		if rest = "missing: " + strings.TrimPrefix(rest, ", "); noted == len(p.Sections) {
			rest = "all noted"
		}
		rows = append(rows, []string{p.ID, fmt.Sprintf("%s %d of %d", bar, noted, len(p.Sections)), rest})
	}
	return a.table(append(append(rows, nil), stillToNote(r.Parts)...))
}

// stillToNote lists what the notes lack, each gap with the parts it is in.
func stillToNote(parts []record.Part) [][]string {
	rows := [][]string{{"still to note", "parts"}}
	for _, gap := range eval.GapNames() {
		var l []string
		for _, p := range parts {
			for _, n := range p.Notes {
				switch {
				case n.Name != gap:
				case gap == eval.GapSecondPerson:
					l = append(l, p.ID)
				default:
					l = append(l, p.ID+" ("+n.Value+")")
				}
			}
		}
		text := "none"
		if len(l) > 0 {
			text = fmt.Sprintf("%d of %d: %s", len(l), len(parts), strings.Join(l, ", "))
		}
		rows = append(rows, []string{gap, text})
	}
	return rows
}
