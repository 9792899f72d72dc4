package main

import (
	"bytes"
	"cmp"
	"fmt"
	"os"
	"path/filepath"
	"slices"
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
				for _, s := range x.Record.Sources {
					err = cmp.Or(err, a.print("source", s))
				}
				if write && err == nil {
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

// toLook is what a person must look at of a citation: of a changed file each,
// of another those that do not stand.
func toLook(k record.Citation, changed bool) string {
	found := k.Checked == "words" || k.Checked == "numbers" || k.Checked == "page"
	stands := found && len(k.Missing) == 0 && k.Slip == "" || k.Checked == "read by a person"
	if stands && !changed && k.Erratum == "" {
		return ""
	}
	quote := ""
	if k.Quote != "" {
		quote = "“" + k.Quote + "”"
	}
	says := []string{"", "", k.Slip, k.Erratum}
	switch {
	case stands:
		says[0] = "unchanged"
	case len(k.Now) > 0:
		says[0] = "the words are on " + pageList(k.Now) + " now"
	case k.Checked == "not found":
		says[0] = "the words are nowhere in the file"
	case k.Checked == "no page":
		says[0] = "there is no such page"
	case !found:
		says[0] = k.Checked
	}
	if len(k.Missing) > 0 {
		says[1] = "not on the page: " + strings.Join(k.Missing, ", ")
	}
	none := func(s string) bool { return s == "" }
	return strings.Join(slices.DeleteFunc([]string{k.Page, k.Name, quote}, none), " ") + ": " +
		strings.Join(slices.DeleteFunc(says, none), "; ")
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
			if err := writeFile(path, bytes.Join(lines, nil)); err != nil {
				return err
			}
			fmt.Fprintf(a.out, "wrote the digest of %s into %s\n", s.ID, path)
			break
		}
	}
	return nil
}
