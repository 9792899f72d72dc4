package main

import (
	"encoding/csv"
	"fmt"
	"io"
	"sort"
	"strconv"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"guardband/eval"
	"guardband/eval/record"
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
			code := exitClear
			for _, p := range paths {
				if len(codes) > 0 {
					if err := a.orderCodes(p, codes); err != nil {
						return err
					}
					continue
				}
				r, err := a.compile(p, eval.Options{Boards: boards})
				if a.lost(err) {
					code = exitMachine
					continue
				}
				if err != nil {
					return err
				}
				if format == "csv" {
					err = a.partsCSV(r)
				} else {
					err = a.partsText(r)
				}
				if err != nil {
					return err
				}
			}
			if code != exitClear {
				return exitError(code)
			}
			return nil
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
	w := tabwriter.NewWriter(a.out, 2, 8, 2, ' ', 0)
	for _, o := range list {
		row := []string{o.Code}
		for _, f := range o.Fields {
			row = append(row, f.Name+" "+f.Means)
		}
		fmt.Fprintln(w, strings.Join(row, "\t"))
	}
	return w.Flush()
}

var partsHead = []string{"quantity", "designators", "order code", "package", "part", "maker", "status"}

// partsColumns adds what is to be ordered where the number of boards is known.
func partsColumns(r *record.Record) []string {
	if len(r.PartsList) > 0 && r.PartsList[0].Boards > 0 {
		return append([]string{fmt.Sprintf("order for %d", r.PartsList[0].Boards), "pack"}, partsHead...)
	}
	return partsHead
}

func partsRow(l record.PartsLine) []string {
	row := []string{strconv.Itoa(l.Quantity), strings.Join(l.Refs, " "), l.Order, l.Package, l.Title, l.Maker, l.Status}
	if l.Boards == 0 {
		return row
	}
	pack := ""
	if l.Pack > 0 {
		pack = strconv.Itoa(l.Pack)
	}
	return append([]string{strconv.Itoa(l.ToOrder), pack}, row...)
}

func (a *app) partsCSV(r *record.Record) error {
	w := csv.NewWriter(a.out)
	if err := w.Write(partsColumns(r)); err != nil {
		return err
	}
	for _, l := range r.PartsList {
		row := partsRow(l)
		for i := range row {
			row[i] = report.Inert(row[i])
		}
		if err := w.Write(row); err != nil {
			return err
		}
	}
	w.Flush()
	return w.Error()
}

func (a *app) partsText(r *record.Record) error {
	w := tabwriter.NewWriter(a.out, 2, 8, 2, ' ', 0)
	fmt.Fprintln(w, strings.Join(partsColumns(r), "\t"))
	for _, l := range r.PartsList {
		fmt.Fprintln(w, strings.Join(partsRow(l), "\t"))
	}
	fmt.Fprintln(w)
	fmt.Fprintln(w, "part\tsections noted\tpages")
	for _, p := range r.Parts {
		names := make([]string, 0, len(p.Sections))
		for n := range p.Sections {
			names = append(names, n)
		}
		sort.Strings(names)
		noted, missing := 0, []string{}
		for _, n := range names {
			if p.Sections[n].Noted {
				noted++
			} else {
				missing = append(missing, n)
			}
		}
		bar := strings.Repeat("■", noted) + strings.Repeat("□", len(names)-noted)
		rest := "all noted"
		if len(missing) > 0 {
			rest = "missing: " + strings.Join(missing, ", ")
		}
		fmt.Fprintf(w, "%s\t%s %d of %d\t%s\n", p.ID, bar, noted, len(names), rest)
	}
	fmt.Fprintln(w)
	stillToNote(w, r.Parts)
	return w.Flush()
}

// stillToNote lists what the notes lack, each gap with the parts it is in.
func stillToNote(w io.Writer, parts []record.Part) {
	fmt.Fprintln(w, "still to note\tparts")
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
		if len(l) > 0 {
			fmt.Fprintf(w, "%s\t%d of %d: %s\n", gap, len(l), len(parts), strings.Join(l, ", "))
		} else {
			fmt.Fprintf(w, "%s\tnone\n", gap)
		}
	}
}
