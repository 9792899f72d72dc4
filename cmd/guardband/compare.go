package main

import (
	"cmp"
	"errors"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"guardband/eval"
	"guardband/eval/record"
	"guardband/notebook/files"
	"guardband/notebook/git"
	"guardband/report/json"
)

func (a *app) compareCommand() *cobra.Command {
	var path, format string
	c := &cobra.Command{
		Use:   "compare OLD NEW",
		Short: "Show what changed between two records, or two git revisions of a notebook",
		Long: `compare reads two records written as JSON and prints the verdicts, margins,
values and document revisions that differ, what became worse first. With --in, OLD
and NEW are git revisions of that notebook, or of every design in that folder: HEAD, a branch, a tag or the first digits of a commit,
each with ~N for the Nth before it; "." is the files as they are. They are read
from the repository's own files: no git is started, no filter is applied.`,
		Example: `  guardband compare review-A/record.json review-B/record.json
  guardband compare HEAD~1 . --in examples/weirkeeper/board.md
  guardband compare main . --in boards --format markdown`,
		Args: cobra.ExactArgs(2),
		RunE: func(_ *cobra.Command, args []string) error {
			if !slices.Contains(differenceForms, format) {
				return fmt.Errorf("--format %s: compare prints %s", format, strings.Join(differenceForms, ", "))
			}
			var sides [2]map[string]*record.Record
			var missing error
			for i, x := range args {
				var err error
				if sides[i], err = a.side(x, path); err != nil && !errors.Is(err, errNotThere) {
					return err
				}
				missing = cmp.Or(missing, err)
			}
			was, err := paired(sides, missing)
			if err != nil {
				return err
			}
			return a.compareSides(args, sides, was, format)
		},
	}
	c.Flags().StringVar(&format, "format", "text", strings.Join(differenceForms, ", "))
	c.Flags().StringVar(&path, "in", "", "compare git revisions of this notebook or folder")
	return c
}

// maxRecord bounds a record that is read, bytes; pictures are most of one.
const maxRecord = 256 << 20

func (a *app) readRecord(path string) (*record.Record, error) {
	real, err := a.workspace().Within(path)
	if err != nil {
		return nil, err
	}
	if info, err := os.Stat(real); err == nil && (!info.Mode().IsRegular() || info.Size() > maxRecord) {
		return nil, fmt.Errorf("%s is not a record: an ordinary file of at most %d MiB", path, maxRecord>>20)
	}
	f, err := os.Open(real)
	if err != nil {
		return nil, fmt.Errorf("cannot read %s: %w", path, reason(err))
	}
	defer f.Close()
	r, err := json.Read(f)
	if err != nil {
		return nil, fmt.Errorf("%s is not a record: %w", path, err)
	}
	return r, nil
}

// side reads one side of a comparison: its designs by name. A record written as
// JSON, and the one notebook asked for, have the name "". Where a revision does
// not hold that notebook it is errNotThere, with the designs of its folder
// there that are gone since: it may have been one of them.
func (a *app) side(x, path string) (map[string]*record.Record, error) {
	if path == "" {
		r, err := a.readRecord(x)
		return map[string]*record.Record{"": r}, err
	}
	if x == "." {
		return a.compileAll(path, path)
	}
	root := a.rootOf(path)
	dir, done, err := checkout(x, root)
	if err != nil {
		return nil, err
	}
	defer done()
	rel := wayFrom(root, path)
	at := filepath.Join(dir, rel)
	old := *a
	old.shared = nil
	if a.root != "" {
		old.root = dir
	}
	if _, err := os.Stat(at); err == nil {
		return old.compileAll(at, at)
	}
	missing := fmt.Errorf("%s %w %s", rel, errNotThere, x)
	gone, err := old.compileAll(dir, dir)
	if err != nil {
		return nil, missing
	}
	maps.DeleteFunc(gone, func(name string, _ *record.Record) bool {
		_, err := os.Stat(filepath.Join(root, name))
		return err == nil
	})
	return gone, missing
}

// paired puts designs that were renamed under the name they have now and gives
// the old name of each. Where the one notebook asked for is missing on a side
// and no other has its title, that is an error; others are left out.
func paired(sides [2]map[string]*record.Record, missing error) (was map[string]string, err error) {
	was = renamed(sides)
	if missing == nil {
		return was, nil
	}
	if sides[0][""] == nil || sides[1][""] == nil {
		return nil, missing
	}
	maps.DeleteFunc(sides[0], func(name string, _ *record.Record) bool { return name != "" })
	return was, nil
}

// compileAll compiles the designs of a folder, or one notebook, each with its
// own root where none is given, by their way from base.
func (a *app) compileAll(path, base string) (map[string]*record.Record, error) {
	paths, err := a.designs([]string{path})
	if err != nil {
		return nil, err
	}
	out := map[string]*record.Record{}
	for x := range a.each(paths, eval.Options{}) {
		if x.Err != nil {
			return nil, x.Err
		}
		name := wayFrom(base, x.Path)
		if len(paths) == 1 && x.Path == path {
			name = ""
		}
		out[name] = x.Record
	}
	return out, nil
}

// compareSides prints what differs, design by design, and what either side
// has of errors: a notebook with errors is not what was meant.
func (a *app) compareSides(
	args []string, sides [2]map[string]*record.Record, was map[string]string, format string,
) error {
	names := slices.Sorted(maps.Keys(sides[0]))
	for name := range sides[1] {
		if sides[0][name] == nil {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	code := exitClear
	var all []difference
	for _, name := range names {
		for i, s := range sides {
			if r := s[name]; r != nil && r.Summary.Errors > 0 {
				fmt.Fprintf(a.errOut, "%s has %d errors:\n", strings.TrimSpace(args[i]+" "+name), r.Summary.Errors)
				a.complain(r, 0)
				code = exitErrors
			}
		}
		d := difference{Design: name, Was: was[name]}
		switch old, now := sides[0][name], sides[1][name]; {
		case old == nil:
			d.Note = "is not in " + args[0] + ": new, " + counts(now)
		case now == nil:
			d.Note = "is not in " + args[1] + ": gone, was " + counts(old)
		default:
			changes := record.Compare(old, now)
			d.Changes = &changes
		}
		if d.Note != "" || len(sections(*d.Changes)) > 0 {
			code = max(code, exitClaims)
		}
		all = append(all, d)
	}
	return cmp.Or(writeDifferences(a.out, all, format), ending(code))
}

// renamed puts the old records of designs that go by another path now under the
// new one, and gives the old path of each: the one design of that title that is
// gone, where the new one is the only one of it.
func renamed(sides [2]map[string]*record.Record) map[string]string {
	titled := func(in, not map[string]*record.Record) map[string][]string {
		out := map[string][]string{}
		for name, r := range in {
			if not[name] == nil {
				out[r.Design.Title] = append(out[r.Design.Title], name)
			}
		}
		return out
	}
	gone, come, was := titled(sides[0], sides[1]), titled(sides[1], sides[0]), map[string]string{}
	for title, now := range come {
		if old := gone[title]; title != "" && len(now) == 1 && len(old) == 1 {
			was[now[0]] = old[0]
			sides[0][now[0]] = sides[0][old[0]]
			delete(sides[0], old[0])
		}
	}
	return was
}

func counts(r *record.Record) string {
	s := r.Summary
	return fmt.Sprintf("%d passed, %d failed, %d open, %d waived", s.Passed, s.Failed, s.Open, s.Waived)
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
	abs, err := real(folder)
	if err != nil {
		return "", nil, err
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

// since compares a record with an earlier one: a file, or the design as it was
// at a git revision. A design that the revision does not hold is compared with
// nothing, and that is said.
func (a *app) since(r *record.Record, against, path string) error {
	if against == "" {
		return nil
	}
	if st, err := os.Stat(against); err == nil && !st.IsDir() {
		old, err := a.readRecord(against)
		if err == nil {
			r.Since = record.SinceRecord(filepath.Base(against), old, r)
		}
		return err
	}
	if path == "-" {
		return fmt.Errorf("--against %s: standard input has no revisions", against)
	}
	sides, err := a.side(against, path)
	if errors.Is(err, errNotThere) {
		_, err = paired([2]map[string]*record.Record{sides, {"": r}}, err)
	}
	switch old := sides[""]; {
	case errors.Is(err, errNotThere):
		fmt.Fprintf(a.errOut, "guardband: %v: nothing to compare with\n", err)
	case err != nil:
		return fmt.Errorf("--against %s: neither a record nor a revision: %w", against, err)
	case old.Summary.Errors > 0:
		return fmt.Errorf("--against %s: the notebook has errors there", against)
	default:
		r.Since = record.SinceRecord(against, old, r)
	}
	return nil
}

var errNotThere = errors.New("does not exist in revision")
