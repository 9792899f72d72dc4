package main

import (
	"bufio"
	"cmp"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"guardband/eval"
	"guardband/eval/record"
	"guardband/eval/workspace"
	"guardband/notebook"
	"guardband/notebook/files"
	"guardband/report/badge"
	"guardband/report/csv"
	"guardband/report/html"
	"guardband/report/json"
	"guardband/report/junit"
	"guardband/report/markdown"
	"guardband/report/pdf"
	"guardband/report/sarif"
)

// form is one form a record is written in.
type form struct {
	name  string // after --format
	file  string
	write func(w io.Writer, r *record.Record, opt written) error
}

// written is what the forms want to know: the short version or all, the ways
// from the record's folder to the notebook's and to the design's root, whether
// passes are results, and the time that the design took.
type written struct {
	short, passes bool
	base, notes   string
	took          time.Duration
}

// forms are those of a record; a new one is a row here and a folder under report.
var forms = []form{
	{"html", "record.html", func(w io.Writer, r *record.Record, opt written) error {
		return html.Write(w, r, html.Options{Short: opt.short, Base: opt.base, Notes: opt.notes})
	}},
	{"pdf", "record.pdf", func(w io.Writer, r *record.Record, opt written) error {
		return pdf.Write(w, r, opt.short)
	}},
	{"json", "record.json", func(w io.Writer, r *record.Record, _ written) error { return json.Write(w, r) }},
	{"junit", "record.xml", func(w io.Writer, r *record.Record, opt written) error {
		return junit.Write(w, r, opt.took)
	}},
	{"sarif", "record.sarif", func(w io.Writer, r *record.Record, opt written) error {
		return sarif.Write(w, r, sarif.Options{All: opt.passes})
	}},
	{"markdown", "record.md", func(w io.Writer, r *record.Record, _ written) error { return markdown.Write(w, r) }},
	{"csv", "record.csv", func(w io.Writer, r *record.Record, _ written) error { return csv.Write(w, r) }},
	{"badge", "record.svg", func(w io.Writer, r *record.Record, _ written) error { return badge.Write(w, r) }},
}

func formNamed(name string) (form, bool) {
	i := slices.IndexFunc(forms, func(f form) bool { return f.name == name })
	if i < 0 {
		return form{}, false
	}
	return forms[i], true
}

func formNames() []string {
	var out []string
	for _, f := range forms {
		out = append(out, f.name)
	}
	return out
}

func (a *app) reportCommand() *cobra.Command {
	var out, pictures, only, against string
	var formats []string
	var allowOpen, passes, times bool
	c := &cobra.Command{
		Use:   "report [PATH...] --out DIR",
		Short: "Compile notebooks and write the design-review record",
		Long: `report does what check does, and writes the record into a folder:
record.html, record.pdf, record.json. With several designs each has a folder of
its own. The forms of a record are written all or not at all.`,
		Example: `  guardband report examples/weirkeeper --out review
  guardband report board.md --out review --format html,markdown
  guardband report board.md --out review --only attention`,
		RunE: func(_ *cobra.Command, args []string) error {
			if out == "" {
				return fmt.Errorf("report needs --out DIR, the folder to write into")
			}
			for _, f := range formats {
				if _, ok := formNamed(f); !ok {
					return fmt.Errorf("--format %s: the forms are %s", f, strings.Join(formNames(), ", "))
				}
			}
			if pictures != "off" && pictures != "cited" && pictures != "failed" {
				return fmt.Errorf("--pictures %s: off, cited or failed", pictures)
			}
			if only != "" && only != "attention" {
				return fmt.Errorf("--only %s: the short version is `attention`", only)
			}
			paths, err := a.designs(args)
			if err != nil {
				return err
			}
			worst, err := a.judge(paths, eval.Options{Typeset: true, Pictures: pictures}, func(p string, x workspace.Result) (int, error) {
				r := x.Record
				a.nameCommit(p, r)
				if err := a.since(r, against, p); err != nil {
					return 0, err
				}
				opt := written{short: only != "", passes: passes}
				if times {
					opt.took = x.Took
				}
				return verdictCode(r, allowOpen), a.writeRecord(r, p, recordFolder(out, p, paths), formats, opt)
			})
			return cmp.Or(err, ending(worst))
		},
	}
	c.Flags().StringVar(&out, "out", "", "folder to write into; created if missing")
	c.Flags().StringSliceVar(&formats, "format", []string{"html", "pdf", "json"}, strings.Join(formNames(), ", "))
	c.Flags().StringVar(&pictures, "pictures", "cited", "pictures of the cited lines: off, cited, failed")
	c.Flags().StringVar(&against, "against", "", againstHelp)
	c.Flags().BoolVar(&times, "times", false, "junit says how long the design took, which no two runs agree on")
	c.Flags().BoolVar(&passes, "passes", false, "sarif lists what passed or was skipped too")
	c.Flags().StringVar(&only, "only", "", "attention: the short version for a meeting")
	c.Flags().BoolVar(&allowOpen, "allow-open", false, "open claims do not set the exit code")
	return c
}

// recordFolder is where the record of one of several designs goes: below out,
// as its notebook lies below the folder that holds them all.
func recordFolder(out, path string, paths []string) string {
	if len(paths) == 1 {
		return out
	}
	shared := strings.Split(filepath.ToSlash(filepath.Dir(path)), "/")
	for _, p := range paths {
		other := strings.Split(filepath.ToSlash(filepath.Dir(p)), "/")
		n := 0
		for n < min(len(shared), len(other)) && shared[n] == other[n] {
			n++
		}
		shared = shared[:n]
	}
	own := strings.Split(strings.TrimSuffix(filepath.ToSlash(path), filepath.Ext(path)), "/")
	return filepath.Join(out, filepath.Join(own[len(shared):]...))
}

func (a *app) writeRecord(r *record.Record, path, dir string, formats []string, opt written) error {
	if err := makeFolder(dir); err != nil {
		return err
	}
	root := cmp.Or(a.root, ".")
	if path != "-" {
		root = cmp.Or(a.root, filepath.Dir(path))
		opt.base = wayFrom(dir, filepath.Dir(path))
	}
	opt.notes = wayFrom(dir, root)
	if err := a.tell(r, 0, false, false); err != nil {
		return err
	}
	var staged []*files.Staged
	here := func(name string) bool { return name == "junit" || name == "sarif" } // read beside the working folder
	first := slices.DeleteFunc(slices.Clone(formats), func(name string) bool { return !here(name) })
	rest := slices.DeleteFunc(slices.Clone(formats), here)
	for i, name := range slices.Concat(first, rest) {
		f, _ := formNamed(name)
		if i == len(first) { // what is kept says the same from whatever folder it was made
			r.Relocate(func(file string) string { return cmp.Or(wayFrom(root, file), file) })
		}
		s, err := files.Stage(filepath.Join(dir, f.file), func(w io.Writer) error {
			b := bufio.NewWriterSize(w, 1<<16)
			if err := f.write(b, r, opt); err != nil {
				return err
			}
			return b.Flush()
		})
		if err != nil {
			for _, s := range staged {
				s.Drop()
			}
			return fmt.Errorf("cannot write %s: %w", filepath.Join(dir, f.file), reason(err))
		}
		staged = append(staged, s)
	}
	if err := files.Commit(staged...); err != nil { // all forms of one record, or none
		return fmt.Errorf("cannot write into %s: %w", dir, reason(err))
	}
	for _, name := range formats {
		f, _ := formNamed(name)
		fmt.Fprintln(a.out, "wrote "+notebook.Clean(filepath.Join(dir, f.file)))
	}
	return nil
}

// wayFrom is the path from one folder to another with forward slashes, ""
// where there is none.
func wayFrom(dir, to string) string {
	a, err := filepath.Abs(dir)
	if err != nil {
		return ""
	}
	b, err := filepath.Abs(to)
	if err != nil {
		return ""
	}
	rel, err := filepath.Rel(a, b)
	if err != nil {
		return ""
	}
	return filepath.ToSlash(rel)
}
