package main

import (
	"encoding/csv"
	"fmt"
	"sort"
	"strconv"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"guardband/eval"
)

func (a *app) partsCommand() *cobra.Command {
	var format string
	c := &cobra.Command{
		Use:   "parts [PATH...]",
		Short: "Parts list with order codes, and which of the six sections of each part are noted",
		Example: `  guardband parts examples/weirkeeper
  guardband parts board.md --format csv > parts.csv`,
		RunE: func(_ *cobra.Command, args []string) error {
			if format != "text" && format != "csv" {
				return fmt.Errorf("--format %s: text or csv", format)
			}
			paths, err := a.designs(args)
			if err != nil {
				return err
			}
			for _, p := range paths {
				r, err := a.compile(p, eval.Options{})
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
			return nil
		},
	}
	c.Flags().StringVar(&format, "format", "text", "text or csv")
	return c
}

var partsHead = []string{"quantity", "designators", "order code", "package", "part", "maker", "status"}

func partsRow(l eval.PartsLine) []string {
	return []string{strconv.Itoa(l.Quantity), strings.Join(l.Refs, " "), l.Order, l.Package, l.Title, l.Maker, l.Status}
}

func (a *app) partsCSV(r *eval.Record) error {
	w := csv.NewWriter(a.out)
	if err := w.Write(partsHead); err != nil {
		return err
	}
	for _, l := range r.PartsList {
		if err := w.Write(partsRow(l)); err != nil {
			return err
		}
	}
	w.Flush()
	return w.Error()
}

func (a *app) partsText(r *eval.Record) error {
	w := tabwriter.NewWriter(a.out, 2, 8, 2, ' ', 0)
	fmt.Fprintln(w, strings.Join(partsHead, "\t"))
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
	return w.Flush()
}
