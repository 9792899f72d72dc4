package main

import (
	"bytes"
	"fmt"
	"io"
	"path/filepath"

	"github.com/spf13/cobra"

	"guardband/notebook"
)

func (a *app) formatCommand() *cobra.Command {
	var check bool
	c := &cobra.Command{
		Use:   "format [PATH...]",
		Short: "Format the blocks of notebooks in canonical style; prose stays as it is",
		Example: `  guardband format board.md
  guardband format --check examples/weirkeeper
  guardband format - < board.md`,
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) == 1 && args[0] == "-" {
				data, err := io.ReadAll(io.LimitReader(a.in, notebook.MaxBytes+4))
				if err != nil {
					return err
				}
				out, diags := notebook.Format(data)
				if diags != nil && diags.Errors() > 0 {
					notebook.Print(a.errOut, diags.Sorted(), notebook.PrintOptions{})
					return exitError(exitErrors)
				}
				_, err = a.out.Write(out)
				return err
			}
			files, err := a.workspace().Notebooks(args)
			if err != nil {
				return err
			}
			code := exitClear
			for _, f := range files {
				changed, ok, err := a.formatFile(f, check)
				if err != nil {
					return err
				}
				if !ok {
					code = exitErrors
				} else if changed {
					fmt.Fprintln(a.out, notebook.Clean(f))
					if check {
						code = max(code, exitClaims)
					}
				}
			}
			return ending(code)
		},
	}
	c.Flags().BoolVar(&check, "check", false, "change nothing; exit 1 and name the files that would change")
	return c
}

func (a *app) formatFile(path string, check bool) (changed, ok bool, err error) {
	real, err := filepath.EvalSymlinks(path) // a link stays a link
	if err != nil {
		return false, false, fmt.Errorf("cannot read %s: %w", path, reason(err))
	}
	data, err := notebook.ReadFile(real)
	if err != nil {
		return false, false, fmt.Errorf("cannot read %s: %w", path, reason(err))
	}
	out, diags := notebook.Format(data)
	if diags != nil && diags.Errors() > 0 {
		list := diags.Sorted()
		for i := range list {
			list[i].File = path
		}
		notebook.Print(a.errOut, list, notebook.PrintOptions{Color: colour(a.errOut)})
		return false, false, nil
	}
	if bytes.Equal(data, out) {
		return false, true, nil
	}
	if !check {
		err = writeFile(real, out)
	}
	return true, true, err
}
