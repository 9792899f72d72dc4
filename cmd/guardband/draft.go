package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"guardband/notebook/sheet"
)

func (a *app) draftCommand() *cobra.Command {
	var write string
	c := &cobra.Command{
		Use:   "draft FILE.pdf",
		Short: "Find a data sheet's six sections; with --write, draft a part note to confirm",
		Long: `draft takes the first look at a data sheet: ordering code, package, pins,
characteristics, absolute maximum ratings, application circuit. It prints for
each the best pages, the lines that say so, and how sure it is.

With --write it writes a source and a part block. Every drafted line cites its
page with words quoted from it and ends in the word unconfirmed: compare it
with the page, then delete the word. A claim that rests on an unconfirmed fact
is open. Nothing is invented; what was not found is listed.`,
		Example: `  guardband draft sheets/qx30.pdf
  guardband draft sheets/qx30.pdf --write parts/qx30.md`,
		Args: cobra.ExactArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			if _, err := os.Stat(args[0]); err != nil {
				return fmt.Errorf("cannot read %s: %w", args[0], reason(err))
			}
			d, err := a.sheets().Draft(a.ctx, args[0])
			if err != nil {
				return fmt.Errorf("cannot read %s: %w", args[0], err)
			}
			printSurvey(a.out, args[0], d)
			if write == "" {
				return nil
			}
			if _, err := os.Stat(write); err == nil {
				return fmt.Errorf("%s is there already; name a new file, notes are never overwritten", write)
			}
			var b bytes.Buffer
			writeDraft(&b, args[0], write, d)
			if err := os.MkdirAll(filepath.Dir(write), 0o755); err != nil {
				return fmt.Errorf("cannot make %s: %w", filepath.Dir(write), reason(err))
			}
			if err := writeFile(write, func(f *os.File) error { _, err := f.Write(b.Bytes()); return err }); err != nil {
				return fmt.Errorf("cannot write %s: %w", write, reason(err))
			}
			fmt.Fprintf(a.out, "wrote %s; compare every line with its page and delete `unconfirmed`\n", write)
			return nil
		},
	}
	c.Flags().StringVar(&write, "write", "", "write a part note to this new file")
	return c
}

// surety puts the rank of a page into words.
func surety(s float64) string {
	switch {
	case s >= 0.75:
		return "surely"
	case s >= 0.5:
		return "probably"
	}
	return "perhaps"
}

func printSurvey(w io.Writer, file string, d sheet.Draft) {
	s := d.Survey
	fmt.Fprintf(w, "%s: %d pages\n", file, s.Info.Pages)
	if n := len(s.NoText); n > 0 {
		fmt.Fprintf(w, "%d pages have no text layer (scanned)", n)
		if s.Read != "" {
			fmt.Fprintf(w, "; read through %s", s.Read)
		}
		fmt.Fprintln(w)
	}
	for _, b := range s.Bad {
		fmt.Fprintf(w, "%s\n", b)
	}
	for _, f := range s.Sections {
		fmt.Fprintf(w, "\n%s\n", f.Section)
		if len(f.Pages) == 0 {
			fmt.Fprintln(w, "  not found")
		}
		for i, p := range f.Pages {
			if i == 3 {
				break
			}
			label := ""
			if p.Label != "" && p.Label != fmt.Sprint(p.Page) {
				label = " (printed " + p.Label + ")"
			}
			fmt.Fprintf(w, "  %-8s pdf.%d%s\n", surety(p.Sure), p.Page, label)
			for j, l := range p.Lines {
				if j == 2 {
					break
				}
				fmt.Fprintf(w, "           %s\n", short(l, 84))
			}
		}
	}
	for _, n := range d.NotFound {
		fmt.Fprintf(w, "\nnot found: %s\n", n)
	}
}

func short(s string, n int) string {
	if r := []rune(s); len(r) > n {
		return string(r[:n-1]) + "…"
	}
	return s
}

// writeDraft writes the note: a source block and a part block.
func writeDraft(w io.Writer, pdf, note string, d sheet.Draft) {
	id := identifier(strings.TrimSuffix(filepath.Base(pdf), filepath.Ext(pdf)))
	rel, err := filepath.Rel(filepath.Dir(note), pdf)
	if err != nil {
		rel = pdf
	}
	title := id
	if len(d.Title) > 0 {
		title = d.Title[0].Text
	}
	fmt.Fprintf(w, "# %s\n\nDrafted from the data sheet. Compare each line with its page, then delete the word `unconfirmed`.\n\n", title)
	fmt.Fprintf(w, "```source %s-sheet\ntitle:    %s\nfile:     %s\nsha256:   %s\n```\n\n", strings.ToLower(id), title, filepath.ToSlash(rel), d.Survey.Info.SHA256)
	fmt.Fprintf(w, "```part %s\ntitle:    %s\nsource:   %s-sheet\n", id, title, strings.ToLower(id))
	n := noteWriter{w: w}
	n.orders(d)
	n.packages(d)
	n.rows("operating", d.Operating)
	n.rows("absmax", d.Ratings)
	n.rows("spec", d.Spec)
	n.pins(d)
	fmt.Fprint(w, "```\n")
	n.rest(d)
}

// identifier makes a name of the language from any text.
func identifier(s string) string {
	var b strings.Builder
	for _, r := range s {
		switch {
		case r >= 'a' && r <= 'z', r >= 'A' && r <= 'Z', r == '_', r >= '0' && r <= '9' && b.Len() > 0:
			b.WriteRune(r)
		}
	}
	if b.Len() == 0 {
		return "PART"
	}
	return strings.ToUpper(b.String())
}
