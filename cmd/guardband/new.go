package main

import (
	"embed"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"
)

// starter is the notebook that `new` writes; a test compiles it.
//
//go:embed all:starter
var starter embed.FS

func (a *app) newCommand() *cobra.Command {
	var from []string
	c := &cobra.Command{
		Use:   "new DIR",
		Short: "Make a starting notebook that compiles",
		Long: `new makes a folder with a board notebook, one part note and a place for your
data sheets. Everything in it is invented: replace it with your own.

With --from it copies exported files into the folder instead, a table of pins
and a parts list, and writes a notebook that places what they have, with notes
of the part types to fill in.`,
		Example: `  guardband new pump-controller
  guardband new pump --from pins.csv --from parts.csv
  guardband check pump-controller`,
		Args: cobra.ExactArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			dir := args[0]
			if entries, err := os.ReadDir(dir); err == nil && len(entries) > 0 {
				return fmt.Errorf("%s is not empty; name a folder that does not exist yet", dir)
			}
			if len(from) > 0 {
				return a.newFrom(dir, from)
			}
			return fs.WalkDir(starter, "starter", func(p string, d fs.DirEntry, err error) error {
				if err != nil || d.IsDir() {
					return err
				}
				rel, err := filepath.Rel("starter", p)
				if err != nil {
					return err
				}
				to := filepath.Join(dir, rel)
				data, err := starter.ReadFile(p)
				if err != nil {
					return err
				}
				return a.writeNew(to, data)
			})
		},
	}
	c.Flags().StringArrayVar(&from, "from", nil, "exported file to place parts from; may be repeated")
	return c
}

// writeNew writes one file of a new folder and says so.
func (a *app) writeNew(to string, data []byte) error {
	if err := makeFolder(filepath.Dir(to)); err != nil {
		return err
	}
	if err := writeFile(to, data); err != nil {
		return err
	}
	fmt.Fprintln(a.out, "wrote "+to)
	return nil
}
