package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

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
			if !explain(a.out, r, args[0]) && !explainCheck(a.out, r, checks, args[0]) {
				near := notebook.Nearest(args[0], explainable(r, checks))
				if near != "" {
					near = fmt.Sprintf("; did you mean %q?", near)
				}
				return fmt.Errorf("unknown name %q: no claim, value, fact or check%s", args[0], near)
			}
			return nil
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

// explainCheck prints what a built-in check asks, what it read, and its claims.
func explainCheck(w io.Writer, r *record.Record, checks []eval.CheckText, name string) bool {
	k := slices.IndexFunc(checks, func(t eval.CheckText) bool { return t.Name == name })
	if k < 0 {
		return false
	}
	t := checks[k]
	fmt.Fprintf(w, "%s  built-in check\n%s\nsource: %s\n", t.Name, t.Rule, t.Source)
	if len(t.Reads) > 0 {
		fmt.Fprintln(w, "\nfacts it looks for, and the parts that note them")
		for _, f := range t.Reads {
			fmt.Fprintln(w, "  "+f)
		}
	}
	heading := "\nclaims"
	for _, c := range r.Claims {
		if c.Check == name {
			fmt.Fprintf(w, "%s", heading)
			heading = ""
			fmt.Fprintf(w, "\n  %s  %s", c.ID, c.Verdict)
		}
	}
	if heading == "" {
		fmt.Fprintln(w)
	}
	return true
}

func explain(w io.Writer, r *record.Record, name string) bool {
	for _, g := range outline.Claims(r, true) {
		if c := g.Claim; c.ID == name {
			explainClaim(w, &g)
			return true
		}
	}
	values := slices.Clone(r.Values)
	for i := range r.Budgets {
		values = append(values, r.Budgets[i].Results...)
	}
	for i := range values {
		if values[i].Name == name {
			explainValue(w, r, &values[i])
			return true
		}
	}
	for i := range r.Claims {
		for j := range r.Claims[i].RestsOn {
			if b := &r.Claims[i].RestsOn[j]; b.Name == name {
				explainBasis(w, b, "")
				explainUses(w, r, name)
				return true
			}
		}
	}
	return false
}

// explainClaim prints what the record says of a claim, then each fact and value
// that it rests on with its page.
func explainClaim(w io.Writer, g *outline.Block) {
	c := g.Claim
	fmt.Fprintf(w, "%s  %s\n", c.ID, c.Headline)
	place(w, c.Position)
	for i := range g.Blocks {
		fmt.Fprintln(w, g.Blocks[i].Line())
	}
	for i := range c.Criteria {
		if m := c.Criteria[i].Numbers; m != nil {
			fmt.Fprintln(w, "with numbers: "+plainMath(m))
		}
	}
	if len(c.RestsOn) > 0 {
		fmt.Fprintln(w, "\nrests on")
	}
	for i := range c.RestsOn {
		explainBasis(w, &c.RestsOn[i], "  ")
	}
}

func explainBasis(w io.Writer, b *record.Basis, indent string) {
	line := b.Name + " = " + b.Shown
	if b.At != "" {
		line += " at " + b.At
	}
	fmt.Fprintf(w, "%s%s\n", indent, line)
	if b.Assumed != "" {
		fmt.Fprintf(w, "%s    assumed: %s\n", indent, b.Assumed)
	}
	for _, k := range b.Cites {
		explainCite(w, k, indent+"    ")
	}
	if p := b.Position; p != nil {
		fmt.Fprintf(w, "%s    noted in %s:%d\n", indent, p.File, p.Line)
	}
}

func explainCite(w io.Writer, k record.Cite, indent string) {
	page := k.Page
	if k.Counted > 0 {
		page += fmt.Sprintf(" (page %d of the file)", k.Counted)
	}
	quote := ""
	if k.Quote != "" {
		quote = " “" + k.Quote + "”"
	}
	fmt.Fprintf(w, "%s%s %s%s: %s\n", indent, k.Source, page, quote, k.Text)
	if k.Line != "" {
		fmt.Fprintf(w, "%s  the page says: %s\n", indent, k.Line)
	}
}

func explainValue(w io.Writer, r *record.Record, v *record.Value) {
	fmt.Fprintf(w, "%s = %s\n", v.Name, v.Formula)
	place(w, v.Position)
	if v.Numbers != nil {
		fmt.Fprintf(w, "with numbers: %s\n", plainMath(v.Numbers))
	}
	how := "at most"
	if v.Exact {
		how = "exactly"
	}
	fmt.Fprintf(w, "comes to %s (%s)\n", v.Text, how)
	if v.Assumed != "" {
		fmt.Fprintf(w, "assumed: %s\n", v.Assumed)
	}
	if v.Source != "" {
		fmt.Fprintf(w, "formula: %s\n", v.Source)
	}
	for _, k := range v.Cites {
		explainCite(w, k, "  ")
	}
	explainUses(w, r, v.Name)
}

// explainUses lists the claims that rest on a name, with what else stands
// between.
func explainUses(w io.Writer, r *record.Record, name string) {
	var ids []string
	for _, c := range r.Claims {
		for _, b := range c.RestsOn {
			if b.Name == name {
				ids = append(ids, fmt.Sprintf("%s (%s)", c.ID, c.Verdict))
				break
			}
		}
	}
	if len(ids) > 0 {
		fmt.Fprintf(w, "used by: %s\n", strings.Join(ids, ", "))
	}
}

func place(w io.Writer, p *record.Position) {
	if p != nil {
		fmt.Fprintf(w, "%s:%d\n", p.File, p.Line)
	}
}

// plainMath writes a formula on one line.
func plainMath(m *record.Math) string {
	args := make([]string, len(m.Args))
	for i := range m.Args {
		args[i] = plainMath(&m.Args[i])
		if op := m.Args[i].Op; (op == "row" || op == "fraction") && slices.Contains([]string{"fraction", "power", "neg"}, m.Op) {
			args[i] = "(" + args[i] + ")"
		}
	}
	switch m.Op {
	case "row":
		return strings.Join(args, " "+m.Text+" ")
	case "fraction":
		return strings.Join(args, " / ")
	case "power":
		return strings.Join(args, "^")
	case "neg":
		return "-" + args[0]
	case "not":
		return "not " + args[0]
	case "root":
		return "√(" + args[0] + ")"
	case "call", "paren":
		return m.Text + "(" + strings.Join(args, ", ") + ")"
	case "list":
		return "[" + strings.Join(args, ", ") + "]"
	case "if":
		return args[0] + " ? " + args[1] + " : " + args[2]
	case "inside":
		return args[0] + " " + m.Text + " " + strings.Join(args[1:], " to ")
	case "range":
		return strings.Join(args, " to ")
	case "chain":
		s := args[0]
		for i, sign := range m.Signs {
			s += " " + sign + " " + args[i+1]
		}
		return s
	}
	return m.Text
}
