package main

import (
	"bytes"
	"fmt"
	"os"
	"sort"
	"strings"

	"github.com/spf13/cobra"

	"guardband/eval"
)

func (a *app) sourcesCommand() *cobra.Command {
	var write bool
	c := &cobra.Command{
		Use:   "sources [PATH...]",
		Short: "List every document: at hand, digest, revision, and how far its citations were checked",
		Example: `  guardband sources examples/weirkeeper
  guardband sources board.md --write-digests`,
		RunE: func(_ *cobra.Command, args []string) error {
			paths, err := a.designs(args)
			if err != nil {
				return err
			}
			for _, p := range paths {
				r, err := a.compile(p, eval.Options{})
				if err != nil {
					return err
				}
				a.printSources(r)
				if write {
					if err := a.writeDigests(r); err != nil {
						return err
					}
				}
			}
			return nil
		},
	}
	c.Flags().BoolVar(&write, "write-digests", false, "write missing digests into the source blocks")
	return c
}

func (a *app) printSources(r *eval.Record) {
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
	}
}

// writeDigests adds a sha256 line under the file line of every source whose
// document is at hand and has no digest yet. A recorded digest that differs is
// never overwritten: that is the person's decision.
func (a *app) writeDigests(r *eval.Record) error {
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
			if err := writeFile(path, func(f *os.File) error { _, err := f.Write(out); return err }); err != nil {
				return fmt.Errorf("cannot write %s: %w", path, reason(err))
			}
			fmt.Fprintf(a.out, "wrote the digest of %s into %s\n", s.ID, path)
			break
		}
	}
	return nil
}
