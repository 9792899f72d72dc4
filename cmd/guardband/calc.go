package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"guardband/eval"
	"guardband/eval/formula"
	"guardband/notebook"
)

func (a *app) calcCommand() *cobra.Command {
	var path string
	c := &cobra.Command{
		Use:   "calc FORMULA",
		Short: "Evaluate one formula over ranges: its value, its bounds and where they occur",
		Long: `calc prints what a formula of the language comes to over all values that its
quantities may have, where it is least and most, and the formula's source.
--in makes the names of a notebook known to it.`,
		Example: `  guardband calc 'led_current(5 V ± 5 %, 2.0 V to 2.4 V, 330 Ω ± 1 %)'
  guardband calc 'V_CELL / R1' --in examples/weirkeeper`,
		Args: cobra.ExactArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			text := strings.TrimSpace(args[0])
			if text == "" || strings.ContainsAny(text, "\r\n") {
				return fmt.Errorf("calc takes one formula on one line")
			}
			book, opt, err := a.calcBook(path)
			if err != nil {
				return err
			}
			named := &arguments{functions: a.language().Functions(), taken: map[string]bool{}}
			formula := named.take(text)
			v, r := eval.Calculate(a.ctx, book, opt, formula, named.values)
			a.complain(r, 5)
			if v == nil {
				return exitError(exitErrors)
			}
			return a.print("calculation", v)
		},
	}
	c.Flags().StringVar(&path, "in", "", "notebook or folder whose names the formula may use")
	c.Flags().StringArrayVar(&a.set, "set", nil, setHelp)
	return c
}

// calcBook is the book whose names a formula may use, an empty one without a
// path.
func (a *app) calcBook(path string) (*notebook.Book, eval.Options, error) {
	if path == "" {
		opt, err := a.options(eval.Options{})
		book, loadErr := notebook.Load("-", notebook.Options{Stdin: []byte("```design\ntitle: calc\n```\n")})
		if err == nil {
			err = loadErr
		}
		return book, opt, err
	}
	paths, err := a.designs([]string{path})
	if err != nil {
		return nil, eval.Options{}, err
	}
	return a.open(paths[0], eval.Options{})
}

// arguments gives the ranges among a formula's arguments names, since the
// language knows ranges by name alone: f(5 V ± 5 %) becomes f(V_S), V_S = 5 V ± 5 %.
type arguments struct {
	functions []formula.Function
	taken     map[string]bool
	values    []string // "V_S = 5 V ± 5 %"
}

// take rewrites a formula.
func (g *arguments) take(text string) string {
	open := strings.IndexByte(text, '(')
	parts, end := split(text, open+1)
	if open < 0 || end < 0 {
		return text
	}
	f := g.function(text[:open])
	for i, part := range parts {
		param := ""
		switch {
		case f != nil && i < len(f.Params):
			param = f.Params[i].Name
		case open > 0 && isNameByte(text[open-1]): // a built-in function, or none
			param = "x"
		case len(parts) == 1:
			param = "range"
		}
		parts[i] = g.argument(part, param)
	}
	return text[:open+1] + strings.Join(parts, ",") + ")" + g.take(text[end+1:])
}

// argument names an argument that is a range; others are rewritten inside.
func (g *arguments) argument(part, param string) string {
	ranges := false
	for _, w := range []string{" to ", "±", "+-", "+/-", "min ", "max ", "typ "} {
		ranges = ranges || strings.Contains(part, w)
	}
	if !ranges || param == "" || strings.Contains(part, "(") && !strings.Contains(part, "± (") {
		return g.take(part)
	}
	name := param
	for k := 2; g.taken[name]; k++ {
		name = fmt.Sprintf("%s_%d", param, k)
	}
	g.taken[name] = true
	g.values = append(g.values, name+" = "+strings.TrimSpace(part))
	return name
}

// function is the one whose name ends a piece of text.
func (g *arguments) function(before string) *formula.Function {
	for i := range g.functions {
		f := &g.functions[i]
		if rest, ok := strings.CutSuffix(before, f.Name); ok && (rest == "" || !isNameByte(rest[len(rest)-1])) {
			return f
		}
	}
	return nil
}

func isNameByte(b byte) bool {
	return b == '_' || b >= 0x80 || b >= '0' && b <= '9' || b|0x20 >= 'a' && b|0x20 <= 'z'
}

// split cuts at the commas from a place on, up to the bracket that closes
// there; end is that of the bracket, -1 for none.
func split(s string, from int) (parts []string, end int) {
	depth := 0
	for i := from; i < len(s); i++ {
		switch c := s[i]; {
		case c == '(':
			depth++
		case depth == 0 && (c == ',' || c == ')'):
			parts, from = append(parts, s[from:i]), i+1
			if c == ')' {
				return parts, i
			}
		case c == ')':
			depth--
		}
	}
	return nil, -1
}
