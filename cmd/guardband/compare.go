package main

import (
	"fmt"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"guardband/eval"
	"guardband/notebook/files"
	"guardband/notebook/git"
	"guardband/report/json"
)

func (a *app) compareCommand() *cobra.Command {
	var path string
	c := &cobra.Command{
		Use:   "compare OLD NEW",
		Short: "Show what changed between two records, or two git revisions of a notebook",
		Long: `compare reads two records written as JSON and prints the verdicts, margins,
values and document revisions that differ. With --in, OLD and NEW are git
revisions of that notebook: HEAD, a branch, a tag or the first digits of a commit,
each with ~N for the Nth before it; "." is the files as they are. They are read
from the repository's own files: no git is started, no filter is applied.`,
		Example: `  guardband compare review-A/record.json review-B/record.json
  guardband compare HEAD~1 . --in examples/weirkeeper/board.md`,
		Args: cobra.ExactArgs(2),
		RunE: func(_ *cobra.Command, args []string) error {
			var r [2]*eval.Record
			for i, x := range args {
				var err error
				if path == "" {
					r[i], err = a.readRecord(x)
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

func (a *app) readRecord(path string) (*eval.Record, error) {
	real, err := a.within(path)
	if err != nil {
		return nil, err
	}
	f, err := os.Open(real)
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

// revision compiles a notebook as it was at a git revision, in a folder of
// its own that is removed afterwards.
func (a *app) revision(rev, path string) (*eval.Record, error) {
	paths, err := a.designs([]string{path})
	if err != nil {
		return nil, err
	}
	if rev == "." {
		return a.compile(paths[0], eval.Options{})
	}
	root := a.root
	if root == "" {
		root = filepath.Dir(paths[0])
	}
	dir, done, err := checkout(rev, root)
	if err != nil {
		return nil, err
	}
	defer done()
	rel := wayFrom(root, paths[0])
	at := filepath.Join(dir, rel)
	if _, err := os.Stat(at); err != nil {
		return nil, fmt.Errorf("%s does not exist in revision %s", rel, rev)
	}
	old := *a
	old.root = dir
	return old.compile(at, eval.Options{Commit: rev})
}

// checkout writes a folder as it was at a git revision into a folder of its
// own; done removes that.
func checkout(rev, folder string) (dir string, done func(), err error) {
	r, err := git.Open(folder)
	if err != nil {
		return "", nil, fmt.Errorf("%s: %w", folder, err)
	}
	defer r.Close()
	id, err := r.Resolve(rev)
	if err != nil {
		return "", nil, err
	}
	abs, err := filepath.Abs(folder)
	if err == nil {
		abs, err = filepath.EvalSymlinks(abs)
	}
	if err != nil {
		return "", nil, fmt.Errorf("cannot read %s: %w", folder, reason(err))
	}
	name, _ := r.Path(abs)
	if dir, done, err = files.Folder(); err != nil {
		return "", nil, err
	}
	if err = r.Write(id, name, dir); err != nil {
		done()
		return "", nil, fmt.Errorf("revision %s: %w", rev, err)
	}
	return dir, done, nil
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
