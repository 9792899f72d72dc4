package main

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"guardband/eval"
	"guardband/eval/record"
	"guardband/eval/workspace"
	"guardband/report/json"
)

// shownClaims is how many claims of each verdict check prints; the rest are
// counted.
const shownClaims = 100

func (a *app) checkCommand() *cobra.Command {
	var format, against, depfile, since string
	var allowOpen, verbose, quiet, staged, strict bool
	var most int
	c := &cobra.Command{
		Use:   "check [PATH...]",
		Short: "Compile notebooks, print diagnostics and verdicts",
		Long: `check compiles each notebook, prints what is wrong with it, the verdict of
every claim, and what to look up to settle the open ones.

PATH is a notebook, a folder (every notebook in it with a design block), or -
for standard input. The default is the current folder.`,
		Example: `  guardband check examples/weirkeeper
  guardband check board.md --allow-open
  guardband check board.md --format json > record.json
  cat board.md | guardband check -`,
		RunE: func(_ *cobra.Command, args []string) error {
			if len(a.set) > 0 && format != "text" {
				return fmt.Errorf("--set with --format %s: a what-if is not a record", format)
			}
			if format != "text" && format != "json" {
				return fmt.Errorf("--format %s: check prints text or json", format)
			}
			view := a.designs
			if staged {
				view = a.stagedDesigns
			}
			paths, err := view(args)
			if err != nil {
				return err
			}
			if since != "" {
				all := len(paths)
				if paths, err = a.changedSince(since, paths); err != nil {
					return err
				}
				fmt.Fprintf(a.errOut, "%d of %d designs differ from %s\n", len(paths), all, since)
			}
			ends := map[int]int{}
			var read []record.File
			detail := shownClaims
			if format == "json" || verbose || against != "" {
				detail = 0
			}
			worst, err := a.judge(paths, eval.Options{Detail: detail, Strict: strict}, func(p string, x workspace.Result) (int, error) {
				r := x.Record
				if len(a.set) > 0 {
					fmt.Fprintf(a.out, "what if %s (the notebook says otherwise)\n", strings.Join(a.set, ", "))
				}
				if err := a.since(r, against, p); err != nil {
					return 0, err
				}
				read = append(read, r.Files...)
				code := verdictCode(r, allowOpen)
				if r.Since != nil && code == exitClaims && r.Since.Worse() == 0 {
					code = exitClear
				}
				ends[code]++
				if format == "json" {
					a.nameCommit(p, r)
					return code, json.Write(a.out, r)
				}
				err := a.tell(r, most, verbose, quiet)
				a.tellValues(p, r)
				if r.Since != nil {
					fmt.Fprintf(a.out, "\nsince %s\n", r.Since.Name)
					changes := record.Changes{Verdicts: r.Since.Verdicts, Eased: r.Since.Eased}
					err = errors.Join(err, writeDifferences(a.out, []difference{{Changes: &changes}}, "text"))
				}
				return code, err
			})
			if err != nil {
				return err
			}
			if depfile != "" {
				if err := writeDepfile(depfile, read); err != nil {
					return err
				}
			}
			if len(paths) > 1 && format == "text" {
				fmt.Fprintf(a.out, "\n%d designs: %d clear, %d with failed or open claims, %d with errors\n",
					len(paths), ends[exitClear], ends[exitClaims], len(paths)-ends[exitClear]-ends[exitClaims])
			}
			return ending(worst)
		},
	}
	c.Flags().StringVar(&format, "format", "text", "text or json (the whole record)")
	c.Flags().BoolVar(&allowOpen, "allow-open", false, "open claims do not fail the check")
	c.Flags().BoolVar(&strict, "strict", false, "passes on assumed defaults, which no note states, count as open")
	c.Flags().StringVar(&against, "against", "", againstHelp+"; only verdicts that became worse set the exit code")
	c.Flags().StringVar(&since, "changed-since", "", "git revision: check only the designs of which a notebook, list or document differs from it")
	c.Flags().StringVar(&depfile, "depfile", "", "file to write what was read into, as a rule of make for FILE without its .d")
	c.Flags().BoolVar(&staged, "staged", false, "check what the next commit will hold, from the index of git; for hooks")
	c.Flags().BoolVarP(&verbose, "verbose", "v", false, "show every claim with its numbers")
	c.Flags().BoolVarP(&quiet, "quiet", "q", false, "show the recap alone: counts, what failed or is open, what to look up")
	c.Flags().StringArrayVar(&a.set, "set", nil, setHelp)
	c.Flags().IntVar(&most, "max", 20, "maximum number of diagnostics; -1 shows all")
	return c
}

// tellValues prints the values of a notebook that claims nothing.
func (a *app) tellValues(path string, r *record.Record) {
	if s := r.Summary; s.Passed+s.Failed+s.Open+s.Waived+s.Skipped > 0 || path == "-" {
		return
	}
	full, err := a.compile(path, eval.Options{})
	if err != nil {
		return // told when it was compiled for the verdicts
	}
	for _, v := range full.Values {
		fmt.Fprintf(a.out, "%s = %s\n", v.Name, v.Text)
	}
}
