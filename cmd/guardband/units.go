package main

import (
	"fmt"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"guardband/units"
)

func (a *app) unitsCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "units [WORD]",
		Short: "List the units the language knows",
		Example: `  guardband units
  guardband units ohm
  guardband units "noise"`,
		Args: cobra.MaximumNArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			list := units.Catalogue()
			if len(args) == 1 {
				if list = units.Search(args[0]); len(list) == 0 {
					return fmt.Errorf("no unit is named or described by %q", args[0])
				}
			}
			w := tabwriter.NewWriter(a.out, 2, 8, 2, ' ', 0)
			fmt.Fprintln(w, "symbol\tname\twhat it measures\tin SI base units\tfactor from")
			for _, u := range list {
				fmt.Fprintf(w, "%s\t%s\t%s\t%s\t%s\n", u.Symbol, strings.Join(u.Names, ", "), u.Type.Words(), u.Definition(), u.Source)
			}
			return w.Flush()
		},
	}
}
