package main

import (
	"cmp"
	"fmt"
	"slices"

	"github.com/spf13/cobra"

	"guardband/eval"
	"guardband/eval/record"
	"guardband/notebook"
	"guardband/report/outline"
)

func (a *app) explainCommand() *cobra.Command {
	var path string
	c := &cobra.Command{
		Use:   "explain NAME",
		Short: "Show where a value or a verdict comes from, or what a built-in check reads",
		Long: `explain prints a claim, a value or a fact with its formula, the numbers, what it
rests on, and how far each cited page was checked. Of a built-in check it prints
the rule, the facts it looks for and the parts that note them.`,
		Example: `  guardband explain A2 --in examples/weirkeeper
  guardband explain I_SLEEP --in examples/weirkeeper
  guardband explain U2.V_DO --in examples/weirkeeper
  guardband explain gate-drive --in examples/weirkeeper`,
		Args: cobra.ExactArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			paths, err := a.designs([]string{path})
			if err != nil {
				return err
			}
			var checks []eval.CheckText
			r, err := a.compile(paths[0], eval.Options{Typeset: true, Explain: &checks})
			if err != nil {
				return err
			}
			text, about := explained(r, checks, args[0])
			if text != "" {
				return a.print(text, about)
			}
			near := notebook.Nearest(args[0], explainable(r, checks))
			if near != "" {
				near = fmt.Sprintf("; did you mean %q?", near)
			}
			return fmt.Errorf("unknown name %q: no claim, value, fact or check%s", args[0], near)
		},
	}
	c.Flags().StringArrayVar(&a.set, "set", nil, setHelp)
	c.Flags().StringVar(&path, "in", ".", "notebook or folder")
	return c
}

// explainable lists the names that explain knows.
func explainable(r *record.Record, checks []eval.CheckText) []string {
	var out []string
	for _, c := range r.Claims {
		out = append(out, c.ID)
		for _, b := range c.RestsOn {
			out = append(out, b.Name)
		}
	}
	for _, v := range r.Values {
		out = append(out, v.Name)
	}
	for _, b := range r.Budgets {
		for _, v := range b.Results {
			out = append(out, v.Name)
		}
	}
	for _, k := range checks {
		out = append(out, k.Name)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// explained is the text that explains a name, and what it is about; "" where
// nothing has it.
func explained(r *record.Record, checks []eval.CheckText, name string) (text string, about any) {
	for _, g := range outline.Claims(r, true) {
		if g.Claim.ID == name {
			return "claim", g
		}
	}
	var uses []string
	var basis *record.Basis
	for i := range r.Claims {
		c := &r.Claims[i]
		if k := slices.IndexFunc(c.RestsOn, func(b record.Basis) bool { return b.Name == name }); k >= 0 {
			uses = append(uses, fmt.Sprintf("%s (%s)", c.ID, c.Verdict))
			basis = cmp.Or(basis, &c.RestsOn[k])
		}
	}
	values := slices.Clone(r.Values)
	for i := range r.Budgets {
		values = append(values, r.Budgets[i].Results...)
	}
	if k := slices.IndexFunc(values, func(v record.Value) bool { return v.Name == name }); k >= 0 {
		return "value", pair{uses, values[k]}
	}
	if basis != nil {
		return "fact", pair{uses, basis}
	}
	if k := slices.IndexFunc(checks, func(t eval.CheckText) bool { return t.Name == name }); k >= 0 {
		own := slices.DeleteFunc(slices.Clone(r.Claims), func(c record.Claim) bool { return c.Check != name })
		return "check", pair{own, checks[k]}
	}
	return "", nil
}
