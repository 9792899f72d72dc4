package main

import (
	"cmp"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"guardband/eval"
)

// topics order the commands of the help by what they are for.
var topics = []struct{ Title, Commands string }{
	{"Judge a design", "check report explain sweep calc watch"},
	{"Compare and order", "compare parts"},
	{"Read the documents", "sources find draft"},
	{"Write notebooks", "new format"},
	{"Look things up", "formulas units schema licences completion help"},
}

// help prints how a command is called, what it does, examples and options.
func (a *app) help(c *cobra.Command, _ []string) {
	w := c.OutOrStdout()
	columns := cmp.Or(width(w), 100)
	_ = texts.ExecuteTemplate(w, "help", map[string]any{
		"Command": c, "Line": strings.TrimPrefix(c.Use, c.Name()), "Topics": topics, "Own": c.LocalNonPersistentFlags().FlagUsagesWrapped(columns),
		"All": c.Root().PersistentFlags().FlagUsagesWrapped(columns),
	})
}

// completions tell the shell what may follow: notebooks and folders, names of
// the notebook that --in names, words of the language, and the values of flags.
func (a *app) completions(root *cobra.Command) {
	type completion = func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective)
	files := func(kinds ...string) completion {
		return func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return kinds, cobra.ShellCompDirectiveFilterFileExt
		}
	}
	words := func(list func() []string) completion {
		return func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return list(), cobra.ShellCompDirectiveNoFileComp
		}
	}
	fixed := func(list ...string) completion { return words(func() []string { return list }) }
	names := func(c *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
		in, _ := c.Flags().GetString("in")
		return a.knownNames(in, len(args) > 0), cobra.ShellCompDirectiveNoFileComp
	}
	functions := words(func() (out []string) {
		for _, f := range a.language().Functions() {
			out = append(out, f.Name)
		}
		return out
	})
	of := map[string]completion{"explain": names, "sweep": names, "find": fixed(), "draft": files("pdf"), "formulas": functions, "units": fixed(),
		"calc": functions, "compare": files("json"), "new": files(), "schema": fixed(), "licences": fixed()}
	values := map[string]completion{"in": files("md"), "pictures": fixed("off", "cited", "failed"), "only": fixed("attention"),
		"against": files("json"), "from": files()}
	formats := map[string][]string{"check": {"text", "json"}, "report": formNames(), "parts": {"text", "csv"}, "compare": differenceForms}
	for _, c := range root.Commands() {
		c.ValidArgsFunction = files("md")
		if f := of[c.Name()]; f != nil {
			c.ValidArgsFunction = f
		}
		for flag, f := range values {
			if c.Flags().Lookup(flag) != nil {
				_ = c.RegisterFlagCompletionFunc(flag, f) // fails for a flag that is not there
			}
		}
		if list := formats[c.Name()]; list != nil {
			_ = c.RegisterFlagCompletionFunc("format", fixed(list...))
		}
	}
}

// knownNames are the claims of a notebook, and what they rest on: what sweep
// varies. A notebook that cannot be read has none.
func (a *app) knownNames(path string, bases bool) []string {
	paths, err := a.designs([]string{cmp.Or(path, ".")})
	if err != nil {
		return nil
	}
	var checks []eval.CheckText
	r, err := a.compile(paths[0], eval.Options{Explain: &checks})
	if err != nil {
		return nil
	}
	names := explainable(r, checks)
	if !bases {
		return names
	}
	known := r.ByID()
	return slices.DeleteFunc(names, func(n string) bool {
		return known[n] != nil || slices.ContainsFunc(checks, func(t eval.CheckText) bool { return t.Name == n })
	})
}
