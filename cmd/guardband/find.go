package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"guardband/eval"
)

func (a *app) findCommand() *cobra.Command {
	var path string
	var limit int
	c := &cobra.Command{
		Use:   "find WORDS [SOURCE...]",
		Short: "Find words and numbers with units in the cited documents",
		Long: `find looks through the documents of a design and prints page and line of each
place. A number with a unit finds the same quantity however it is printed:
"250 mV" finds 0.25 V. Name sources to search only those.`,
		Example: `  guardband find "dropout voltage" --in examples/weirkeeper
  guardband find "210 mV" reg --in examples/weirkeeper`,
		Args: cobra.MinimumNArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			paths, err := a.designs([]string{path})
			if err != nil {
				return err
			}
			hits := 0
			for _, p := range paths {
				book, _, err := a.open(p, eval.Options{})
				if err != nil {
					return err
				}
				docs, err := eval.Documents(book, args[1:])
				if err != nil {
					return err
				}
				for _, d := range docs {
					n, err := a.findIn(d, args[0], limit)
					if err != nil {
						fmt.Fprintf(a.errOut, "guardband: %s (%s) cannot be searched: %v\n", d.ID, d.File, err)
						continue
					}
					hits += n
				}
			}
			if hits == 0 {
				fmt.Fprintf(a.out, "%q is in none of the documents present\n", args[0])
				return exitError(exitClaims)
			}
			return nil
		},
	}
	c.Flags().StringVar(&path, "in", ".", "notebook or folder whose documents are searched")
	c.Flags().IntVar(&limit, "limit", 20, "most places shown of each document")
	return c
}

func (a *app) findIn(d eval.DocumentFile, words string, limit int) (int, error) {
	hits, err := a.sheets().Find(a.ctx, d.Path, words, limit)
	if err != nil {
		return 0, err
	}
	for _, h := range hits {
		page := fmt.Sprintf("pdf.%d", h.Page)
		if h.Label != "" && h.Label != fmt.Sprint(h.Page) {
			page += " (printed " + h.Label + ")"
		} else if h.Label != "" {
			page = "p." + h.Label
		}
		fmt.Fprintf(a.out, "%s %s: %s\n", d.ID, page, a.mark(h.Line, words))
	}
	return len(hits), nil
}

// mark sets the words found in bold on a terminal.
func (a *app) mark(line, words string) string {
	if !colour(a.out) {
		return line
	}
	for _, w := range strings.Fields(words) {
		i := strings.Index(strings.ToLower(line), strings.ToLower(w))
		if i >= 0 && len(w) > 1 && len(strings.ToLower(line)) == len(line) {
			line = line[:i] + "\x1b[1m" + line[i:i+len(w)] + "\x1b[0m" + line[i+len(w):]
		}
	}
	return line
}
