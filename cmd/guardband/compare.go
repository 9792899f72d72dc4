package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"guardband/eval"
	"guardband/report/json"
)

func (a *app) compareCommand() *cobra.Command {
	var path string
	c := &cobra.Command{
		Use:   "compare OLD NEW",
		Short: "Show what changed between two records, or two git revisions of a notebook",
		Long: `compare reads two records written as JSON and prints the verdicts, margins,
values and document revisions that differ. With --in, OLD and NEW are git
revisions of that notebook ("." is the files as they lie).`,
		Example: `  guardband compare review-A/record.json review-B/record.json
  guardband compare HEAD~1 . --in examples/weirkeeper/board.md`,
		Args: cobra.ExactArgs(2),
		RunE: func(_ *cobra.Command, args []string) error {
			var r [2]*eval.Record
			for i, x := range args {
				var err error
				if path == "" {
					r[i], err = readRecord(x)
				} else {
					r[i], err = a.revision(x, path)
				}
				if err != nil {
					return err
				}
			}
			n := a.printChanges(eval.Compare(r[0], r[1]))
			if n > 0 {
				return exitError(exitClaims)
			}
			return nil
		},
	}
	c.Flags().StringVar(&path, "in", "", "compare git revisions of this notebook or folder")
	return c
}

func readRecord(path string) (*eval.Record, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, fmt.Errorf("cannot read %s: %w", path, reason(err))
	}
	defer f.Close()
	r, err := json.Read(f)
	if err != nil {
		return nil, fmt.Errorf("%s is no record: %w", path, err)
	}
	return r, nil
}

// revision compiles a notebook as it stood at a git revision, in a folder of
// its own that is removed afterwards.
func (a *app) revision(rev, path string) (*eval.Record, error) {
	paths, err := a.designs([]string{path})
	if err != nil {
		return nil, err
	}
	if rev == "." {
		return a.compile(paths[0], eval.Options{})
	}
	abs, err := filepath.Abs(paths[0])
	if err != nil {
		return nil, err
	}
	top, err := exec.CommandContext(a.ctx, "git", "-C", filepath.Dir(abs), "rev-parse", "--show-toplevel").Output()
	if err != nil {
		return nil, fmt.Errorf("%s lies in no git repository", path)
	}
	root := strings.TrimSpace(string(top))
	if real, err := filepath.EvalSymlinks(abs); err == nil {
		abs = real
	}
	rel, err := filepath.Rel(root, abs)
	if err != nil {
		return nil, err
	}
	dir, err := os.MkdirTemp("", "guardband-compare-*")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(dir)
	tar := filepath.Join(dir, "tree.tar")
	if out, err := exec.CommandContext(a.ctx, "git", "-C", root, "archive", "--format=tar", "-o", tar, rev).CombinedOutput(); err != nil {
		return nil, fmt.Errorf("git knows no revision %q: %s", rev, strings.TrimSpace(string(out)))
	}
	if err := unpack(tar, filepath.Join(dir, "tree")); err != nil {
		return nil, err
	}
	at := filepath.Join(dir, "tree", rel)
	if _, err := os.Stat(at); err != nil {
		return nil, fmt.Errorf("%s does not exist in revision %s", rel, rev)
	}
	return a.compile(at, eval.Options{Commit: rev})
}

// printChanges prints a comparison and returns how many differences it shows.
func (a *app) printChanges(d eval.Changes) int {
	n := 0
	section := func(title string, rows []eval.Change) {
		if len(rows) == 0 {
			return
		}
		n += len(rows)
		fmt.Fprintf(a.out, "%s\n", title)
		for _, c := range rows {
			switch {
			case c.Old == "":
				fmt.Fprintf(a.out, "  %s: new, %s\n", c.Name, c.New)
			case c.New == "":
				fmt.Fprintf(a.out, "  %s: gone, was %s\n", c.Name, c.Old)
			default:
				fmt.Fprintf(a.out, "  %s: %s -> %s\n", c.Name, c.Old, c.New)
			}
		}
		fmt.Fprintln(a.out)
	}
	section("Verdicts", d.Verdicts)
	section("Margins", d.Margins)
	section("Values", d.Values)
	section("Facts", d.Facts)
	section("Documents", d.Sources)
	if n == 0 {
		fmt.Fprintln(a.out, "no verdict, margin, value, fact or document differs")
	}
	return n
}
