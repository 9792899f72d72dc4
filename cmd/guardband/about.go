package main

import (
	_ "embed"
	"fmt"
	"runtime"
	"runtime/debug"

	"github.com/spf13/cobra"

	"guardband/report/json"
)

//go:embed licences.txt
var licences string

func (a *app) schemaCommand() *cobra.Command {
	return &cobra.Command{
		Use:     "schema",
		Short:   "Print the JSON Schema of the record, for scripts that read record.json",
		Example: "  guardband schema > record.schema.json",
		Args:    cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error {
			_, err := a.out.Write(json.Schema)
			return err
		},
	}
}

func (a *app) licencesCommand() *cobra.Command {
	return &cobra.Command{
		Use:     "licences",
		Short:   "Print the licences of what this program is built from",
		Example: "  guardband licences | less",
		Args:    cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error {
			_, err := fmt.Fprint(a.out, licences)
			return err
		},
	}
}

// build says which build of the program this is: version, commit ("+" where
// its tree was changed), Go, system.
func build() string {
	s := version
	if info, ok := debug.ReadBuildInfo(); ok {
		set := map[string]string{}
		for _, v := range info.Settings {
			set[v.Key] = v.Value
		}
		if c := set["vcs.revision"]; len(c) >= 12 {
			s += " (" + c[:12]
			if set["vcs.modified"] == "true" {
				s += "+"
			}
			s += ")"
		}
	}
	return s + ", " + runtime.Version() + " " + runtime.GOOS + "/" + runtime.GOARCH
}
