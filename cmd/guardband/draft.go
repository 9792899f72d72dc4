package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"guardband/notebook/sheet/draft"
)

func (a *app) draftCommand() *cobra.Command {
	var write string
	c := &cobra.Command{
		Use:   "draft FILE.pdf",
		Short: "Find a data sheet's six sections; with --write, draft a part note to confirm",
		Long: `draft takes the first look at a data sheet: ordering code, package, pins,
characteristics, absolute maximum ratings, application circuit. It prints for
each the best pages, the line that says so, and how sure it is.

With --write it writes a source and a part block. Every drafted line cites its
page with words quoted from it and ends in the word unconfirmed: compare it
with the page, then delete the word. A claim that rests on an unconfirmed fact
is open. Nothing is invented; what was not found is listed.`,
		Example: `  guardband draft sheets/qx30.pdf
  guardband draft sheets/qx30.pdf --write parts/
  guardband draft sheets/qx30.pdf --write parts/qx30.md`,
		Args: cobra.ExactArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			real, err := a.workspace().Within(args[0])
			if err != nil {
				return err
			}
			d, err := a.sheets().Draft(a.ctx, real)
			if err != nil {
				return fmt.Errorf("cannot read %s: %w", args[0], err)
			}
			if err := a.printSurvey(args[0], d); err != nil {
				return err
			}
			if write == "" {
				printNext(a.out, args[0], d)
				return nil
			}
			note := noteFile(write, args[0])
			if _, err := os.Stat(note); err == nil {
				return fmt.Errorf("%s is there already; name a new file, notes are never overwritten", note)
			}
			if err := makeFolder(filepath.Dir(note)); err != nil {
				return err
			}
			var b bytes.Buffer
			wrote := draft.Write(&b, args[0], note, d)
			text, dropped, err := a.settle(b.Bytes())
			if err != nil {
				return err
			}
			if err := writeFile(note, text); err != nil {
				return err
			}
			return a.print("written", map[string]any{"Note": note, "Wrote": wrote, "Dropped": dropped, "Mark": draft.Mark})
		},
	}
	c.Flags().StringVar(&write, "write", "", "write a part note to this new file, or into this folder")
	return c
}

// noteFile is the file to write: a folder takes a note named after the sheet.
func noteFile(write, pdf string) string {
	st, err := os.Stat(write)
	if err == nil && st.IsDir() || strings.HasSuffix(write, "/") ||
		strings.HasSuffix(write, string(filepath.Separator)) || err != nil && filepath.Ext(write) == "" {
		return filepath.Join(write, strings.TrimSuffix(filepath.Base(pdf), filepath.Ext(pdf))+".md")
	}
	return write
}
