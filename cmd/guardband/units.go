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
			fmt.Fprintln(w, "symbol\tname\tquantity\tin SI\tprefixes\tsource of the factor")
			for _, u := range list {
				fmt.Fprintf(w, "%s\t%s\t%s\t%s\t%s\t%s\n", strings.Join(append([]string{u.Symbol}, u.Spellings...), ", "), u.Name, u.Quantity, inSI(u), u.Prefixes, u.Source)
			}
			return w.Flush()
		},
	}
}

// inSI writes one unit in SI base units: "1000 kg·m²·s⁻³·A⁻¹".
func inSI(u units.UnitInfo) string {
	if u.Unit.Factor == nil {
		return ""
	}
	f := u.Unit.Factor.RatString()
	if !u.Unit.Factor.IsInt() {
		f = u.Unit.Factor.FloatString(12)
		f = strings.TrimRight(strings.TrimRight(f, "0"), ".")
		if len(f) < 3 || !u.Exact || f == "0" {
			v, _ := u.Unit.Factor.Float64()
			f = fmt.Sprintf("%.9g", v)
		}
	}
	s := f + " " + u.Unit.Type.Dim.String()
	if u.Unit.Offset != nil {
		v, _ := u.Unit.Offset.Float64()
		s += fmt.Sprintf(" + %.9g", v)
	}
	return s
}
