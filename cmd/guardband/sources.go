package main

import (
	"bytes"
	"cmp"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"sort"
	"strings"

	"github.com/spf13/cobra"

	"guardband/eval"
	"guardband/eval/record"
	"guardband/eval/workspace"
	"guardband/notebook/files"
)

func (a *app) sourcesCommand() *cobra.Command {
	var write, evidence bool
	c := &cobra.Command{
		Use:   "sources [PATH...]",
		Short: "List documents with file status, hash, revision, and how far their citations were checked",
		Example: `  guardband sources examples/weirkeeper
  guardband sources board.md --write-digests
  guardband sources board.md --write-evidence`,
		RunE: func(_ *cobra.Command, args []string) error {
			paths, err := a.designs(args)
			if err != nil {
				return err
			}
			code, err := a.judge(paths, eval.Options{}, func(path string, x workspace.Result) (code int, err error) {
				a.printSources(x.Record)
				if write {
					err = a.writeDigests(x.Record)
				}
				if evidence && err == nil {
					err = a.writeEvidence(path)
				}
				return exitClear, err
			})
			return cmp.Or(err, ending(code))
		},
	}
	c.Flags().BoolVar(&write, "write-digests", false, "write missing digests into the source blocks")
	c.Flags().BoolVar(&evidence, "write-evidence", false,
		"write what the page checks found into the file that `evidence:` of the design names, for copies without the documents")
	return c
}

// writeEvidence writes what the documents of a design answered.
func (a *app) writeEvidence(path string) error {
	var answers eval.Answers
	if _, err := a.compile(path, eval.Options{Answers: &answers}); err != nil {
		return err
	}
	if answers.Path == "" {
		return fmt.Errorf("%s names no file for the evidence inside its folder: add `evidence: %s` to its design block", path,
			strings.TrimSuffix(filepath.Base(path), filepath.Ext(path))+".evidence.json")
	}
	if err := files.Write(answers.Path, answers.Write); err != nil {
		return fmt.Errorf("cannot write %s: %w", answers.Path, reason(err))
	}
	n := 0
	for _, d := range answers.Documents {
		n += len(d.Answers)
	}
	fmt.Fprintf(a.out, "wrote the evidence of %d citations in %d documents into %s\n", n, len(answers.Documents), filepath.Base(answers.Path))
	return nil
}

func (a *app) printSources(r *record.Record) {
	for _, s := range r.Sources {
		fmt.Fprintf(a.out, "%s  %s\n", s.ID, s.Title)
		if s.Revision != "" {
			fmt.Fprintf(a.out, "  revision  %s\n", s.Revision)
		}
		if s.File != "" {
			fmt.Fprintf(a.out, "  file      %s, %d pages: %s\n", s.File, s.Pages, s.State)
		} else {
			fmt.Fprintf(a.out, "  file      %s\n", s.State)
		}
		if s.SHA256 != "" {
			fmt.Fprintf(a.out, "  digest    %s\n", s.SHA256)
		}
		grades := make([]string, 0, len(s.Checked))
		for g := range s.Checked {
			grades = append(grades, g)
		}
		sort.Strings(grades)
		var counts []string
		for _, g := range grades {
			counts = append(counts, fmt.Sprintf("%d %s", s.Checked[g], g))
		}
		if len(counts) > 0 {
			fmt.Fprintf(a.out, "  citations %d: %s\n", s.Cited, strings.Join(counts, ", "))
		}
		if s.Age != "" {
			fmt.Fprintf(a.out, "  age       %s\n", s.Age)
		}
		a.printCitations(s)
	}
}

// printCitations lists what a person must look at: of a changed file every
// citation, of another those that do not stand.
func (a *app) printCitations(s record.Source) {
	for _, k := range s.Citations {
		stands := (k.Checked == "words" || k.Checked == "numbers" || k.Checked == "page") && len(k.Missing) == 0 && k.Slip == ""
		stands = stands || k.Checked == "read by a person"
		if stands && !s.Changed && k.Erratum == "" {
			continue
		}
		what := k.Page
		if k.Name != "" {
			what += " " + k.Name
		}
		if k.Quote != "" {
			what += " “" + k.Quote + "”"
		}
		says := []string{}
		switch {
		case stands:
			says = append(says, "unchanged")
		case len(k.Now) > 0:
			says = append(says, "the words are on "+pageList(k.Now)+" now")
		case k.Checked == "not found":
			says = append(says, "the words are nowhere in the file")
		case k.Checked == "no page":
			says = append(says, "there is no such page")
		default:
			if k.Checked != "words" && k.Checked != "numbers" && k.Checked != "page" {
				says = append(says, k.Checked)
			}
		}
		if len(k.Missing) > 0 {
			says = append(says, "not on the page: "+strings.Join(k.Missing, ", "))
		}
		if k.Slip != "" {
			says = append(says, k.Slip)
		}
		if k.Erratum != "" {
			says = append(says, k.Erratum)
		}
		fmt.Fprintf(a.out, "    %s: %s\n", what, strings.Join(says, "; "))
	}
}

func pageList(pages []int) string {
	var out []string
	for _, p := range pages {
		out = append(out, fmt.Sprintf("pdf.%d", p))
	}
	return strings.Join(out, ", ")
}

// writeDigests adds a sha256 line under the file line of every source whose
// document is at hand and has no digest yet. A recorded digest that differs is
// never overwritten: that is the person's decision.
func (a *app) writeDigests(r *record.Record) error {
	for _, s := range r.Sources {
		if s.SHA256 == "" || s.Recorded != "" || s.Position == nil {
			continue
		}
		path := s.Position.File
		data, err := os.ReadFile(path)
		if err != nil {
			return fmt.Errorf("cannot read %s: %w", path, reason(err))
		}
		lines := bytes.SplitAfter(data, []byte("\n"))
		for i := s.Position.Line; i < len(lines); i++ {
			text := strings.TrimSpace(string(lines[i]))
			if strings.HasPrefix(text, "```") || strings.HasPrefix(text, "~~~") {
				break
			}
			if !strings.HasPrefix(text, "file:") {
				continue
			}
			head := string(lines[i][:bytes.Index(lines[i], []byte("file:"))])
			end := "\n"
			if strings.HasSuffix(string(lines[i]), "\r\n") {
				end = "\r\n"
			}
			lines[i] = append(append([]byte(nil), lines[i]...), []byte(head+"sha256:   "+s.SHA256+end)...)
			out := bytes.Join(lines, nil)
			if err := files.Write(path, func(w io.Writer) error { _, err := w.Write(out); return err }); err != nil {
				return fmt.Errorf("cannot write %s: %w", path, reason(err))
			}
			fmt.Fprintf(a.out, "wrote the digest of %s into %s\n", s.ID, path)
			break
		}
	}
	return nil
}
