package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"guardband/eval/formula"
)

func (a *app) formulasCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "formulas [NAME]",
		Short: "List the functions of the language, or show one with its formula and source",
		Example: `  guardband formulas
  guardband formulas divider
  guardband formulas junction`,
		Args: cobra.MaximumNArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			var hits []formula.Function
			for _, f := range a.language().Functions() {
				if len(args) == 0 || f.Name == args[0] {
					hits = append(hits, f)
				}
			}
			if len(args) == 1 && len(hits) == 0 {
				word := strings.ToLower(args[0])
				for _, f := range a.language().Functions() {
					if strings.Contains(strings.ToLower(f.Name+" "+f.Doc+" "+f.Group), word) {
						hits = append(hits, f)
					}
				}
				if len(hits) == 0 {
					return fmt.Errorf("no function matches %q", args[0])
				}
			}
			if len(hits) == 1 {
				return a.print("function", hits[0])
			}
			group := ""
			for _, f := range hits {
				if f.Group != group {
					group = f.Group
					fmt.Fprintf(a.out, "\n%s\n", group)
				}
				fmt.Fprintf(a.out, "  %-44s %s\n", signature(f), f.Doc)
			}
			return nil
		},
	}
}

func signature(f formula.Function) string {
	var p []string
	for _, x := range f.Params {
		s := x.Name
		if x.Default != "" {
			s += " = " + x.Default
		}
		p = append(p, s)
	}
	return f.Name + "(" + strings.Join(p, ", ") + ")"
}
