package main

import (
	"fmt"
	"math/big"
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
			list, constants := units.Catalogue(), units.Constants()
			if len(args) == 1 {
				list, constants = units.Search(args[0]), searchConstants(args[0])
				if len(list)+len(constants) == 0 {
					return fmt.Errorf("no unit or constant matches %q", args[0])
				}
			}
			w := tabwriter.NewWriter(a.out, 2, 8, 2, ' ', 0)
			fmt.Fprintln(w, "symbol\tname\tquantity\tin SI\tprefixes\tsource of the factor")
			for _, u := range list {
				fmt.Fprintf(w, "%s\t%s\t%s\t%s\t%s\t%s\n",
					strings.Join(append([]string{u.Symbol}, u.Spellings...), ", "), u.Name, u.Quantity, inSI(u),
					u.Prefixes, u.Source)
			}
			if len(constants) > 0 {
				fmt.Fprintln(w, "\t\t\t\t\t\nconstant\tname\t\tvalue\tuncertainty\tsource")
			}
			for _, k := range constants {
				fmt.Fprintf(w, "%s\t%s\t\t%s %s\t%s\t%s\n",
					strings.Join(append([]string{k.Symbol}, k.Spellings...), ", "), k.Name, decimalText(k.Value),
					k.Unit, decimalText(k.Uncertainty), k.Source)
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

func searchConstants(word string) []units.Constant {
	var out []units.Constant
	word = strings.ToLower(word)
	for _, k := range units.Constants() {
		if strings.Contains(strings.ToLower(k.Name), word) || strings.EqualFold(k.Symbol, word) {
			out = append(out, k)
		}
	}
	return out
}

// decimalText writes a constant to 12 digits; "exact" for no uncertainty.
func decimalText(v *big.Rat) string {
	if v == nil || v.Sign() == 0 {
		return "exact"
	}
	f, _ := v.Float64()
	return fmt.Sprintf("%.12g", f)
}
